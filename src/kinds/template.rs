//! The form of a kind file.

use super::claim::Claim;
use super::{
    AirBlock, Condition, Electric, EnergyUse, Envelope, Evidence, Lead, Load, MechanicsBlock, Plumbing, Post, Reading,
    Safety, Thermal, Torque,
};
use crate::fields::{Declarations, Record};
use crate::source::Span;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

macro_rules! worded {
    ($(#[$doc:meta])* $name:ident { $($variant:ident $word:literal $title:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
        pub enum $name { $(#[doc = $title] #[serde(rename = $word)] $variant,)* }
        impl $name {
            /// All, in the order of documents.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];
            /// Id in files.
            #[must_use]
            pub const fn id(self) -> &'static str { match self { $(Self::$variant => $word,)* } }
            /// Title in documents.
            #[must_use]
            pub const fn title(self) -> &'static str { match self { $(Self::$variant => $title,)* } }
            /// The one with this id.
            #[must_use]
            pub fn from_id(id: &str) -> Option<Self> { Self::ALL.iter().copied().find(|s| s.id() == id) }
        }
    };
}

worded! {
    /// Stages of a build, in order.
    Stage {
        Intake "intake" "Intake",
        Openings "openings" "Openings and metalwork",
        Insulation "insulation" "Sound and thermal insulation",
        ElectricalRoughIn "electrical-rough-in" "Electrical rough-in",
        PlumbingRoughIn "plumbing-rough-in" "Plumbing, gas and duct rough-in",
        FloorWallsCeiling "floor-walls-ceiling" "Floor, walls, ceiling",
        Furniture "furniture" "Cabinetry and furniture",
        ElectricalFitOff "electrical-fit-off" "Electrical fit-off",
        PlumbingFitOff "plumbing-fit-off" "Plumbing and appliance fit-off",
        Exterior "exterior" "Exterior fit",
        Commissioning "commissioning" "Commissioning",
        Handover "handover" "Handover",
    }
}

worded! {
    /// Systems of a van, in the order of documents.
    System {
        EnergyStorage "energy-storage" "Energy storage",
        Charging "charging" "Charging",
        Ac "ac" "AC power",
        DcDistribution "dc-distribution" "DC distribution",
        Lighting "lighting" "Lighting",
        ExteriorLighting "exterior-lighting" "Exterior lighting",
        Outlets "outlets" "Outlets",
        ControlPanel "control-panel" "Control panel",
        Water "water" "Water",
        FreezeProtection "freeze-protection" "Freeze protection",
        Climate "climate" "Heating, cooling and air",
        Galley "galley" "Galley and appliances",
        Lpg "lpg" "LPG",
        Body "body" "Body and exterior",
        Furniture "furniture" "Furniture",
        Storage "storage" "Storage",
        People "people" "People and animals",
        Connectivity "connectivity" "Connectivity",
        Safety "safety" "Safety gear",
    }
}

worded! {
    /// Signal words (ANSI Z535.6 grammar).
    Signal {
        Danger "danger" "DANGER",
        Warning "warning" "WARNING",
        Caution "caution" "CAUTION",
        Notice "notice" "NOTICE",
    }
}

worded! {
    /// What a thing is looked for in an emergency: its sign on the emergency map.
    EmergencyMark {
        PowerOff "power-off" "Power off",
        GasOff "gas-off" "Gas off",
        WaterOff "water-off" "Water off",
        FuelOff "fuel-off" "Fuel off",
        Extinguisher "extinguisher" "Fire extinguisher",
        FireBlanket "fire-blanket" "Fire blanket",
        FirstAid "first-aid" "First aid",
        Exit "exit" "Way out",
        Alarm "alarm" "Alarm",
    }
}

/// One component kind.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kind {
    /// Its id: the stem of its file.
    #[serde(skip)]
    pub id: String,
    /// Ids of the kinds that it is like, the nearest first.
    #[serde(skip)]
    pub like: Vec<String>,
    /// What a person calls one.
    pub name: String,
    /// System it belongs to.
    pub system: System,
    /// One line for `rigbinder kinds`.
    pub summary: String,
    /// What people call one, for those who look for it.
    pub also: Vec<String>,
    /// One carries a serial number, which handover asks for.
    #[serde(default)]
    pub serial: bool,
    /// It is a thing to order; work on the vehicle or a space in it is none.
    #[serde(default = "yes")]
    pub bought: bool,
    /// Its own fields.
    #[serde(default)]
    pub fields: Declarations,
    /// Tables of the roles it claims, as the file has them; empty once they are read.
    #[serde(default, rename = "role")]
    pub(super) claims: IndexMap<String, toml::Table>,
    /// Choice field that says which system a part belongs to, where parts of the kind belong to several.
    #[serde(default)]
    pub(super) system_from: Option<String>,
    /// Ids of its roles.
    #[serde(skip)]
    pub roles: Vec<&'static str>,
    /// Roles that a part plays or not, or plays by settings that differ, as its fields say.
    #[serde(skip)]
    pub(super) may: Vec<Claim>,
    /// Fields of roles alone that a part does not play.
    #[serde(skip)]
    pub(super) idle: Vec<String>,
    /// What the spec says of a part in texts of its own: facts by name.
    #[serde(skip)]
    pub said: Vec<(String, String)>,
    /// What its parts are told by together: its id, or what stands for a part that is told by itself.
    #[serde(skip)]
    pub group: String,
    /// Part in an electrical network.
    #[serde(skip)]
    pub electric: Option<Electric>,
    /// Where conductors end on it.
    #[serde(default)]
    pub posts: Vec<Post>,
    /// What it needs beside its supply and return.
    #[serde(default)]
    pub leads: Vec<Lead>,
    /// When it uses energy, and what its use follows.
    #[serde(skip)]
    pub energy: EnergyUse,
    /// Part in the water system.
    #[serde(skip)]
    pub plumbing: Option<Plumbing>,
    /// Part in heating and cooling.
    #[serde(skip)]
    pub thermal: Option<Thermal>,
    /// Part in life safety.
    #[serde(skip)]
    pub safety: Option<Safety>,
    /// Paper that answers for it, since nothing here computes what it must withstand.
    #[serde(skip)]
    pub evidence: Option<Evidence>,
    /// What it weighs, holds and is rated for.
    #[serde(skip)]
    pub load: Option<Load>,
    /// How far it stands out, its size, what it sweeps.
    #[serde(skip)]
    pub envelope: Option<Envelope>,
    /// Part in holding things.
    #[serde(skip)]
    pub mechanics: Option<MechanicsBlock>,
    /// Part in compressed air.
    #[serde(skip)]
    pub air: Option<AirBlock>,
    /// What technicians do.
    #[serde(default, rename = "task")]
    pub tasks: Vec<TaskTemplate>,
    /// What keeps it well.
    #[serde(default)]
    pub upkeep: Vec<UpkeepTemplate>,
    /// Texts of the owner's manual.
    pub owner: OwnerTexts,
}

impl Kind {
    /// Its id, then those of the kinds it is like.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        std::iter::once(&self.id).chain(&self.like).map(String::as_str)
    }
}

/// A safety message; stands before the step.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Signal word.
    pub signal: Signal,
    /// What the hazard is.
    pub hazard: String,
    /// What can happen.
    pub consequence: String,
    /// How to avoid it.
    pub avoid: String,
}

