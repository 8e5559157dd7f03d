//! A fuse larger than one way of its panel may hold.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Network;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-above-way",
        severity: Severity::Error,
        what: "The fuse in a panel's way is larger than the panel allows in one way.",
        why: "The way's contacts overheat before the fuse opens.",
        example: "[component.house-panel]\nkind = \"fuse-panel\"\nlargest_way = \"20 A\"\n\n[component.heater]\nfed_from = \"house-panel\"\nprotection = \"30 A\"",
        basis: "The panel maker's limit for one way, as the spec gives it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        let (Some(_), Some(panel), Some(rating)) = (circuit.way, context.part(&circuit.from), figures.device.rating)
        else {
            continue;
        };
        if !figures.device.is_own() {
            continue;
        }
        let Some(largest) = panel.roles.largest_way().get().filter(|_| circuit.network != Network::Ac) else {
            continue;
        };
        if rating <= largest {
            continue;
        }
        let show = |amps: crate::units::Amps| amps.show(context.build.prints());
        let headline = format!(
            "{}: {} in a way of {} that may hold {}",
            circuit.id,
            figures.device.show(),
            panel.id,
            show(largest)
        );
        let too_much = figures.design > largest;
        let help = if too_much {
            "feed it from the busbar with a fuse of its own, or split the load over two ways".to_owned()
        } else {
            format!("{} or smaller carries its load; left out, it is sized", show(largest))
        };
        let here =
            if figures.device.given { format!("rated {}", show(rating)) } else { format!("needs {}", show(rating)) };
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "protection"), here)
                .label(panel.roles.largest_way().span, format!("largest fuse of one way: {}", show(largest)))
                .basis(format!("design current {}", show(figures.design)))
                .help(help),
        );
    }
}
