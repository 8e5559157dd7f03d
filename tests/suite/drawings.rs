//! Drawings: well-formed, described, no text over another, nothing outside the sheet.

use crate::harness::root;
use rigbinder::drawings::Drawing;
use rigbinder::drawings::canvas::Area;
use rigbinder::pipeline;
use std::collections::BTreeSet;

const SPECS: [&str; 5] = ["heron", "turnstone", "purfling", "basalt", "weekend"];

fn drawings_of(spec: &str) -> Vec<Drawing> {
    let bytes = std::fs::read(root().join(format!("specs/{spec}.toml"))).expect("spec");
    let loaded = pipeline::load(crate::harness::house(), spec, &bytes).expect("loaded");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    pipeline::drawings(&worked)
}

#[test]
fn drawings_are_well_formed_and_described() {
    for spec in SPECS {
        let mut stems = BTreeSet::new();
        for drawing in drawings_of(spec) {
            let at = format!("{spec}: {}", drawing.stem);
            let read = roxmltree::Document::parse(&drawing.svg).unwrap_or_else(|e| panic!("{at}: {e}"));
            let text_of = |tag: &str| {
                let node = read.root_element().children().find(|n| n.has_tag_name(tag));
                node.and_then(|n| n.text()).unwrap_or("").to_owned()
            };
            assert_eq!(text_of("title"), drawing.title, "{at}");
            assert!(text_of("desc").split_whitespace().count() >= 8, "{at}: says too little: {}", text_of("desc"));
            let (w, h) = drawing.size;
            assert_eq!(read.root_element().attribute("width"), Some(format!("{w}mm").as_str()), "{at}");
            assert!(w > 0.0 && h > 0.0 && drawing.svg.lines().count() > 5, "{at}: is empty");
            assert!(!drawing.svg.contains("NaN") && !drawing.svg.contains("inf"), "{at}");
            assert!(stems.insert(drawing.stem.clone()), "{at}: twice");
            let written = read.descendants().filter(|n| n.has_tag_name("text")).count();
            assert_eq!(written, drawing.labels.len(), "{at}: a text is not remembered");
        }
    }
}

#[test]
fn no_label_lies_over_another_or_leaves_its_sheet() {
    for spec in SPECS {
        for drawing in drawings_of(spec) {
            let sheet = Area::at(0.0, 0.0, drawing.size.0, drawing.size.1);
            for (i, label) in drawing.labels.iter().enumerate() {
                let at = format!("{spec}: {}: `{}`", drawing.stem, label.text);
                assert!(sheet.holds(&label.area), "{at} leaves the sheet: {:?} of {sheet:?}", label.area);
                for other in &drawing.labels[..i] {
                    assert!(!label.area.overlaps(&other.area), "{at} lies over `{}`", other.text);
                }
            }
        }
    }
}
