//! One-line diagrams: every circuit on one line of one sheet, for real builds and odd ones.

use crate::harness::root;
use rigbinder::drawings::{Drawing, Subject};
use rigbinder::pipeline;

#[test]
fn dump() {
    let Ok(folder) = std::env::var("ONE_LINE_OUT") else { return };
    for spec in ["heron", "turnstone", "purfling", "weekend"] {
        let bytes = std::fs::read(root().join(format!("specs/{spec}.toml"))).expect("spec");
        let loaded = pipeline::load(spec, &bytes).expect("loaded");
        let worked = pipeline::work_out(&loaded).expect("worked out");
        for d in pipeline::drawings(&worked) {
            if matches!(d.subject, Subject::DcOneLine | Subject::AcOneLine) {
                std::fs::write(format!("{folder}/{spec}-{}.svg", d.stem), &d.svg).expect("written");
            }
        }
    }
    let _: Option<Drawing> = None;
}
