//! A recorded reading that can't be held against the value expected.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::FieldType;
use crate::kinds::Reading;
use crate::units::{Dimension, parse_quantity};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "reading-unreadable",
        severity: Severity::Warning,
        what: "A recorded reading is no number with a unit, or has a unit of something else than what was to be measured.",
        why: "It can't be held against the value expected, so nobody is told that it is out of tolerance.",
        example: "[recorded.readings]\n\"fridge.volts-running\" = \"fine\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for task in build.tasks.values() {
        let (Some(part), Some(template)) = (task.part.as_deref().and_then(|p| build.parts.get(p)), task.template)
        else {
            continue;
        };
        for reading in &template.readings {
            let Some(recorded) = build.spec.recorded.readings.get(&format!("{}.{}", part.id, reading.id)) else {
                continue;
            };
            let Some(dimension) = measured(part, reading) else { continue };
            // A meter at the end of its range shows "> 200 Mohm".
            let value = recorded.value.trim_start_matches(['≤', '≥', '<', '>', ' ']);
            let Err(fault) = parse_quantity(value, dimension) else { continue };
            let mut finding = Finding::warning(
                CHECK.doc.name,
                format!("{}.{}: \"{}\" is no {}", part.id, reading.id, recorded.value, dimension.word()),
            )
            .about(&part.id)
            .at(recorded.span, fault.message)
            .basis(format!("to be measured: {}", reading.what));
            finding = match fault.likely {
                Some(likely) => finding.help(format!("write \"{likely}\"")),
                None => finding.help(format!("write the figure with its unit, such as \"{}\"", dimension.example())),
            };
            sink.push(finding);
        }
    }
}

/// What a reading measures, where its tolerance, its expected value or the field named there tells it.
fn measured(part: &Part<'_>, reading: &Reading) -> Option<Dimension> {
    let of_tolerance = unit_of(&reading.tolerance).filter(|d| *d != Dimension::Ratio);
    of_tolerance.or_else(|| of_expected(part, reading.expect.trim_start_matches(SIGNS).trim()))
}

/// Signs before a limit or tolerance.
const SIGNS: [char; 8] = ['±', '≤', '≥', '<', '>', '+', '−', ' '];

fn of_expected(part: &Part<'_>, expect: &str) -> Option<Dimension> {
    let expect = expect.trim_end_matches(" or less").trim_end_matches(" or more");
    let Some(fact) = expect.strip_prefix("{{").and_then(|e| e.strip_suffix("}}")).map(str::trim) else {
        return unit_of(expect);
    };
    match fact {
        "load_current" | "design_current" => Some(Dimension::Current),
        "volts_nominal" | "ac_volts" | "volts_at_load" => Some(Dimension::Voltage),
        "drop_percent" => Some(Dimension::Ratio),
        field => match part.kind.fields.get(field)?.ty {
            FieldType::Quantity(dimension) => Some(dimension),
            _ => None,
        },
    }
}

/// The dimension of a text such as "± 0.3 V"; `None` where it is no single quantity.
fn unit_of(text: &str) -> Option<Dimension> {
    let text = text.trim_start_matches(SIGNS).trim();
    let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').trim();
    // Differences of temperature are written in kelvin.
    if unit == "K" {
        return Some(Dimension::Temperature);
    }
    Dimension::ALL
        .iter()
        .copied()
        .find(|d| !unit.is_empty() && d.unit(unit).is_some() && parse_quantity(text, *d).is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tolerances_tell_what_is_measured() {
        for (text, dimension) in [
            ("± 0.3 V", Some(Dimension::Voltage)),
            ("± 3 K", Some(Dimension::Temperature)),
            ("+ 10 mA", Some(Dimension::Current)),
            ("≥ 1 Mohm", Some(Dimension::Resistance)),
            ("± 15 %", Some(Dimension::Ratio)),
            ("± 20 mm", Some(Dimension::Length)),
            ("≤ 5 ppm", None),
            ("± {{ tolerance }}", None),
            ("", None),
        ] {
            assert_eq!(unit_of(text), dimension, "{text}");
        }
    }
}
