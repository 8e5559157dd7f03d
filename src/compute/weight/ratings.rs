//! What carriers, racks, trays and stores carry, against what they are rated for.

use super::items::{Item, Items};
use crate::build::{Build, Part};
use crate::kinds::{Content, Rated};
use crate::units::Kilograms;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// One rating and the load on it.
#[derive(Clone, Debug, Serialize)]
pub struct Loading {
    /// Component that is rated.
    pub part: String,
    /// Side it is about, where each counts by itself.
    pub side: Option<&'static str>,
    /// What the rating is about.
    pub of: Rated,
    /// Load: what it holds, and the parts on it with what they hold.
    pub load: Kilograms,
    /// The share of the load that the spec gives itself.
    pub known: Kilograms,
    /// Rated load of all pieces.
    pub limit: Kilograms,
    /// The spec gives the limit.
    pub limit_given: bool,
}

/// What a rack may carry while driving.
#[derive(Clone, Debug, Serialize)]
pub struct Driving {
    /// The rack.
    pub part: String,
    /// What its maker allows on the road.
    pub rated: Kilograms,
    /// What the roof load limit of the vehicle leaves for it.
    pub left: Option<Kilograms>,
    /// The lesser of the two.
    pub limit: Kilograms,
}

pub(super) fn loadings(build: &Build<'_>, items: &Items) -> Vec<Loading> {
    let mut out = Vec::new();
    let near = near(build, items);
    for part in build.parts.values() {
        let Some(rating) = part.masses.as_ref().and_then(|m| m.rating.as_ref()) else { continue };
        let Some(limit) = rating.limit.get() else { continue };
        let sides: &[Option<&'static str>] = if rating.each_side { &[Some("left"), Some("right")] } else { &[None] };
        for side in sides {
            let (mut load, mut known) = (Kilograms(0.0), Kilograms(0.0));
            let mut add = |mass: Kilograms, usual: bool| {
                load = load + mass;
                known = if usual { known } else { known + mass };
            };
            for item in near.get(part.id.as_str()).into_iter().flatten() {
                let own = item.part == part.id && side.is_none() && (rating.own || item.content.is_some());
                let y = item.at.map(|a| a.y.0);
                let on = item.part != part.id && side.is_none_or(|s| may_be_on_side(y, s));
                if (own || on) && aboard_when_loaded(item.content) {
                    let sure = side.is_none_or(|s| y.is_some_and(|y| y.abs() > MIDDLE) && may_be_on_side(y, s))
                        && (own || build.is_said_to_rest_on(&item.part, &part.id));
                    add(item.mass, item.usual || !sure);
                }
            }
            // Nothing is said to be on it: no figure.
            if load.0 <= 0.0 {
                continue;
            }
            let times = if rating.each_side { 1.0 } else { part.times() };
            let limit = limit * times;
            let given = rating.limit.given;
            out.push(Loading {
                part: part.id.clone(),
                side: *side,
                of: rating.of,
                load,
                known,
                limit,
                limit_given: given,
            });
        }
    }
    out
}

/// Items by the parts that they may count for: their own, and those it rides on.
fn near<'a>(build: &'a Build<'_>, items: &'a Items) -> BTreeMap<&'a str, Vec<&'a Item>> {
    let mut near: BTreeMap<&str, Vec<&Item>> = BTreeMap::new();
    for item in &items.all {
        let mut parts = BTreeSet::from([item.part.as_str()]);
        parts.extend(build.carriers(&item.part).iter().map(|c| c.id.as_str()));
        for part in parts {
            near.entry(part).or_default().push(item);
        }
    }
    near
}

/// People and water do not ride on carriers; waste neither.
const fn aboard_when_loaded(content: Option<Content>) -> bool {
    !matches!(content, Some(Content::People | Content::Waste))
}

/// What a part with a rating of its own for the road may carry while driving: its rating, but on the roof never more
/// than what the roof load limit leaves beside the rack itself and what else is there. With the rating and what is
/// left. `None` for what has no rating for the road apart from the one while parked.
pub(super) fn driving(build: &Build<'_>, items: &Items, part: &Part<'_>) -> Option<Driving> {
    let rating = part.masses.as_ref()?.rating.as_ref().filter(|r| r.parked.is_some())?;
    let rated = rating.limit.get()? * part.times();
    let roof = build.vehicle.roof_load_limit.get().filter(|_| build.roof_holds(&part.id).is_some());
    let beside = |i: &&Item| i.roof && i.content != Some(Content::People) && !on_it(build, i, &part.id);
    let beside: Kilograms = items.all.iter().filter(beside).map(|i| i.mass).sum();
    let left = roof.map(|roof| (roof - beside).max(Kilograms(0.0)));
    Some(Driving { part: part.id.clone(), rated, left, limit: left.map_or(rated, |l| rated.min(l)) })
}

/// Whether an item is load of `part`: it rests on it, or is what it holds.
fn on_it(build: &Build<'_>, item: &Item, part: &str) -> bool {
    if item.part == part { item.content.is_some() } else { build.rests_on(&item.part, part) }
}

/// Half of the width that counts as the middle: what stands there may hang on either side.
const MIDDLE: f64 = 0.01;

/// Whether something may hang on this side: what has no position, and what is in the middle, counts on both.
fn may_be_on_side(y: Option<f64>, side: &str) -> bool {
    y.is_none_or(|y| if side == "left" { y > -MIDDLE } else { y < MIDDLE })
}
