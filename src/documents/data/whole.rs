//! Everything of a build resolved, for other programs: `data/build.json`. The types here are the format; its JSON Schema
//! is made from them, and its version rises when a field goes or changes its meaning.
//!
//! Quantities stand in the unit named beside them, in full precision. Maps and lists keep the order of the spec.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Serialize;

/// Version of the format.
pub(crate) const VERSION: u32 = 1;

/// Fields of a table of the spec by name, defaults filled in.
pub(crate) type Fields = IndexMap<String, Field>;

/// A camper van build, worked out.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = "rigbinder build", deny_unknown_fields)]
pub(crate) struct Whole {
    /// Version of this format.
    pub version: u32,
    /// Version of rigbinder that wrote it.
    pub rigbinder: String,
    /// Name of the rules in force.
    pub rules: String,
    /// `[build]`.
    pub build: Fields,
    /// `[vehicle]`.
    pub vehicle: Fields,
    /// `[use]`.
    #[serde(rename = "use")]
    pub usage: Fields,
    /// `[use.goals]`.
    pub goals: Fields,
    /// `[climate.<season>]`.
    pub climates: IndexMap<String, Fields>,
    /// `[shell.<surface>]`.
    pub shell: IndexMap<String, Fields>,
    /// `[place.<id>]`.
    pub places: IndexMap<String, Fields>,
    /// `[channel.<id>]`.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    #[schemars(default)]
    pub channels: IndexMap<String, Fields>,
    /// `[stage.<id>]`.
    pub stages: IndexMap<String, Fields>,
    /// `[contact.<id>]`.
    pub contacts: IndexMap<String, Fields>,
    /// Components by id.
    pub components: IndexMap<String, Component>,
    /// Components that come out of the van, by id; in none of the other lists.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    #[schemars(default)]
    pub removed: IndexMap<String, Component>,
    /// Circuits by label, feeders before what they feed.
    pub circuits: IndexMap<String, CircuitOut>,
    /// Panels, busbars and devices in line, by component.
    pub panels: IndexMap<String, PanelOut>,
    /// Cable to cut.
    pub cable: Vec<CableOut>,
    /// Fuses and breakers to have.
    pub fuses: Vec<FuseOut>,
    /// Tasks, in an order that can be worked through.
    pub tasks: Vec<TaskOut>,
    /// Upkeep by date; at the end what has none.
    pub upkeep: Vec<UpkeepOut>,
    /// Every computed figure, in the order computed.
    pub figures: Vec<FigureOut>,
    /// Load cases.
    pub weights: Vec<WeightOut>,
    /// Findings of this compile.
    pub findings: Vec<FindingOut>,
    /// What was recorded on the finished van.
    pub recorded: RecordedOut,
}

/// A value of the spec.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Field {
    /// The spec gave it; else a default stands in.
    pub given: bool,
    /// The value.
    pub value: FieldValue,
}

/// A value by its type.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub(crate) enum FieldValue {
    /// A quantity.
    Quantity(WrittenOut),
    /// Several quantities: three lengths.
    Quantities(Vec<WrittenOut>),
    /// Points of three lengths each.
    Points(Vec<Vec<WrittenOut>>),
    /// Money.
    Price(PriceOut),
    /// Ids or texts.
    List(Vec<String>),
    /// Small tables, such as safety messages.
    Rows(Vec<Fields>),
    /// What a part has several of, each by its id.
    Parts(IndexMap<String, Fields>),
    /// A word for each of some fields.
    Words(IndexMap<String, String>),
    /// Yes or no.
    Flag(bool),
    /// A whole number.
    Count(i64),
    /// A text, a word, a date (ISO 8601), a conductor size.
    Text(String),
}

/// A quantity of the spec.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct WrittenOut {
    /// In `unit`.
    pub value: f64,
    /// Unit; "1" for a share.
    pub unit: String,
    /// As the spec writes it.
    pub written: String,
}

/// An amount of money.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct PriceOut {
    /// ISO 4217 code.
    pub currency: String,
    /// In the currency's main unit.
    pub amount: f64,
}

/// A quantity, or a word where there is no number.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub(crate) enum AmountOut {
    /// A quantity.
    Of(QuantityOut),
    /// A word, such as a conductor size.
    Word(String),
}

/// A quantity.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct QuantityOut {
    /// In `unit`.
    pub value: f64,
    /// Unit; "1" for a share.
    pub unit: String,
}

/// A component.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Component {
    /// Id of its kind.
    pub kind: String,
    /// Id of its system.
    pub system: String,
    /// Name.
    pub name: String,
    /// How many alike.
    pub count: i64,
    /// Its place is told to the owner alone: `places` and the fields that would give it away are left out.
    pub secret: bool,
    /// Ids of its places.
    pub places: Vec<String>,
    /// Its fields.
    pub fields: Fields,
}

