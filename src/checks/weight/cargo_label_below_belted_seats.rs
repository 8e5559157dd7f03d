//! Too little capacity left for those on the belted seats.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::weight::cases::CaseId;
use crate::compute::weight::items;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Kilograms;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "cargo-label-below-belted-seats",
        severity: Severity::Error,
        what: "Gross mass less the finished van is below the belted seats times the mass of a person.",
        why: "With every seat taken the van is over its gross mass before anything is packed; the label of a motor home may not say so.",
        example: "[vehicle]\ngross_mass = \"3000 kg\"\nseats = 5                       # and 2700 kg as built",
        basis: "49 CFR 571.110 S9 under US rules: 68 kg for each belted seat. A warning under EU rules, with 75 kg.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let vehicle = &context.build.vehicle;
    let (Some(label), Some(needed)) = (context.weight.label, needed(context)) else { return };
    if !shortage(context) {
        return;
    }
    let system = context.build.prints();
    let person = items::person(context.build);
    let headline =
        format!("{} left for those on the belted seats, who need {}", label.capacity.show(system), needed.show(system));
    let eu = context.build.about.rules.is("eu");
    let finding = Finding::error_if(stops(context), CHECK.doc.name, headline);
    let gross = format!("{}, of which {} as built", label.gross.show(system), label.unloaded.show(system));
    sink.push(
        finding
            .at(vehicle.seats.span, format!("{} a seat", person.show(system)))
            .label(vehicle.gross_mass.span, gross)
            .basis(if eu {
                "Regulation (EU) No 1230/2012: 75 kg a person"
            } else {
                "49 CFR 571.110 S9: 68 kg (150 lb) a belted seat"
            })
            .help("fewer belted seats, or a lighter build"),
    );
}

/// Mass of a person on every belted seat.
fn needed(context: &Context<'_>) -> Option<Kilograms> {
    let seats = context.build.vehicle.seats.get()?;
    #[expect(clippy::cast_precision_loss, reason = "the reader bounds counts far below 2^52")]
    let seats = seats.max(0) as f64;
    Some(items::person(context.build) * seats)
}

/// Whether the shortage is an error: by the US rule, and whatever usual masses stand in for given ones.
pub(super) fn stops(context: &Context<'_>) -> bool {
    let (Some(label), Some(needed)) = (context.weight.label, needed(context)) else { return false };
    let certain = above(needed.0, (label.capacity + usual_mass(context)).0);
    shortage(context) && certain && !context.build.about.rules.is("eu")
}

/// Whether too little is left for the belted seats. A van above its gross mass with nobody aboard is another fault.
fn shortage(context: &Context<'_>) -> bool {
    let left = context.weight.label.map(|l| l.capacity).filter(|c| c.0 >= 0.0);
    left.zip(needed(context)).is_some_and(|(left, needed)| above(needed.0, left.0))
}

/// Mass as built that rests on usual values.
fn usual_mass(context: &Context<'_>) -> Kilograms {
    context.weight.items.all.iter().filter(|i| i.usual && CaseId::AsBuilt.has(i.content)).map(|i| i.mass).sum()
}
