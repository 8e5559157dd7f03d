//! The expanded build: components joined with their kinds, circuits between them, tasks and upkeep they bring.

mod bringers;
mod dc_networks;
mod findings;
mod guessed;
mod holds;
mod leaving;
mod lines;
mod lookup;
mod mains;
mod masses;
mod network;
mod part;
mod plumbing;
mod reach;
mod riding;
mod scope;
mod shares;
mod site;
mod task;
mod tasks;
mod told;
mod upkeep;
mod walk;
mod wiring;
mod worked_on;

pub use dc_networks::{DcNetwork, settle, system};
pub use findings::BUILD_FINDINGS;
pub use guessed::reckon_worse;
pub use holds::{Hold, Proved};
pub use lines::Lines;
pub use masses::{Holding, Limit, Masses};
pub use network::{Circuit, End, Feeding, Ways};
pub use part::{Inner, Part};
pub use reach::{Opening, Reach};
pub use scope::Scope;
pub use shares::share_of_parts;
pub use site::Site;
pub use task::{After, Every, ONE_LIFTS, Task};
pub use upkeep::{Upkeep, VAN};
pub use walk::Walk;
pub use wiring::{
    Conductor, Landing, Purpose, REACH, Route, RouteBy, Spot, VEHICLE, Wiring, has_negative, returns_by_other_side,
};
pub use worked_on::ASSUMED;

use crate::diag::Sink;
use crate::fields::Record;
use crate::kinds::{HandoverSet, Library};
use crate::roles::Device;
use crate::spec::{
    BuildSection, Channel, Climate, Goals, PlaceSection, Spec, StageSection, Surface, TaskSection, Usage, Vehicle,
    Weights,
};
use crate::units::System;
use indexmap::IndexMap;
use serde::Serialize;

/// An expanded build.
#[derive(Clone, Debug, Serialize)]
pub struct Build<'k> {
    /// The spec it comes from.
    #[serde(skip)]
    pub spec: &'k Spec,
    /// `[build]`.
    #[serde(skip)]
    pub about: BuildSection,
    /// `[vehicle]`.
    #[serde(skip)]
    pub vehicle: Vehicle,
    /// `[use]`.
    #[serde(skip)]
    pub usage: Usage,
    /// What the van must do.
    #[serde(skip)]
    pub goals: Goals,
    /// `[use] devices`, each by its id.
    #[serde(skip)]
    pub devices: IndexMap<String, Device>,
    /// `[climate.<season>]` by its name.
    #[serde(skip)]
    pub climates: IndexMap<String, Climate>,
    /// `[shell.<surface>]` by its name.
    #[serde(skip)]
    pub shell: IndexMap<String, Surface>,
    /// `[place.<id>]` by its id.
    #[serde(skip)]
    pub places: IndexMap<String, PlaceSection>,
    /// `[channel.<id>]` by its id.
    #[serde(skip)]
    pub channels: IndexMap<String, Channel>,
    /// `[stage.<id>]` by its id.
    #[serde(skip)]
    pub stages: IndexMap<String, StageSection>,
    /// `[task.<id>]` by its id.
    #[serde(skip)]
    pub own_tasks: IndexMap<String, TaskSection>,
    /// What happened on site.
    #[serde(skip)]
    pub site: Site,
    /// The van as a whole, for what is about no part.
    #[serde(skip)]
    van: Option<Part<'k>>,
    /// `[recorded.weights]`.
    #[serde(skip)]
    pub weights: Weights,
    /// Components by id, in the order of the spec.
    pub parts: IndexMap<String, Part<'k>>,
    /// Components that come out, by id: they are in no list of the van, no computation and no drawing.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    pub removed: IndexMap<String, Part<'k>>,
    /// Electrical circuits, feeders before what they feed.
    pub circuits: IndexMap<String, Circuit>,
    /// Conductors with their two ends.
    pub wiring: Wiring,
    /// Places of `circuits` by the part they leave and by the part they arrive at.
    #[serde(skip)]
    ends: network::Ends,
    /// DC networks by the parts that give their current on.
    #[serde(skip)]
    dc: dc_networks::DcNetworks,
    /// The parts that two lines of AC reach.
    #[serde(skip)]
    two_lines: lines::TwoLines,
    /// What is asked for part by part.
    #[serde(skip)]
    lookup: lookup::Lookup,
    /// Tasks of technicians, by id.
    pub tasks: IndexMap<String, Task<'k>>,
    /// Hold points, by the ids of their tasks.
    #[serde(skip)]
    pub holds: IndexMap<String, Hold>,
    /// Upkeep, by id.
    pub upkeep: IndexMap<String, Upkeep<'k>>,
}

