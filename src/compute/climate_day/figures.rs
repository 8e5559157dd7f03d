//! The form of the climate days.

use super::{Hours, air};
use crate::compute::heat::Outdoors;
use crate::compute::solar::day::SunDay;
use crate::spec::Climate;
use crate::units::{Celsius, Ratio};
use indexmap::IndexMap;
use serde::Serialize;

/// What a climate says, where it is complete.
#[derive(Clone, Debug, Serialize)]
pub struct Weather {
    /// The sun of its typical day.
    pub sun: SunDay,
    /// Outside temperature by hour, °C.
    pub air: Hours,
    /// Usual low.
    pub low: Celsius,
    /// Usual high.
    pub high: Celsius,
    /// Share of the light that the ground throws back.
    pub albedo: Ratio,
}

impl Weather {
    pub(super) fn of(climate: &Climate) -> Option<Self> {
        let latitude = climate.latitude.get()?.0;
        let irradiation = climate.irradiation.get()?.0;
        let (low, high) = (climate.low.get()?, climate.high.get()?);
        Some(Self {
            sun: SunDay::of(latitude, climate.month.get()?, irradiation)?,
            air: air::temperatures(low, high),
            low,
            high,
            albedo: climate.albedo.get()?,
        })
    }
}

/// What it is like inside through a day that is like the one before it.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Inside {
    /// Mean temperature by hour, °C.
    pub celsius: Hours,
    /// Heat of the heater by hour, W.
    pub heated: Hours,
    /// Heat that the coolers take by hour, W.
    pub cooled: Hours,
    /// Share of each hour in which the coolers are on.
    pub on: Hours,
    /// Heat that comes in while they are on and the temperature is held, W.
    pub to_take: Hours,
    /// Part of it that comes by shell and air, W.
    pub by_shell: Hours,
    /// Part of it that the sun sends through glass, W.
    pub by_glass: Hours,
    /// Moisture at the end of each hour, kg per kg of dry air.
    pub moisture: Hours,
    /// Relative humidity at the end of each hour, a share.
    pub humidity: Hours,
    /// Carbon dioxide at the end of each hour, a share of the air.
    pub carbon_dioxide: Hours,
    /// Heat of the day: by shell and air, of sun, people and appliances, and what stays, J.
    pub heat: [f64; 3],
    /// Water of the day: given off, carried out, condensed, and what stays in the air, kg.
    pub water: [f64; 4],
}

/// Hours of a day in which faces of a surface are colder than the dew point of the air inside.
#[derive(Clone, Copy, Debug, Default, Serialize)]
pub struct Wet {
    /// The inner face, at a rib where it has some.
    pub face: f64,
    /// The pane behind its cover.
    pub pane: f64,
}

/// A day of a climate.
#[derive(Clone, Debug, Serialize)]
pub struct Day {
    /// The weather outside.
    pub weather: Weather,
    /// Inside; `None` where the shell is not told.
    pub inside: Option<Inside>,
    /// Share of each hour in which the compressor of the coolers runs; `None` where there are none or no shell.
    pub compressor: Option<Hours>,
    /// What the heaters give by hour as a share of all that they can; `None` where there are none or no shell.
    pub heater: Option<Hours>,
    /// The coldest pane by hour, °C: behind its cover while that is on. `None` where there is no window or no shell.
    pub pane: Option<Hours>,
    /// How long each surface is wet.
    pub wet: IndexMap<String, Wet>,
}

impl Day {
    pub(super) fn of(weather: Weather, inside: Option<Inside>) -> Self {
        Self { weather, inside, compressor: None, heater: None, pane: None, wet: IndexMap::new() }
    }
}

/// What a heater burns.
#[derive(Clone, Debug, Serialize)]
pub struct Burnt {
    /// Its fuel, by the spec's word.
    pub fuel: String,
    /// Share of the fuel's heat it gives, by its own figures.
    pub efficiency: Option<f64>,
    /// Fuel of the coldest usual day, litres.
    pub day: Option<f64>,
}

/// Need and supply of one fuel over the nights without supply.
#[derive(Clone, Debug, Serialize)]
pub struct FuelSupply {
    /// Heat in the fuel needed, Wh.
    pub need: f64,
    /// Heat in the fuel aboard, Wh.
    pub aboard: f64,
    /// Nights.
    pub nights: f64,
}

/// Cooling on the hottest usual day.
#[derive(Clone, Debug, Serialize)]
pub struct Cooling {
    /// Climate with the hottest usual day.
    pub outdoors: Outdoors,
    /// Most heat to take out, W; `None` without a shell.
    pub load: Option<f64>,
    /// What the coolers take out, W.
    pub capacity: f64,
    /// Share of the time on that they run; `None` without a shell.
    pub duty: Option<f64>,
}

/// The climate days of a build.
#[derive(Clone, Debug, Default, Serialize)]
pub struct ClimateDays {
    /// Days of the climates that are complete.
    pub days: IndexMap<String, Day>,
    /// Cooling on the hottest usual day.
    pub cooling: Option<Cooling>,
    /// Fuel of the heaters by id.
    pub heaters: IndexMap<String, Burnt>,
    /// Fuels by name: need and supply.
    pub fuels: IndexMap<String, FuelSupply>,
    /// Humidity inside on the coldest usual night, a share.
    pub humidity: Option<f64>,
    /// Dew point of the air inside then, °C.
    pub dew_point: Option<f64>,
    /// Most carbon dioxide of that day, a share of the air.
    pub carbon_dioxide: Option<f64>,
}
