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

pub(super) fn loadings(build: &Build<'_>, items: &Items) -> Vec<Loading> {
    let mut out = Vec::new();
    let near = near(build, items);
    for part in build.parts.values() {
        let Some(rating) = part.kind.load.as_ref().and_then(|l| l.rating.as_ref()) else { continue };
        let Some(limit) = part.record.kilograms(&rating.limit) else { continue };
        let sides: &[Option<&'static str>] = if rating.each_side { &[Some("left"), Some("right")] } else { &[None] };
        for side in sides {
            let (mut load, mut known) = (Kilograms(0.0), Kilograms(0.0));
            let mut add = |mass: Kilograms, usual: bool| {
                load = load + mass;
                known = if usual { known } else { known + mass };
            };
            for item in near.get(part.id.as_str()).into_iter().flatten() {
                let own = item.part == part.id && side.is_none() && (rating.own || item.content.is_some());
                let on =
                    rides_on(build, &item.part, &part.id) && side.is_none_or(|s| on_side(item.at.map(|a| a.y.0), s));
                if (own || on) && aboard_when_loaded(item.content) {
                    add(item.mass, item.usual);
                }
            }
            // Nothing is said to be on it: no figure.
            if load.0 <= 0.0 {
                continue;
            }
            let times = if rating.each_side { 1.0 } else { part.times() };
            let limit = limit * times;
            let given = part.record.gave(&rating.limit);
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
        parts.extend(below(build, &item.part));
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

/// Whether `part` rides on `base`, by way of others too.
fn rides_on(build: &Build<'_>, part: &str, base: &str) -> bool {
    below(build, part).any(|b| b == base)
}

/// What `part` rides on, what that rides on, and so on.
fn below<'a>(build: &'a Build<'_>, part: &str) -> impl Iterator<Item = &'a str> {
    let next = |id: &str| build.parts.get(id).and_then(Part::rides_on);
    std::iter::successors(next(part), move |at| next(at)).take(8)
}

fn on_side(y: Option<f64>, side: &str) -> bool {
    y.is_some_and(|y| if side == "left" { y > 0.0 } else { y < 0.0 })
}
