//! A fuse or breaker smaller than the current of its circuit.

use super::place::{Of, device_span};
use crate::build::Circuit;
use crate::checks::{Check, Context};
use crate::compute::network::{CircuitFigures, DeviceAt};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-below-load",
        severity: Severity::Error,
        what: "The fuse or breaker of a circuit is rated below the current it has to carry: an error below the load itself, a warning below 125 % of the continuous part.",
        why: "It opens in normal use, or ages until it opens at the worst time.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"\ndraw = \"300 W\"\nprotection = \"10 A\"",
        basis: "NEC 210.20 and 215.3: 100 % of the non-continuous and 125 % of the continuous load.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        let behind = is_told_above(context, figures).map(|told| !told);
        if !figures.device.is_own() && behind != Some(true) {
            continue;
        }
        let Some(rating) = figures.device.rating.map(|rating| worse(context, circuit, figures, rating)) else {
            continue;
        };
        let show = |amps: Amps| amps.show(System::Metric);
        let (load, design) = (figures.demand.load, figures.design);
        let at = device_span(context, circuit, figures, Of::Rating);
        let finding = if rating < load && behind.is_none() {
            let headline = format!("{}: {} for a load of {}", circuit.id, figures.device.show(), show(load));
            Finding::error(CHECK.doc.name, headline).basis(format!("load current {}", show(load)))
        } else if below(rating, design) {
            let headline =
                format!("{}: {} for a design current of {}", circuit.id, figures.device.show(), show(design));
            Finding::warning(CHECK.doc.name, headline).basis(format!(
                "{} of it continuous, taken at 125 % (NEC 210.20, 215.3)",
                show(figures.demand.continuous)
            ))
        } else {
            continue;
        };
        let finding = finding.about(&circuit.owner).at(at, format!("rated {}", show(rating)));
        sink.push(finding.help("a larger rating the conductor allows; left out, it is sized"));
    }
}

/// Of a guess the worse side for the load, the next rating below what was guessed: the figures have the next one above.
fn worse(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures, rating: Amps) -> Amps {
    let device = &figures.device;
    if !(device.given && device.is_own() && context.build.is_assumed(circuit, "protection")) {
        return rating;
    }
    let next = |rating: Amps| device.family.and_then(|family| family.series().below(rating));
    next(rating).and_then(next).unwrap_or(rating)
}

fn below(rating: Amps, design: Amps) -> bool {
    rating.0 < design.0 * (1.0 - 1e-9)
}

/// Of a circuit that a device further up protects: whether that device is too small for its own circuit, and so told
/// there. `None` where the device is its own or there is none.
fn is_told_above(context: &Context<'_>, figures: &CircuitFigures) -> Option<bool> {
    let DeviceAt::Upstream(id) = &figures.device.at else { return None };
    let above = context.electrical.circuits.get(id)?;
    Some(below(figures.device.rating?, above.design))
}
