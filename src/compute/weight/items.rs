//! Everything aboard with its mass and place: components, what they hold, and the people.

use super::aboard::Aboard;
use super::case_id::CaseId;
use super::label;
use super::statics::PointMass;
use crate::build::{Build, Holding, Part};
use crate::fields::Field;
use crate::kinds::Content;
use crate::spec::PlaceSection;
use crate::units::{Kilograms, Metres};
use serde::Serialize;
use std::collections::BTreeMap;

/// One mass aboard.
#[derive(Clone, Debug, Serialize)]
pub struct Item {
    /// Component it belongs to; `vehicle` for those on the front seats.
    pub part: String,
    /// What it is; `None` for the component itself.
    pub content: Option<Content>,
    /// Mass.
    pub mass: Kilograms,
    /// Id of the place it is in; `None` for those on the front seats and for what has none.
    pub place: Option<String>,
    /// Its point, where it is known.
    pub at: Option<PointMass>,
    /// The mass is a usual value that the spec does not give: never the sole basis of an error.
    pub usual: bool,
    /// The roof carries it while driving, wherever its own place is.
    pub roof: bool,
    /// The spec itself says so; else its kind's usual way of being held does.
    pub roof_said: bool,
}

impl Item {
    /// Mass or place is not from the spec.
    #[must_use]
    pub const fn assumed(&self) -> bool {
        self.usual || self.at.is_none()
    }
}

/// Items, and the components that ought to have a mass and have none.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Items {
    /// All masses.
    pub all: Vec<Item>,
    /// Components without a mass, small ones left out.
    pub missing: Vec<String>,
}

impl Items {
    /// Mass in each place, by the id of the place, and what has none; for a load case.
    #[must_use]
    pub fn by_place(&self, case: CaseId) -> BTreeMap<Option<&str>, Kilograms> {
        let mut sums: BTreeMap<Option<&str>, Kilograms> = BTreeMap::new();
        for item in self.all.iter().filter(|i| case.has(i.content)) {
            let sum = sums.entry(item.place.as_deref()).or_default();
            *sum = *sum + item.mass;
        }
        sums
    }
}

/// Kilograms of water in a litre; 49 CFR 571.110 S9 reckons with the same.
const WATER: f64 = 1.0;

pub(super) fn items(build: &Build<'_>, person: Kilograms) -> Items {
    let mut items = Items::default();
    let aboard = Aboard::of(build);
    for part in build.parts.values() {
        let load = part.kind.load.as_ref();
        if load.is_some_and(|l| l.none) {
            continue;
        }
        match own(part) {
            Some((mass, usual)) => spread(build, part, None, mass, usual, &mut items.all),
            None if load.is_some_and(|l| l.light) => {}
            // It was on the scales, and stays.
            None if aboard.has(build, part) => {}
            None => items.missing.push(part.id.clone()),
        }
        for held in part.masses.iter().flat_map(|m| &m.holds) {
            if let Some((mass, usual)) = held_mass(held, person) {
                spread(build, part, Some(held.what), mass, usual, &mut items.all);
            }
        }
    }
    // What was weighed and comes out is missed as well.
    let unknown = |p: &&Part<'_>| {
        let counts = p.kind.load.as_ref().is_none_or(|l| !l.none && !l.light);
        aboard.leaves && p.kind.bought && counts && own(p).is_none()
    };
    items.missing.extend(build.removed.values().filter(unknown).map(|p| p.id.clone()));
    front_seats(build, person, &mut items.all);
    items
}

/// Own mass of one, and whether it is a usual value.
pub(super) fn own(part: &Part<'_>) -> Option<(Kilograms, bool)> {
    if let Some(mass) = part.common.mass.get() {
        return Some((mass, false));
    }
    let own = &part.masses.as_ref()?.own;
    Some((own.get()?, !own.given))
}

/// Mass of what one component holds, and whether it is a usual value.
fn held_mass(held: &Holding, person: Kilograms) -> Option<(Kilograms, bool)> {
    let one = |mass: &Field<Kilograms>| Some((mass.get()?, !mass.given));
    let (mass, usual) = match (&held.volume, held.what) {
        (Some(volume), _) => (Kilograms(volume.get()?.0 * WATER), !volume.given),
        (None, Content::People) => held.mass.iter().find_map(one).unwrap_or((person, false)),
        (None, _) => held.mass.iter().find_map(one)?,
    };
    let times = match &held.times {
        Some(times) => count(times.get()?),
        None => 1.0,
    };
    Some((mass * times, usual))
}

/// A whole number as a factor; the reader bounds counts far below 2^52.
pub(super) fn count(n: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "the reader bounds counts far below 2^52")]
    let n = n.max(0) as f64;
    n
}

/// Enters `mass` of each of a component's pieces at its place: one piece a place where the numbers agree, else evenly.
pub(super) fn spread(
    build: &Build<'_>,
    part: &Part<'_>,
    content: Option<Content>,
    mass: Kilograms,
    usual: bool,
    into: &mut Vec<Item>,
) {
    let total = mass * part.times();
    let places = part.places.len().max(1);
    let share = total / count(i64::try_from(places).unwrap_or(1));
    // What rests on a rack is on the roof, wherever its own place is.
    let rests = build.carriers(&part.id).first().and_then(|base| build.roof_holds(&base.id)).is_some();
    let held = rests || part.is_held_by_roof();
    let said = build.is_said_on_roof(&part.id);
    for n in 0..places {
        let place = part.places.get(n).and_then(|p| build.places.get(p));
        let at = place.and_then(|p| position(p, share));
        let here = place.and_then(|p| p.zone.text()) == Some("roof");
        into.push(Item {
            part: part.id.clone(),
            content,
            mass: share,
            place: place.and(part.places.get(n)).cloned(),
            at,
            usual,
            roof: held || here,
            roof_said: here || held && said,
        });
    }
}

/// Mass in the middle of a place.
fn position(place: &PlaceSection, mass: Kilograms) -> Option<PointMass> {
    let [x, y, z] = place.at.get()?.0;
    Some(PointMass { mass, x, y, z: z + place.half(2)? })
}

/// Belted seats that no component brings: those of the cab, the driver's included.
#[must_use]
pub(crate) fn cab_seats(build: &Build<'_>) -> Option<f64> {
    let all = count(build.vehicle.seats.get()?);
    let brought = |p: &Part<'_>| {
        let holds = p.masses.iter().flat_map(|m| &m.holds).filter(|h| h.what == Content::People);
        let seats = holds.filter_map(|h| h.times.as_ref()?.get()).map(count).sum::<f64>();
        seats * p.times()
    };
    Some((all - build.parts.values().map(brought).sum::<f64>()).max(0.0))
}

/// People on the cab's seats. Height of the seated body above the load floor: 0.6 m, common practice.
fn front_seats(build: &Build<'_>, person: Kilograms, into: &mut Vec<Item>) {
    let Some(seats) = cab_seats(build) else { return };
    let mass = person * seats;
    let at = build.vehicle.front_seats.get().map(|x| PointMass { mass, x, y: Metres(0.0), z: Metres(0.6) });
    into.push(Item {
        part: "vehicle".to_owned(),
        content: Some(Content::People),
        mass,
        place: None,
        at,
        usual: false,
        roof: false,
        roof_said: false,
    });
}

/// Mass of one person under the rules of `build`.
#[must_use]
pub(crate) fn person(build: &Build<'_>) -> Kilograms {
    label::person(build.about.rules.text().unwrap_or("us"))
}