/// A hole to cut.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct CutOut {
    /// Which hole.
    pub what: String,
    /// Its size.
    pub size: String,
}

/// A task of a technician.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TaskTemplate {
    /// Id, unique in the kind.
    pub id: String,
    /// Stage it belongs to.
    pub stage: Stage,
    /// Imperative title.
    pub title: String,
    /// Working time of one person.
    pub minutes: u32,
    /// Hands needed at once.
    #[serde(default = "one")]
    pub people: u32,
    /// States that must be so before it begins, by their addresses (`Need`).
    #[serde(default)]
    pub needs: Vec<String>,
    /// States that it brings.
    #[serde(default)]
    pub brings: Vec<String>,
    /// Tools.
    #[serde(default)]
    pub tools: Vec<String>,
    /// Safety messages before the steps.
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// Holes.
    #[serde(default)]
    pub cut_outs: Vec<CutOut>,
    /// Steps, one action each.
    #[serde(default)]
    pub steps: Vec<String>,
    /// Torques.
    #[serde(default)]
    pub torque: Vec<Torque>,
    /// Hold point: work stops until someone signs.
    #[serde(default)]
    pub hold: Option<String>,
    /// Readings that prove the hold point; left out, all of the task.
    #[serde(default)]
    pub proof: Vec<String>,
    /// Readings; `readings_of` gives those that a component takes.
    #[serde(default)]
    pub readings: Vec<Reading>,
    /// The hold point stands before the steps, not after them.
    #[serde(default)]
    pub hold_first: bool,
    /// What must be so for the task to exist.
    #[serde(default)]
    pub when: Option<Condition>,
}

impl TaskTemplate {
    /// Whether it brings a state.
    #[must_use]
    pub fn brings(&self, state: &str) -> bool {
        self.brings.iter().any(|s| s == state)
    }

    /// Whether one of its readings proves its hold point.
    #[must_use]
    pub fn is_proof(&self, reading: &Reading) -> bool {
        self.proof.is_empty() || self.proof.contains(&reading.id)
    }

    /// The readings that a component with these fields takes.
    pub fn readings_of<'a>(&'a self, record: &'a Record) -> impl Iterator<Item = &'a Reading> {
        self.readings.iter().filter(|r| Condition::lets(r.when.as_ref(), record))
    }
}

const fn one() -> u32 {
    1
}

