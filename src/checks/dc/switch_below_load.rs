//! A switch of a panel that carries more than it may.

use crate::build::Circuit;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};
use indexmap::IndexMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "switch-below-load",
        severity: Severity::Error,
        what: "What is switched at one switch of a panel draws more than the switch is rated for.",
        why: "Its contacts weld or burn.",
        example: "[component.control-panel]\nkind = \"control-panel\"\nfed_from = \"panel\"\nswitch.heat = { rating = \"5 A\" }\n\n[component.heater]\nkind = \"air-heater\"\nfed_from = \"panel\"\nswitched_at = \"control-panel.heat\"",
        basis: "The switch's own rating for DC.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut switched: IndexMap<&str, (Amps, Vec<&Circuit>)> = IndexMap::new();
    for (circuit, figures) in context.circuits() {
        let Some(at) = &circuit.switched_at else { continue };
        let (sum, circuits) = switched.entry(&at.value).or_default();
        *sum = *sum + figures.design;
        circuits.push(circuit);
    }
    for (at, (sum, circuits)) in switched {
        let Some((panel, id)) = at.split_once('.').and_then(|(panel, id)| Some((context.part(panel)?, id))) else {
            continue;
        };
        let on_it = panel.switches();
        let Some((_, switch)) = on_it.iter().find(|(own, _)| *own == id) else { continue };
        let Some(rating) = switch.rating.get().filter(|rating| sum.0 > rating.0 * (1.0 + 1e-9)) else { continue };
        let loads: Vec<&str> = circuits.iter().map(|c| c.to.as_str()).collect();
        let headline = format!(
            "{at}: rated {}; {} flow to {}",
            rating.show(System::Metric),
            sum.show(System::Metric),
            loads.join(", ")
        );
        let mut finding =
            Finding::error(CHECK.doc.name, headline).about(&panel.id).at(switch.rating.span, "too little");
        for circuit in circuits {
            let span = circuit.switched_at.as_ref().map_or(circuit.span, |at| at.span);
            finding = finding.label(span, format!("{} is switched here", circuit.to));
        }
        sink.push(finding.help("a switch of a higher rating, or a relay that it works"));
    }
}
