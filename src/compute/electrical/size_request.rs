//! What a conductor is sized for, and what each candidate is judged by.

use super::ampacity::Installation;
use super::voltage_drop::VoltageDrop;
use crate::tables::conductor_series::{Finish, Series};
use crate::tables::fuse_series::Family;
use crate::units::{Amps, Celsius, ConductorSize, Metres, Ratio, Volts};
use serde::Serialize;

/// What a circuit asks of its conductor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SizeRequest {
    /// Series to choose from.
    pub series: Series,
    /// Size the spec gives; it is tried, not changed.
    pub given: Option<ConductorSize>,
    /// Conductors side by side that share the current.
    pub side_by_side: u32,
    /// Current the conductor is rated for, continuous factor included.
    pub design_current: Amps,
    /// Current that flows: for the voltage drop and the temperature.
    pub load_current: Amps,
    /// Length of the route, one way.
    pub one_way: Metres,
    /// Nominal voltage of the circuit.
    pub nominal: Volts,
    /// Largest drop as a share of the nominal voltage; `None` where it does not count (a sense wire).
    pub drop_limit: Option<Ratio>,
    /// Smallest conductor for mechanical strength.
    pub minimum: ConductorSize,
    /// Smallest conductor that there are rings of for the studs at its ends.
    pub least_ring: Option<ConductorSize>,
    /// Surface of the strands.
    pub finish: Finish,
    /// How it is installed.
    pub installation: Installation,
    /// Its fuse or breaker.
    pub protection: Protection,
    /// Largest fuse as a share of the corrected ampacity.
    pub fuse_cap: Ratio,
}

/// The fuse or breaker a conductor has to go with.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Protection {
    /// None of its own.
    None,
    /// One of this rating.
    Given(Amps),
    /// The smallest one of the family that carries the design current.
    Smallest(Family),
}

/// What a size may fail by, or what governed the choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Criterion {
    /// It carries less than the design current.
    Ampacity,
    /// It carries less than its fuse lets through.
    Protection,
    /// It drops too much voltage.
    VoltageDrop,
    /// It is below the least size: for mechanical strength, or behind an AC breaker.
    Mechanical,
    /// There is no ring of it for the stud at one of its ends.
    Ring,
    /// The spec gave the size.
    Given,
    /// It is as large as the positive cable whose current comes back through it.
    Positive,
}

/// A size that was tried.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Candidate {
    /// The size.
    pub size: ConductorSize,
    /// Its corrected ampacity; `None` below 18 AWG, where the table ends.
    pub ampacity: Option<Amps>,
    /// Its voltage drop at the load current, warm.
    pub drop: VoltageDrop,
    /// Its temperature at the load current; the insulation's limit where the ampacity is not known.
    pub conductor_temperature: Celsius,
    /// What it fails by; empty if it does.
    pub fails: Vec<Criterion>,
}
