//! A bank whose fault current is given far from what is usual, without a source.

use crate::checks::{Check, Context};
use crate::compute::network::Doubt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::sources;
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fault-current-unsourced",
        severity: Severity::Warning,
        what: "The fault current or the internal resistance given for a bank makes its fault current less than a third or more than twice of what is usual for its chemistry and capacity, and `fault_current_from` names no data sheet.",
        why: "Whether every fuse breaks a short rests on this figure. One that is too low passes fuses that burst.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"560 Ah\"         # usual: 35.8 kA\nfault_current = \"6600 A\"",
        basis: "The usual figure is common practice, no source: 0.2 Ω Ah over the capacity (lithium iron phosphate), 0.45 Ω Ah (absorbed glass mat); a third to twice of it is plausible. So it warns.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let (Some(part), Some(fault), Some(usual)) = (context.part(id), bank.fault, bank.usual_fault) else { continue };
        if bank.fault_from.is_some() || bank.doubt() != Some(Doubt::Unusual) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let far = if fault < usual { "less than a third" } else { "more than twice" };
        let fault_current = part.roles.fault_current();
        let span = if fault_current.given { fault_current.span } else { part.roles.internal_resistance().span };
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{id}: {} is {far} of the {} that is usual, and no source is named", show(fault), show(usual)),
            )
            .about(id)
            .at(span, format!("a short draws {}", show(fault)))
            .basis(sources::USUAL_INTERNAL_RESISTANCE.text)
            .help("name the maker's data sheet in `fault_current_from`; electronics that cut a short off count only where it says how fast")
            .help("of batteries in parallel the sum counts")
            .help("or leave the figure out: then the usual one counts"),
        );
    }
}
