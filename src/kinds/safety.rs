//! What part a kind plays in the safety of the people aboard.

use serde::{Deserialize, Serialize};

/// Part in life safety. The canonical fields of each are listed in DEVELOPERS.md.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SafetyRole {
    /// Burns fuel, and so may give off carbon monoxide.
    Burner,
    /// Someone sleeps there.
    Sleeping,
    /// Tells of smoke.
    SmokeAlarm,
    /// Tells of carbon monoxide.
    CoAlarm,
    /// Tells of LP gas.
    LpAlarm,
    /// Puts a fire out.
    Extinguisher,
    /// Way out in an emergency.
    EscapeRoute,
    /// Way out where its `escape` field says so.
    EscapeWindow,
    /// Houses gas cylinders.
    LpgLocker,
}

/// The role of a kind in life safety, with its settings.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Safety {
    /// Part it plays.
    pub role: SafetyRole,
    /// Fuel it burns, where its field `fuel` does not tell.
    #[serde(default)]
    #[serde(rename = "burns")]
    pub fuel: Option<String>,
    /// Count field with the people who sleep there.
    #[serde(default)]
    pub sleeps: Option<String>,
    /// Mass field of what lies on it.
    #[serde(default)]
    pub bedding: Option<String>,
}

/// Paper that a kind needs because nothing here computes what it must withstand.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Evidence {
    /// Text field with the number of the certificate, approval or report.
    pub field: String,
    /// What it answers for, as a clause: "seat, belts and their anchorages in a crash".
    pub answers_for: String,
}
