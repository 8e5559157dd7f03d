//! Pipe runs and tanks of a build in the cold: what protects them, how long they last, what heat they need.

use super::figures::{Heat, Held, Run};
use super::freeze::{DESIGN_FACTOR, FILM_INSIDE, FILM_OUTSIDE, Sleeved, tank_loss};
use crate::build::{Build, Part};
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::compute::water::{drained_by, of_role};
use crate::fields::Field;
use crate::kinds::PlumbingRole;
use crate::spec::PlaceSection;
use crate::units::{Dimension, Metres, Seconds, Watts};

/// Temperature of the standing water as the cold begins, °C. Source: [`crate::tables::sources::COLD_SUPPLY`].
const STANDING: f64 = 10.0;
/// Temperature that a pipe must be held at, °C: what a thermostat of heat trace is set to.
const HELD: f64 = 5.0;
/// Conductivity of the insulation of a tank, W/(mK). Source: [`crate::tables::sources::TANK_LOSS`].
const CONDUCTIVITY: f64 = 0.037;

/// The temperature outside at which `power` is what is lost, from what is lost at `low`: losses grow with the difference.
/// `None` where nothing is lost at `low`.
fn holds_to(warm: f64, low: f64, power: f64, need: f64) -> Option<f64> {
    (need > 0.0).then(|| warm - (warm - low) * power / need)
}

fn enter_hold(part: &Part<'_>, (warm, low): (f64, f64), power: f64, need: f64, ledger: &mut Ledger) -> Option<f64> {
    let to = holds_to(warm, low, power, need)?;
    let celsius = |t: f64| Amount::Of(Dimension::Temperature, t);
    let inputs = vec![celsius(warm), Watts(power).into(), celsius(low), Watts(need).into()];
    ledger.enter(&f::HOLDS_TO, &part.id, celsius(to), inputs, None);
    Some(to)
}

pub(super) fn pipes(heat: &mut Heat, build: &Build<'_>, ledger: &mut Ledger) {
    let low = heat.coldest.as_ref().map(|c| c.celsius);
    for part in of_role(build, PlumbingRole::Pipe) {
        if let Some(run) = run(build, part, low, heat.record_low, ledger) {
            enter(part, &run, (low, heat.record_low), ledger);
            heat.runs.insert(part.id.clone(), run);
        }
    }
    let Some(lows) = low.zip(heat.frost()) else { return };
    for part in of_role(build, PlumbingRole::Trace) {
        if let Some(held) = trace(build, part, lows, ledger) {
            heat.traces.insert(part.id.clone(), held);
        }
    }
    for part in of_role(build, PlumbingRole::Pad) {
        if let Some(held) = pad(build, part, lows, ledger) {
            heat.pads.insert(part.id.clone(), held);
        }
    }
}

/// Whether `part` stands outside the heated space, by its `position` or its places.
#[must_use]
pub fn is_outside(build: &Build<'_>, part: &Part<'_>) -> bool {
    let zone = |place: &String| build.places.get(place).map_or("cabin", PlaceSection::zone);
    part.roles.position().text().is_some_and(|p| p != "inside") || part.places.iter().any(|p| zone(p) != "cabin")
}

fn sleeved(build: &Build<'_>, part: &Part<'_>, insulation: Option<f64>) -> Option<Sleeved> {
    let of = |field: &Field<Metres>| field.get().map(|m| m.0);
    let own = || if part.roles.insulated().is_set() { of(part.roles.insulation_thickness()) } else { Some(0.0) };
    Some(Sleeved {
        bore: of(part.roles.inside_diameter()).filter(|d| *d > 0.0)?,
        outside: of(part.roles.outside_diameter()).filter(|d| *d > 0.0)?,
        insulation: insulation.or_else(own)?,
        conductivity: part.roles.insulation_conductivity().get()?.0,
        film: if is_outside(build, part) { FILM_OUTSIDE } else { FILM_INSIDE },
    })
}

fn run(build: &Build<'_>, part: &Part<'_>, low: Option<f64>, record: Option<f64>, ledger: &mut Ledger) -> Option<Run> {
    let medium = part.roles.medium().text()?;
    if !matches!(medium, "cold" | "hot" | "suction" | "waste") {
        return None;
    }
    let traces = of_role(build, PlumbingRole::Trace);
    let trace = traces.into_iter().find(|t| t.roles.protects().names(&part.id));
    let around = trace.and_then(|t| t.roles.insulation_thickness().get().map(|q| q.0));
    let sleeved = sleeved(build, part, around);
    Some(Run {
        outside: is_outside(build, part),
        insulated: sleeved.is_some_and(|s| s.insulation > 0.0),
        trace: trace.map(|t| t.id.clone()),
        drain: drained_by(build, &part.id).map(|v| v.id.clone()),
        self_draining: medium == "waste" && part.roles.rise().get().is_some_and(|rise| rise.0 < 0.0),
        loss: sleeved.zip(low).and_then(|(s, low)| Some(s.loss(HELD, low)? * DESIGN_FACTOR)),
        to_zero: sleeved.zip(low).and_then(|(s, low)| s.to_zero(STANDING, low)),
        to_ice: sleeved.zip(low).and_then(|(s, low)| s.to_ice(low)),
        on_record: sleeved.zip(record).and_then(|(s, low)| s.to_zero(STANDING, low).zip(s.to_ice(low))),
        holds_to: trace.zip(sleeved).zip(record.or(low)).and_then(|((trace, s), low)| {
            let (length, warm) = (trace.roles.length().get()?.0, held_by(trace)?);
            let power = trace.roles.draw().get()?.0 / length;
            enter_hold(part, (warm, low), power, s.loss(warm, low)? * DESIGN_FACTOR, ledger)
        }),
    })
}

