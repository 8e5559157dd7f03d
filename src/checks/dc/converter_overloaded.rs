//! Converters that feed more than they give.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "converter-overloaded",
        severity: Severity::Error,
        what: "What hangs on a converter, or on several together, takes more current at one time than they give without end.",
        why: "Its voltage falls, motors stall and lights go dim; then it switches off, and everything behind it is dead.",
        example: "[component.converter]\nkind = \"step-down-converter\"\nfed_from = \"busbar\"\nrating = \"10 A\"\n\n[component.light-bar]\nkind = \"light-bar\"       # 18 A\nfed_from = \"converter\"",
        basis: "The maker's rating, as the spec or the kind gives it; Kirchhoff's current law.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for of in context.electrical.converters.values() {
        let Some(part) = of.converters.first().and_then(|id| context.part(id)) else { continue };
        if of.load.0 <= of.rating.0 * (1.0 + 1e-9) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let headline = match of.converters.as_slice() {
            [one] => format!("{one}: gives {}, what hangs on it takes {}", show(of.rating), show(of.load)),
            several => {
                format!(
                    "{}: together give {}, what hangs on them takes {}",
                    several.join(", "),
                    show(of.rating),
                    show(of.load)
                )
            }
        };
        let rating = part.roles.rating();
        let span = if rating.given { rating.span } else { part.span };
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(span, format!("gives {}", show(of.rating)))
                .basis("all that runs at one time behind it, by the `diversity` of its panels")
                .help("a larger converter, a second one beside it (`fed_from` of the panel names both), or fewer loads behind it"),
        );
    }
}
