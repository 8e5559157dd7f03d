//! `[role.mass]` of a kind: what it weighs, what it holds, and what it is rated for.

use serde::{Deserialize, Serialize};

/// What a component holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Content {
    /// Always aboard once the van is built: a spare wheel, a mattress, gas cylinders.
    Fixed,
    /// Fresh water, cold or hot.
    FreshWater,
    /// Waste water and toilet waste.
    Waste,
    /// People on belted seats; the mass of one comes from the rules, where no mass field has a value.
    People,
    /// Animals.
    Animals,
    /// What is stowed.
    Cargo,
    /// Bikes and boats on carriers.
    Sport,
}

/// One thing a component holds: its mass comes from a mass field, or from a volume of water, times a count.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Held {
    /// What it is.
    pub what: Content,
    /// Fields with the mass of one; the first that has a value counts.
    #[serde(default)]
    pub mass: Vec<String>,
    /// Field with the volume of water, in place of a mass.
    #[serde(default)]
    pub volume: Option<String>,
    /// Count field it is multiplied by.
    #[serde(default)]
    pub times: Option<String>,
}

/// What a rating is about; it decides which check speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rated {
    /// A carrier outside, or a rack.
    Carrier,
    /// A tray on slides.
    Tray,
    /// A compartment, locker, drawer, shelf.
    Storage,
}

/// A way of being held, and what holds so.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct HeldBy {
    /// Choice field that says how it is held.
    pub field: String,
    /// Its word.
    pub is: String,
    /// What holds so: parts of kinds that say it in `bears`.
    pub by: String,
}

/// When a component is carried by the roof, wherever its own place is.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct OnRoof {
    /// Choice field that says how it is held; left out: always.
    #[serde(default)]
    pub field: Option<String>,
    /// Its words that mean the roof.
    #[serde(default)]
    pub is: Vec<String>,
}

/// A rating of a component for what it carries.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Rating {
    /// What it is about.
    pub of: Rated,
    /// Field with the largest mass; for what is on the road, while driving.
    pub limit: String,
    /// Field with the largest mass while parked, where that is another.
    #[serde(default)]
    pub parked: Option<String>,
    /// The limit holds for each side of the vehicle by itself.
    #[serde(default)]
    pub each_side: bool,
    /// The component's own mass counts against it.
    #[serde(default)]
    pub own: bool,
}

/// `[role.mass]` of a kind.
#[derive(Clone, Debug, Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Load {
    /// Brings no mass: part of the vehicle as it came, or work rather than a thing.
    #[serde(default)]
    pub none: bool,
    /// Weighs a few kilograms at most: left out of the account without a finding where the spec gives no mass.
    #[serde(default)]
    pub light: bool,
    /// Field with its own mass, where the common `mass` is not given.
    #[serde(default)]
    pub own: Option<String>,
    /// What it holds.
    #[serde(default)]
    pub holds: Vec<Held>,
    /// What it may hold.
    #[serde(default)]
    pub rating: Option<Rating>,
    /// Text field with what it is for.
    #[serde(default)]
    pub contents: Option<String>,
    /// What it is to those that it bears: the `by` of their `held_by`.
    #[serde(default)]
    pub bears: Option<String>,
    /// Parts it rides on where its `on` is not given.
    #[serde(default)]
    pub held_by: Vec<HeldBy>,
    /// When it is carried by the roof.
    #[serde(default)]
    pub on_roof: Option<OnRoof>,
}
