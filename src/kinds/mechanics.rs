//! The roles of restraint and of compressed air of a kind: the part it plays in holding loads, and in filling tyres.

use serde::{Deserialize, Serialize};

/// Part in holding things. The canonical fields of each are listed in DEVELOPERS.md.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mechanics {
    /// A thing heavy enough that it must be held: `bolts bolt_size`.
    Held,
    /// Bolted like `held`, and slides out with a load.
    Tray,
    /// Gas struts of a lid.
    Strut,
    /// Lashing points.
    Lashing,
}

/// Part in compressed air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Air {
    /// Fills tyres: `free_air_delivery duty_limit max_run max_pressure`.
    Compressor,
    /// Tyres to fill: `wheels tyre_volume pressure_front pressure_rear pressure_track pressure_sand`.
    Tyres,
}

/// Its role in holding things.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct MechanicsBlock {
    /// Part it plays.
    pub role: Mechanics,
}

/// Its role in compressed air.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct AirBlock {
    /// Part it plays.
    pub role: Air,
}
