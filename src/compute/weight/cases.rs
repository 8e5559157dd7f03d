//! Load cases: what is aboard in each, and the axle loads that follow.

use super::bare::Bare;
pub use super::case_id::CaseId;
use super::items::{Item, Items};
use super::statics::{self, Axles, PointMass};
use crate::build::Build;
use crate::compute::geometry::outline;
use crate::units::{Kilograms, Metres};
use serde::Serialize;

/// Loads of one case. `known` leaves out what rests on usual values.
#[derive(Clone, Debug, Serialize)]
pub struct Case {
    /// Which.
    pub id: CaseId,
    /// Axle loads.
    pub axles: Axles,
    /// Axle loads of what the spec gives itself.
    pub known: Axles,
    /// Mass added to the empty vehicle.
    pub added: Kilograms,
    /// Mass in it that has no place; half is counted on each axle.
    pub unplaced: Kilograms,
    /// Load on the left wheels.
    pub left: Option<Kilograms>,
    /// Centre of gravity behind the front axle.
    pub behind_front: Option<Metres>,
    /// Centre of gravity above the ground.
    pub height: Option<Metres>,
}

impl Case {
    /// All wheels together.
    #[must_use]
    pub fn total(&self) -> Kilograms {
        self.axles.total()
    }

    /// How far left of the middle the centre of gravity lies, for a distance between the wheels.
    #[must_use]
    pub fn left_of_middle(&self, track: Metres) -> Option<Metres> {
        let left = self.left?;
        (self.total().0 > 0.0).then(|| track * (left / self.total() - 0.5))
    }

    /// Difference of the sides as a share of the total.
    #[must_use]
    pub fn imbalance(&self) -> Option<f64> {
        let left = self.left?;
        (self.total().0 > 0.0).then(|| (left * 2.0 - self.total()).0.abs() / self.total().0)
    }
}

/// Figures of the vehicle that every case needs.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Base {
    /// Distance between the axles.
    pub wheelbase: Metres,
    /// Empty loads, without what was there before.
    pub empty: Axles,
    /// What they come from.
    #[serde(skip)]
    pub(super) bare: Bare,
    /// Distance between the wheels of an axle.
    pub track: Option<Metres>,
    /// Load floor above the ground, raised.
    pub floor: Option<Metres>,
    /// Centre of gravity of the empty vehicle above the ground, raised as if axles and wheels rose with the body: too
    /// high rather than too low.
    pub empty_height: Option<Metres>,
}

impl Base {
    /// Reads them; `None` where wheelbase or an empty load is missing.
    #[must_use]
    pub fn of(build: &Build<'_>, items: &Items) -> Option<Self> {
        let v = &build.vehicle;
        let wheelbase = v.wheelbase.get().filter(|w| w.0 > 0.0)?;
        let weighed = Axles { front: v.front_axle_empty.get()?, rear: v.rear_axle_empty.get()? };
        let bare = Bare::of(build, items, weighed, wheelbase);
        let lift = outline::lift(build);
        let raised = |height: Option<Metres>| height.map(|h| h + lift);
        Some(Self {
            wheelbase,
            empty: bare.empty,
            bare,
            track: v.track.get(),
            floor: raised(v.floor_height.get()),
            empty_height: raised(v.empty_centre_height.get()),
        })
    }

    /// Loads with these items; an item without a place counts half on each axle.
    #[must_use]
    pub fn loads<'a>(&self, items: impl Iterator<Item = &'a Item>) -> Axles {
        let point =
            |i: &Item| i.at.unwrap_or(PointMass { mass: i.mass, x: self.wheelbase / 2.0, ..PointMass::default() });
        statics::axles(self.wheelbase, self.empty, items.map(point)).unwrap_or(self.empty)
    }

    fn height<'a>(&self, items: impl Iterator<Item = &'a Item>) -> Option<Metres> {
        let (floor, own) = (self.floor?, self.empty_height?);
        let points = items.filter_map(|i| i.at).map(|p| PointMass { z: p.z + floor, ..p });
        let empty = PointMass { mass: self.empty.total(), z: own, ..PointMass::default() };
        statics::height(points.chain([empty]))
    }
}

pub(super) fn case(id: CaseId, base: &Base, items: &Items) -> Case {
    let aboard = || items.all.iter().filter(move |i| id.has(i.content));
    let axles = base.loads(aboard());
    Case {
        id,
        axles,
        known: base.loads(aboard().filter(|i| !i.assumed())),
        added: aboard().map(|i| i.mass).sum(),
        unplaced: aboard().filter(|i| i.at.is_none()).map(|i| i.mass).sum(),
        left: base.track.and_then(|t| statics::left_side(t, axles.total(), aboard().filter_map(|i| i.at))),
        behind_front: statics::behind_front(base.wheelbase, axles),
        height: base.height(aboard()),
    }
}
