//! What the vehicle weighs without what was aboard when it was weighed before the work.

use super::aboard::Aboard;
use super::items::{Item, Items, own, spread};
use super::statics::{self, Axles, PointMass};
use crate::build::Build;
use crate::units::{Kilograms, Metres};
use serde::Serialize;

/// Loads of the vehicle without what was aboard when it was weighed, and the mass of that: what stays, what comes out.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct Bare {
    /// As weighed.
    pub weighed: Axles,
    /// Without what was aboard.
    pub empty: Axles,
    /// Mass of what stays.
    pub stays: Kilograms,
    /// Mass of what comes out.
    pub leaves: Kilograms,
}

impl Bare {
    /// Takes what was aboard from the loads that were weighed. Where nobody knows what a part that stays weighs, it is
    /// in the weighed loads, and in no list.
    #[must_use]
    pub(super) fn of(build: &Build<'_>, items: &Items, weighed: Axles, wheelbase: Metres) -> Self {
        let aboard = Aboard::of(build);
        let old = |item: &&Item| {
            item.content.is_none() && build.parts.get(&item.part).is_some_and(|part| aboard.has(build, part))
        };
        let stays: Vec<&Item> = items.all.iter().filter(old).collect();
        let mut leaves = Vec::new();
        for part in build.removed.values().filter(|part| aboard.has(build, part)) {
            if let Some((mass, usual)) = own(part) {
                spread(build, part, None, mass, usual, &mut leaves);
            }
        }
        let sum = |items: &mut dyn Iterator<Item = &Item>| items.map(|i| i.mass).sum();
        // What has no place is taken from both axles, as it is counted on both.
        let taken = |item: &Item| {
            let at = item.at.unwrap_or(PointMass { x: wheelbase / 2.0, ..PointMass::default() });
            PointMass { mass: item.mass * -1.0, ..at }
        };
        let all = stays.iter().copied().chain(&leaves).map(taken);
        Self {
            weighed,
            empty: statics::axles(wheelbase, weighed, all).unwrap_or(weighed),
            stays: sum(&mut stays.iter().copied()),
            leaves: sum(&mut leaves.iter()),
        }
    }
}
