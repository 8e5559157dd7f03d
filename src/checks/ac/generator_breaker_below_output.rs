//! A generator whose own breaker does not carry for hours what its maker says it gives.

use crate::build::Feeding;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "generator-breaker-below-output",
        severity: Severity::Warning,
        what: "The breaker of a generator is rated below its continuous current and a quarter more.",
        why: "A breaker carries 80 % of its rating for hours. It opens in the warm box beside the engine after an hour at full output, where nobody is near.",
        example: "[component.generator]\nkind = \"generator\"\npower = \"2800 W\"\nrating = \"13 A\"        # 12.2 A at 230 V",
        basis: "NEC 210.20 and 215.3: 125 % of a load that runs three hours or more.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let factor = context.electrical.profile.continuous_factor;
    for (circuit, figures) in context.circuits().filter(|(c, _)| c.feeding == Feeding::Output) {
        let generator = context.part(&circuit.from).filter(|p| p.role() == Some(Role::Generator));
        let Some(generator) = generator.filter(|_| circuit.network == Network::Ac) else { continue };
        let roles = &generator.roles;
        let (Some(power), Some(rating)) = (roles.power().get(), roles.rating().get()) else { continue };
        let lines = if context.build.has_two_lines(&generator.id) { 2.0 } else { 1.0 };
        let current = power * (1.0 / lines) / figures.nominal;
        let needed = current * factor;
        if !above(needed.0, rating.0) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let headline = format!("{}: a {} breaker for {} that last", generator.id, show(rating), show(current));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&generator.id)
                .at(roles.rating().span, format!("{} or more", show(needed)))
                .label(roles.power().span, format!("{} at {}", show(current), figures.nominal.show(System::Metric)))
                .basis("NEC 210.20 and 215.3: 125 % of what runs three hours or more")
                .help("ask its maker for the breaker that carries its whole output, or accept it with the reason: what runs for hours takes less, or it is marked for 100 %"),
        );
    }
}
