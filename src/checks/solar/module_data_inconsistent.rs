//! Module data that contradict each other.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "module-data-inconsistent",
        severity: Severity::Error,
        what: "Of a solar module, the voltage at peak power is not below the open-circuit voltage, the current at peak power not below the short-circuit current, or their product is more than 10 % off the peak power.",
        why: "Two figures were swapped or misread; string voltage, cable and controller are then computed from a wrong one.",
        example: "[component.roof-array]\nkind = \"solar-array\"\nvoc = \"18 V\"\nvmp = \"22 V\"",
        basis: "Physics of a module: Vmp < Voc, Imp < Isc, Pmax = Vmp · Imp at standard conditions.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.role() == Some(Role::Array)) {
        let (Some(voc), Some(vmp)) = (part.roles.voc().get(), part.roles.vmp().get()) else { continue };
        let (Some(isc), Some(imp), Some(power)) =
            (part.roles.isc().get(), part.roles.imp().get(), part.roles.power().get())
        else {
            continue;
        };
        let product = vmp * imp;
        let (span, what) = if vmp >= voc {
            (part.roles.vmp().span, "`vmp` is not below `voc`".to_owned())
        } else if imp >= isc {
            (part.roles.imp().span, "`imp` is not below `isc`".to_owned())
        } else if (product.0 - power.0).abs() > 0.1 * power.0 {
            (part.roles.power().span, format!("`vmp` times `imp` is {}", product.show(context.build.prints())))
        } else {
            continue;
        };
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: the module's data contradict each other: {what}", part.id))
                .about(&part.id)
                .at(span, what)
                .basis("Vmp < Voc, Imp < Isc, Pmax = Vmp · Imp")
                .help("copy the figures from the module's plate once more"),
        );
    }
}
