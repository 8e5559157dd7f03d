//! A device that nothing shows to break the fault current at its place.

use super::place::{Of, device_span};
use crate::build::{Circuit, Part};
use crate::checks::{Check, Context};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::network::{CircuitFigures, DeviceAt, Short, evidence, family_name, is_of_makers};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::sources;
use crate::units::{Amps, System};
use indexmap::IndexMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "interrupting-unproven",
        severity: Severity::Warning,
        what: "The prospective fault current at a fuse or breaker is above what a published rule asks of its family, and the spec names no data sheet that says it breaks more. A fuse further up does not help, unless the two were tested together. Accepted one device or panel at a time.",
        why: "A device that cannot break the arc bursts and keeps conducting.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"560 Ah\"\nfault_current = \"5000 A\"\n\n[component.fuse]\nkind = \"terminal-fuse\"         # 2000 A by ISO 8820-6\nfed_from = \"house-bank\"",
        basis: "33 CFR 183.455 with ABYC E-11: interrupting rating not below the fault current. Families by ISO 8820-3, -5 and -6, read in reprints; class T by the DC rating marked on it (UL 248). Pairs: NEC 240.86.",
    },
    run,
};

type Unproven<'a> = (&'a Circuit, &'a CircuitFigures, Short);

fn run(context: &Context<'_>, sink: &mut Sink) {
    // One finding a device; the ways of a panel stand or fall together.
    let mut found: IndexMap<String, Vec<Unproven<'_>>> = IndexMap::new();
    for (circuit, figures) in context.circuits() {
        let (Some(Interrupting::Unproven), Some(short)) = (figures.breaking, figures.fault) else { continue };
        let about = match &figures.device.at {
            // The feed of a panel bears the panel's own id.
            DeviceAt::Way => format!("{}.ways", circuit.from),
            DeviceAt::Component(id) => id.clone(),
            _ => circuit.id.clone(),
        };
        found.entry(about).or_default().push((circuit, figures, short));
    }
    for (about, devices) in found {
        report(context, &about, &devices, sink);
    }
}

fn report(context: &Context<'_>, about: &str, devices: &[Unproven<'_>], sink: &mut Sink) {
    let Some(&(circuit, figures, _)) = devices.first() else { return };
    let show = |amps: Amps| amps.show(System::Metric);
    let worst = devices.iter().map(|(.., short)| short.current).fold(Amps(0.0), Amps::max);
    let way = figures.device.at == DeviceAt::Way;
    let what = match (way, figures.device.family) {
        (true, Some(family)) => format!("the {}s of its ways", family_name(family)),
        _ => format!("its {}", figures.device.show()),
    };
    let (rule, source) = family(figures);
    let span = if way { part_span(context, &circuit.from) } else { device_span(context, circuit, figures, Of::Family) };
    let mut finding = Finding::warning(
        CHECK.doc.name,
        format!("{about}: a short there draws {}, and nothing shows that {what} {} it", show(worst), verb(way)),
    )
    .about(about)
    .accepted_singly()
    .at(span, rule)
    .basis(source);
    if let Some(evidence) = evidence(context.build, circuit, &figures.device) {
        if let (Some(given), None) = (evidence.figure.get(), evidence.source()) {
            let label = format!("{} without `{}` proves nothing", show(given), evidence.sheet.name);
            finding = finding.label(evidence.figure.span, label);
        }
        if let (Some(pair), false) = (evidence.pair(), figures.device.breaks.pair) {
            let label = format!("`{pair}` is no fuse between the bank and this");
            finding = finding.label(evidence.with.span, label);
        }
        let (figure, from, pair) = (evidence.figure.name, evidence.sheet.name, evidence.with.name);
        finding = finding
            .help(format!("give `{figure}` of {} or more, and in `{from}` the data sheet that says so", show(worst)))
            .help(format!(
                "or name in `{pair}` the fuse before it that it was tested with; `{figure}` is then that of the pair"
            ))
            .help("or a longer or thinner cable before it, or a device of another family");
    }
    let rests = if is_of_makers(&context.electrical.banks) {
        "fault current by the bank's figure and the cables up to the device, at 20 °C"
    } else {
        "fault current by the resistance that is usual for such a bank (common practice, no source) and the cables up to the device, at 20 °C; the maker's `fault_current` may be lower"
    };
    sink.push(finding.basis(rests));
}

const fn verb(many: bool) -> &'static str {
    if many { "break" } else { "breaks" }
}

fn part_span(context: &Context<'_>, id: &str) -> crate::source::Span {
    context.part(id).map(|p: &Part<'_>| p.roles.family().span).unwrap_or_default()
}

/// What its family breaks, and where that is read.
fn family(figures: &CircuitFigures) -> (String, &'static str) {
    let family = figures.device.family;
    match figures.device.family_breaks() {
        Some(breaks) => (format!("its family breaks {}", Amps(breaks.amps).show(System::Metric)), breaks.source.text),
        None if family == Some(crate::tables::fuse_series::Family::ClassT) => {
            ("by the rating marked on it alone".to_owned(), sources::UL_248_DC.text)
        }
        None => ("no figure of its family was read".to_owned(), "the data sheet of the device alone"),
    }
}
