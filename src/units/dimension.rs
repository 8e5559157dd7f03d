//! Dimensions, their units and exact conversion factors.

use super::System;
use serde::Serialize;

/// One spelling of a unit: `value_inside = value * factor + offset`.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// Spelling a spec may use.
    pub name: &'static str,
    /// Factor to the inside unit.
    pub factor: f64,
    /// Offset after the factor (temperatures only).
    pub offset: f64,
    /// System it belongs to; `None` for both.
    pub system: Option<System>,
}

const fn both(name: &'static str, factor: f64) -> Unit {
    Unit { name, factor, offset: 0.0, system: None }
}
const fn metric(name: &'static str, factor: f64) -> Unit {
    Unit { name, factor, offset: 0.0, system: Some(System::Metric) }
}
const fn us(name: &'static str, factor: f64) -> Unit {
    Unit { name, factor, offset: 0.0, system: Some(System::Us) }
}

macro_rules! dimensions {
    ($($(#[$doc:meta])* $name:ident $word:literal, $example:literal: $units:expr;)*) => {
        /// What a quantity measures. The inside unit is the one with factor 1.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        #[serde(rename_all = "kebab-case")]
        pub enum Dimension { $($(#[$doc])* $name,)* }

        impl Dimension {
            /// All dimensions, in a fixed order.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];

            /// Word for it in messages and in the `type` of a field.
            #[must_use]
            pub const fn word(self) -> &'static str { match self { $(Self::$name => $word,)* } }

            /// A likely spelling, for messages.
            #[must_use]
            pub const fn example(self) -> &'static str { match self { $(Self::$name => $example,)* } }

            /// Units a spec may use; the first is the one shown first in messages.
            #[must_use]
            pub const fn units(self) -> &'static [Unit] { match self { $(Self::$name => { const U: &[Unit] = $units; U })* } }
        }
    };
}

// Factors: NIST SP 811 appendix B.8 (exact where the definition is exact: inch, pound, US gallon, psi from lbf and in).
dimensions! {
    /// Metres.
    Length "length", "4.2 m": &[metric("m", 1.0), metric("mm", 1e-3), metric("cm", 1e-2), us("ft", 0.3048), us("in", 0.0254), us("'", 0.3048), us("\"", 0.0254)];
    /// Kilometres on the road.
    Distance "distance", "10000 km": &[metric("km", 1.0), us("mi", 1.609_344)];
    /// Square metres.
    Area "area", "1.6 m2": &[metric("m2", 1.0), metric("m²", 1.0), metric("cm2", 1e-4), metric("cm²", 1e-4), us("ft2", 0.092_903_04), us("ft²", 0.092_903_04), us("in2", 0.000_645_16), us("in²", 0.000_645_16)];
    /// Conductor cross-section, square millimetres.
    Section "cross-section", "6 mm2": &[metric("mm2", 1.0), metric("mm²", 1.0)];
    /// Litres.
    Volume "volume", "110 L": &[metric("L", 1.0), metric("l", 1.0), metric("mL", 1e-3), metric("ml", 1e-3), metric("m3", 1000.0), metric("m³", 1000.0), us("gal", 3.785_411_784), us("qt", 0.946_352_946), us("fl oz", 0.029_573_529_562_5), us("ft3", 28.316_846_592), us("ft³", 28.316_846_592), us("cup", 0.236_588_236_5)];
    /// Kilograms.
    Mass "mass", "31 kg": &[metric("kg", 1.0), metric("g", 1e-3), metric("t", 1000.0), us("lb", 0.453_592_37), us("lbs", 0.453_592_37), us("oz", 0.028_349_523_125)];
    /// Watts.
    Power "power", "55 W": &[both("W", 1.0), both("kW", 1000.0), both("VA", 1.0), both("kVA", 1000.0), both("Wp", 1.0), us("BTU/h", 0.293_071_070_172), us("hp", 745.699_871_582)];
    /// Amperes.
    Current "current", "30 A": &[both("A", 1.0), both("mA", 1e-3), both("kA", 1000.0)];
    /// Volts.
    Voltage "voltage", "12.8 V": &[both("V", 1.0), both("mV", 1e-3), both("kV", 1000.0)];
    /// Watt-hours.
    Energy "energy", "1.2 kWh": &[both("Wh", 1.0), both("kWh", 1000.0)];
    /// Ampere-hours.
    Charge "charge", "280 Ah": &[both("Ah", 1.0), both("mAh", 1e-3)];
    /// Ohms.
    Resistance "resistance", "1.1 mohm": &[both("ohm", 1.0), both("Ω", 1.0), both("mohm", 1e-3), both("mΩ", 1e-3), both("kohm", 1000.0), both("kΩ", 1000.0), both("Mohm", 1e6), both("MΩ", 1e6)];
    /// Degrees Celsius.
    Temperature "temperature", "-22 °C": &[
        Unit { name: "°C", factor: 1.0, offset: 0.0, system: Some(System::Metric) },
        Unit { name: "°F", factor: 5.0 / 9.0, offset: -160.0 / 9.0, system: Some(System::Us) },
        Unit { name: "C", factor: 1.0, offset: 0.0, system: Some(System::Metric) },
        Unit { name: "F", factor: 5.0 / 9.0, offset: -160.0 / 9.0, system: Some(System::Us) },
    ];
    /// Kelvins between two temperatures. A difference has no zero point: 10 K are 18 °F.
    TemperatureDifference "temperature difference", "15 K": &[metric("K", 1.0), metric("°C", 1.0), metric("C", 1.0), us("°F", 5.0 / 9.0), us("F", 5.0 / 9.0)];
    /// Shares, 1.0 is 100 %.
    Ratio "ratio", "38 %": &[both("%", 0.01)];
    /// Seconds. Months and years are mean Gregorian ones; calendar intervals have a type of their own.
    Duration "duration", "2 h 30 min": &[both("h", 3600.0), both("min", 60.0), both("s", 1.0), both("ms", 1e-3), both("days", 86_400.0), both("day", 86_400.0), both("d", 86_400.0), both("weeks", 604_800.0), both("week", 604_800.0), both("months", 2_629_746.0), both("month", 2_629_746.0), both("years", 31_556_952.0), both("year", 31_556_952.0)];
    /// Kilopascals (gauge).
    Pressure "pressure", "2.8 bar": &[metric("kPa", 1.0), metric("bar", 100.0), metric("mbar", 0.1), metric("Pa", 1e-3), us("psi", 6.894_757_293_168_36)];
    /// Litres per minute.
    Flow "flow", "11 L/min": &[metric("L/min", 1.0), metric("l/min", 1.0), metric("L/h", 1.0 / 60.0), metric("L/s", 60.0), metric("m3/h", 1000.0 / 60.0), metric("m³/h", 1000.0 / 60.0), us("gal/min", 3.785_411_784), us("ft3/min", 28.316_846_592), us("ft³/min", 28.316_846_592), us("gal/h", 3.785_411_784 / 60.0)];
    /// Newton metres.
    Torque "torque", "9 N m": &[metric("N m", 1.0), metric("Nm", 1.0), us("ft lb", 1.355_817_948_331_4), us("in lb", 0.112_984_829_027_616_7)];
    /// Newtons.
    Force "force", "400 N": &[metric("N", 1.0), metric("kN", 1000.0), us("lbf", 4.448_221_615_260_5)];
    /// Degrees of arc.
    Angle "angle", "24 °": &[both("°", 1.0), both("deg", 1.0)];
    /// Kilometres per hour.
    Speed "speed", "90 km/h": &[metric("km/h", 1.0), metric("m/s", 3.6), us("mph", 1.609_344)];
    /// Lumens.
    Luminous "light output", "400 lm": &[both("lm", 1.0)];
    /// Parts per million of a gas in air.
    Gas "gas share", "5 ppm": &[both("ppm", 1.0)];
    /// Milligrams in a litre of water.
    Concentration "concentration", "50 mg/L": &[both("mg/L", 1.0), both("mg/l", 1.0)];
    /// Decibels between two signals.
    Gain "gain", "10 dB": &[both("dB", 1.0)];
    /// Hertz.
    Frequency "frequency", "60 Hz": &[both("Hz", 1.0), both("kHz", 1000.0), both("MHz", 1e6), both("GHz", 1e9)];
    /// Kilowatt-hours per square metre.
    Irradiation "irradiation", "4.2 kWh/m2": &[both("kWh/m2", 1.0), both("kWh/m²", 1.0), both("MJ/m2", 1.0 / 3.6), both("MJ/m²", 1.0 / 3.6)];
    /// Watts per square metre and kelvin.
    HeatTransfer "heat transfer", "0.6 W/m2K": &[metric("W/m2K", 1.0), metric("W/m²K", 1.0), us("BTU/h ft2 F", 5.678_263_341_113_488), us("Btu/h ft² °F", 5.678_263_341_113_488)];
    /// Watts per metre and kelvin.
    Conductivity "conductivity", "0.036 W/mK": &[metric("W/mK", 1.0)];
    /// Watts per metre of a heating cable.
    LinearPower "heat per length", "10 W/m": &[metric("W/m", 1.0), us("W/ft", 1.0 / 0.3048)];
    /// Watts per kelvin between inside and outside.
    HeatLoss "heat loss", "32 W/K": &[metric("W/K", 1.0), us("Btu/h °F", 0.527_527_926_309_6)];
    /// Square metres and kelvins per watt.
    ThermalResistance "thermal resistance", "0.13 m²K/W": &[metric("m²K/W", 1.0), us("ft² h °F/Btu", 1.0 / 5.678_263_341_113_488)];
    /// Kilograms per cubic metre.
    Density "density", "1.2 kg/m³": &[metric("kg/m³", 1.0), us("lb/ft³", 16.018_463_373_960_14)];
    /// Kilowatt-hours of heat in a litre of fuel.
    FuelHeat "heat in fuel", "9.8 kWh/L": &[metric("kWh/L", 1.0), us("kWh/gal", 1.0 / 3.785_411_784)];
}

impl Dimension {
    /// The dimension a field type names, if it names one.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        let word = match word {
            "luminous" => "light output",
            "heat-transfer" => "heat transfer",
            "linear-power" => "heat per length",
            other => other,
        };
        Self::ALL.iter().copied().find(|d| d.word() == word)
    }

    /// The unit spelled `name`, if this dimension has it.
    #[must_use]
    pub fn unit(self, name: &str) -> Option<&'static Unit> {
        self.units().iter().find(|u| u.name == name)
    }

    /// The one unit of a table's column in the documents' `system`, whatever the size of its numbers.
    #[must_use]
    pub fn column_unit(self, system: System) -> &'static Unit {
        let own = self.units().iter().find(|u| system == System::Metric || u.system != Some(System::Metric));
        own.unwrap_or(&self.units()[0])
    }

    /// Name of the unit of inside values; "1" for a share.
    #[must_use]
    pub fn inside_unit(self) -> &'static str {
        self.units().iter().find(|u| u.factor == 1.0 && u.offset == 0.0).map_or("1", |u| u.name)
    }
}

