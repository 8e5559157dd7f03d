//! Weight: masses at their places, load cases, ratings, labels, and the weighbridge.

pub mod aboard;
mod bare;
mod case_id;
pub mod cases;
pub(crate) mod items;
pub mod label;
pub(crate) mod measured;
mod of_build;
pub(crate) mod ratings;
pub mod signs;
pub mod statics;

use cases::{Base, Case, CaseId};
use items::Items;
use measured::WeighedFigure;
use ratings::{Driving, Loading};
use serde::Serialize;

use crate::units::{Kilograms, Metres};

/// Largest difference of the sides, as a share of the mass; common practice.
pub const SIDES: f64 = 0.05;

/// Least share of the mass on the front axle, for steering and braking; common practice.
pub const FRONT: f64 = 0.35;

/// The weight figures of a build.
#[derive(Clone, Debug, Serialize)]
pub struct Weight {
    /// Every mass aboard.
    pub items: Items,
    /// Vehicle figures; `None` where wheelbase or empty axle loads are missing.
    pub base: Option<Base>,
    /// Load cases; empty without `base`.
    pub cases: Vec<Case>,
    /// Mass on the roof while driving.
    pub roof: Kilograms,
    /// The share of it the spec gives itself.
    pub roof_known: Kilograms,
    /// Ratings and the loads on them.
    pub loadings: Vec<Loading>,
    /// What racks may carry while driving.
    pub driving: Vec<Driving>,
    /// Weighed figures.
    pub measured: Vec<WeighedFigure>,
    /// Figures for the label.
    pub label: Option<Label>,
    /// Figures for European papers.
    pub payload: Option<Payload>,
}

/// Figures for the label of 49 CFR 571.110.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Label {
    /// Gross mass.
    pub gross: Kilograms,
    /// Finished van, fuel full, no water.
    pub unloaded: Kilograms,
    /// Combined mass of occupants and cargo.
    pub capacity: Kilograms,
    /// Belted seats × mass of one person.
    pub belted: Option<Kilograms>,
    /// Full load of fresh water.
    pub water: Kilograms,
    /// Mass the build adds.
    pub added: Kilograms,
    /// Added mass above which a label tells of it.
    pub threshold: Kilograms,
}

/// Figures by Regulation (EU) No 1230/2012.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Payload {
    /// Mass in running order: as built, fresh water, driver.
    pub running_order: Kilograms,
    /// What is left beside the passengers.
    pub payload: Kilograms,
    /// Least payload.
    pub least: Kilograms,
    /// People, driver included.
    pub people: f64,
    /// Length of the vehicle.
    pub length: Metres,
}

impl Weight {
    /// What `part`, a rack, may carry while driving.
    #[must_use]
    pub fn driving(&self, part: &str) -> Option<&Driving> {
        self.driving.iter().find(|d| d.part == part)
    }

    /// What the account leaves out, in words: components whose mass nobody gave.
    #[must_use]
    pub fn left_out(&self) -> Option<String> {
        match self.items.missing.len() {
            0 => None,
            1 => Some("the mass of 1 component not given".to_owned()),
            n => Some(format!("the masses of {n} components not given")),
        }
    }

    /// The case `id`, where it could be computed.
    #[must_use]
    pub fn case(&self, id: CaseId) -> Option<&Case> {
        self.cases.iter().find(|c| c.id == id)
    }
}
