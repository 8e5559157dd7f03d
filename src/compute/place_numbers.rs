//! The places that the plan of a stage shows, and their numbers there, by which its packet names them.

use super::geometry::spots::{Level, Spot, spots};
use super::geometry::van::Van;
use super::network::is_worked_on;
use super::readings::is_skipped;
use crate::build::{Build, Landing};
use crate::kinds::Stage;
use std::collections::{BTreeMap, BTreeSet};

/// Ids of the places of an end of a conductor: that of its body, else those of its part.
fn places_of_end<'a>(build: &'a Build<'_>, end: &'a Landing) -> &'a [String] {
    match &end.place {
        Some(place) => std::slice::from_ref(place),
        None => build.parts.get(&end.part).map_or(&[], |part| &part.places),
    }
}

/// What the plan of a stage shows: the places of its work, and those where the conductors end that it pulls or terminates;
/// none where there is no plan, since nothing of it has coordinates.
#[must_use]
pub fn on_plan<'s, 'a>(build: &Build<'_>, spots: &'s [Spot<'a>], stage: Stage) -> Vec<&'s Spot<'a>> {
    if is_skipped(build, stage) {
        return Vec::new();
    }
    let worked: BTreeSet<&str> =
        build.tasks.values().filter(|t| t.stage == stage).filter_map(|t| t.part.as_deref()).collect();
    let mut ends: BTreeSet<&str> = BTreeSet::new();
    if matches!(stage, Stage::ElectricalRoughIn | Stage::ElectricalFitOff) {
        for conductor in build.wiring.conductors.values().filter(|c| is_worked_on(build, c)) {
            let places = conductor.ends().into_iter().flat_map(|end| places_of_end(build, end));
            ends.extend(places.map(String::as_str));
        }
    }
    let here = |s: &&Spot<'_>| ends.contains(s.id) || s.parts.iter().any(|(p, _)| worked.contains(p.id.as_str()));
    let shown: Vec<&Spot<'a>> = spots.iter().filter(here).collect();
    if shown.iter().all(|s| s.level == Level::Nowhere) { Vec::new() } else { shown }
}

/// Numbers of the places on the plan of each stage.
#[derive(Debug, Default)]
pub struct PlaceNumbers(BTreeMap<Stage, BTreeMap<String, usize>>);

impl PlaceNumbers {
    /// Those of a build; none where nothing tells how large the van is.
    #[must_use]
    pub fn of(build: &Build<'_>) -> Self {
        let Some(van) = Van::of(build) else { return Self::default() };
        let spots = spots(build, &van);
        let of_stage = |stage: Stage| {
            on_plan(build, &spots, stage).into_iter().map(|spot| (spot.id.to_owned(), spot.number)).collect()
        };
        Self(Stage::ALL.iter().map(|stage| (*stage, of_stage(*stage))).collect())
    }

    /// "7", "3, 7": places on the plan of a stage; `None` where one of them is not on it.
    #[must_use]
    pub fn show(&self, stage: Stage, places: &[String]) -> Option<String> {
        let numbers = self.0.get(&stage)?;
        let shown: Vec<String> =
            places.iter().map(|id| numbers.get(id).map(usize::to_string)).collect::<Option<_>>()?;
        (!shown.is_empty()).then(|| shown.join(", "))
    }
}
