//! The places of a build, numbered, with what stands in each.

use super::boxes::Box3;
use super::van::Van;
use crate::build::{Build, Part};
use crate::spec::PlaceSection;

/// Where a place is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// On the floor, and outside at that height.
    Lower,
    /// Above that.
    Upper,
    /// On the roof.
    Roof,
    /// Under the floor.
    Under,
    /// The spec gives no coordinates, or such as are far from the van.
    Nowhere,
}

impl Level {
    /// All, in the order of sheets.
    pub const ALL: [Self; 5] = [Self::Lower, Self::Upper, Self::Roof, Self::Under, Self::Nowhere];

    /// For people.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Lower => "lower level",
            Self::Upper => "upper level",
            Self::Roof => "roof",
            Self::Under => "under the floor",
            Self::Nowhere => "places without coordinates",
        }
    }
}

/// A place with something in it.
#[derive(Clone, Debug)]
pub struct Spot<'a> {
    /// Its number, the same on every sheet.
    pub number: usize,
    /// Its id.
    pub id: &'a str,
    /// What people call it.
    pub name: String,
    /// Where it is drawn.
    pub level: Level,
    /// The middle of its floor.
    pub at: Option<[f64; 3]>,
    /// Its box, where the spec gives its size.
    pub space: Option<Box3>,
    /// What stands there, and whether it is listed here: one that stands in several places is listed in its first.
    pub parts: Vec<(&'a Part<'a>, bool)>,
}

impl Spot<'_> {
    /// Its middle.
    #[must_use]
    pub fn middle(&self) -> Option<[f64; 3]> {
        self.space.map(|s| std::array::from_fn(|k| f64::midpoint(s.min[k], s.max[k]))).or(self.at)
    }
}

impl Spot<'_> {
    /// Whether it is a thing of the cabin that one can find one's way by, and no open space.
    #[must_use]
    pub fn is_furniture(&self, build: &Build<'_>) -> bool {
        let place = build.places.get(self.id);
        place.is_some_and(|p| p.zone() == "cabin" && !p.open.is_set())
    }
}

/// From here up a place counts as upper: above what one can look down on; metres above the load floor.
pub const UPPER: f64 = 0.75;

/// How far from the van a place may be and still be drawn: 3 m. What is farther is a slip of the pen.
fn vicinity(van: &Van) -> Box3 {
    let body = van.body();
    Box3 { min: body.min.map(|v| v - 3.0), max: body.max.map(|v| v + 3.0) }
}

fn level(place: &PlaceSection, at: Option<[f64; 3]>, van: &Van) -> Level {
    let Some(at) = at else { return Level::Nowhere };
    match place.zone.text() {
        Some("roof") => Level::Roof,
        Some("underbody") => Level::Under,
        // What stands on the roof without being said to.
        _ if at[2] + van.floor >= van.height - 0.1 => Level::Roof,
        _ if at[2] >= UPPER => Level::Upper,
        _ => Level::Lower,
    }
}

/// The places where something stands that may be shown, numbered level by level from front to rear.
#[must_use]
pub fn spots<'a>(build: &'a Build<'a>, van: &Van) -> Vec<Spot<'a>> {
    let mut spots: Vec<Spot<'a>> = Vec::new();
    for (id, place) in &build.places {
        let here = build.parts.values().filter(|p| p.places.contains(id));
        let first = |p: &Part<'_>| p.places.iter().find(|q| build.places.contains_key(*q)) == Some(id);
        let parts: Vec<_> = here.map(|p| (p, first(p))).collect();
        if parts.is_empty() {
            continue;
        }
        let near = |b: &Box3| vicinity(van).holds(b);
        let at = place.at.metres().filter(|at| near(&Box3 { min: *at, max: *at }));
        let size = place.size.metres().filter(|s| s.iter().all(|d| *d > 0.0));
        let space = at.zip(size).map(|(at, size)| Box3::standing(at, size)).filter(near);
        let level = level(place, at, van);
        spots.push(Spot { number: 0, id, name: build.place_name(id), level, at, space, parts });
    }
    let key = |s: &Spot<'_>| s.middle().map_or([0.0; 3], |m| m);
    spots.sort_by(|a, b| a.level.cmp(&b.level).then(key(a)[0].total_cmp(&key(b)[0])));
    for (n, spot) in spots.iter_mut().enumerate() {
        spot.number = n + 1;
    }
    spots
}
