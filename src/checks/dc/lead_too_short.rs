//! A lead of the maker that does not reach.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "lead-too-short",
        severity: Severity::Warning,
        what: "The lead that the maker gives is shorter than the way it has to go.",
        why: "It is not to be cut or spliced: the part cannot be joined where it stands.",
        example: "[component.battery-monitor]\nkind = \"battery-monitor\"\ndisplay_at = \"cab\"          # 5 m from the shunt; its data lead has 3 m",
        basis: "Lengths of the kind, and the way along the channels or straight.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for conductor in context.build.wiring.conductors.values() {
        let Some((has, needs)) = conductor.makers.zip(conductor.route.length) else { continue };
        if conductor.is_cut() || needs.0 <= has.0 * (1.0 + 1e-9) || conductor.confidential {
            continue;
        }
        let headline = format!("{}: {} long, and the way is {}", conductor.id, has.show(system), needs.show(system));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&conductor.owner)
                .at(conductor.span, "this part's lead")
                .help(format!(
                    "move one of the two, or order the longer lead and say lead.{} = {{ run = \"…\" }}",
                    conductor.local
                )),
        );
    }
}
