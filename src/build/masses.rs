//! What a part weighs, holds and may hold: the fields that its kind's `[role.mass]` names.

use crate::fields::{Field, Record, Text};
use crate::kinds::{Content, Load, Rated};
use crate::units::{Kilograms, Litres};

/// Masses of a part.
#[derive(Clone, Debug)]
pub struct Masses {
    /// Its own mass, where the common field does not give it.
    pub own: Field<Kilograms>,
    /// What it holds.
    pub holds: Vec<Holding>,
    /// What it may hold.
    pub rating: Option<Limit>,
    /// What it is for, in words.
    pub contents: Field<Text>,
}

/// One thing a part holds.
#[derive(Clone, Debug)]
pub struct Holding {
    /// What it is.
    pub what: Content,
    /// Mass of one; the first that has a value counts.
    pub mass: Vec<Field<Kilograms>>,
    /// Volume of water, in place of a mass.
    pub volume: Option<Field<Litres>>,
    /// How many.
    pub times: Option<Field<i64>>,
}

/// A rating of a part for what it carries.
#[derive(Clone, Debug)]
pub struct Limit {
    /// What it is about.
    pub of: Rated,
    /// Largest mass; for what is on the road, while driving.
    pub limit: Field<Kilograms>,
    /// Largest mass while parked, where that is another.
    pub parked: Option<Field<Kilograms>>,
    /// The limit holds for each side of the vehicle by itself.
    pub each_side: bool,
    /// The component's own mass counts against it.
    pub own: bool,
}

impl Masses {
    /// The masses of a component with these fields.
    pub(super) fn of(load: &Load, record: &Record) -> Self {
        let holds = load.holds.iter().map(|held| Holding {
            what: held.what,
            mass: held.mass.iter().map(|name| Field::at(record, name)).collect(),
            volume: held.volume.as_ref().map(|name| Field::at(record, name)),
            times: held.times.as_ref().map(|name| Field::at(record, name)),
        });
        let rating = load.rating.as_ref().map(|rating| Limit {
            of: rating.of,
            limit: Field::at(record, &rating.limit),
            parked: rating.parked.as_ref().map(|name| Field::at(record, name)),
            each_side: rating.each_side,
            own: rating.own,
        });
        Self {
            own: Field::named(record, load.own.as_deref()),
            holds: holds.collect(),
            rating,
            contents: Field::named(record, load.contents.as_deref()),
        }
    }
}
