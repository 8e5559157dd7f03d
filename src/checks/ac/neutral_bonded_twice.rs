//! Neutral and earth joined in two places at once.

use crate::build::{Build, Part};
use crate::checks::ac::{bond, reach};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "neutral-bonded-twice",
        severity: Severity::Error,
        what: "Neutral and earth are joined in two places in one mode of supply: a bond that is fixed in the inverter stays made on shore power because no transfer switches the neutral, or two bonds are made while one inverter runs. So with a generator whose neutral is bonded.",
        why: "Load current returns through the earth and the metal body of the van. Residual-current devices trip without a fault, or are blind.",
        example: "[component.bond]\nkind = \"neutral-earth-bond\"\non_inverter = \"inverter-fixed\"\n\n[component.transfer]\nkind = \"transfer-switch\"\npoles = 1                     # the neutral is not switched",
        basis: "The supply has its own joint; a second one puts the earth conductor in parallel with the neutral.",
    },
    run,
};

const WHY: &str = "the shore supply has its own joint; a second one puts the earth in parallel with the neutral";

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    generators(build, sink);
    for inverter in bond::inverters(build) {
        let made: Vec<_> = bond::bonds(build)
            .filter(|b| bond::is_of(b, inverter) && !matches!(bond::while_inverting(b), "none" | "not-used"))
            .collect();
        let own_relay = inverter.roles.bond_relay().is_set().then_some(inverter);
        let other = match own_relay {
            Some(_) => made.iter().find(|b| bond::while_inverting(b) != "inverter-relay").copied(),
            None => None,
        };
        let first = other.or(made.first().copied());
        if let (Some(first), Some(second)) = (first, other.and(own_relay).or(made.get(1).copied())) {
            let relay = inverter.roles.bond_relay().span;
            let again = if second.id == inverter.id { relay } else { bond::inverting(second).span };
            sink.push(
                Finding::error(
                    CHECK.doc.name,
                    format!(
                        "{}: {} and {} both join neutral and earth while it runs",
                        inverter.id, first.id, second.id
                    ),
                )
                .about(&inverter.id)
                .at(bond::inverting(first).span, format!("joined here: {}", bond::while_inverting(first)))
                .label(again, "and here")
                .basis("two joints put the earth in parallel with the neutral")
                .help("leave one of them out"),
            );
            continue;
        }
        let Some(fixed) = made.first().filter(|b| bond::while_inverting(b) == "inverter-fixed") else { continue };
        let Some((inlet, joined)) = joined_with_shore(build, inverter) else { continue };
        let mut finding = Finding::error(
            CHECK.doc.name,
            format!("{}: its fixed bond stays made on shore power, because nothing switches the neutral", inverter.id),
        )
        .about(&inverter.id)
        .at(bond::inverting(fixed).span, "fixed in the inverter")
        .label(inlet.span, "the supply behind this inlet has its own joint");
        if joined.role() == Some(Role::Transfer) {
            finding = finding.label(joined.roles.poles().span, "does not switch the neutral");
        }
        sink.push(finding.basis(WHY).help("a transfer that switches two poles, or an inverter with a bond relay"));
    }
}

/// A generator that is bonded itself, and again in the transfer or through the supply ashore.
fn generators(build: &Build<'_>, sink: &mut Sink) {
    let gives = |p: &&Part<'_>| p.role() == Some(Role::Generator) || bond::takes_portable(p);
    let all = build.parts.values().filter(gives).filter(|p| bond::is_in(build, p));
    for part in all {
        let again = bond::in_transfer(build).map(|b| (b, "joined again in the transfer", "leave one of them out"));
        let ashore = || {
            // One that is plugged in stands where the supply ashore would.
            let (inlet, _) = joined_with_shore(build, part).filter(|_| !bond::takes_portable(part))?;
            Some((inlet, "the supply behind this inlet has its own joint", "a transfer that switches two poles"))
        };
        let Some((other, says, help)) = again.or_else(ashore) else { continue };
        let portable = part.roles.inlet.as_ref().map_or(part.span, |inlet| inlet.portable_power.span);
        let own = part.roles.generator.as_ref().map_or(portable, |g| g.neutral_bonded.span);
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: neutral and earth are joined in it and once more", part.id))
                .about(&part.id)
                .at(own, "joined in the generator")
                .label(other.span, says)
                .basis("two joints put the earth in parallel with the neutral")
                .help(help),
        );
    }
}

/// The inlet whose neutral is joined with that of `inverter`, and the part where they meet.
fn joined_with_shore<'a, 'k>(build: &'a Build<'k>, inverter: &Part<'k>) -> Option<(&'a Part<'k>, &'a Part<'k>)> {
    // An inverter-charger passes the shore neutral through; without a relay its own joint stays made.
    if inverter.role() == Some(Role::InverterCharger) {
        let inlet = reach::up_to(build, &inverter.id, |p| p.role() == Some(Role::Inlet)).first().copied()?;
        return Some((inlet, build.parts.get(&inverter.id)?));
    }
    let switches =
        |p: &Part<'_>| p.role() == Some(Role::Transfer) && p.roles.poles().get().is_none_or(|poles| poles >= 2);
    let meets = build.parts.values().filter(|p| p.role().is_some_and(Role::passes_through) && !switches(p));
    for part in meets {
        let mut ends = reach::up_to(build, &part.id, |p| switches(p) || p.role().is_some_and(Role::gives_ac));
        let ours = ends.iter().any(|p| p.id == inverter.id);
        ends.retain(|p| p.role() == Some(Role::Inlet));
        if let (true, Some(inlet)) = (ours, ends.first()) {
            return Some((inlet, part));
        }
    }
    None
}
