//! The form of the heat figures, and what the climates of a spec say.

use super::air;
use super::envelope::Bridged;
use crate::build::{Build, Part};
use crate::fields::Field;
use crate::kinds::{SafetyRole, ThermalRole};
use crate::spec::Climate;
use crate::tables::ventilation::Vents;
use crate::units::{Celsius, Kilograms};
use indexmap::IndexMap;
use serde::Serialize;

/// What it is like outside in one season.
#[derive(Clone, Debug, Serialize)]
pub struct Outdoors {
    /// Id of the climate.
    pub climate: String,
    /// Temperature, °C.
    pub celsius: f64,
    /// Relative humidity, a share.
    pub humidity: f64,
    /// Height above the sea, m.
    pub altitude: f64,
}

/// A surface that heat passes.
#[derive(Clone, Debug, Serialize)]
pub struct Surface {
    /// `shell.<id>` or the id of a window.
    pub id: String,
    /// Area, m².
    pub area: f64,
    /// W/(m²K), with covers on.
    pub u_value: f64,
    /// The same with covers off.
    pub by_day: f64,
    /// What covers it goes on from outside.
    pub cover_outside: bool,
    /// Which way it faces.
    pub faces: Option<String>,
    /// Temperature of its inner face at the design low, °C.
    pub inner: Option<f64>,
    /// What its ribs do to it.
    pub ribs: Option<Bridged>,
    /// Temperature of its inner face at a rib at the design low, °C.
    pub inner_at_rib: Option<f64>,
    /// Temperature of a pane behind its cover at the design low, °C.
    pub behind_cover: Option<f64>,
    /// Share of the sun on it that comes in.
    pub solar_gain: Option<f64>,
}

impl Surface {
    /// Whether something covers it on its inner side at night.
    #[must_use]
    pub fn is_covered(&self) -> bool {
        self.u_value < self.by_day - 1e-9 && !self.cover_outside
    }

    /// Whether it is a window and no surface of the shell.
    #[must_use]
    pub fn is_window(&self) -> bool {
        !self.id.starts_with("shell.")
    }
}

/// The heat figures.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Heat {
    /// The coldest usual night of all climates.
    pub coldest: Option<Outdoors>,
    /// The lowest temperature on record of all climates, °C; `None` where none is colder than the usual ones.
    pub record_low: Option<f64>,
    /// Temperature held inside, °C.
    pub inside: f64,
    /// What the heaters hold of it at the lowest temperature on record; `None` without them or without one.
    pub inside_at_record: Option<f64>,
    /// Surfaces with a U-value, windows included.
    pub surfaces: Vec<Surface>,
    /// Surfaces of the shell of which too little is given.
    pub unknown: Vec<String>,
    /// The surfaces against the measures of the vehicle; `None` where these are not told.
    pub closed: Option<Closed>,
    /// Openings that can't be shut; `None` where no rule asks for any.
    pub vents: Option<FixedVents>,
    /// Loss through the surfaces, W/K. `None` where no surface is known.
    pub transmission: Option<f64>,
    /// Air inside, m³.
    pub volume: Option<f64>,
    /// Loss with the air at the design low, W/K.
    pub infiltration: Option<f64>,
    /// Loss at the design low, W.
    pub loss: Option<f64>,
    /// Heat output of all heaters, W.
    pub output: Option<f64>,
    /// Pipe runs that hold water, by id.
    pub runs: IndexMap<String, Run>,
    /// Heat trace by id.
    pub traces: IndexMap<String, Held>,
    /// Tank pads by id.
    pub pads: IndexMap<String, Held>,
    /// Gas regulators by id.
    pub gas: IndexMap<String, GasDemand>,
}

/// Fuel that a burner uses, by the spec's word.
#[must_use]
pub fn fuel_word<'a>(part: &'a Part<'_>) -> Option<&'a str> {
    let safety = part.kind.safety.as_ref()?;
    safety.fuel.as_deref().or_else(|| part.roles.fuel().text())
}

/// Parts that burn something.
pub(crate) fn burners<'a>(build: &'a Build<'_>) -> impl Iterator<Item = &'a Part<'a>> {
    build.parts.values().filter(|p| p.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::Burner))
}

/// Those that burn LPG.
pub(crate) fn gas_burners<'a>(build: &'a Build<'_>) -> impl Iterator<Item = &'a Part<'a>> {
    burners(build).filter(|p| fuel_word(p) == Some("lpg"))
}