/// What only upkeep of a spec itself has.
#[derive(Clone, Debug, Default)]
pub struct OwnUpkeep {
    /// Id of the place where it is done, where that is not the place of its component.
    pub place: Option<String>,
    /// Its texts by the names under which the facts have them.
    pub said: Vec<(String, String)>,
    /// Where the spec has it.
    pub span: Span,
}

/// A piece of upkeep.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UpkeepTemplate {
    /// Id, unique in the kind.
    pub id: String,
    /// Imperative title.
    pub title: String,
    /// Calendar interval.
    #[serde(default)]
    pub every: Option<String>,
    /// A single time, that long after handover.
    #[serde(default)]
    pub once: Option<String>,
    /// Season instead of an interval.
    #[serde(default)]
    pub season: Option<String>,
    /// Life until replacement, instead of an interval.
    #[serde(default)]
    pub replace: Option<String>,
    /// Distance that may come first.
    #[serde(default)]
    pub distance: Option<String>,
    /// Running hours that may come first.
    #[serde(default)]
    pub hours: Option<String>,
    /// `owner` or `service`.
    pub by: String,
    /// Working time.
    pub minutes: u32,
    /// Steps.
    #[serde(default)]
    pub steps: Vec<String>,
    /// Safety messages.
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// What must be so for it to exist.
    #[serde(default)]
    pub when: Option<Condition>,
    /// Upkeep of the spec itself.
    #[serde(skip)]
    pub own: Option<OwnUpkeep>,
}

impl Kind {
    /// Whether the texts of the whole van mean its parts by `word`: the id of a role it claims, or a word of its own.
    #[must_use]
    pub fn is_called(&self, word: &str) -> bool {
        self.roles.contains(&word) || self.owner.called.iter().any(|own| own == word)
    }
}

/// A step on a list of the whole van.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlacedStep {
    /// Its order on the list.
    pub place: u32,
    /// What to do.
    pub step: String,
}

/// A row of the table of what to shut off.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShutOff {
    /// Its order in the table.
    pub place: u32,
    /// What stops.
    pub what: String,
    /// How.
    pub how: String,
}

/// What is done with a part before the van is stored, and what undoes it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Storing {
    /// Its order: every source before what uses energy, the main switch last; backwards when the van is woken.
    pub place: u32,
    /// What is done; "" for nothing.
    #[serde(default)]
    pub step: String,
    /// What undoes it; "" for nothing.
    #[serde(default)]
    pub back: String,
}

/// Texts for the owner.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnerTexts {
    /// What it is.
    pub what: String,
    /// Words by which the texts of the whole van mean it, beside the ids of its roles.
    #[serde(default)]
    pub called: Vec<String>,
    /// What it shuts off, and how.
    #[serde(default)]
    pub shut_off: Option<ShutOff>,
    /// What is done with it on the first day aboard.
    #[serde(default)]
    pub first_day: Option<PlacedStep>,
    /// What is done with it on arriving.
    #[serde(default)]
    pub arrival: Option<PlacedStep>,
    /// What is done with it before the van is stored.
    #[serde(default)]
    pub storing: Option<Storing>,
    /// Order of its work before the first frost: heat and water off first, then from the tank outwards. Left out, it
    /// comes after those, and antifreeze after all.
    #[serde(default)]
    pub frost: Option<u32>,
    /// It is shown and tried on the walk round the van at handover: somebody works it, and it can be worked there.
    #[serde(default = "yes")]
    pub walk: bool,
    /// What is said and shown there instead of the first steps of its use: of what may only be used in danger.
    #[serde(default)]
    pub show: Vec<String>,
    /// Safety messages before its use.
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// How to use it.
    #[serde(default, rename = "use")]
    pub usage: Vec<String>,
    /// Normal readings and behaviour.
    #[serde(default)]
    pub normal: Vec<String>,
    /// Limits.
    #[serde(default)]
    pub limits: Vec<String>,
    /// What to do when it does not work.
    #[serde(default)]
    pub trouble: Vec<Trouble>,
    /// What to do at once in danger.
    #[serde(default)]
    pub emergency: Vec<Trouble>,
    /// Texts field whose texts stand before those of `use`.
    #[serde(default)]
    pub(super) use_from: Option<String>,
    /// Texts field whose texts stand before those of `normal`.
    #[serde(default)]
    pub(super) normal_from: Option<String>,
    /// Texts field whose texts stand before those of `limits`.
    #[serde(default)]
    pub(super) limits_from: Option<String>,
    /// Field with troubles that stand before those of `trouble`.
    #[serde(default)]
    pub(super) trouble_from: Option<String>,
    /// Its sign on the emergency map. A load is looked for where it is switched: at the panel that feeds it.
    #[serde(default)]
    pub emergency_map: Option<EmergencyMark>,
}

const fn yes() -> bool {
    true
}

/// A symptom and what to do.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Trouble {
    /// What the owner notices.
    pub symptom: String,
    /// What to do, in order.
    #[serde(rename = "do")]
    pub actions: Vec<String>,
}