/// A circuit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct CircuitOut {
    /// Network: "house DC", "AC", "solar", "vehicle side".
    pub network: String,
    /// Component it leaves.
    pub from: String,
    /// Component it arrives at.
    pub to: String,
    /// Way of the panel it leaves.
    pub way: Option<u32>,
    /// Built by the vehicle's maker; the shop does not wire it.
    pub vehicle: bool,
    /// Nominal voltage, V.
    pub nominal_v: f64,
    /// Load, A.
    pub load_a: f64,
    /// Design current, A.
    pub design_a: f64,
    /// What protects it.
    pub protection: String,
    /// Rating of that, A.
    pub protection_a: Option<f64>,
    /// Conductor size; `null` where none fits.
    pub conductor: Option<String>,
    /// Cross-section, mm².
    pub section_mm2: Option<f64>,
    /// Ampacity where it lies, A.
    pub ampacity_a: Option<f64>,
    /// What governed the conductor.
    pub governed_by: Option<String>,
    /// One-way length, m.
    pub run_m: Option<f64>,
    /// Places the cable passes; empty for a circuit to a secret component.
    pub through: Vec<String>,
    /// Colours of its conductors.
    pub colours: String,
    /// Resistance of one conductor end to end at 20 °C, Ω.
    pub conductor_ohm: Option<f64>,
    /// The most that it may read, its ends included, Ω.
    pub conductor_ohm_most: Option<f64>,
    /// Voltage drop at the load, share of the nominal voltage.
    pub drop: Option<f64>,
    /// Limit of the drop.
    pub drop_limit: f64,
    /// Fault current where its device sits, A.
    pub fault_a: Option<f64>,
    /// Fault current its own device is credited with, A.
    pub breaks_a: Option<f64>,
    /// Whether its own device is shown to break it: "kept", "tested pair", "not proven", "over".
    pub breaking: Option<String>,
}

/// A panel, busbar or device in line.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct PanelOut {
    /// Largest lasting current, A.
    pub carried_a: f64,
    /// Rating, A.
    pub rating_a: Option<f64>,
    /// Ways in use.
    pub used: u32,
    /// Ways in all.
    pub ways: Option<u32>,
}

/// Pieces of cable of one size and kind.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct CableOut {
    /// Conductor size.
    pub size: String,
    /// What it is.
    pub conductor: String,
    /// Colour.
    pub colour: String,
    /// Pieces with a known length.
    pub pieces: usize,
    /// Length of them together, m.
    pub length_m: f64,
    /// Longest of them, m.
    pub longest_m: f64,
    /// Pieces to measure in the van.
    pub to_measure: usize,
}

/// Fuses or breakers of one rating.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct FuseOut {
    /// Device.
    pub device: String,
    /// How many are fitted.
    pub fitted: usize,
    /// Spares in the van.
    pub spare: usize,
}

/// A task.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct TaskOut {
    /// Id.
    pub id: String,
    /// Title.
    pub title: String,
    /// Id of the stage.
    pub stage: String,
    /// Component; `null` for a task of the build.
    pub component: Option<String>,
    /// Working time by the clock, minutes.
    pub minutes: u32,
    /// Hands.
    pub people: u32,
    /// Ids of tasks that come before.
    pub after: Vec<String>,
    /// Earliest start, minutes from the begin of the build.
    pub start: Option<u64>,
    /// How much later it may start, minutes.
    pub slack: Option<u64>,
    /// Who signed it, and when.
    pub signed: Option<String>,
}

/// A piece of upkeep, or the end of a warranty.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct UpkeepOut {
    /// Id; stays the same when dates move.
    pub id: String,
    /// Component.
    pub component: String,
    /// What is to be done.
    pub title: String,
    /// Day (ISO 8601); `null` for upkeep before a trip or by use.
    pub due: Option<String>,
    /// How often, in words.
    pub often: String,
    /// Use after which it is due earlier.
    pub or_after: Option<String>,
    /// `owner` or `service`.
    pub by: String,
    /// Working time, minutes.
    pub minutes: u32,
}

/// A computed figure.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct FigureOut {
    /// Id: `<subject>.<formula>`.
    pub id: String,
    /// Id of the formula.
    pub formula: String,
    /// What it gives.
    pub name: String,
    /// What it is about.
    pub subject: String,
    /// Result.
    pub value: AmountOut,
    /// Inputs by symbol.
    pub inputs: IndexMap<String, AmountOut>,
    /// Limit it is held to.
    pub limit: Option<LimitOut>,
}

/// A limit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct LimitOut {
    /// The bound.
    pub bound: AmountOut,
    /// The figure may not be above it; else not below.
    pub at_most: bool,
    /// The figure is a difference: what is to stay within the bound is its size, to either side.
    pub either_way: bool,
    /// Whether the figure keeps it.
    pub kept: bool,
    /// What nobody has judged of the question that the limit answers in part.
    pub not_judged: Option<String>,
}

/// A load case.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct WeightOut {
    /// Id.
    pub id: String,
    /// Title.
    pub title: String,
    /// Front axle, kg.
    pub front_kg: f64,
    /// Rear axle, kg.
    pub rear_kg: f64,
    /// Both, kg.
    pub total_kg: f64,
    /// Left wheels, kg.
    pub left_kg: Option<f64>,
    /// Centre of gravity behind the front axle, m.
    pub behind_front_m: Option<f64>,
    /// Centre of gravity above the ground, m.
    pub height_m: Option<f64>,
}

/// A finding.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct FindingOut {
    /// Name.
    pub name: String,
    /// `error` or `warning`.
    pub severity: String,
    /// What it is about.
    pub subject: Option<String>,
    /// One line; `null` where it is about a secret component.
    pub headline: Option<String>,
    /// Who accepted it, and why.
    pub accepted: Option<AcceptedOut>,
}

/// An acceptance.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct AcceptedOut {
    /// Why.
    pub reason: String,
    /// Who.
    pub by: String,
}

/// What was recorded on the finished van.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct RecordedOut {
    /// Serial numbers by component.
    pub serials: IndexMap<String, String>,
    /// Readings as written, by `<component>.<reading>`.
    pub readings: IndexMap<String, String>,
    /// "name, date" by stage or `<component>.<task>`.
    pub signed: IndexMap<String, String>,
    /// Measured weights.
    pub weights: Fields,
}

/// The JSON Schema of the format.
#[must_use]
pub(crate) fn schema() -> serde_json::Value {
    schemars::schema_for!(Whole).to_value()
}
