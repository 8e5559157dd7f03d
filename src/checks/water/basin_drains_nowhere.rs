//! A sink or shower whose waste goes nowhere.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "basin-drains-nowhere",
        severity: Severity::Warning,
        what: "A sink or shower names no tank in `drains_to` and does not say `dry = true`, or it says both.",
        why: "No one lays its waste pipe, and the grey tank is sized without it; of a dry one no one knows whether it gets one.",
        example: "[component.sink]\nkind = \"sink\"                      # and no drains_to",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let wants = |p: &&crate::build::Part<'_>| p.kind.plumbing.is_some() && p.kind.takes("drains_to");
    for basin in build.parts.values().filter(wants).filter(|p| p.roles.drains_to().first().is_none()) {
        if basin.roles.dry().get() == Some(true) {
            continue;
        }
        let grey = context.water.grey.keys().next();
        let help = grey.map_or_else(
            || "add a grey-tank and name it in `drains_to`".to_owned(),
            |g| format!("drains_to = \"{g}\""),
        );
        let dry = if basin.kind.takes("dry") { "; or dry = true: its water is carried out" } else { "" };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("the waste of {} goes nowhere", basin.id))
                .about(&basin.id)
                .at(basin.span, "names no `drains_to`")
                .basis("structure of the spec")
                .help(format!("{help}{dry}")),
        );
    }
    let both = |p: &&crate::build::Part<'_>| p.roles.dry().get() == Some(true) && p.roles.drains_to().first().is_some();
    for basin in build.parts.values().filter(both) {
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{} is dry, and drains somewhere", basin.id))
                .about(&basin.id)
                .at(basin.roles.drains_to().span, "drains to a tank")
                .label(basin.roles.dry().span, "and has no waste")
                .basis("structure of the spec")
                .help("delete one of the two"),
        );
    }
}
