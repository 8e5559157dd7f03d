//! The electrical figures against an independent calculation (`tests/outside/check_circuits.py`): for the demo specs
//! and for specs drawn at random.

use crate::harness::{demo_specs, files, folder, rigbinder, root, stem};
use crate::outside::run;
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Number of drawn specs.
const DRAWN: usize = 40;

/// What `compile --emit spec|build|figures` prints for a spec, as files in `into`.
fn emitted(spec: &Path, into: &Path) -> [PathBuf; 3] {
    ["spec", "build", "figures"].map(|what| {
        let output = rigbinder(&root(), &["compile", &spec.display().to_string(), "--emit", what]);
        // Of a spec with errors the figures are still to be right.
        assert!(
            matches!(output.status.code(), Some(0 | 1)),
            "{}: {}",
            spec.display(),
            String::from_utf8_lossy(&output.stderr)
        );
        let file = into.join(format!("{}.{what}.json", stem(spec)));
        std::fs::write(&file, output.stdout).expect("written");
        file
    })
}

/// Whether the independent calculation agrees, and what it printed. `None` where these tests are left out.
fn check(emitted: &[[PathBuf; 3]]) -> Option<(bool, String)> {
    let paths: Vec<&Path> = emitted.iter().flatten().map(PathBuf::as_path).collect();
    run("check_circuits.py", &paths)
}

/// The number before `word` in the first line of the script.
fn counted(printed: &str, word: &str) -> usize {
    let mut words = printed.lines().next().unwrap_or_default().split([' ', ',']).filter(|w| !w.is_empty());
    let mut before = "";
    words
        .find_map(|w| {
            if w == word {
                Some(before)
            } else {
                before = w;
                None
            }
        })
        .and_then(|n| n.parse().ok())
        .unwrap_or(0)
}

#[test]
fn demo_specs_recalculated() {
    let folder = folder("recalculated-demo");
    let specs = demo_specs();
    let all: Vec<_> = specs.iter().map(|spec| emitted(spec, &folder)).collect();
    let Some((agree, printed)) = check(&all) else { return };
    assert!(agree, "{printed}");
    assert_eq!(counted(&printed, "specs"), specs.len(), "{printed}");
    assert!(counted(&printed, "comparisons") > 2000, "{printed}");
}

#[test]
fn drawn_specs_recalculated() {
    let folder = folder("recalculated-drawn");
    let count = DRAWN.to_string();
    let Some((drawn, printed)) = run("draw_circuits.py", &[&folder, Path::new(&count)]) else { return };
    assert!(drawn, "{printed}");
    let own = folder.strip_prefix(root()).expect("below the project");
    let specs = files(&own.display().to_string(), "toml");
    assert_eq!(specs.len(), DRAWN);
    let all: Vec<_> = specs.iter().map(|spec| emitted(spec, &folder)).collect();
    let Some((agree, printed)) = check(&all) else { return };
    assert!(agree, "{printed}");
    assert!(counted(&printed, "circuits") > 1000 && counted(&printed, "comparisons") > 15_000, "{printed}");
}

/// Makes one figure wrong.
type Change = fn(&mut Value);

/// The comparison itself: a changed figure must be told.
#[test]
fn changed_figures_do_not_pass() {
    let folder = folder("recalculated-changed");
    let [spec, build, figures] = emitted(&root().join("specs/weekend.toml"), &folder);
    let text = std::fs::read_to_string(&figures).expect("figures");
    let good: Value = serde_json::from_str(&text).expect("json");
    let changes: [(&str, Change); 8] = [
        ("dc-dc.design-current", |f| scale(&mut f["value"][1])),
        ("fridge.ampacity", |f| f["inputs"][0] = "14 AWG".into()),
        ("pump.protection", |f| f["value"][1] = 25.0.into()),
        ("lights.voltage-drop", |f| scale(&mut f["value"][1])),
        ("dc-dc.ampacity", |f| scale(&mut f["inputs"][3][1])),
        ("main-fuse.fault-current", |f| scale(&mut f["value"][1])),
        ("solar.string-voltage", |f| scale(&mut f["value"][1])),
        ("panel.loading", |f| scale(&mut f["value"][1])),
    ];
    for (id, change) in changes {
        let mut other = good.clone();
        assert!(other["figures"][id].is_object(), "no figure {id}");
        change(&mut other["figures"][id]);
        std::fs::write(&figures, other.to_string()).expect("written");
        let Some((agree, printed)) = check(&[[spec.clone(), build.clone(), figures.clone()]]) else { return };
        assert!(!agree && printed.contains(id.split('.').next().unwrap_or(id)), "{id} passed: {printed}");
    }
    let mut missing = good;
    missing["figures"].as_object_mut().expect("figures").remove("fridge.ampacity");
    std::fs::write(&figures, missing.to_string()).expect("written");
    let Some((agree, printed)) = check(&[[spec, build, figures]]) else { return };
    assert!(!agree && printed.contains("no such figure"), "{printed}");
}

/// One percent more.
fn scale(value: &mut Value) {
    *value = (value.as_f64().expect("a number") * 1.01).into();
}
