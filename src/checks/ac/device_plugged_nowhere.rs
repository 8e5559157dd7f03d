//! A device that is plugged into nothing that gives it current.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "device-plugged-nowhere",
        severity: Severity::Error,
        what: "A device of `[use]` is plugged into a component that is not there, that is no outlet, or that nothing feeds.",
        why: "What it takes is missing in the energy account and in what the inverter must give.",
        example: "[use]\ndevices.laptop = { plugged_into = \"inverter\", power = \"65 W\", hours = \"4 h\" }   # an outlet",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, device) in &context.build.devices {
        let Some(into) = device.plugged_into.first() else { continue };
        let fault = match context.part(into) {
            None => format!("there is no component `{into}`"),
            Some(part) if part.role() != Some(Role::Outlet) => format!("{into} is no outlet"),
            Some(_) if context.build.arriving(into).next().is_none() => format!("nothing feeds {into}"),
            Some(_) => continue,
        };
        let outlets: Vec<&str> =
            (context.build.parts.values()).filter(|p| p.role() == Some(Role::Outlet)).map(|p| p.id.as_str()).collect();
        let help = if outlets.is_empty() {
            "the build has no outlet; give it one (kind \"ac-outlet\")".to_owned()
        } else {
            format!("its outlets are {}", outlets.join(", "))
        };
        sink.push(
            Finding::error(CHECK.doc.name, format!("use.devices.{id}: {fault}"))
                .at(device.plugged_into.span, "plugged in there")
                .help(help),
        );
    }
}
