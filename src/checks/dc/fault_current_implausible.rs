//! A bank whose fault current cannot be what the spec gives.

use crate::checks::{Check, Context};
use crate::compute::network::Doubt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::sources;
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fault-current-implausible",
        severity: Severity::Warning,
        what: "The fault current or internal resistance given for a bank makes its fault current less than a twentieth or more than ten times what is usual, or no more than what the bank gives in use. A data sheet does not help: a unit or a figure has slipped.",
        why: "Whether every fuse breaks a short, and whether a fuse at a long cable blows at all, rests on this figure.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"280 Ah\"\ninternal_resistance = \"35 mohm\"      # one cell of 0.35 mΩ",
        basis: "The usual figure is common practice, no source; a short draws more than any load by Ohm's law. So it warns.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let (Some(part), Some(fault), Some(usual)) = (context.part(id), bank.fault, bank.usual_fault) else { continue };
        let show = |amps: Amps| amps.show(System::Metric);
        let used = bank.max_discharge.map_or(bank.discharge, |most| most.max(bank.discharge));
        let against = match bank.doubt() {
            Some(Doubt::Slip) => format!("{} is usual", show(usual)),
            Some(Doubt::BelowUse) => format!("in use it gives {}", show(used)),
            Some(Doubt::Unusual) | None => continue,
        };
        let current = part.roles.fault_current();
        let span = if current.given { current.span } else { part.roles.internal_resistance().span };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: a short of {} cannot be; {against}", show(fault)))
                .about(id)
                .at(span, format!("a short draws {}", show(fault)))
                .basis(sources::USUAL_INTERNAL_RESISTANCE.text)
                .help("look at the unit, and whether the figure is that of the whole bank: the currents of batteries in parallel add, the resistances of cells in series too")
                .help("or leave the figure out: then the usual one counts"),
        );
    }
}
