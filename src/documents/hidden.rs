//! Where hidden parts are, for the few who need it: who fits and wires them, and the owner.

use super::shared::conductors::cuts;
use super::shared::{name_and_place, passes, places_of};
use crate::build::{Build, Circuit, Task};
use crate::compute::network::Electrical;
use crate::compute::wording::{Reader, wired};
use crate::documents::facts::{Voice, show};
use crate::kinds::{Reading, Stage};
use crate::spec::TaskSection;
use serde::Serialize;

/// A hidden part.
#[derive(Clone, Debug, Serialize)]
pub struct Hidden {
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// Where it is.
    pub place: String,
    /// All else that tells where it is: what, and what is written of it.
    pub more: Vec<[String; 2]>,
    /// The cables to it.
    pub cables: Vec<Cable>,
    /// Tasks of the spec itself about it, whose texts are told to who does them alone.
    #[serde(skip)]
    pub work: Vec<Work>,
    /// Stages in which it is fitted or wired.
    #[serde(skip)]
    pub stages: Vec<Stage>,
}

/// A task of the spec itself about a hidden part.
#[derive(Clone, Debug)]
pub struct Work {
    /// Id.
    pub id: String,
    /// Its stage.
    pub stage: Stage,
    /// Its texts.
    pub section: TaskSection,
    /// Where it is done, where that is not the place of its part.
    pub place: String,
    /// Its readings.
    pub readings: Vec<Reading>,
}

/// A cable to a hidden part.
#[derive(Clone, Debug, Serialize)]
pub struct Cable {
    /// Label.
    pub label: String,
    /// Start.
    pub from: String,
    /// End.
    pub to: String,
    /// Places it passes.
    pub route: String,
    /// One-way length of the route, "" where it is not given.
    pub run: String,
    /// Pieces and length of each, "" where it is to be measured.
    pub cut: String,
    /// How far from its source its fuse is, "" where it is not given.
    pub fuse_at: String,
}

/// The hidden parts of a build.
#[must_use]
pub(crate) fn of(build: &Build<'_>, electrical: &Electrical) -> Vec<Hidden> {
    let prints = build.prints();
    let secret = build.parts.values().filter(|p| p.confidential);
    let of_part = |part: &crate::build::Part<'_>| {
        let at = |(c, _): &&(&Circuit, _)| c.from == part.id || c.to == part.id;
        let circuits: Vec<_> = wired(build, electrical).collect();
        let cables: Vec<Cable> = circuits
            .iter()
            .filter(at)
            .map(|(circuit, _)| Cable {
                label: circuit.id.clone(),
                from: name_and_place(build, &circuit.from, Reader::Shop),
                to: name_and_place(build, &circuit.to, Reader::Shop),
                route: passes(build, circuit),
                run: circuit.run.map_or_else(String::new, |r| r.show(prints)),
                cut: cuts(build, electrical, circuit, prints),
                fuse_at: circuit.protection_at.map_or_else(String::new, |d| d.show(prints)),
            })
            .collect();
        let told = build.confidential(part).into_iter();
        let more = told.filter(|(name, _)| !["place", "places"].contains(name));
        let tests = |s: Stage| matches!(s, Stage::Commissioning | Stage::Handover);
        let mut stages: Vec<Stage> = build.tasks_of(&part.id).map(|t| t.stage).filter(|s| !tests(*s)).collect();
        let works = |c: &&Circuit| (c.from == part.id || c.to == part.id) && build.is_worked_on(c);
        if build.circuits.values().any(|c| works(&c)) {
            stages.extend([Stage::ElectricalRoughIn, Stage::ElectricalFitOff]);
        }
        let work: Vec<Work> = build.confidential_tasks(part).filter_map(|task| work(build, task)).collect();
        // Such a task needs its box wherever it stands.
        stages.extend(work.iter().map(|w| w.stage));
        Hidden {
            name: part.name.clone(),
            id: part.id.clone(),
            place: places_of(build, part),
            more: more.map(|(name, e)| [name.replace('_', " "), show(build, &e.value, Voice::Shop)]).collect(),
            cables,
            work,
            stages,
        }
    };
    secret.map(of_part).collect()
}

fn work(build: &Build<'_>, task: &Task<'_>) -> Option<Work> {
    let section = build.own_tasks.get(&task.id)?.clone();
    let place = section.place.first().map(|id| build.place_name(id));
    Some(Work {
        id: task.id.clone(),
        stage: task.stage,
        place: place.unwrap_or_default(),
        readings: task.readings.clone(),
        section,
    })
}
