//! The form of a kind file.

use super::claim::Claim;
use super::cures::Cures;
use super::{
    AirBlock, Caution, Condition, Electric, EnergyUse, Envelope, Evidence, HandoverSet, Lead, Load, MechanicsBlock,
    OwnerTexts, Plumbing, Post, Proof, Proving, Reading, Safety, Share, Signer, Stage, System, Thermal, Torque,
};
use crate::fields::{Declarations, Record};
use crate::source::Span;
use indexmap::IndexMap;
use serde::{Deserialize, Deserializer};

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
    /// One carries a serial number: in which set handover asks for it.
    #[serde(default, deserialize_with = "serial")]
    pub serial: Option<HandoverSet>,
    /// It is a thing to order; work on the vehicle or a space in it is none.
    #[serde(default = "super::owner::yes")]
    pub bought: bool,
    /// Its own fields.
    #[serde(default)]
    pub fields: Declarations,
    /// Tables of the roles it claims, as the file has them; empty once they are read.
    #[serde(default, rename = "role")]
    pub(super) claims: IndexMap<String, toml::Table>,
    /// Tables of the roles of which a part has several, as the file has them; empty once they are read into fields.
    #[serde(default, rename = "has")]
    pub(super) several: IndexMap<String, toml::Table>,
    /// Ids of the roles of which a part has several, each a field of that name.
    #[serde(skip)]
    pub has: Vec<&'static str>,
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
    /// Its shares in what is told once for the van.
    #[serde(default, rename = "procedure")]
    pub procedures: Vec<Share>,
    /// What keeps it well.
    #[serde(default)]
    pub upkeep: Vec<UpkeepTemplate>,
    /// Texts of the owner's manual.
    pub owner: OwnerTexts,
}

impl Kind {
    /// Its share in a procedure.
    #[must_use]
    pub fn share(&self, of: &str) -> Option<&Share> {
        self.procedures.iter().find(|share| share.of == of)
    }

    /// Its id, then those of the kinds it is like.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        std::iter::once(&self.id).chain(&self.like).map(String::as_str)
    }
}

/// A hole to cut.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutOut {
    /// Which hole.
    pub what: String,
    /// Its size.
    pub size: String,
    /// What of the vehicle's skin it goes through; left out where it goes through none.
    #[serde(default)]
    pub through: Option<Through>,
    /// Where it may be: read by whoever lays it out.
    #[serde(default)]
    pub mark: Option<String>,
    /// Field that says how many there are; left out: one.
    #[serde(default)]
    pub each: Option<String>,
    /// What of the build says how many holes it is, where that is no field.
    #[serde(default)]
    pub per: Option<Tally>,
    /// Field with the place that it is at, where that is not the part's own.
    #[serde(default)]
    pub place_from: Option<String>,
    /// Choice field that names the side, where the part has one.
    #[serde(default)]
    pub side_from: Option<String>,
    /// What must be so for it to be cut.
    #[serde(default)]
    pub when: Option<Condition>,
}

/// What of a build says how many of a thing there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tally {
    /// Circuits of water that a drain valve empties.
    DrainCircuits,
    /// Those beyond the first.
    FurtherDrainCircuits,
    /// One where a run of pipe begins at a part that another run of the same water leaves already.
    Branches,
}

/// A small part that a task uses up: a boot, a diode.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// What it is.
    pub what: String,
    /// How many for each part.
    #[serde(default = "one_each")]
    pub count: usize,
    /// Field that names parts: so many times as it names parts beyond the first.
    #[serde(default)]
    pub beyond_one: Option<String>,
    /// What of the build says how many times.
    #[serde(default)]
    pub per: Option<Tally>,
    /// What must be so for it to be taken.
    #[serde(default)]
    pub when: Option<Condition>,
}

impl Taken {
    /// How many one component with these fields takes.
    #[must_use]
    pub fn many(&self, record: &Record) -> usize {
        let beyond = self.beyond_one.as_ref().map(|field| record.list(field).len().saturating_sub(1));
        self.count.saturating_mul(beyond.unwrap_or(1))
    }
}

const fn one_each() -> usize {
    1
}

/// What of the vehicle's skin an opening goes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Through {
    /// What is nearest to the place of the part.
    Skin,
    /// The side of the body that is nearer.
    Side,
    /// The roof.
    Roof,
    /// The floor.
    Floor,
}

/// A task of a technician.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TaskTemplate {
    /// Id, unique in the kind.
    pub id: String,
    /// Stage it belongs to: the earliest one.
    pub stage: Stage,
    /// Stage that it may slip to.
    #[serde(default)]
    pub latest: Option<Stage>,
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
    /// How long it cures before that is so.
    #[serde(default)]
    pub cures: Option<Cures>,
    /// Tools.
    #[serde(default)]
    pub tools: Vec<String>,
    /// Safety messages before the steps.
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// Small parts that it uses up and that are no part of the van by themselves.
    #[serde(default)]
    pub takes: Vec<Taken>,
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
    /// Who may sign it.
    #[serde(default = "technician")]
    pub signs: Signer,
    /// What proves the hold point.
    #[serde(default)]
    pub proof: Proof,
    /// The hold point is one that safety, law or warranty asks for.
    #[serde(default = "super::owner::yes")]
    pub essential: bool,
    /// Readings; `readings_of` gives those that a component takes.
    #[serde(default)]
    pub readings: Vec<Reading>,
    /// The hold point stands before the steps, not after them.
    #[serde(default)]
    pub hold_first: bool,
    /// What must be so for the task to exist.
    #[serde(default)]
    pub when: Option<Condition>,
    /// Which parts that stay as they were have it; left out: none.
    #[serde(default)]
    pub there: Option<There>,
}