impl<'k> Build<'k> {
    /// Joins a spec with its kinds. Faults of structure go to `sink`; what is at fault is left out and the rest goes on.
    #[must_use]
    pub fn expand(spec: &'k Spec, library: &'k Library, sink: &mut Sink) -> Self {
        Self::expand_after(spec, library, &Ways::new(), sink)
    }

    /// The same, with circuits kept on the ways they had in an earlier revision.
    #[must_use]
    pub fn expand_after(spec: &'k Spec, library: &'k Library, earlier: &Ways, sink: &mut Sink) -> Self {
        let (mut parts, mut removed) = part::parts(spec, library);
        riding::join(&mut parts);
        told::mark_parts(&mut parts, &mut removed);
        let mut circuits = network::circuits(&parts, earlier, sink);
        told::mark_circuits(&mut circuits, &parts);
        worked_on::mark_fed(&mut parts, &circuits);
        let (tasks, holds) = {
            let leaving = leaving::Leaving { parts: &removed, removal: &library.removal };
            tasks::tasks(spec, &parts, &leaving, &library.states, sink)
        };
        let upkeep = upkeep::upkeep(spec, &parts, sink);
        let ends = network::Ends::of(&circuits);
        let dc = dc_networks::DcNetworks::of(&parts, &circuits);
        let two_lines = lines::TwoLines::of(&parts, &circuits);
        let lookup = lookup::Lookup::of(&parts, &tasks, &upkeep);
        let mut build = Self {
            spec,
            about: BuildSection::of(&spec.build),
            vehicle: Vehicle::of(&spec.vehicle),
            usage: Usage::of(&spec.usage),
            goals: Goals::of(&spec.goals),
            devices: spec.usage.parts("devices").iter().map(|(id, own)| (id.value.clone(), Device::of(own))).collect(),
            climates: each(&spec.climates, Climate::of),
            shell: each(&spec.shell, Surface::of),
            places: each(&spec.places, PlaceSection::of),
            channels: each(&spec.channels, Channel::of),
            stages: each(&spec.stages, StageSection::of),
            own_tasks: each(&spec.tasks, TaskSection::of),
            site: Site::of(spec),
            van: upkeep::van(library),
            weights: Weights::of(&spec.recorded.weights),
            parts,
            removed,
            circuits,
            wiring: Wiring::default(),
            ends,
            dc,
            two_lines,
            lookup,
            tasks,
            holds,
            upkeep,
        };
        build.wire();
        build
    }

    /// Makes the list of conductors, and what it tells of the circuits: runs along channels.
    fn wire(&mut self) {
        self.wiring = Wiring::of(self);
        for (id, run) in wiring::runs_of_circuits(self) {
            if let Some(circuit) = self.circuits.get_mut(&id) {
                circuit.run = Some(run);
            }
        }
    }

    /// Unit system of the documents.
    #[must_use]
    pub fn prints(&self) -> System {
        if self.about.prints.is("us") { System::Us } else { System::Metric }
    }

    /// What handover asks for.
    #[must_use]
    pub fn handover_set(&self) -> HandoverSet {
        self.about.handover_set.text().and_then(HandoverSet::from_id).unwrap_or(HandoverSet::Full)
    }

