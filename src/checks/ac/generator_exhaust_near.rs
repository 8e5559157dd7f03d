//! A generator whose exhaust ends beside a window, door or vent.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::{Bound, Metres};

/// From the end of the exhaust to the nearest opening. Common practice, no source.
const LEAST: Metres = Metres(1.5);

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "generator-exhaust-near",
        severity: Severity::Warning,
        what: "The exhaust of a generator ends less than 1.5 m from a window, door or vent.",
        why: "The exhaust is drawn in. Carbon monoxide has no smell and kills sleepers.",
        example: "[component.generator]\nkind = \"generator\"\nexhaust_clear = \"0.6 m\"",
        basis: "Common practice, no source: the generator's instructions and local codes decide.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for part in context.build.parts.values().filter(|p| p.role() == Some(Role::Generator)) {
        let Some(field) = part.roles.generator.as_ref().map(|g| &g.exhaust_clear) else { continue };
        let Some(clear) = field.get().filter(|clear| above(LEAST.0, clear.0)) else { continue };
        let least = LEAST.bound(Bound::Least, system);
        let clear = clear.show(system);
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: its exhaust ends {clear} from an opening", part.id))
                .about(&part.id)
                .at(field.span, format!("{least} is usual at the least"))
                .basis("common practice, no source; the generator's instructions and local codes decide")
                .help(format!(
                    "lead the exhaust {least} or more away from all that opens, or close the opening for good"
                )),
        );
    }
}
