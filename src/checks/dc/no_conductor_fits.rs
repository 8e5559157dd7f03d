//! A circuit that no standard conductor serves.

use crate::checks::{Check, Context};
use crate::compute::electrical::size::NoSize;
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "no-conductor-fits",
        severity: Severity::Error,
        what: "No standard size is large enough for the current, its fuse and the voltage drop.",
        why: "The circuit cannot be built as specified.",
        example: "[component.inverter]\nkind = \"inverter\"\npower = \"6000 W\"\nfed_from = \"busbar\"\nrun = \"8 m\"",
        basis: "The conductor series of the rules in force, their ampacity tables and drop limits.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(_, f)| f.device.at != DeviceAt::Vehicle) {
        let Err(why) = &figures.sized else { continue };
        let help = match why {
            NoSize::NoRating { .. } => {
                "name a family with larger fuses, such as `protection = \"450 A class-t\"`, or put the load on two circuits"
            }
            NoSize::TooLarge { .. } => {
                "a shorter route, a smaller load, or the load on two circuits, each with its own fuse"
            }
            NoSize::BadInput(_) => "look for a figure of this circuit that cannot be right",
        };
        let headline = format!("{}: no standard conductor fits: {why}", circuit.id);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "run"), "cannot be sized")
                .basis(format!("design current {}", figures.design.show(context.build.prints())))
                .help(help),
        );
    }
}
