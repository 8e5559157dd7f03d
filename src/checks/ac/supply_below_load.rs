//! A circuit that asks more of the breaker at the pitch than it lets through for hours.

use crate::build::{Build, Circuit, Feeding, Part};
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::network::{CircuitFigures, DeviceAt};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "supply-below-load",
        severity: Severity::Warning,
        what: "The design current of a circuit that the breaker of the pitch or house protects is above the rating of inlet or transfer.",
        why: "The breaker at the pitch opens after an hour or two, often at night and out of the owner's reach.",
        example: "[component.inlet]\nkind = \"shore-inlet\"\nrating = \"10 A\"\n\n[component.charger]\nkind = \"shore-charger\"\nfed_from = \"inlet\"\ninput_current = \"9 A\"",
        basis: "NEC 210.20 and 215.3: 100 % of the non-continuous and 125 % of the continuous load.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(c, f)| is_behind_pitch(context, c, f)) {
        let Some(rating) = figures.device.rating.filter(|r| above(figures.design.0, r.0)) else { continue };
        // Told once: where the current comes in.
        let mut feeders =
            context.build.arriving(&circuit.from).filter_map(|c| Some((c, context.electrical.circuits.get(&c.id)?)));
        if feeders.any(|(c, f)| is_behind_pitch(context, c, f) && above(f.design.0, rating.0)) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let headline =
            format!("{}: behind a {} supply, the design current is {}", circuit.id, show(rating), show(figures.design));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span, format!("the supply gives {}", show(rating)))
                .basis(format!(
                    "load {}, {} of it continuous and taken at 125 % (NEC 210.20, 215.3)",
                    show(figures.demand.load),
                    show(figures.demand.continuous)
                ))
                .help("a larger inlet, a charger set lower (`shore_limit`, `input_current`), or a lower `diversity` that you can stand behind"),
        );
    }
}

/// Whether the breaker of the pitch is what protects a circuit.
fn is_behind_pitch(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> bool {
    let ac = circuit.network == Network::Ac && figures.device.at == DeviceAt::Source;
    ac && (circuit.feeding == Feeding::Shore || comes_from_inlet(context.build, &circuit.from))
}

/// Whether nothing but what passes current on stands between `part` and a shore inlet.
fn comes_from_inlet(build: &Build<'_>, part: &str) -> bool {
    let passes = |id: &str| build.parts.get(id).and_then(Part::role).is_some_and(Role::passes_through);
    let above = build.upstream(part).along(|c| c.network == Network::Ac && passes(&c.to)).parts();
    build.parts.get(part).into_iter().chain(above).any(|p| p.role() == Some(Role::Inlet))
}
