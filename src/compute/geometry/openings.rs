//! Openings through the vehicle's skin: in which surface each is, and where.

use crate::build::{Build, Part, Task};
use crate::kinds::{CutOut, Through};
use crate::units::Metres;
use std::collections::BTreeSet;

/// A surface of the vehicle, seen from outside; the floor from above.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// The side of the driver where traffic keeps right.
    Left,
    /// The other side.
    Right,
    /// Rear doors or wall.
    Rear,
    /// Bonnet, front and the roof of the cab before the front axle.
    Front,
    /// Roof.
    Roof,
    /// Floor.
    Floor,
}

impl Surface {
    /// Every one, in the order of the schedule.
    pub const ALL: [Self; 6] = [Self::Left, Self::Right, Self::Rear, Self::Front, Self::Roof, Self::Floor];

    /// How it is called.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Left => "Left side",
            Self::Right => "Right side",
            Self::Rear => "Rear",
            Self::Front => "Front",
            Self::Roof => "Roof",
            Self::Floor => "Floor",
        }
    }

    /// The one that a choice of a kind names.
    fn named(choice: &str) -> Option<Self> {
        Some(match choice {
            "left" => Self::Left,
            "right" => Self::Right,
            "rear" => Self::Rear,
            "roof" => Self::Roof,
            _ => return None,
        })
    }

    /// What its two measures are taken from.
    #[must_use]
    pub const fn datums(self) -> [&'static str; 2] {
        match self {
            Self::Left | Self::Right => ["aft of the front axle", "above the load floor"],
            Self::Rear | Self::Front => ["to the left of the middle", "above the load floor"],
            Self::Roof | Self::Floor => ["aft of the front axle", "to the left of the middle"],
        }
    }

    /// A point of the van with these two measures, the third 0.
    #[must_use]
    pub const fn point(self, [a, b]: [Metres; 2]) -> [f64; 3] {
        match self {
            Self::Left | Self::Right => [a.0, 0.0, b.0],
            Self::Rear | Self::Front => [0.0, a.0, b.0],
            Self::Roof | Self::Floor => [a.0, b.0, 0.0],
        }
    }

    /// Its two measures of a point of the van.
    const fn measures(self, [along, left, up]: [f64; 3]) -> [Metres; 2] {
        match self {
            Self::Left | Self::Right => [Metres(along), Metres(up)],
            Self::Rear | Self::Front => [Metres(left), Metres(up)],
            Self::Roof | Self::Floor => [Metres(along), Metres(left)],
        }
    }
}

/// Gaps to two surfaces that differ by less are alike, metres.
const TIE: f64 = 0.05;

/// Where the middle of an opening is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Middle {
    /// As the spec says, by the two measures of its surface.
    Given([Metres; 2]),
    /// Somewhere at the place of its part, whose middle this is: to be measured in the van.
    Near([Metres; 2]),
    /// Nobody says.
    Unknown,
}

/// An opening.
#[derive(Clone, Debug)]
pub struct Opening<'b> {
    /// Part that it is for.
    pub part: &'b Part<'b>,
    /// Task that cuts it.
    pub task: &'b Task<'b>,
    /// What its kind says of it.
    pub cut: &'b CutOut,
    /// Id of the place it is at; "" where the part has none.
    pub place: &'b str,
    /// The surface; `None` where the place does not tell.
    pub surface: Option<Surface>,
    /// Where in it; of several holes that of the first.
    pub middle: Middle,
    /// How many holes they are.
    pub holes: usize,
}

