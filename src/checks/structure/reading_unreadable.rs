//! A recorded reading that can't be held against the value expected.

use crate::checks::{Check, Context};
use crate::compute::readings::band::{SIGNS, Verdict};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Measured;
use crate::units::parse_quantity;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "reading-unreadable",
        severity: Severity::Warning,
        what: "A recorded reading is no number with a unit, or has a unit of something else than what was to be measured.",
        why: "It can't be held against the value expected, so nobody is told that it is out of tolerance.",
        example: "[recorded.readings]\n\"fridge.drop-running\" = \"fine\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let readings = &context.readings;
    for result in readings.recorded() {
        if result.verdict != Verdict::Unreadable {
            continue;
        }
        let (word, example, fault) = match result.band.measured {
            Measured::Of(dimension) => {
                // A meter at the end of its range shows "> 200 Mohm".
                let value = result.recorded.trim_start_matches(SIGNS);
                (dimension.word(), dimension.example(), parse_quantity(value, dimension).err())
            }
            Measured::Day => ("date", "2036-04-30", None),
            Measured::Count | Measured::Words => ("number", result.expect.as_str(), None),
        };
        let (message, likely) = fault.map_or_else(|| ("not readable".to_owned(), None), |f| (f.message, f.likely));
        let expected = result.expected(context.build.prints());
        let finding = Finding::warning(CHECK.doc.name, format!("{}: \"{}\" is no {word}", result.id, result.recorded))
            .about(&result.part)
            .at(result.span, message)
            .basis(format!("expected: {expected}"));
        sink.push(match likely {
            Some(likely) => finding.help(format!("write \"{likely}\"")),
            None => finding.help(format!("write the figure with its unit, such as \"{example}\"")),
        });
    }
}
