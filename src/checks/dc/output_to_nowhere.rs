//! An output connected to something that takes none.

use crate::build::Feeding;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "output-to-nowhere",
        severity: Severity::Error,
        what: "`feeds` names a component that neither collects nor stores current.",
        why: "The current has nowhere to go.",
        example: "[component.shore-charger]\nkind = \"shore-charger\"\nfed_from = \"consumer-unit\"\nfeeds = \"fridge\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.feeding == Feeding::Output) {
        let Some(to) = context.part(&circuit.to) else { continue };
        let takes = to.role().is_some_and(|r| {
            r.passes_through() || matches!(r, Role::Bank | Role::StartBattery | Role::Outlet | Role::InverterCharger)
        });
        let same = to.electric().is_some_and(|e| e.network == circuit.network);
        if takes && same {
            continue;
        }
        let name = to.kind.name.to_lowercase();
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: its output goes to {}, a {name}", circuit.owner, to.id))
                .about(&circuit.owner)
                .at(circuit.span, format!("a {name} takes no output of this network"))
                .label(to.span, format!("{} stands here", to.id))
                .help("name the busbar or panel that collects the current"),
        );
    }
}
