//! A compressor that cannot fill the tyres in one run.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Seconds;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "compressor-duty-exceeded",
        severity: Severity::Warning,
        what: "Filling all tyres from track or sand pressure takes longer than the compressor's longest run.",
        why: "It overheats and trips beside the track, with two tyres still soft.",
        example: "[component.compressor]\nkind = \"air-compressor\"\nfree_air_delivery = \"25 L/min\"\nmax_run = \"10 min\"",
        basis: "Boyle's law; longest run and duty by the maker.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for f in &context.air.fillings {
        let (Some(part), Some(longest)) = (context.part(&f.compressor), f.longest_run) else { continue };
        if !above(f.running, longest) {
            continue;
        }
        let (running, longest) = (Seconds(f.running).show(system), Seconds(longest).show(system));
        let total = f.total.map_or_else(String::new, |t| format!("; with pauses {}", Seconds(t).show(system)));
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: all tyres {} take {running}, it may run {longest}{total}", f.compressor, f.state),
            )
            .about(&f.compressor)
            .at(part.roles.max_run().span, format!("{longest} at a stretch"))
            .basis("free air = N · V · (p2 − p1) / p0, over the free air delivery")
            .help("a larger compressor; or tell the owner to pause, as the time with pauses says"),
        );
    }
}
