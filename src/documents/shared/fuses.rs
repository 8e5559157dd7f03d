//! Fuses and breakers to buy: what this job fits, and one spare of each fuse.

pub(crate) use crate::compute::fuse_tally::{FuseRow, SPARES, colour, tally};

use crate::build::{Circuit, Conductor, Part, Purpose};
use crate::compute::directory::MAIN;
use crate::compute::network::{DeviceAt, family_name};
use crate::documents::Context;
use crate::documents::shared::conductors::wires;
use crate::kinds::Role;

/// The fuse list of the build: every protective device in one row.
#[must_use]
pub(crate) fn fuse_list(context: &Context<'_>) -> Vec<FuseRow> {
    let is_rcd = |id: &str| context.build.parts.get(id).and_then(Part::role) == Some(Role::Rcd);
    let is_fitted = |id: &str| context.build.parts.get(id).is_some_and(Part::is_worked_on);
    let mains: Vec<_> = context.electrical.breakers.iter().filter(|(id, _)| !is_rcd(id) && is_fitted(id)).collect();
    let labels: Vec<_> = mains.iter().map(|(id, _)| format!("{id} ({MAIN})")).collect();
    let mains = labels.iter().map(String::as_str).zip(mains.iter().map(|(_, d)| *d));
    let mut rows = tally(super::protected(context).map(|(c, f)| (c.id.as_str(), &f.device)).chain(mains));
    residual(context, &mut rows);
    of_leads(context, &mut rows);
    for row in rows.iter_mut().filter(|row| row.spare > 0) {
        row.kept = kept(context, &row.device);
    }
    rows
}

/// The first panel of this job that has a way with such a fuse: its spare lies in the cover there.
fn kept(context: &Context<'_>, device: &str) -> String {
    let build = context.build;
    let has_cover = |p: &&Part<'_>| matches!(p.role(), Some(Role::Panel | Role::SwitchPanel)) && p.is_worked_on();
    let in_way = |c: &Circuit| {
        let own = context.electrical.circuits.get(&c.id).map(|f| &f.device);
        own.is_some_and(|own| own.at == DeviceAt::Way && own.show() == device)
    };
    let panel = build.parts.values().filter(has_cover).find(|p| build.leaving(&p.id).any(in_way));
    panel.map_or_else(String::new, |panel| panel.name.clone())
}

/// What the fuse of a lead is called: its kind tells its rating alone, a bank the family of its batteries' fuses.
#[must_use]
pub(crate) fn of_lead(context: &Context<'_>, conductor: &Conductor) -> Option<String> {
    let rating = conductor.fuse?.show(context.build.prints());
    let of_bank = context.electrical.banks.get(&conductor.owner).and_then(|bank| bank.batteries.as_ref());
    let family = of_bank.filter(|_| conductor.purpose == Purpose::Battery).and_then(|b| b.family);
    Some(format!("{rating} {}", family.map_or("in-line fuse", family_name)))
}

/// The small fuses of sense and control leads.
fn of_leads(context: &Context<'_>, rows: &mut Vec<FuseRow>) {
    for (conductor, _) in wires(context) {
        let Some(device) = of_lead(context, conductor) else { continue };
        match rows.iter_mut().find(|r| r.device == device) {
            Some(row) => {
                row.fitted += 1;
                row.total += 1;
                row.labels = format!("{}, {}", row.labels, conductor.id);
            }
            None => rows.push(FuseRow {
                device,
                colour: String::new(),
                fitted: 1,
                spare: SPARES,
                kept: String::new(),
                total: 1 + SPARES,
                labels: conductor.id.clone(),
            }),
        }
    }
}

/// Residual-current devices, with or without a breaker in them.
fn residual(context: &Context<'_>, rows: &mut Vec<FuseRow>) {
    let system = context.build.prints();
    for part in context.build.parts.values().filter(|p| p.role() == Some(Role::Rcd) && p.is_worked_on()) {
        let breaker = context.electrical.breakers.get(&part.id);
        let curve = breaker.and_then(|b| b.curve).map_or_else(String::new, |curve| format!(" {curve}"));
        let breaker = breaker.map_or_else(String::new, |_| format!(" with{curve} breaker"));
        let known = [part.roles.rating().show(system), Some(format!("residual-current device{breaker}"))];
        let mut device = known.into_iter().flatten().collect::<Vec<_>>().join(" ");
        device.extend(part.roles.trip_current().show(system).map(|t| format!(", {t}")));
        let fitted = usize::try_from(part.count).unwrap_or(1);
        match rows.iter_mut().find(|r| r.device == device) {
            Some(row) => {
                row.fitted += fitted;
                row.total += fitted;
                row.labels = format!("{}, {}", row.labels, part.id);
            }
            None => rows.push(FuseRow {
                device,
                colour: String::new(),
                fitted,
                spare: 0,
                kept: String::new(),
                total: fitted,
                labels: part.id.clone(),
            }),
        }
    }
}