/// Every opening that this job cuts through the skin, surface by surface, from the front and from the left; a part at several
/// places has one at each.
#[must_use]
pub fn openings<'b>(build: &'b Build<'b>) -> Vec<Opening<'b>> {
    let mut all: Vec<Opening<'b>> = Vec::new();
    let mut given_once: BTreeSet<&str> = BTreeSet::new();
    for task in build.tasks.values() {
        let part = task.part.as_ref().and_then(|part| build.parts.get(part));
        let Some((template, part)) = task.template.zip(part).filter(|(_, part)| !part.confidential) else { continue };
        for (cut, through) in template.cut_outs_of(part.record).filter_map(|cut| Some((cut, cut.through?))) {
            let own = part.place_of(cut).filter(|place| build.places.contains_key(*place));
            let places: Vec<&str> = match own {
                Some(place) => vec![place],
                None if part.places.is_empty() => vec![""],
                None => part.places.iter().map(String::as_str).collect(),
            };
            let bodies = usize::try_from(part.count).unwrap_or(1).div_ceil(places.len());
            let counted = cut.per.map_or(1, |per| build.tally(part, per));
            let holes = part.holes_of(cut).saturating_mul(counted).saturating_mul(bodies);
            for place in places {
                // What the spec says comes before the place, and that before the usual side of a kind.
                let side = part.side_of(cut);
                let told = side.text().and_then(Surface::named);
                let surface = told.filter(|_| side.given).or_else(|| surface(build, through, place)).or(told);
                // A point is that of one opening: of several the first.
                let given =
                    part.common.opening_at.metres().filter(|_| part.places.len() < 2 && given_once.insert(&part.id));
                let near = || Some(surface?.measures(middle(build, place)?));
                let middle = given
                    .map(|at| Middle::Given(at.map(Metres)))
                    .or_else(|| near().map(Middle::Near))
                    .unwrap_or(Middle::Unknown);
                all.push(Opening { part, task, cut, place, surface, middle, holes });
            }
        }
    }
    let rank = |o: &Opening<'_>| Surface::ALL.iter().position(|s| Some(*s) == o.surface).unwrap_or(usize::MAX);
    let first = |o: &Opening<'_>| match o.middle {
        Middle::Given(at) | Middle::Near(at) => at[0].0,
        Middle::Unknown => f64::INFINITY,
    };
    all.sort_by(|a, b| rank(a).cmp(&rank(b)).then(first(a).total_cmp(&first(b))));
    all
}

/// Middle of the box of a place: aft of the front axle, to the left of the middle, above the floor.
fn middle(build: &Build<'_>, place: &str) -> Option<[f64; 3]> {
    let place = build.places.get(place)?;
    let at = place.at.metres()?;
    let high = place.size.metres().map(|size| size[2] / 2.0).into_iter().sum::<f64>();
    Some([at[0], at[1], at[2] + high])
}

/// The surface that an opening at a place goes through.
fn surface(build: &Build<'_>, through: Through, place: &str) -> Option<Surface> {
    let zone = build.places.get(place).and_then(|p| p.zone.text());
    match (through, zone) {
        (Through::Roof, _) | (Through::Skin, Some("roof")) => Some(Surface::Roof),
        (Through::Floor, _) | (Through::Skin, Some("underbody")) => Some(Surface::Floor),
        (Through::Skin | Through::Side, _) => nearest(build, through, place),
    }
}

/// The upright surface that the box of a place is nearest to.
fn nearest(build: &Build<'_>, through: Through, place: &str) -> Option<Surface> {
    let [along, left, _] = middle(build, place)?;
    let vehicle = &build.vehicle;
    let half = vehicle.width.get()?.0 / 2.0;
    let size = build.places.get(place)?.size.metres()?.map(|length| length / 2.0);
    let mut gaps = vec![(Surface::Left, half - left - size[1]), (Surface::Right, half + left - size[1])];
    if through == Through::Skin {
        let rear = vehicle.wheelbase.get().zip(vehicle.rear_overhang.get()).map(|(base, over)| base.0 + over.0);
        gaps.extend(rear.map(|rear| (Surface::Rear, rear - along - size[0])));
        gaps.extend(vehicle.front_overhang.get().map(|over| (Surface::Front, along + over.0 - size[0])));
    }
    gaps.sort_by(|a, b| a.1.total_cmp(&b.1));
    // A place that reaches from one side to the other tells neither.
    let (first, second) = (gaps.first()?, gaps.get(1)?);
    (second.1 - first.1 > TIE).then_some(first.0)
}
