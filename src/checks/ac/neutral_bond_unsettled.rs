//! An inverter with nothing said about where its neutral is joined with earth.

use crate::checks::ac::{bond, reach};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "neutral-bond-unsettled",
        severity: Severity::Error,
        what: "An inverter feeds AC circuits and the spec does not say where neutral and earth are joined while it does: no bond relay and no `neutral-earth-bond`, or one that says `not-used`. Also where the bond is `none` and a residual-current device is to guard the circuits.",
        why: "Without the joint no current flows on the first fault to earth: breaker and residual-current device stay closed and the metal body of the van becomes live.",
        example: "[component.inverter]\nkind = \"inverter\"\npower = \"2000 W\"\nfeeds = \"consumer-unit\"      # and no component of kind neutral-earth-bond",
        basis: "A residual-current device compares line and neutral: it trips when current returns another way, and without the joint there is none.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for inverter in bond::inverters(build) {
        if inverter.roles.bond_relay().is_set() {
            continue;
        }
        let own: Vec<_> = bond::bonds(build).filter(|b| bond::is_of(b, inverter)).collect();
        let settled = own.iter().any(|b| !matches!(bond::while_inverting(b), "not-used" | "none"));
        let floating = own.iter().find(|b| bond::while_inverting(b) == "none");
        let users = reach::users(build, &inverter.id);
        let guard = users.iter().flat_map(|(p, _)| reach::up_to(build, &p.id, |u| u.role() == Some(Role::Rcd))).next();
        // Floating on purpose, without a residual-current device to rely on, is the choice of who says so.
        if settled || floating.is_some() && guard.is_none() {
            continue;
        }
        let at = inverter.roles.inverter_charger.as_ref().map_or(inverter.span, |i| i.bond_relay.span);
        let mut finding = Finding::error(
            CHECK.doc.name,
            format!("{}: nothing joins neutral and earth while it feeds the van", inverter.id),
        )
        .about(&inverter.id)
        .at(at, "no bond while it inverts");
        for bond in &own {
            let says = format!("says \"{}\"", bond::while_inverting(bond));
            finding = finding.label(bond::inverting(bond).span, says);
        }
        if let Some(rcd) = guard {
            finding = finding.label(rcd.span, "can't trip on the first fault to earth");
        }
        sink.push(
            finding
                .basis("a residual-current device trips when current returns another way than by the neutral; without the joint there is no other way")
                .help("add a component of kind neutral-earth-bond that says where the joint is made in each mode, by the inverter's instructions"),
        );
    }
}
