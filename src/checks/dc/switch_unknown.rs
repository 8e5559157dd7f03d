//! A `switched_at` that names no switch.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "switch-unknown",
        severity: Severity::Error,
        what: "`switched_at` names no switch of a panel, or the part is fed by nothing that the switch could stand in.",
        why: "Its leg is in no list: the lamp is never wired to the switch that the owner looks for.",
        example: "[component.pump]\nkind = \"water-pump\"\nfed_from = \"panel\"\nswitched_at = \"control-panel.pmp\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(at) = part.supply.switched_at.text() else { continue };
        let (headline, help) = match at.split_once('.').and_then(|(panel, id)| Some((context.part(panel)?, id))) {
            None => (
                format!("{}: `switched_at` names no panel and switch: \"{at}\"", part.id),
                "write it as \"control-panel.pump\": the id of a component, a dot, the id of a switch of it".to_owned(),
            ),
            Some((panel, id)) if !has(panel, id) => (
                format!("{}: {} has no switch `{id}`", part.id, panel.id),
                match known(panel).as_slice() {
                    [] if panel.roles.keypad.is_some() => {
                        format!("{} has no keys; give it one: key.{id} = {{ label = … }}", panel.id)
                    }
                    [] => format!("{} has no switches; give it one: switch.{id} = {{ label = … }}", panel.id),
                    known => {
                        format!("its switches are {}; a new one is switch.{id} = {{ label = … }}", known.join(", "))
                    }
                },
            ),
            Some(_) if part.supply.fed_from.all().is_empty() => (
                format!("{}: is switched at {at}, and nothing feeds it", part.id),
                "give `fed_from`: the switch stands between that and the component".to_owned(),
            ),
            Some(_) => continue,
        };
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(part.supply.switched_at.span, "no switch in it")
                .help(help),
        );
    }
}

fn has(panel: &Part<'_>, id: &str) -> bool {
    known(panel).contains(&id)
}

/// Ids of its switches and keys.
fn known<'p>(panel: &'p Part<'_>) -> Vec<&'p str> {
    let keys = panel.keys().into_iter().map(|(id, _)| id);
    panel.switches().into_iter().map(|(id, _)| id).chain(keys).collect()
}