/// Temperature that a trace or pad holds, °C.
fn held_by(part: &Part<'_>) -> Option<f64> {
    part.roles.on_below().get().map(|t| t.0)
}

fn enter(part: &Part<'_>, run: &Run, (low, record): (Option<f64>, Option<f64>), ledger: &mut Ledger) {
    let (Some(low), Some(zero), Some(ice)) = (low, run.to_zero, run.to_ice) else { return };
    let shield = match (&run.trace, &run.drain, run.self_draining) {
        (Some(trace), ..) => format!("traced by {trace}"),
        (None, Some(drain), _) => format!("drained by {drain}"),
        (None, None, true) => "falls to the tank".to_owned(),
        _ if run.outside => "none".to_owned(),
        _ => "heated space".to_owned(),
    };
    let lie = if run.outside { "outside" } else { "inside" };
    let air = Amount::Of(Dimension::Temperature, low);
    let per_metre = Amount::Of(Dimension::LinearPower, run.loss.unwrap_or(0.0));
    let inputs = vec![lie.to_owned().into(), shield.into(), air.clone(), per_metre];
    ledger.enter(&f::TO_ZERO, &part.id, Seconds(zero), inputs, None);
    ledger.enter(&f::TO_ICE, &part.id, Seconds(ice), vec![air], None);
    if let Some((record, (zero, ice))) = record.zip(run.on_record) {
        let air = Amount::Of(Dimension::Temperature, record);
        ledger.enter(&f::TO_ZERO_RECORD, &part.id, Seconds(zero), vec![air.clone()], None);
        ledger.enter(&f::TO_ICE_RECORD, &part.id, Seconds(ice), vec![air], None);
    }
}

/// What `part` gives against what is lost for each kelvin below the temperature that it holds, at the usual low and at
/// the lowest on record.
fn held(part: &Part<'_>, (usual, record): (f64, f64), per_kelvin: f64, ledger: &mut Ledger) -> Option<Held> {
    let warm = held_by(part)?;
    let power = part.roles.draw().get()?.0 * part.times();
    let need = |low: f64| per_kelvin * (warm - low).max(0.0);
    let holds_to = enter_hold(part, (warm, record), power, need(record), ledger).unwrap_or(record);
    Some(Held { power, need: need(record), usual: need(usual), per_kelvin, warm, holds_to })
}

fn trace(build: &Build<'_>, part: &Part<'_>, lows: (f64, f64), ledger: &mut Ledger) -> Option<Held> {
    let length = part.roles.length().get()?;
    let around = part.roles.insulation_thickness().get().map(|q| q.0);
    let warm = held_by(part)?;
    let protected = part.roles.protects().all().iter().filter_map(|p| build.parts.get(&p.value));
    // Losses grow with the difference: that of one kelvin tells them all.
    let losses = protected.filter_map(|p| sleeved(build, p, around)?.loss(warm, warm - 1.0));
    let per_metre = losses.reduce(f64::max)? * DESIGN_FACTOR;
    let held = held(part, lows, per_metre * length.0 * part.times(), ledger)?;
    let (usual, record) = lows;
    let inputs = vec![
        Amount::Of(Dimension::Temperature, warm),
        Amount::Of(Dimension::Temperature, record),
        Amount::Of(Dimension::LinearPower, per_metre * (warm - record).max(0.0)),
        length.into(),
        Watts(held.need).into(),
        Amount::Of(Dimension::Temperature, usual),
        Watts(held.usual).into(),
    ];
    ledger.enter(&f::TRACE, &part.id, Watts(held.power), inputs, Some(at_least(Watts(held.need))));
    Some(held)
}

fn pad(build: &Build<'_>, part: &Part<'_>, lows: (f64, f64), ledger: &mut Ledger) -> Option<Held> {
    let tank = build.parts.get(part.roles.tank().first()?)?;
    if !is_outside(build, tank) {
        return None;
    }
    let of = |field: &Field<Metres>| field.get().map(|m| m.0);
    let litres = tank.roles.capacity_litres().get().map(|q| q.0)?;
    let edge = (litres / 1000.0).cbrt();
    let lengths = [of(tank.roles.length()), of(tank.roles.width()), of(tank.roles.height())].map(|l| l.unwrap_or(edge));
    let insulation = part.roles.tank_insulation().get()?.0;
    let warm = held_by(part)?;
    let per_kelvin = tank_loss(lengths, insulation, CONDUCTIVITY, warm, warm - 1.0)?;
    let held = held(part, lows, per_kelvin, ledger)?;
    let (usual, record) = lows;
    let [a, b, c] = lengths;
    let inputs = vec![
        Amount::Of(Dimension::Area, 2.0 * (a * b + b * c + a * c)),
        Amount::Of(Dimension::Length, insulation),
        Amount::Of(Dimension::Temperature, warm),
        Amount::Of(Dimension::Temperature, record),
        Watts(held.need).into(),
        Amount::Of(Dimension::Temperature, usual),
        Watts(held.usual).into(),
    ];
    ledger.enter(&f::PAD, &part.id, Watts(held.power), inputs, Some(at_least(Watts(held.need))));
    Some(held)
}
