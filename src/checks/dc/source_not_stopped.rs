//! A source on the charge path that nothing stops before the charge contactor opens.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::compute::bank_paths::{Path, above, is_stopped, path_of, sources};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "source-not-stopped",
        severity: Severity::Warning,
        what: "The bank's protection can open the charge contactor, or stop all charging, and a source has no lead by which it is stopped first.",
        why: "The voltage of an alternator that loses its battery under load leaps to several times its own: load dump. It destroys its diodes and whatever hangs on the bus. Other chargers drive the bus up as well, and an inverter-charger before the contactors goes on charging.",
        example: "[component.charge-contactor]\nkind = \"bank-contactor\"\npath = \"charge\"\nfed_from = \"disconnect\"\n\n[component.charge-bus]\nkind = \"busbar\"\nfed_from = \"charge-contactor\"\n\n[component.solar-controller]\nkind = \"solar-controller\"\nfeeds = \"charge-bus\"           # and no stop_signal",
        basis: "Load dump: ISO 16750-2, from memory. That chargers are stopped before a contactor opens: common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for contactor in build.parts.values().filter(|p| path_of(p) == Some(Path::Charge)) {
        let behind = sources(build, &contactor.id);
        // One that is fed from before both contactors is the protection's to stop as well.
        let combined = build.parts.values().filter(|p| p.role() == Some(Role::InverterCharger));
        let beside = combined.filter(|p| p.supply.fed_from.first().is_some_and(|f| above(build, f).is_none()));
        for source in behind.chain(beside).filter(|p| !is_stopped(build, p)) {
            tell(source, contactor, sink);
        }
    }
}

fn tell(source: &Part<'_>, contactor: &Part<'_>, sink: &mut Sink) {
    let headline = format!("{}: nothing stops it before {} opens", source.id, contactor.id);
    let words = match source.role() {
        Some(Role::Alternator) => "loses its battery at full current: load dump",
        _ => "goes on charging",
    };
    sink.push(
        Finding::warning(CHECK.doc.name, headline)
            .about(&source.id)
            .at(source.span, words)
            .label(contactor.span, "the bank's protection opens it")
            .basis("ISO 16750-2 (load dump), from memory; common practice, no source")
            .help("`stop_signal = true`, where it has an input for that: its lead to the bank is then in all lists")
            .help("or a source that can be stopped: an alternator with an external regulator, a charger with a remote input"),
    );
}
