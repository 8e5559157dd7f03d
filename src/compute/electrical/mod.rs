//! Electrical formulas: conductors, protection, fault current, batteries, AC, busbars.

pub mod ac;
pub mod acceptance;
pub mod ampacity;
pub mod battery;
pub mod conductor_temperature;
pub mod coordination;
pub mod fault;
pub mod grouping;
pub mod interrupting;
pub mod inverter;
pub mod protection;
pub mod resistance;
pub mod size;
mod size_candidate;
mod size_request;
pub mod voltage_drop;

/// The value where it is a number above zero.
pub(crate) fn positive(value: f64) -> Option<f64> {
    (value.is_finite() && value > 0.0).then_some(value)
}