impl Unit {
    /// An inside value in this unit.
    #[must_use]
    pub fn of_inside(&self, value: f64) -> f64 {
        (value - self.offset) / self.factor
    }

    /// The name with raised figures.
    #[must_use]
    pub fn printed(&self) -> String {
        let name = self.name.replace("BTU", "Btu").replace("ft2 F", "ft2 °F");
        ["m", "ft", "in"].iter().fold(name, |name, u| {
            name.replace(&format!("{u}2"), &format!("{u}²")).replace(&format!("{u}3"), &format!("{u}³"))
        })
    }
}

impl Dimension {
    /// The word with its article.
    #[must_use]
    pub fn a_word(self) -> String {
        let article = if self.word().starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
        format!("{article} {}", self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_has_one_unit() {
        let unit = |d: Dimension, s| d.column_unit(s).printed();
        let both = |d| [unit(d, System::Metric), unit(d, System::Us)];
        assert_eq!(both(Dimension::Length), ["m", "ft"]);
        assert_eq!(both(Dimension::Area), ["m²", "ft²"]);
        assert_eq!(both(Dimension::Section), ["mm²", "mm²"]);
        assert_eq!(both(Dimension::Ratio), ["%", "%"]);
        assert_eq!(both(Dimension::HeatTransfer), ["W/m²K", "Btu/h ft² °F"]);
        assert_eq!(both(Dimension::TemperatureDifference), ["K", "°F"]);
        let fahrenheit = Dimension::Temperature.column_unit(System::Us);
        assert!((fahrenheit.of_inside(100.0) - 212.0).abs() < 1e-9);
        let difference = Dimension::TemperatureDifference.column_unit(System::Us);
        assert!((difference.of_inside(100.0) - 180.0).abs() < 1e-9);
        assert_eq!(
            [Dimension::Ratio, Dimension::Duration, Dimension::Volume].map(Dimension::inside_unit),
            ["1", "s", "L"]
        );
    }
}
