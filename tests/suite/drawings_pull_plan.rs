//! The pull plan: channels to scale to the millimetre, and what lies in each counted again.

use crate::harness::root;
use rigbinder::drawings::{Drawing, PAGE, Subject};
use rigbinder::pipeline::{self, Worked};
use std::collections::BTreeSet;

fn drawn(name: &str, text: &str, with: impl Fn(&Worked<'_>, &[Drawing])) {
    let loaded = pipeline::load(crate::harness::house(), name, text.as_bytes()).expect("loaded");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let plans: Vec<Drawing> =
        pipeline::drawings(&worked).into_iter().filter(|d| d.subject == Subject::PullPlan).collect();
    with(&worked, &plans);
}

fn heron() -> String {
    std::fs::read_to_string(root().join("specs/heron.toml")).expect("spec")
}

/// The scale that is printed on a sheet.
fn scale(sheet: &Drawing) -> f64 {
    let text = sheet.labels.iter().find_map(|l| l.text.strip_prefix("1:")).expect("a scale");
    text.parse().expect("a number")
}

/// Points and width of each line of a picture.
fn lines(sheet: &Drawing) -> Vec<(Vec<(f64, f64)>, f64)> {
    let read = roxmltree::Document::parse(&sheet.svg).expect("well-formed");
    let point = |text: &str| {
        let (x, y) = text.split_once(' ')?;
        Some((x.parse().ok()?, y.parse().ok()?))
    };
    let line = |node: roxmltree::Node<'_, '_>| {
        let path = node.attribute("d")?;
        let points: Option<Vec<(f64, f64)>> = path.strip_prefix('M')?.split('L').map(point).collect();
        Some((points?, node.attribute("stroke-width")?.parse().ok()?))
    };
    read.descendants().filter(|n| n.has_tag_name("path")).filter_map(line).collect()
}

/// Both views hold their scale to a hundredth of a millimetre of the sheet, which is less than half a millimetre in the
/// van; a channel is as wide as it is inside.
#[test]
fn channels_are_drawn_to_scale() {
    drawn("heron", &heron(), |worked, plans| {
        let sheet = &plans[0];
        let scale = scale(sheet);
        let drawn = lines(sheet);
        for (id, channel) in &worked.build.channels {
            let points = channel.points.all();
            let inside = channel.inside.get().expect("a measure").0 * 1000.0 / scale;
            for (view, axes) in [("above", [(0, 1.0), (1, 1.0)]), ("left", [(0, 1.0), (2, -1.0)])] {
                let wanted =
                    |at: usize| axes.map(|(axis, sign)| (points[at][axis] - points[0][axis]) * sign * 1000.0 / scale);
                let fits = |(line, _): &&(Vec<(f64, f64)>, f64)| {
                    line.len() == points.len()
                        && (0..points.len()).all(|at| {
                            let [x, y] = wanted(at);
                            (line[at].0 - line[0].0 - x).abs() <= 0.0101 && (line[at].1 - line[0].1 - y).abs() <= 0.0101
                        })
                };
                let found: Vec<_> = drawn.iter().filter(fits).collect();
                // One along the van at one height looks the same from both sides.
                assert!(found.len() == 2 || found.len() == 4, "{id} from {view}: {} edges and insides", found.len());
                let inner = found.iter().map(|(_, width)| *width).fold(f64::INFINITY, f64::min);
                assert!((inner - inside.max(0.8)).abs() < 0.006, "{id} from {view}: {inner} for {inside}");
            }
        }
    });
}

/// A channel that is moved moves on the sheet by as much.
#[test]
fn a_point_of_a_channel_is_where_the_spec_says() {
    let text = heron();
    let moved = text.replacen("[\"5.20 m\", \"-0.50 m\", \"0.10 m\"]", "[\"5.00 m\", \"-0.50 m\", \"0.10 m\"]", 1);
    assert_ne!(text, moved, "a point of heron");
    let end = |text: &str| {
        let at = std::cell::Cell::new((0.0, 0.0));
        drawn("heron", text, |worked, plans| {
            let points = worked.build.channels["garage-right"].points.all();
            let k = 1000.0 / scale(&plans[0]);
            let long = (points[1][0] - points[0][0]) * k;
            let lines = lines(&plans[0]);
            let line =
                lines.iter().find(|(l, _)| l.len() == 2 && (l[1].0 - l[0].0 - long).abs() < 0.02 && l[0].1 == l[1].1);
            let line = line.expect("the channel");
            at.set((line.0[1].0, k));
        });
        at.get()
    };
    let ((before, k), (after, _)) = (end(&text), end(&moved));
    assert!((before - after - 0.2 * k).abs() < 0.02, "{before} {after}");
}

/// The cables of a channel are those whose route leads through it, as the list of conductors has them.
#[test]
fn the_key_counts_what_lies_in_a_channel() {
    drawn("heron", &heron(), |worked, plans| {
        let texts: Vec<&str> = plans.iter().flat_map(|p| &p.labels).map(|l| l.text.as_str()).collect();
        let mut seen = 0;
        for (id, channel) in &worked.build.channels {
            let inside: Vec<_> = worked
                .build
                .wiring
                .conductors
                .values()
                .filter(|c| c.route.channels.iter().any(|own| own == id))
                .collect();
            let cables: BTreeSet<&str> = inside.iter().map(|c| c.cable.as_str()).collect();
            let told = format!("{} cables, {} conductors", cables.len(), inside.len());
            assert!(texts.contains(&told.as_str()), "{id}: {told} in {texts:?}");
            let name = channel.about.text().expect("a name");
            let first = name.split(' ').next().expect("a word");
            assert!(texts.iter().any(|t| t.starts_with(first)), "{id}: {name}");
            seen += cables.len();
        }
        assert!(seen > 20, "{seen}");
    });
}

#[test]
fn a_pull_plan_fits_its_page_and_needs_channels() {
    for spec in ["heron", "turnstone", "purfling", "weekend", "basalt"] {
        let text = std::fs::read_to_string(root().join(format!("specs/{spec}.toml"))).expect("spec");
        drawn(spec, &text, |worked, plans| {
            let any = worked.build.channels.values().any(|c| c.points.all().len() > 1);
            assert_eq!(!plans.is_empty(), any, "{spec}");
            for plan in plans {
                assert!(plan.size.0 <= PAGE.0 && plan.size.1 <= PAGE.1, "{spec}: {:?}", plan.size);
                if let Ok(folder) = std::env::var("ONE_LINE_OUT") {
                    std::fs::write(format!("{folder}/{spec}-{}.svg", plan.stem), &plan.svg).expect("written");
                }
            }
        });
    }
}
