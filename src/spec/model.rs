//! A spec as read: every section a record, every value with its place.

use crate::fields::Record;
use crate::papers::Papers;
use crate::source::{Span, Spanned};
use indexmap::IndexMap;
use jiff::civil::Date;
use serde::Serialize;
use std::collections::BTreeMap;

/// One component of the build.
#[derive(Clone, Debug, Serialize)]
pub struct Component {
    /// Its id: the key of its table.
    pub id: Spanned<String>,
    /// Its kind.
    pub kind: Spanned<String>,
    /// The stock item it takes, its own or that of the component it copies.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stock: Option<Spanned<String>>,
    /// Common fields and the kind's own, with defaults filled in.
    pub record: Record,
}

/// A warning the spec accepts.
#[derive(Clone, Debug, Serialize)]
pub struct Accepted {
    /// Name of the finding.
    pub finding: Spanned<String>,
    /// Subject it is accepted for; every one where absent.
    pub about: Option<Spanned<String>>,
    /// Why.
    pub reason: String,
    /// Who.
    pub by: String,
    /// The whole entry.
    pub span: Span,
}

/// Who signed what, and when.
#[derive(Clone, Debug, Serialize)]
pub struct Signature {
    /// Name or initials.
    pub by: String,
    /// Day.
    pub date: Option<Date>,
    /// Ids of the instruments that were read.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub instruments: Vec<Spanned<String>>,
}

/// What was recorded on the finished van.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Recorded {
    /// Serial number by component id.
    pub serials: IndexMap<String, Spanned<String>>,
    /// Reading by `<component>.<reading>`, as written.
    pub readings: IndexMap<String, Spanned<String>>,
    /// Readings of a circuit's tests, by its label.
    pub circuits: IndexMap<String, Record>,
    /// Reading of a single conductor, by its label, as written.
    pub conductors: IndexMap<String, Spanned<String>>,
    /// Who took readings and when, by stage id, component, or `<component>.<reading>`.
    pub taken: IndexMap<String, Spanned<Signature>>,
    /// Signature by stage id, or `<component>.<task>` for a hold point.
    pub signed: IndexMap<String, Spanned<Signature>>,
    /// Measured weights and the state the van was weighed in.
    pub weights: Record,
    /// Warranty by component id.
    pub warranty: IndexMap<String, Record>,
    /// Photos by stage or component id.
    pub photos: IndexMap<String, Record>,
}

/// What a shop's own page says. All of it is empty where there is no shop's folder.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Page {
    /// `[shop]`: name, address, logo, accent colour, units, rules, paper.
    pub shop: Record,
    /// `[person.<id>]`: who may sign.
    pub people: IndexMap<String, Record>,
    /// `[instrument.<id>]`: what readings are taken with.
    pub instruments: IndexMap<String, Record>,
    /// `[labour.<id>]`: what an hour costs.
    pub labour: IndexMap<String, Record>,
    /// `[times]`: what the work on each conductor takes in it.
    pub times: Record,
    /// `[words]`: what the shop calls the things of a kind.
    pub words: IndexMap<String, Spanned<String>>,
    /// `[texts]`: for cover, foot and closing letter.
    pub texts: Record,
}

/// A whole spec. Sections that the file does not have are empty records with their defaults.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Spec {
    /// The page of the shop whose folder it is read with.
    #[serde(skip)]
    pub page: Page,
    /// Papers that it names, as they lie beside it; nothing where nobody looked.
    #[serde(skip)]
    pub papers: Papers,
    /// Guesses of components, by field, as they were written: the record has what is reckoned with in their place.
    #[serde(skip)]
    pub guesses: BTreeMap<String, BTreeMap<String, String>>,
    /// What the stock items give that components take, by id.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    pub stock: IndexMap<String, Record>,
    /// `[build]`: title, number, revision, shop, handover, prints, rules, paper.
    pub build: Record,
    /// `[vehicle]`: plate and weighbridge figures.
    pub vehicle: Record,
    /// `[use]`: people, animals, driving.
    #[serde(rename = "use")]
    pub usage: Record,
    /// `[use.goals]`: nights, hours of cooling, temperatures inside.
    pub goals: Record,
    /// `[climate.<season>]`.
    pub climates: IndexMap<String, Record>,
    /// `[shell.<surface>]`.
    pub shell: IndexMap<String, Record>,
    /// `[place.<id>]`.
    pub places: IndexMap<String, Record>,
    /// `[channel.<id>]`.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    pub channels: IndexMap<String, Record>,
    /// `[component.<id>]`.
    pub components: IndexMap<String, Component>,
    /// `[stage.<id>]`: changes to the default plan.
    pub stages: IndexMap<String, Record>,
    /// `[times]`: what the work on each conductor takes.
    pub times: Record,
    /// `[task.<id>]`: tasks of this build alone.
    pub tasks: IndexMap<String, Record>,
    /// `[upkeep.<id>]`: upkeep of this build alone.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    pub upkeep: IndexMap<String, Record>,
    /// `[contact.<id>]`: whom to call.
    pub contacts: IndexMap<String, Record>,
    /// `[person.<id>]`: who may sign, of the spec, then of the shop's page.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    pub people: IndexMap<String, Record>,
    /// `[instrument.<id>]`: what readings are taken with, of the spec, then of the shop's page.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    pub instruments: IndexMap<String, Record>,
    /// `[[accepted]]`.
    pub accepted: Vec<Accepted>,
    /// `[[deviation]]`: what was done otherwise on site.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub deviations: Vec<Record>,
    /// `[[snag]]`: what is still to be put right.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub snags: Vec<Record>,
    /// `[[certificate]]`: papers of those who tested.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub certificates: Vec<Record>,
    /// `[recorded]`.
    pub recorded: Recorded,
    /// Number of statements of the file that could not be read. What a spec lacks may stand in one of them.
    #[serde(skip)]
    pub unread: usize,
}
