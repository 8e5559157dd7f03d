//! Serde help for profiles: quantities, sizes and words as a spec writes them.

use super::fuse_series::Family;
use super::insulation::Insulation;
use crate::units::{Amps, Celsius, ConductorSize, Dimension, Metres, Ratio, Volts, parse_quantity};
use serde::de::{Deserialize, Deserializer, Error};

fn of<'de, D: Deserializer<'de>>(d: D, dimension: Dimension) -> Result<f64, D::Error> {
    let text = String::deserialize(d)?;
    parse_quantity(&text, dimension)
        .map(|q| q.value)
        .map_err(|fault| D::Error::custom(format!("\"{text}\" is no {}: {}", dimension.word(), fault.message)))
}

macro_rules! quantities {
    ($($name:ident $kind:ident;)*) => {$(
        pub(super) fn $name<'de, D: Deserializer<'de>>(d: D) -> Result<$kind, D::Error> {
            of(d, $kind::DIMENSION).map($kind)
        }
    )*};
}

quantities! {
    celsius Celsius;
    ratio Ratio;
    volts Volts;
    amps Amps;
    metres Metres;
}

pub(super) fn insulation<'de, D: Deserializer<'de>>(d: D) -> Result<Insulation, D::Error> {
    let limit = celsius(d)?;
    [Insulation::CFR, Insulation::IEC]
        .into_iter()
        .flatten()
        .copied()
        .find(|class| (class.limit().0 - limit.0).abs() < 1e-9)
        .ok_or_else(|| D::Error::custom("there is no such class of insulation"))
}

pub(super) fn size<'de, D: Deserializer<'de>>(d: D) -> Result<ConductorSize, D::Error> {
    let text = String::deserialize(d)?;
    ConductorSize::parse(&text).ok_or_else(|| D::Error::custom(format!("\"{text}\" is no conductor size")))
}

pub(super) fn family<'de, D: Deserializer<'de>>(d: D) -> Result<Family, D::Error> {
    let word = String::deserialize(d)?;
    Family::parse(&word).ok_or_else(|| D::Error::custom(format!("\"{word}\" is no family of fuses")))
}