/// Which parts that a job leaves as they were have a task all the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum There {
    /// All of them, as a new one has it.
    Kept,
    /// Those whose current comes by what this job fits, as a new one has it.
    Fed,
    /// All of them, and no new one.
    OnlyKept,
    /// Those whose current comes by what this job fits, and no new one.
    OnlyFed,
}

impl There {
    /// Whether new parts have the task as well.
    #[must_use]
    pub const fn is_of_new(self) -> bool {
        matches!(self, Self::Kept | Self::Fed)
    }

    /// Whether a part that stays has it, where its current comes by what this job fits or not.
    #[must_use]
    pub const fn is_of_kept(self, fed: bool) -> bool {
        fed || matches!(self, Self::Kept | Self::OnlyKept)
    }
}

impl TaskTemplate {
    /// Whether it brings a state.
    #[must_use]
    pub fn brings(&self, state: &str) -> bool {
        self.brings.iter().any(|s| s == state)
    }

    /// Who signs its hold point, where that is not the technician who did the work.
    #[must_use]
    pub fn other_signer(&self) -> Option<Signer> {
        (self.hold.is_some() && self.signs != Signer::Technician).then_some(self.signs)
    }

    /// Whether it may cut through the vehicle's skin.
    #[must_use]
    pub fn cuts_skin(&self) -> bool {
        self.cut_outs.iter().any(|cut| cut.through.is_some())
    }

    /// The small parts that it uses up for a component with these fields.
    pub fn takes_of<'a>(&'a self, record: &'a Record) -> impl Iterator<Item = &'a Taken> {
        self.takes.iter().filter(|taken| Condition::lets(taken.when.as_ref(), record))
    }

    /// The openings that are cut for a component with these fields.
    pub fn cut_outs_of<'a>(&'a self, record: &'a Record) -> impl Iterator<Item = &'a CutOut> {
        self.cut_outs.iter().filter(|cut| Condition::lets(cut.when.as_ref(), record))
    }

    /// The readings that a component with these fields may take; `Build::readings_of` looks at its circuits too.
    pub fn readings_of<'a>(&'a self, record: &'a Record) -> impl Iterator<Item = &'a Reading> {
        self.readings.iter().filter(|r| Condition::lets(r.when.as_ref(), record))
    }
}

const fn one() -> u32 {
    1
}

/// `serial`: one of the sets, or `false` where a kind that another is like has one.
fn serial<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<HandoverSet>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Written {
        Set(HandoverSet),
        Flag(bool),
    }
    match Written::deserialize(deserializer) {
        Ok(Written::Set(set)) => Ok(Some(set)),
        Ok(Written::Flag(false)) => Ok(None),
        _ => Err(serde::de::Error::custom(
            "`serial` is \"essential\" or \"full\": the set in which handover asks for it",
        )),
    }
}

const fn technician() -> Signer {
    Signer::Technician
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
    /// Safety, warranty or law ask for it; all else is good for the thing.
    #[serde(default)]
    pub essential: bool,
    /// Working time.
    pub minutes: u32,
    /// Procedure whose share of this kind has its steps, cautions and condition, where it says none itself.
    #[serde(default)]
    pub procedure: Option<String>,
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
    /// The row of one of its tasks that counts for a post on a screw or stud of that thread, "" where it is not known.
    #[must_use]
    pub fn torque_of(&self, post: &Post, thread: &str) -> Option<&Torque> {
        let named = |what: &str| match &post.fastener {
            Some(fastener) => what == fastener,
            None => !thread.is_empty() && what.split(' ').next() == Some(thread),
        };
        self.tasks.iter().flat_map(|task| &task.torque).find(|row| named(&row.what))
    }
}

impl Kind {
    /// Whether the texts of the whole van mean its parts by `word`: the id of a role it claims, or a word of its own.
    #[must_use]
    pub fn is_called(&self, word: &str) -> bool {
        self.roles.contains(&word) || self.owner.called.iter().any(|own| own == word)
    }
}

impl Kind {
    /// What an entry of `proof` means: a reading of the kind before all else.
    #[must_use]
    pub fn proving<'t>(&self, entry: &'t str) -> Proving<'t> {
        if self.tasks.iter().flat_map(|t| &t.readings).any(|r| r.id == entry) {
            Proving::Reading(entry)
        } else if entry == super::proof::DEAD_TESTS {
            Proving::DeadTests
        } else {
            Proving::State(super::Need::read(entry))
        }
    }
}
