//! Compressed air: time to fill the tyres, and what the compressor may do at a stretch.

pub mod fill;
mod of_build;

use serde::Serialize;

/// Filling one set of tyres by one compressor.
#[derive(Clone, Debug, Serialize)]
pub struct Filling {
    /// Compressor.
    pub compressor: String,
    /// Tyres.
    pub tyres: String,
    /// From which state.
    pub state: &'static str,
    /// Field of the pressure before.
    pub from_track: bool,
    /// Mean pressure before, kPa.
    pub from: f64,
    /// Mean pressure after, kPa.
    pub to: f64,
    /// Highest pressure wanted, kPa.
    pub highest: f64,
    /// Seconds, compressor running.
    pub running: f64,
    /// Longest run, seconds.
    pub longest_run: Option<f64>,
    /// Seconds with pauses.
    pub total: Option<f64>,
    /// Pressure at which the compressor stops, kPa.
    pub max_pressure: Option<f64>,
}

/// The compressed air of a build.
#[derive(Clone, Debug, Default, Serialize)]
pub struct AirFigures {
    /// Every compressor with every set of tyres.
    pub fillings: Vec<Filling>,
}
