//! Read with an instrument after its calibration had run out.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "calibration-lapsed",
        severity: Severity::Warning,
        what: "Readings were taken on a day after the instrument's `calibrated_until`.",
        why: "Nobody knows how far the instrument was off on that day, so the readings prove nothing.",
        example: "[instrument.meter-1]\nnumber = \"4711\"\ncalibrated_until = 2027-03-31\n\n[recorded.taken]\ncommissioning = { by = \"I. M.\", date = 2027-05-13, instruments = [\"meter-1\"] }",
        basis: "What a calibration certificate says; the last day counts in.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let spec = &context.build.spec;
    for (id, taken) in &spec.recorded.taken {
        let Some(date) = taken.value.date else { continue };
        for used in &taken.value.instruments {
            let Some(instrument) = spec.instruments.get(&used.value) else { continue };
            let Some(until) = instrument.date("calibrated_until").filter(|until| *until < date) else { continue };
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!("`{id}` was read on {date} with {}, which was calibrated until {until}", used.value),
                )
                .about(id)
                .at(used.span, format!("read {date}"))
                .label(instrument.span_of("calibrated_until"), format!("until {until}"))
                .basis("a reading counts up to the last day of the calibration")
                .help("read again with a calibrated instrument and write the day of that, or put `calibrated_until` right"),
            );
        }
    }
}