/// What is drawn through a regulator.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct GasDemand {
    /// Gas of all flames behind it in an hour.
    pub used: Kilograms,
    /// Gas it can pass.
    pub capacity: Kilograms,
}

/// Parts that play `role`.
pub(crate) fn of_role<'a>(build: &'a Build<'_>, role: ThermalRole) -> impl Iterator<Item = &'a Part<'a>> {
    build.parts.values().filter(move |p| p.kind.thermal.is_some_and(|t| t.role == role))
}

impl Heat {
    /// The temperature outside that trace and pads must stand, °C: the lowest on record, else the usual low.
    #[must_use]
    pub fn frost(&self) -> Option<f64> {
        self.record_low.or(self.coldest.as_ref().map(|c| c.celsius))
    }
}

impl Outdoors {
    /// A climate at one of its temperatures.
    pub(crate) fn of(id: &str, climate: &Climate, celsius: &Field<Celsius>) -> Option<Self> {
        Some(Self {
            climate: id.to_owned(),
            celsius: celsius.get()?.0,
            humidity: climate.humidity.get()?.0,
            altitude: climate.altitude.get()?.0,
        })
    }

    pub(super) fn air(&self) -> air::Outside {
        air::Outside { celsius: self.celsius, humidity: self.humidity, altitude: self.altitude }
    }
}

/// The lowest usual temperature of all climates and the lowest on record, °C. The latter is left out where it is no
/// colder.
#[must_use]
pub fn lows(build: &Build<'_>) -> (Option<f64>, Option<f64>) {
    let lowest = |of: fn(&Climate) -> &Field<Celsius>| {
        build.climates.values().filter_map(|c| of(c).get()).map(|t| t.0).reduce(f64::min)
    };
    let usual = lowest(|c| &c.low);
    (usual, lowest(|c| &c.record_low).filter(|record| usual.is_none_or(|usual| *record < usual)))
}

/// The surfaces against a body that they close.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Closed {
    /// Area of all surfaces, windows included, m².
    pub area: f64,
    /// Area that closes a body of these measures, m².
    pub needed: f64,
}

/// Openings for air that can't be shut, m².
#[derive(Clone, Copy, Debug, Serialize)]
pub struct FixedVents {
    /// The floor that they are for.
    pub floor: f64,
    /// Nothing burns that takes its air from the room.
    pub sealed: bool,
    /// Free area high up, as told.
    pub high: Option<f64>,
    /// Free area low down, as told.
    pub low: Option<f64>,
    /// What is asked for.
    #[serde(skip)]
    pub needed: Vents,
}

/// A pipe run that holds water.
#[derive(Clone, Debug, Serialize)]
pub struct Run {
    /// Lies outside the heated space.
    pub outside: bool,
    /// Its insulation has a thickness.
    pub insulated: bool,
    /// Heat trace on it.
    pub trace: Option<String>,
    /// Valve that empties it.
    pub drain: Option<String>,
    /// A waste pipe that falls empties itself.
    pub self_draining: bool,
    /// Heat that one metre loses at the design low, held at 5 °C, with the design factor, W.
    pub loss: Option<f64>,
    /// Time to 0 °C from 10 °C at the design low, s; `None` where it does not freeze.
    pub to_zero: Option<f64>,
    /// Time from there until all of it is ice, s.
    pub to_ice: Option<f64>,
    /// Both times at the lowest temperature on record, s; `None` where it does not freeze.
    pub on_record: Option<(f64, f64)>,
    /// Temperature outside down to which its heat trace keeps up, °C.
    pub holds_to: Option<f64>,
}

impl Run {
    /// Whether frost can't burst it: traced and insulated, or emptied.
    #[must_use]
    pub fn is_protected(&self) -> bool {
        self.self_draining || self.drain.is_some() || self.trace.is_some() && self.insulated
    }
}

/// Heat that is given against heat that is needed.
#[derive(Clone, Debug, Serialize)]
pub struct Held {
    /// Electrical power, W.
    pub power: f64,
    /// Heat lost at the lowest temperature on record, or at the usual low where none is told, W.
    pub need: f64,
    /// Heat lost at the usual low, W.
    pub usual: f64,
    /// Heat lost for each kelvin below the temperature held, W/K.
    pub per_kelvin: f64,
    /// Temperature held, °C.
    pub warm: f64,
    /// Temperature outside down to which the power keeps up, °C.
    pub holds_to: f64,
}
