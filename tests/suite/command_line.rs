//! The commands, as a person meets them.

use crate::harness::{demo_specs, errors, files, folder, rigbinder, root, stem};
use rigbinder::catalogue::Catalogue;
use rigbinder::spec::Language;
use std::fs;

fn out(output: &std::process::Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

#[test]
fn a_new_spec_checks_clean_and_compiles() {
    let here = folder("cli-new");
    assert_eq!(rigbinder(&here, &["new", "mine.toml"]).status.code(), Some(0));
    let output = rigbinder(&here, &["check", "mine.toml"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    assert!(errors(&output).contains("0 errors, 0 warnings"), "{}", errors(&output));
    let output = rigbinder(&here, &["compile", "mine.toml", "--no-pdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    assert!(here.join("docs-out/mine/owners-manual.md").is_file());
}

#[test]
fn demo_specs_have_no_errors() {
    for path in demo_specs() {
        let output = rigbinder(&root(), &["check", path.to_str().expect("path"), "--message-format", "short"]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    }
    let weekend = fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    assert!(weekend.lines().count() < 84, "the weekend van shows how little one must write");
}

#[test]
fn every_finding_and_every_kind_can_be_asked_for() {
    let here = folder("cli-ask");
    for doc in rigbinder::pipeline::finding_docs() {
        let output = rigbinder(&here, &["explain", doc.name]);
        assert_eq!(output.status.code(), Some(0), "{}", doc.name);
        assert!(out(&output).contains("Why it matters"), "{}", out(&output));
    }
    for path in files("templates/kinds", "toml").iter().step_by(9) {
        let output = rigbinder(&here, &["kinds", stem(path)]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
        assert!(out(&output).contains("It brings"));
    }
    for word in ["defect as found", "defect-as-found", "as-found", "error", "warning", "accepted warning"] {
        let output = rigbinder(&here, &["explain", word]);
        assert_eq!(output.status.code(), Some(0), "a finding calls itself {word}: {}", errors(&output));
    }
    let listed = out(&rigbinder(&here, &["kinds"]));
    for path in files("templates/kinds", "toml") {
        assert!(listed.contains(stem(&path)), "{} is not listed", stem(&path));
    }
}

#[test]
fn every_section_tells_its_fields_and_an_example_that_reads() {
    let here = folder("cli-sections");
    let language = Language::of(&Catalogue::built_in()).expect("declarations");
    let listed = out(&rigbinder(&here, &["kinds"]));
    for (name, section) in &language.sections {
        assert!(listed.contains(name.split('.').next().expect("a name")), "{name} is not listed");
        let output = rigbinder(&here, &["kinds", name]);
        let told = out(&output);
        assert!(output.status.success() && told.contains(section.about.trim()), "{name}: {}", errors(&output));
        for (field, declared) in &section.fields {
            assert!(told.contains(&format!("  {field} ")) && told.contains(declared.about.trim()), "{name}: {field}");
        }
        let example = told.split("\nExample\n").nth(1).and_then(|rest| rest.split("\n[").next());
        let example = example.expect("an example").replace("…", "x");
        let read: toml::Table = example.parse().unwrap_or_else(|e| panic!("{name}: {e}\n{example}"));
        // What the example shows is of the right type; what it names need not be there.
        let spec = format!("spec = 2\n{}{read}", if name == "build" { "" } else { "[build]\ntitle = \"x\"\n" });
        let found = crate::harness::findings(&spec);
        let wrong = ["wrong-type", "unknown-field", "unknown-unit", "unknown-choice", "syntax"];
        assert!(!found.iter().any(|f| wrong.contains(&f.name)), "{name}: {found:#?}\n{spec}");
    }
    assert_eq!(rigbinder(&here, &["kinds", "[[snag]]"]).status.code(), Some(0), "with its brackets too");
}

#[test]
fn a_part_of_the_documents_leaves_the_rest() {
    let here = folder("cli-only");
    let spec = root().join("specs/weekend.toml");
    let spec = spec.to_str().expect("path");
    assert_eq!(rigbinder(&here, &["compile", spec, "--no-pdf"]).status.code(), Some(0));
    let folder = here.join("docs-out/weekend");
    let count = || fs::read_dir(&folder).expect("output").count();
    let before = count();
    fs::write(folder.join("schedule.md"), "mine").expect("write");
    fs::write(folder.join("packet-11-commissioning.md"), "old").expect("write");
    let output = rigbinder(&here, &["compile", spec, "--no-pdf", "--stage", "commissioning"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    assert_eq!(fs::read_to_string(folder.join("schedule.md")).expect("kept"), "mine");
    assert_ne!(fs::read_to_string(folder.join("packet-11-commissioning.md")).expect("made"), "old");
    assert_eq!(rigbinder(&here, &["compile", spec, "--no-pdf", "--only", "schedule"]).status.code(), Some(0));
    assert_ne!(fs::read_to_string(folder.join("schedule.md")).expect("made"), "mine");
    assert_eq!(count(), before);
}

#[test]
fn what_lies_between_the_steps_is_json() {
    let here = folder("cli-emit");
    let spec = root().join("specs/weekend.toml");
    for emit in ["spec", "build", "figures"] {
        let output = rigbinder(&here, &["compile", spec.to_str().expect("path"), "--emit", emit]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
        let value: serde_json::Value = serde_json::from_str(&out(&output)).expect("json");
        assert!(value.to_string().contains("fridge"), "{emit} names the fridge");
    }
    assert!(!here.join("docs-out").exists(), "nothing is written");
}

#[test]
fn findings_come_in_three_forms() {
    let spec = root().join("specs/broken/fuse-above-conductor.toml");
    let spec = spec.to_str().expect("path");
    let human = errors(&rigbinder(&root(), &["check", spec]));
    assert!(human.contains("basis:") && human.contains("33 CFR 183.425"), "{human}");
    let short = errors(&rigbinder(&root(), &["check", spec, "--message-format", "short"]));
    assert!(short.contains(": error: fuse-above-conductor: "), "{short}");
    let json = rigbinder(&root(), &["check", spec, "--message-format", "json"]);
    let text = out(&json);
    let first = text.lines().next().expect("a finding");
    let value: serde_json::Value = serde_json::from_str(first).or_else(|_| serde_json::from_str(&text)).expect("json");
    assert!(value.to_string().contains("fuse-above-conductor"), "{text}");
}

/// TOML as editors hand it to a JSON Schema: dates as texts.
fn as_editors_see(value: toml::Value) -> serde_json::Value {
    match value {
        toml::Value::Datetime(when) => when.to_string().into(),
        toml::Value::Array(list) => list.into_iter().map(as_editors_see).collect(),
        toml::Value::Table(table) => {
            serde_json::Value::Object(table.into_iter().map(|(k, v)| (k, as_editors_see(v))).collect())
        }
        other => serde_json::to_value(other).expect("plain value"),
    }
}

#[test]
fn shells_and_editors_are_served() {
    let here = folder("cli-shell");
    let shop = root().join("specs/shop");
    let shop = ["schema", "--shop", shop.to_str().expect("path")];
    let schema: serde_json::Value = serde_json::from_str(&out(&rigbinder(&here, &shop))).expect("json");
    for spec in demo_specs() {
        let text = fs::read_to_string(&spec).expect("demo");
        let instance = as_editors_see(toml::Value::Table(toml::from_str(&text).expect("toml")));
        let validator = jsonschema::validator_for(&schema).expect("schema");
        let faults: Vec<_> =
            validator.iter_errors(&instance).map(|e| format!("{} at {}", e, e.instance_path())).collect();
        assert!(faults.is_empty(), "{}: {}", spec.display(), faults.join("\n"));
    }
    for shell in ["bash", "zsh", "fish"] {
        assert!(out(&rigbinder(&here, &["completions", shell])).contains("compile"));
    }
    assert!(out(&rigbinder(&here, &["man"])).contains(".TH"));
}

/// What a person put into the output folder stays; a folder that is not rigbinder's own is not touched.
#[test]
fn the_files_of_others_are_left_alone() {
    let here = folder("cli-foreign");
    let spec = root().join("specs/weekend.toml");
    let spec = spec.to_str().expect("path");
    let compile = |out: &str| rigbinder(&here, &["compile", spec, "--no-pdf", "--out", out]);
    assert_eq!(compile("out").status.code(), Some(0));
    let folder = here.join("out/weekend");
    fs::create_dir(folder.join("photos")).expect("folder");
    fs::write(folder.join("photos/1.jpg"), "photo").expect("photo");
    fs::write(folder.join("invoice.txt"), "invoice").expect("invoice");
    fs::write(folder.join("schedule.pdf"), "of an earlier revision").expect("pdf");
    assert_eq!(compile("out").status.code(), Some(0));
    assert_eq!(fs::read_to_string(folder.join("photos/1.jpg")).expect("kept"), "photo");
    assert_eq!(fs::read_to_string(folder.join("invoice.txt")).expect("kept"), "invoice");
    assert!(!folder.join("schedule.pdf").exists(), "a PDF that would be stale goes");
    fs::create_dir_all(here.join("other/weekend")).expect("folder");
    fs::write(here.join("other/weekend/mine.txt"), "mine").expect("file");
    let output = compile("other");
    assert_eq!(output.status.code(), Some(2), "{}", errors(&output));
    assert!(errors(&output).contains("did not make"), "{}", errors(&output));
    assert_eq!(fs::read_dir(here.join("other/weekend")).expect("folder").count(), 1);
}

/// The starter has no error and makes every document: the binder too, whose links go to places that depend on the build.
#[test]
fn the_starter_compiles_as_it_is() {
    let here = crate::harness::folder("starter-compiles");
    let output = crate::harness::rigbinder(&here, &["new", "mine.toml"]);
    assert_eq!(output.status.code(), Some(0), "{}", crate::harness::errors(&output));
    let output = crate::harness::rigbinder(&here, &["compile", "mine.toml", "--no-pdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", crate::harness::errors(&output));
    let binder = std::fs::read_to_string(here.join("docs-out/mine/handover-binder.md")).expect("binder");
    assert!(!binder.contains("#safety-gear"), "the starter has no safety gear to lead to");
}
