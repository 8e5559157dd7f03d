//! An array that reaches no controller.

use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "array-without-controller",
        severity: Severity::Error,
        what: "A solar array feeds no charge controller.",
        why: "Nothing limits the charging voltage of the bank, or the array is not connected at all.",
        example: "[component.roof-array]\nkind = \"solar-array\"          # and no solar-controller is fed from it",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (array, _) in strings::arrays(context).filter(|(_, s)| s.controller.is_none()) {
        let mut finding = Finding::error(CHECK.doc.name, format!("{}: it reaches no charge controller", array.id))
            .about(&array.id)
            .at(array.span, "feeds no controller");
        let last = strings::between(context, array).last().copied().unwrap_or(array);
        let is_free = |p: &&crate::build::Part<'_>| {
            let on_pv = p.electric().is_some_and(|e| e.network == Network::Pv && e.role == Role::Charger);
            on_pv && p.supply.fed_from.all().is_empty()
        };
        if let Some(free) = context.build.parts.values().find(is_free) {
            finding = finding.label(free.span, "is fed from nothing");
        }
        sink.push(
            finding
                .basis("an array charges a bank through a controller alone")
                .help(format!("give a controller `fed_from = \"{}\"`", last.id)),
        );
    }
}
