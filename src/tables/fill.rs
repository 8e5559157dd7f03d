//! How much cable a channel takes.
//!
//! Shares by NEC Chapter 9 Table 1, from memory; diameters common practice, no source.

use crate::units::{ConductorSize, Metres};
use std::f64::consts::PI;

/// Outside diameter of thin-wall flexible wire, mm; of a maker's lead 6 mm.
fn diameter(size: Option<ConductorSize>) -> f64 {
    size.map_or(6.0, |size| 1.6 * size.area().0.sqrt() + 1.4)
}

/// Area that a cable takes of a channel, mm².
#[must_use]
pub fn cable(size: Option<ConductorSize>) -> f64 {
    PI / 4.0 * diameter(size).powi(2)
}

/// Least radius of a bend of a cable, metres: five times its diameter.
#[must_use]
pub fn bend(size: Option<ConductorSize>) -> f64 {
    5.0 * diameter(size) / 1e3
}

/// Inside area of a conduit, or of a duct of this width, mm²; `None` of a rail, and where its measure is not given.
#[must_use]
pub fn room(form: &str, inside: Option<Metres>, width: Option<Metres>) -> Option<f64> {
    let inside = inside?.0 * 1e3;
    match form {
        "duct" => Some(inside * width.map_or(inside, |width| width.0 * 1e3)),
        "rail" => None,
        _ => Some(PI / 4.0 * inside * inside),
    }
}

/// Share of it that so many cables may fill.
#[must_use]
pub const fn limit(cables: usize) -> f64 {
    match cables {
        0 | 1 => 0.53,
        2 => 0.31,
        _ => 0.40,
    }
}
