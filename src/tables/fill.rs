//! How much cable a channel takes.
//!
//! Shares by NEC Chapter 9 Table 1, from memory; diameters common practice, no source.

use crate::spec::Channel;
use crate::units::ConductorSize;
use std::f64::consts::PI;

/// Area that a cable takes of a channel, mm²: that of thin-wall flexible wire, or of a maker's lead of 6 mm.
#[must_use]
pub fn cable(size: Option<ConductorSize>) -> f64 {
    let diameter = size.map_or(6.0, |size| 1.6 * size.area().0.sqrt() + 1.4);
    PI / 4.0 * diameter * diameter
}

/// Inside area of a channel, mm²; `None` of a rail, and where its measure is not given.
#[must_use]
pub fn room(channel: &Channel) -> Option<f64> {
    let inside = channel.inside.get()?.0 * 1e3;
    match channel.form.text() {
        Some("duct") => Some(inside * channel.inside_width.get().map_or(inside, |width| width.0 * 1e3)),
        Some("rail") => None,
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
