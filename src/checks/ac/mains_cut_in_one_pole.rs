//! A breaker, residual-current device or transfer that leaves one live conductor of the mains connected.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::Field;
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "mains-cut-in-one-pole",
        severity: Severity::Error,
        what: "Under EU rules a main breaker, the breakers of the ways or a residual-current device switch the line alone. Under any rules a main breaker, residual-current device or transfer of one pole is fed with the two lines of a split-phase supply.",
        why: "Campsite plugs can be wired either way round, and of two lines the other one stays live. What is switched off may then still kill.",
        example: "rules = \"eu\"\n\n[component.unit]\nkind = \"consumer-unit\"\nrating = \"16 A\"\nmain_poles = 1",
        basis: "IEC 60364-7-721: overcurrent protection and residual-current devices break all live conductors; read in reprints. Two lines: one pole cuts one of them.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let eu = context.electrical.profile.id == "eu";
    for part in context.build.parts.values() {
        let two_lines = context.build.has_two_lines(&part.id);
        for (poles, field, what, asked) in devices(part, eu, two_lines) {
            let Some(one) = poles.get().filter(|poles| asked && *poles < 2) else { continue };
            let (stays, basis) = if two_lines && field != "way_poles" {
                ("one line stays connected", "two lines arrive, and one pole cuts one of them")
            } else {
                (
                    "the neutral stays connected",
                    "IEC 60364-7-721: protection breaks all live conductors; read in reprints",
                )
            };
            sink.push(
                Finding::error(CHECK.doc.name, format!("{}: its {what} has {one} pole", part.id))
                    .about(&part.id)
                    .at(poles.span, stays)
                    .basis(basis)
                    .help(format!("a device of two poles: `{field} = 2`")),
            );
        }
    }
}

/// What of a part has poles, the field that tells them, what it is, and whether two are asked for.
fn devices<'a>(
    part: &'a Part<'_>,
    eu: bool,
    two_lines: bool,
) -> Vec<(&'a Field<i64>, &'static str, &'static str, bool)> {
    let any = eu || two_lines;
    match part.role() {
        Some(Role::AcPanel) => {
            let ways = part.roles.ac_panel.as_ref().map(|p| (&p.way_poles, "way_poles", "breaker of each way", eu));
            let main = (part.roles.main_poles(), "main_poles", "main breaker", any);
            std::iter::once(main).chain(ways).collect()
        }
        Some(Role::Rcd) => vec![(part.roles.poles(), "poles", "residual-current device", any)],
        Some(Role::Transfer) => vec![(part.roles.poles(), "poles", "transfer", two_lines)],
        _ => Vec::new(),
    }
}
