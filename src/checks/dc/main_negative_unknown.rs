//! A bank whose negative has no size, length and label.

use crate::build::{Circuit, Feeding, Part};
use crate::checks::{Check, Context};
use crate::compute::network::bank_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "main-negative-unknown",
        severity: Severity::Warning,
        what: "Nothing in the spec says which cable leads from the negative busbar back to the bank.",
        why: "It carries all that the main fuse does. Without a size, a length and a label in any list it is cut from what lies about, and tested by nobody.",
        example: "[component.negative-bar]\nkind = \"negative-busbar\"\nmirrors = \"busbar\"",
        basis: "Kirchhoff's current law: what leaves by the positive comes back by the negative.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let returns: Vec<&Circuit> = build.circuits.values().filter(|c| c.feeding == Feeding::Return).collect();
    let bars = || build.parts.values().filter(|p| p.roles.negative_bar.is_some());
    for bar in bars().filter(|b| b.roles.returns_to().all().is_empty() && !b.record.faulty.contains("returns_to")) {
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: no cable leads from it back to the bank", bar.id))
                .about(&bar.id)
                .at(bar.span, "no `returns_to`")
                .basis("what leaves by the positive comes back by the negative")
                .help("write `returns_to = \"…\"` with the battery monitor, or the bank where there is none, and the `run` of the cable"),
        );
    }
    for bank in build.parts.values().filter(|p| p.role() == Some(Role::Bank)) {
        let reached = returns.iter().any(|c| bank_of(build, c) == Some(bank.id.as_str()));
        // Where a bar has no `returns_to`, that is told of the bar.
        if reached || bars().any(|b| b.roles.returns_to().all().is_empty()) {
            continue;
        }
        let Some(main) = build.leaving(&bank.id).find(|c| is_positive_alone(context, c)) else { continue };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: no cable leads back to its negative", bank.id))
                .about(&bank.id)
                .at(bank.span, "where does the current come back?")
                .label(main.span, format!("{} has the positive alone", main.id))
                .basis("what leaves by the positive comes back by the negative")
                .help("add a negative-busbar with `mirrors`, `returns_to` and `run`"),
        );
    }
}

/// Whether a circuit of the main path has no negative of its own.
fn is_positive_alone(context: &Context<'_>, circuit: &Circuit) -> bool {
    let to = context.part(&circuit.to).and_then(Part::role);
    circuit.network == Network::Dc && matches!(to, Some(Role::Protection | Role::Disconnect | Role::Bus))
}
