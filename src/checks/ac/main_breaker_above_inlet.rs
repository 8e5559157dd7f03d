//! A main breaker rated above the shore inlet before it.

use crate::checks::ac::reach;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "main-breaker-above-inlet",
        severity: Severity::Error,
        what: "The main breaker of a consumer unit is rated above the shore inlet that feeds it.",
        why: "On a supply with a larger breaker, or through an adapter, the inlet and its cord burn before the main breaker opens.",
        example: "[component.inlet]\nkind = \"shore-inlet\"\nrating = \"16 A\"\n\n[component.consumer-unit]\nkind = \"consumer-unit\"\nfed_from = \"inlet\"\nrating = \"20 A\"",
        basis: "The rating that the inlet's maker gives.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for unit in build.parts.values().filter(|p| p.role() == Some(Role::AcPanel)) {
        let Some(main) = unit.roles.rating().get() else { continue };
        let ends = |r: Role| r == Role::AcPanel || r.gives_ac();
        for inlet in reach::up_to(build, &unit.id, |p| p.role().is_some_and(ends)) {
            let Some(rating) = inlet.roles.rating().get().filter(|_| inlet.role() == Some(Role::Inlet)) else {
                continue;
            };
            let guarded = context
                .circuits()
                .filter(|(c, _)| c.to == unit.id)
                .any(|(_, f)| f.device.is_own() && f.device.rating.is_some_and(|r| !above(r.0, rating.0)));
            if guarded || !above(main.0, rating.0) {
                continue;
            }
            let [main, rating] = [main, rating].map(|a| a.show(build.prints()));
            sink.push(
                Finding::error(CHECK.doc.name, format!("{}: {main} main breaker behind a {rating} inlet", unit.id))
                    .about(&unit.id)
                    .at(unit.roles.rating().span, format!("{main} main breaker"))
                    .label(inlet.roles.rating().span, format!("{} is rated {rating}", inlet.id))
                    .basis(format!("maker's rating of {}: {rating}", inlet.id))
                    .help(format!("a main breaker of {rating} or less, or an inlet and a cord for {main}")),
            );
        }
    }
}
