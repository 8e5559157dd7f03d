//! What part a kind plays in heating and cooling the van.

use serde::{Deserialize, Serialize};

/// Part in heating and cooling. The canonical fields of each are listed in DEVELOPERS.md.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ThermalRole {
    /// Warms the air inside.
    #[serde(rename = "space-heater")]
    Heater,
    /// Cools the air inside.
    Cooler,
    /// Pane that heat and sun pass.
    Window,
    /// Goes over a pane.
    Cover,
    /// Keeps heat in.
    Insulation,
}

/// The role of a kind in heating and cooling.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Thermal {
    /// Part it plays.
    pub role: ThermalRole,
}
