//! Fixed AC loads that together take more than a generator gives.

use crate::checks::ac::reach;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::Watts;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "generator-overloaded",
        severity: Severity::Warning,
        what: "The fixed AC loads and chargers behind a generator, built in or plugged into the inlet (`portable_power`), all at once, take more than its continuous power. Outlets are left aside.",
        why: "Its voltage and frequency fall, motors overheat, and it stops or opens its breaker.",
        example: "rules = \"eu\"\n\n[component.generator]\nkind = \"generator\"\npower = \"1000 W\"\nrating = \"5 A\"\n\n[component.cooktop]\nkind = \"cooktop-induction\"\ndraw = \"1800 W\"",
        basis: "The continuous power that the generator's maker gives.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let show = |w: Watts| w.show(context.build.prints());
    let built_in = reach::overloaded(context, |role| role == Role::Generator)
        .map(|(part, source)| (part, source, part.roles.power(), source.capacity));
    // One that is plugged in gives no more than its own power, whatever the inlet is for.
    let portable = context.electrical.ac_sources.iter().filter_map(|(id, source)| {
        let part = context.part(id)?;
        let power = &part.roles.inlet.as_ref()?.portable_power;
        Some((part, source, power, power.get()?)).filter(|(.., most)| above(source.fixed_load.0, most.0))
    });
    for (part, source, field, capacity) in built_in.chain(portable) {
        let id = part.id.as_str();
        let [load, power] = [source.fixed_load, capacity].map(show);
        let headline = format!("{id}: fixed loads of {load} on a generator for {power}");
        let mut finding = Finding::warning(CHECK.doc.name, headline)
            .about(id)
            .at(field.span, format!("{power} continuous"))
            .basis(format!("maker's continuous power: {power}"));
        if let Some((largest, watts)) = &source.largest {
            let span = context.part(largest).map_or(part.span, |p| p.span);
            finding = finding.label(span, format!("the largest: {}", show(*watts)));
        }
        sink.push(finding.help(
            "a larger generator, smaller loads or a charger set lower, or accept it with a reason: which never run together",
        ));
    }
}
