//! One serial number at two places.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::is_placeholder;
use crate::source::Span;
use std::collections::BTreeMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "serial-twice",
        severity: Severity::Warning,
        what: "The same serial number stands at two components, or twice at one.",
        why: "A serial number is given once. One of the two was copied from the wrong plate, and a recall or a warranty claim would go astray.",
        example: "[recorded.serials]\nfridge = \"F-1021\"\nfreezer = \"F-1021\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut seen: BTreeMap<String, (&str, Span)> = BTreeMap::new();
    // A blank that nobody filled is told as such.
    let serials = context.build.spec.recorded.serials.iter().filter(|(_, serial)| !is_placeholder(&serial.value));
    for (id, serial) in serials {
        // Several alike stand in one entry.
        for one in serial.value.split([',', ';']).map(str::trim).filter(|s| !s.is_empty()) {
            let Some((first, place)) = seen.insert(one.to_lowercase(), (id, serial.span)) else { continue };
            sink.push(
                Finding::warning(CHECK.doc.name, format!("serial number {one} stands at `{first}` and at `{id}`"))
                    .about(id)
                    .at(serial.span, "here again")
                    .label(place, "here first")
                    .basis("a maker gives a serial number once")
                    .help("read both type plates again"),
            );
        }
    }
}
