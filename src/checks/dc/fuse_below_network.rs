//! A fuse or breaker for a lower voltage than its network reaches.

use super::place::{Of, device_span};
use crate::build::Circuit;
use crate::checks::{Check, Context};
use crate::compute::network::{CircuitFigures, DeviceAt, Rated, highest, rated};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Network;
use crate::units::{System, Volts};
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-below-network",
        severity: Severity::Error,
        what: "A fuse or breaker is rated for a lower voltage than its DC network reaches while the bank charges. An error where its marking, or the standard of its family, and the spec's own voltages say so; a warning where only the usual charging voltage is higher.",
        why: "It cannot put out the arc as it opens: it goes on conducting, bursts and burns.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"51.2 V\"\n\n[component.house-panel]\nkind = \"fuse-panel\"   # blade fuses, made for 32 V\nfed_from = \"busbar\"",
        basis: "ISO 8820-3 (blade fuses: 32 V, 58 V where marked), ISO 8820-5 (strips: 32 V), ISO 8820-6 (terminal fuses: 58 V), as reprinted.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut panels = BTreeSet::new();
    for (circuit, figures) in context.circuits() {
        let is_dc = matches!(circuit.network, Network::Dc | Network::Start);
        let Some(rated) = rated(context.build, circuit, &figures.device).filter(|_| is_dc) else { continue };
        let (volts, marked) = match rated {
            Rated::Marked(volts) => (volts, true),
            Rated::Family(volts) => (volts, false),
            Rated::Untold => continue,
        };
        let reached = highest(context.build, circuit, &context.electrical.profile);
        if reached.0 <= volts.0 {
            continue;
        }
        // The ways of a panel hold the same fuses: one finding tells of all.
        let of_ways = figures.device.at == DeviceAt::Way && own_mark(context, circuit).is_none();
        if of_ways && !panels.insert(&circuit.from) {
            continue;
        }
        sink.push(finding(context, circuit, figures, &Told { volts, marked, reached, of_ways }));
    }
}

/// What is told of a device.
struct Told {
    volts: Volts,
    marked: bool,
    reached: Volts,
    of_ways: bool,
}

fn finding(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures, told: &Told) -> Finding {
    let show = |volts: Volts| volts.show(System::Metric);
    let network = context.build.dc_network(circuit);
    let series = figures.device.family.map(crate::tables::fuse_series::Family::series);
    let name = series.map_or("fuse", |s| s.name);
    let panel = context.part(&circuit.from).filter(|_| told.of_ways);
    let (about, headline, span) = match panel {
        Some(panel) => (
            panel.id.as_str(),
            format!(
                "{}: {name}s for {} in its ways, on a network that reaches {}",
                panel.id,
                show(told.volts),
                show(told.reached)
            ),
            if told.marked { panel.roles.way_voltage().span } else { panel.roles.family().span },
        ),
        None => (
            circuit.owner.as_str(),
            format!("{}: {name} for {} on a network that reaches {}", circuit.id, show(told.volts), show(told.reached)),
            mark(context, circuit, figures)
                .filter(|_| told.marked)
                .unwrap_or_else(|| device_span(context, circuit, figures, Of::Family)),
        ),
    };
    // The usual charging voltage is common practice and may not stop a build.
    let certain = network.told || network.nominal.0 > told.volts.0;
    let finding = Finding::error_if(certain, CHECK.doc.name, headline);
    let rests = match (told.marked, series.and_then(|s| s.breaks)) {
        (false, Some(breaks)) => breaks.source.text.to_owned(),
        _ => "the voltage marked on it, as the spec gives it".to_owned(),
    };
    let field = match (panel.is_some(), &figures.device.at) {
        (true, _) => "way_voltage",
        (false, DeviceAt::Component(_)) => "rated_voltage",
        _ if circuit.end.is_output() => "output_protection_voltage",
        _ => "protection_voltage",
    };
    finding
        .about(about)
        .at(span, format!("for {}", show(told.volts)))
        .basis(rests)
        .help(format!("a device for {} or more; where that stands on it, write it in `{field}`", show(told.reached)))
}

fn own_mark(context: &Context<'_>, circuit: &Circuit) -> Option<crate::source::Span> {
    let owner = context.part(&circuit.owner)?;
    let field = if circuit.end.is_output() {
        &owner.output.output_protection_voltage
    } else {
        &owner.supply.protection_voltage
    };
    field.given.then_some(field.span)
}

fn mark(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Option<crate::source::Span> {
    match &figures.device.at {
        DeviceAt::Component(id) => {
            context.part(id).map(|p| p.roles.rated_voltage()).filter(|f| f.given).map(|f| f.span)
        }
        _ => own_mark(context, circuit),
    }
}
