//! Newtypes for the dimensions that formulas multiply, and `Quantity` as a spec wrote it.

use super::{Bound, Dimension, System, print, print_bound, said, said_bound};
use serde::Serialize;
use std::ops::{Add, Div, Mul, Sub};

macro_rules! newtypes {
    ($($(#[$doc:meta])* $name:ident = $dim:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize)]
        #[serde(transparent)]
        pub struct $name(pub f64);

        impl $name {
            /// The dimension this type measures.
            pub const DIMENSION: Dimension = Dimension::$dim;

            /// The larger of two values.
            #[must_use]
            pub fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }

            /// The smaller of two values.
            #[must_use]
            pub fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }

            /// The value with its unit, in the units of `system`.
            #[must_use]
            pub fn show(self, system: System) -> String { print(Dimension::$dim, self.0, system) }

            /// The same as a person would say it.
            #[must_use]
            pub fn said(self, system: System) -> String { said(Dimension::$dim, self.0, system) }

            /// The value as a limit, rounded to its safe side.
            #[must_use]
            pub fn bound(self, bound: Bound, system: System) -> String {
                print_bound(Dimension::$dim, self.0, system, bound)
            }
        }
        impl From<f64> for $name { fn from(si: f64) -> Self { Self(si) } }
        impl Add for $name { type Output = Self; fn add(self, o: Self) -> Self { Self(self.0 + o.0) } }
        impl Sub for $name { type Output = Self; fn sub(self, o: Self) -> Self { Self(self.0 - o.0) } }
        impl Mul<f64> for $name { type Output = Self; fn mul(self, k: f64) -> Self { Self(self.0 * k) } }
        impl Div<f64> for $name { type Output = Self; fn div(self, k: f64) -> Self { Self(self.0 / k) } }
        impl Div for $name { type Output = f64; fn div(self, o: Self) -> f64 { self.0 / o.0 } }
        impl std::iter::Sum for $name { fn sum<I: Iterator<Item = Self>>(i: I) -> Self { i.fold(Self(0.0), Add::add) } }
    )*};
}

newtypes! {
    /// Electric current in amperes.
    Amps = Current;
    /// Electric potential in volts.
    Volts = Voltage;
    /// Resistance in ohms.
    Ohms = Resistance;
    /// Power in watts (and apparent power in volt-amperes).
    Watts = Power;
    /// Energy in watt-hours.
    WattHours = Energy;
    /// Charge in ampere-hours.
    AmpHours = Charge;
    /// Length in metres.
    Metres = Length;
    /// Distance on the road in kilometres.
    Kilometres = Distance;
    /// Conductor cross-section in square millimetres.
    SquareMillimetres = Section;
    /// Temperature in degrees Celsius.
    Celsius = Temperature;
    /// Mass in kilograms.
    Kilograms = Mass;
    /// Time in seconds.
    Seconds = Duration;
    /// A share: 1.0 is 100 %.
    Ratio = Ratio;
    /// Area in square metres.
    SquareMetres = Area;
    /// Volume in litres.
    Litres = Volume;
    /// Pressure in kilopascals.
    Kilopascals = Pressure;
    /// Flow in litres per minute.
    LitresPerMinute = Flow;
    /// Force in newtons.
    Newtons = Force;
    /// Tightening torque in newton metres.
    NewtonMetres = Torque;
    /// Angle in degrees.
    Degrees = Angle;
    /// Thermal conductivity in watts per metre and kelvin.
    WattsPerMetreKelvin = Conductivity;
    /// Solar energy on an area in kilowatt-hours per square metre.
    Irradiation = Irradiation;
    /// Heat that passes a surface in watts per square metre and kelvin.
    HeatTransfer = HeatTransfer;
}

macro_rules! products {
    ($($a:ident * $b:ident = $c:ident;)*) => {$(
        impl Mul<$b> for $a { type Output = $c; fn mul(self, o: $b) -> $c { $c(self.0 * o.0) } }
        impl Div<$a> for $c { type Output = $b; fn div(self, o: $a) -> $b { $b(self.0 / o.0) } }
        impl Div<$b> for $c { type Output = $a; fn div(self, o: $b) -> $a { $a(self.0 / o.0) } }
    )*};
}

products! {
    Volts * Amps = Watts;
    Amps * Ohms = Volts;
    Volts * AmpHours = WattHours;
}

/// A quantity as a spec gave it: value in the unit inside, and the text as written.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Quantity {
    /// What it measures.
    pub dimension: Dimension,
    /// Value in the dimension's inside unit (see [`Dimension`]).
    pub value: f64,
    /// As written, trimmed.
    pub written: String,
    /// Unit system the writer used; `None` where the unit is common to both.
    pub system: Option<System>,
    /// The field is a limit, on this side.
    #[serde(skip)]
    pub bound: Option<Bound>,
}

impl Quantity {
    /// The same as the value of a field that is a limit, or is none.
    #[must_use]
    pub fn held_to(mut self, bound: Option<Bound>) -> Self {
        self.bound = bound;
        self
    }

    /// As written where that fits the documents' unit system, else converted.
    #[must_use]
    pub fn show(&self, system: System) -> String {
        match self.system {
            Some(own) if own != system => match self.bound {
                Some(bound) => print_bound(self.dimension, self.value, system, bound),
                None => print(self.dimension, self.value, system),
            },
            _ => self.written.clone(),
        }
    }

    /// As written where that fits the documents' unit system, else converted to what a person would say.
    #[must_use]
    pub fn said(&self, system: System) -> String {
        match self.system {
            Some(own) if own != system => match self.bound {
                Some(bound) => said_bound(self.dimension, self.value, system, bound),
                None => said(self.dimension, self.value, system),
            },
            _ => self.written.clone(),
        }
    }
}
