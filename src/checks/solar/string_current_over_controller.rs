//! Arrays whose short-circuit current is above what their controller accepts.

use crate::checks::compare::above;
use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Amps;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "string-current-over-controller",
        severity: Severity::Warning,
        what: "The short-circuit current of all arrays on one controller is above what it accepts.",
        why: "With wrong polarity or a fault in the controller, more current flows than its input withstands. Many controllers only limit it: the maker's text decides.",
        example: "[component.roof-array]\nkind = \"solar-array\"\nisc = \"12 A\"\nparallel = 4\n\n[component.controller]\nkind = \"solar-controller\"\nmax_pv_current = \"35 A\"",
        basis: "Data sheets of module and controller.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (controller, arrays) in strings::by_controller(context) {
        let Some(limit) = controller.roles.max_pv_current().get() else { continue };
        let sum: Amps = arrays.iter().map(|(_, s)| s.isc).sum();
        if !above(sum.0, limit.0) {
            continue;
        }
        let show = |a: Amps| a.show(context.build.prints());
        let headline =
            format!("{}: {} short-circuit current on an input for {}", controller.id, show(sum), show(limit));
        let mut finding = Finding::warning(CHECK.doc.name, headline)
            .about(&controller.id)
            .at(controller.roles.max_pv_current().span, format!("accepts {}", show(limit)));
        for (array, figures) in arrays {
            finding = finding.label(array.roles.isc().span, format!("{} brings {}", array.id, show(figures.isc)));
        }
        sink.push(finding.basis("sum of Isc × strings in parallel, from the data sheets").help(
            "a controller for more current, a second controller, or more modules in series instead of in parallel",
        ));
    }
}
