//! The form of the energy account: every season of a spec, driving and parked.

use super::need::{Load, Need};
use super::single::{Filling, RunTime};
use super::store::{Hour, Store};
use super::supply::Solar;
use super::{Hours, follow};
use crate::compute::solar::day::SunDay;
use crate::kinds::Follows;
use crate::units::{Celsius, Ratio, Seconds, WattHours, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// A stay off grid from a full bank at 18:00.
#[derive(Clone, Debug, Serialize)]
pub struct Stay {
    /// Hour by hour.
    pub hours: Vec<Hour>,
    /// Lowest state of charge.
    pub lowest: Ratio,
    /// Hours since arrival at the end of which it first stood below the reserve.
    pub below_reserve: Option<usize>,
    /// Hours since arrival in which loads first went short.
    pub short_from: Option<usize>,
    /// Energy the loads did not get.
    pub unserved: WattHours,
    /// Energy offered that was not taken.
    pub surplus: WattHours,
    /// Part of it that a cold bank refused.
    pub blocked: WattHours,
    /// Whether the bank was full again after the first night.
    pub full_again: bool,
    /// Time until the reserve, were the stay to go on; `None` where 60 days are not enough to get there.
    pub lasts: Option<Seconds>,
}

/// A season of the spec.
#[derive(Clone, Debug, Serialize)]
pub struct Season {
    /// The sun of its typical day.
    pub sun: SunDay,
    /// Outside temperature by hour, °C.
    pub air: Hours,
    /// Usual low and high.
    pub low_high: (Celsius, Celsius),
    /// Share of the light that the ground throws back.
    pub albedo: Ratio,
    /// Loads that run as the climate day says.
    #[serde(skip)]
    pub by_climate_day: Vec<String>,
    /// What the loads need.
    pub need: Need,
    /// What the sun brings.
    pub solar: Solar,
    /// What the engine brings by hour, W.
    pub engine: Hours,
    /// The bank may not be charged for cold.
    pub cold: bool,
    /// With driving as the spec says.
    pub driving: Option<Stay>,
    /// Without driving: the sun alone.
    pub parked: Option<Stay>,
    /// A night on shore power, from the reserve.
    pub shore: Option<Stay>,
    /// The stays with nothing on that cools the air; `None` where that would change nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncooled: Option<Uncooled>,
}

/// When the bank would stand below the reserve with nothing on that cools the air: hours as in [`Stay::below_reserve`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Uncooled {
    /// With driving as the spec says.
    pub driving: Option<usize>,
    /// Without driving.
    pub parked: Option<usize>,
}

/// The energy account.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Energy {
    /// All banks together; `None` where the build has none.
    pub store: Option<Store>,
    /// Nights off grid in a row.
    pub nights: usize,
    /// Driving on a usual day.
    pub drive: Seconds,
    /// Power of all chargers on the engine.
    pub engine: Watts,
    /// Loads that draw from the bank or from shore power.
    pub loads: IndexMap<String, Load>,
    /// Seasons whose climate is complete.
    pub seasons: IndexMap<String, Season>,
    /// Run time of each load alone.
    pub run_times: IndexMap<String, RunTime>,
    /// Time to full from each steady charger.
    pub fillings: IndexMap<String, Filling>,
}

impl Season {
    /// Energy of a day of hourly powers.
    #[must_use]
    pub fn day(hours: &Hours) -> WattHours {
        WattHours(hours.iter().sum())
    }

    /// Energy that heating takes in the hours in which people are aboard and heat: from 17:00 to 9:00.
    #[must_use]
    pub fn heating_night(&self, loads: &IndexMap<String, Load>) -> WattHours {
        let heaters = self
            .need
            .loads
            .iter()
            .filter(|(id, _)| loads.get(*id).is_some_and(|l| l.follows == Some(Follows::Heating)));
        let night = |hours: &Hours| (0..24).filter(|h| follow::is_night(*h)).map(|h| hours[h]).sum::<f64>();
        WattHours(heaters.map(|(_, hours)| night(hours)).sum())
    }
}
