//! What a kind tells the owner.

use super::{Caution, EmergencyMark};
use serde::{Deserialize, Serialize};

pub(super) const fn yes() -> bool {
    true
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

/// A figure of a part that stands among the limits of the whole van.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnerFigure {
    /// Name of the fact or of the field.
    pub of: String,
    /// What it is.
    pub label: String,
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
    /// Its figures among the limits of the whole van.
    #[serde(default)]
    pub figures: Vec<OwnerFigure>,
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