    /// The circuits that leave `part`.
    pub fn leaving<'a>(&'a self, part: &str) -> impl Iterator<Item = &'a Circuit> + use<'a, 'k> {
        self.ends.leaving(part).filter_map(|i| self.circuits.get_index(i)).map(|(_, c)| c)
    }

    /// The circuits that arrive at `part`.
    pub fn arriving<'a>(&'a self, part: &str) -> impl Iterator<Item = &'a Circuit> + use<'a, 'k> {
        self.ends.arriving(part).filter_map(|i| self.circuits.get_index(i)).map(|(_, c)| c)
    }

    /// The DC network of a circuit; where nothing feeds it, that of the first bank.
    #[must_use]
    pub fn dc_network(&self, circuit: &Circuit) -> DcNetwork {
        self.dc.of_circuit(circuit)
    }

    /// The DC network of a circuit, where something feeds it.
    #[must_use]
    pub fn known_dc_network(&self, circuit: &Circuit) -> Option<DcNetwork> {
        self.dc.known(circuit)
    }

    /// The DC network that a part stands in: what it gives its current on to, else what feeds it, else that of the first
    /// bank.
    #[must_use]
    pub fn dc_network_of(&self, part: &str) -> DcNetwork {
        let fed = || self.arriving(part).find_map(|c| self.dc.known(c));
        self.dc.given_by(part).or_else(fed).unwrap_or_else(|| self.dc.usual())
    }

    /// The DC network whose current leaves a part.
    #[must_use]
    pub fn dc_given_by(&self, part: &str) -> Option<DcNetwork> {
        self.dc.given_by(part)
    }

    /// Name of a part for people; the id where it is unknown.
    #[must_use]
    pub fn name<'a>(&'a self, id: &'a str) -> &'a str {
        self.bearer(id).map_or(id, |p| p.name.as_str())
    }

    /// The part of this id, also one that comes out, or the van as a whole where [`VAN`] stands for an id.
    #[must_use]
    pub fn bearer(&self, id: &str) -> Option<&Part<'k>> {
        self.parts.get(id).or_else(|| self.removed.get(id)).or_else(|| self.van.as_ref().filter(|van| van.id == id))
    }

    /// The upkeep of a part, or of the van as a whole, by its own id.
    #[must_use]
    pub fn upkeep_of(&self, part: &str, upkeep: &str) -> Option<&Upkeep<'k>> {
        self.upkeep.get(&format!("{part}.{upkeep}"))
    }

    /// Upkeep of the spec itself.
    pub fn own_upkeep(&self) -> impl Iterator<Item = &Upkeep<'k>> {
        self.upkeep.values().filter(|upkeep| upkeep.template.own.is_some())
    }

    /// Name of a place for people: its `about`, or its id with spaces.
    #[must_use]
    pub fn place_name(&self, id: &str) -> String {
        match self.places.get(id).and_then(|p| p.about.text()) {
            Some(about) if !about.trim().is_empty() => about.to_owned(),
            _ => id.replace('-', " "),
        }
    }

    /// How many pieces of upkeep of this build come from the same template of the same kind.
    #[must_use]
    pub fn alike(&self, upkeep: &Upkeep<'_>) -> usize {
        let kind = self.parts.get(&upkeep.part).map_or("", |p| p.kind.id.as_str());
        self.lookup.alike(kind, &upkeep.template.id)
    }

    /// The tasks that a part brings, in the order of its kind.
    pub fn tasks_of<'a>(&'a self, part: &str) -> impl Iterator<Item = &'a Task<'k>> + use<'a, 'k> {
        self.lookup.tasks(part).iter().filter_map(|place| self.tasks.get_index(*place)).map(|(_, task)| task)
    }

    /// The first part of that name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Part<'k>> {
        self.lookup.first_named(name).and_then(|place| self.parts.get_index(place)).map(|(_, part)| part)
    }

    /// The negative bar that carries the return of a panel or busbar.
    #[must_use]
    pub fn mirror_of(&self, part: &str) -> Option<&Part<'k>> {
        self.lookup.mirror(Some(part)).and_then(|place| self.parts.get_index(place)).map(|(_, part)| part)
    }

    /// The first negative bar of all.
    #[must_use]
    pub fn first_negative_bar(&self) -> Option<&Part<'k>> {
        self.lookup.mirror(None).and_then(|place| self.parts.get_index(place)).map(|(_, part)| part)
    }

    /// Whether a cable or component in `place` stands in the engine space.
    #[must_use]
    pub fn is_engine_space(&self, place: &str) -> bool {
        self.places.get(place).and_then(|p| p.zone.text()) == Some("engine-space")
    }

    /// Whether a cable that passes `place` lies within thermal insulation there.
    #[must_use]
    pub fn is_insulated(&self, place: &str) -> bool {
        self.places.get(place).is_some_and(|p| p.insulated.is_set())
    }
}

fn each<T>(records: &IndexMap<String, Record>, of: fn(&Record) -> T) -> IndexMap<String, T> {
    records.iter().map(|(id, record)| (id.clone(), of(record))).collect()
}
