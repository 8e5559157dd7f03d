//! When a kind uses energy, and what its use follows: settings of its electrical role.

use serde::{Deserialize, Serialize};

/// Part of the day in which the `hours` of a kind fall. Which hours that are: `compute::energy::pattern`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DayPart {
    /// Around the clock, evenly.
    #[default]
    Always,
    /// While people are up.
    Waking,
    /// Working hours of the day.
    Day,
    /// After sunset until bed time.
    Evening,
    /// Bed time until morning.
    Night,
    /// Breakfast, lunch and supper.
    Meals,
    /// Morning and evening wash.
    Washing,
    /// The warm half of the day.
    Hot,
    /// While the van is driven.
    Driving,
}

impl DayPart {
    /// The part of a word as specs have it.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::deserialize(serde::de::value::StrDeserializer::<serde::de::value::Error>::new(word)).ok()
    }
}

/// What outside temperature does to a load. The models: `compute::energy::follow`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Follows {
    /// A cold box: the warmer around it, the longer its compressor runs.
    ColdBox,
    /// Heating of the living space: the colder, the more.
    Heating,
    /// Cooling of the living space: the hotter, the more.
    Cooling,
    /// Protection from frost by a thermostat (`on_below`).
    Frost,
}

/// Which way an array's planes face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Faces {
    /// As the van happens to park.
    #[default]
    Any,
    /// Towards the equator: someone sets it up so.
    Equator,
}

/// settings of its electrical role.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct EnergyUse {
    /// Part of the day in which its `hours` fall.
    #[serde(default)]
    pub at: DayPart,
    /// What its use follows.
    #[serde(default)]
    pub follows: Option<Follows>,
    /// Which way it faces, for an array.
    #[serde(default)]
    pub faces: Faces,
}
