//! One day of each climate, hour by hour: weather, and what it is like inside.
//!
//! The van is one room with a lump of heat, air that people moisten and a thermostat. What the day says of cooling is
//! what the energy account reckons with, what it says of heating is what heaters burn and draw, what it says of moisture is what faces are judged by.

pub mod air;
mod burnt;
mod damp;
mod day;
mod figures;
pub mod mixing;
mod of_build;
pub mod room;
pub mod sun;

pub use day::OUTSIDE as CARBON_DIOXIDE_OUTSIDE;
pub use figures::{Burnt, ClimateDays, Cooling, Day, FuelSupply, Inside, Weather, Wet};

/// A value for each hour of a day: entry 0 is midnight to one o'clock.
pub type Hours = [f64; 24];
