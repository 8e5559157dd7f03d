//! A generator with nothing said about where its neutral is joined with earth.

use crate::checks::ac::{bond, reach};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "generator-neutral-unsettled",
        severity: Severity::Error,
        what: "A generator feeds AC circuits that a residual-current device guards, and nothing joins neutral and earth meanwhile: its own neutral is not bonded (`neutral_bonded`), and no `neutral-earth-bond` says where it is made on a generator.",
        why: "Without the joint no current flows on the first fault to earth: breaker and residual-current device stay closed and the metal body of the van becomes live.",
        example: "[component.generator]\nkind = \"generator\"\npower = \"2600 W\"\nrating = \"20 A\"\nfeeds = \"transfer\"           # and neutral_bonded left out",
        basis: "A residual-current device compares line and neutral: it trips when current returns another way, and without the joint there is none.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values().filter(|p| p.role() == Some(Role::Generator) || bond::takes_portable(p)) {
        let users = reach::users(build, &part.id);
        let guard = users.iter().flat_map(|(p, _)| reach::up_to(build, &p.id, |u| u.role() == Some(Role::Rcd))).next();
        let Some(guard) = guard.filter(|_| !bond::is_made(build, part)) else { continue };
        let portable = part.roles.inlet.as_ref().map_or(part.span, |inlet| inlet.portable_power.span);
        let own = part.roles.generator.as_ref().map_or(portable, |g| g.neutral_bonded.span);
        let mut finding = Finding::error(
            CHECK.doc.name,
            format!("{}: nothing joins neutral and earth while a generator feeds the van", part.id),
        )
        .about(&part.id)
        .at(own, "its neutral is not joined to its frame")
        .label(guard.span, "can't trip on the first fault to earth");
        for bond in bond::bonds(build) {
            let field = bond.roles.neutral_bond.as_ref().map_or(bond.span, |b| b.on_generator.span);
            finding = finding.label(field, "says nothing of a generator");
        }
        sink.push(
            finding
                .basis("a residual-current device trips when current returns another way than by the neutral; without the joint there is no other way")
                .help("`neutral_bonded = true`, of a portable one `portable_bonded = true`, where its maker joins them, or a neutral-earth-bond with `on_generator`, by the generator's instructions"),
        );
    }
}
