//! The weighbridge against the reckoning, both in the state the van was weighed in.

use super::cases::Base;
use super::items::{Item, Items, count};
use super::statics::{self, PointMass};
use crate::build::Build;
use crate::fields::Field;
use crate::kinds::Content;
use crate::units::{Kilograms, Metres, Ratio};
use serde::Serialize;

/// One weighed figure.
#[derive(Clone, Debug, Serialize)]
pub struct WeighedFigure {
    /// Field of `[recorded.weights]`.
    pub field: &'static str,
    /// As weighed.
    pub measured: Kilograms,
    /// As computed for the same state.
    pub computed: Kilograms,
    /// Largest difference allowed, as a share of the computed figure.
    pub tolerance: Ratio,
}

impl WeighedFigure {
    /// Measured less computed.
    #[must_use]
    pub fn difference(&self) -> Kilograms {
        self.measured - self.computed
    }

    /// For people.
    #[must_use]
    pub const fn title(&self) -> &'static str {
        match self.field.as_bytes() {
            b"front_axle" => "front axle",
            b"rear_axle" => "rear axle",
            b"left" => "left side",
            b"right" => "right side",
            _ => "whole vehicle",
        }
    }
}

/// State the van was weighed in.
struct State {
    fuel: f64,
    fresh: f64,
    grey: f64,
    people: f64,
    tolerance: Ratio,
}

/// A build without a weighbridge: full of fuel, everything else empty, nobody aboard. Common practice for the
/// tolerance: scale, fuel and loose parts together.
const UNSAID: State = State { fuel: 1.0, fresh: 0.0, grey: 0.0, people: 0.0, tolerance: Ratio(0.03) };

/// `None` where what the weighbridge says of it cannot be read.
fn state(build: &Build<'_>) -> Option<State> {
    let said = match build.parts.values().find_map(|p| p.roles.weighing.as_ref()) {
        None => UNSAID,
        Some(weighing) => State {
            fuel: weighing.fuel_share.get()?.0,
            fresh: weighing.fresh_share.get()?.0,
            grey: weighing.grey_share.get()?.0,
            people: count(weighing.people.get()?),
            tolerance: weighing.tolerance.get()?,
        },
    };
    // What was written down at the scale goes before what the component says of weighings.
    let weighed = &build.weights;
    let share = |written: &Field<Ratio>, said: f64| written.get().map_or(said, |r| r.0);
    Some(State {
        fuel: share(&weighed.fuel_share, said.fuel),
        fresh: share(&weighed.fresh_share, said.fresh),
        grey: share(&weighed.grey_share, said.grey),
        people: weighed.people.get().map_or(said.people, count),
        tolerance: said.tolerance,
    })
}

/// Kilograms in a litre of fuel: middle of EN 590 and EN 228, from memory; only the comparison rests on it.
fn fuel_density(fuel: Option<&str>) -> Option<f64> {
    match fuel {
        Some("diesel") => Some(0.835),
        Some("petrol") => Some(0.745),
        _ => None,
    }
}

pub(super) fn compare(build: &Build<'_>, base: &Base, items: &Items, person: Kilograms) -> Vec<WeighedFigure> {
    let weights = &build.spec.recorded.weights;
    if weights.fields.values().all(|e| !e.given) {
        return Vec::new();
    }
    let Some(state) = state(build) else { return Vec::new() };
    let mut aboard: Vec<Item> = items.all.iter().filter_map(|i| then_aboard(i, &state)).collect();
    if state.people > 0.0 {
        let mass = person * state.people;
        let at = build.vehicle.front_seats.get().map(|x| PointMass { mass, x, y: Metres(0.0), z: Metres(0.0) });
        let content = Some(Content::People);
        aboard.push(Item {
            part: "vehicle".to_owned(),
            content,
            mass,
            place: None,
            at,
            usual: false,
            roof: false,
            roof_said: false,
        });
    }
    let axles = base.loads(aboard.iter());
    let missing = 1.0 - state.fuel;
    let full = missing.abs() < 1e-9;
    let burnt = if full {
        Some(Kilograms(0.0))
    } else {
        // Where the fuel tank sits is not given, so only the total can be put right.
        build
            .vehicle
            .fuel_tank
            .get()
            .map(|l| l.0)
            .zip(fuel_density(build.vehicle.fuel.text()))
            .map(|(tank, density)| Kilograms(tank * density * missing))
    };
    let total = burnt.map(|f| axles.total() - f);
    let left = base.track.and_then(|t| statics::left_side(t, axles.total(), aboard.iter().filter_map(|i| i.at)));
    let figures = [
        ("front_axle", full.then_some(axles.front)),
        ("rear_axle", full.then_some(axles.rear)),
        ("left", left.filter(|_| full)),
        ("right", left.filter(|_| full).map(|l| axles.total() - l)),
        ("total", total),
    ];
    let both = |(field, computed): (&'static str, Option<Kilograms>)| {
        Some(WeighedFigure {
            field,
            measured: weights.kilograms(field)?,
            computed: computed?,
            tolerance: state.tolerance,
        })
    };
    figures.into_iter().filter_map(both).collect()
}

/// An item as it was aboard on the weighbridge.
fn then_aboard(item: &Item, state: &State) -> Option<Item> {
    let share = match item.content {
        None | Some(Content::Fixed) => 1.0,
        Some(Content::FreshWater) => state.fresh,
        Some(Content::Waste) => state.grey,
        Some(Content::People | Content::Animals | Content::Cargo | Content::Sport) => return None,
    };
    let at = item.at.map(|p| PointMass { mass: p.mass * share, ..p });
    Some(Item { mass: item.mass * share, at, ..item.clone() })
}
