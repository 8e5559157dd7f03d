//! Quantity → text of a document. No locale: a point for decimals, a plain space before the unit.

use super::bound::in_steps;
use super::{Bound, Dimension, System};

/// `value` with at most `digits` significant digits, without trailing zeros or an exponent.
#[must_use]
pub fn significant(value: f64, digits: i32) -> String {
    significant_to(value, digits, None)
}

/// The same, to the safe side of a limit where it is one.
pub(super) fn significant_to(value: f64, digits: i32, bound: Option<Bound>) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    #[expect(clippy::cast_possible_truncation, reason = "log10 of a finite f64 fits i32")]
    let magnitude = value.abs().log10().floor() as i32;
    let decimals = digits - 1 - magnitude;
    let scale = 10_f64.powi(decimals.abs());
    let rounded =
        if decimals >= 0 { in_steps(value, scale, bound) } else { in_steps(value / scale, 1.0, bound) * scale };
    let text = format!("{rounded:.*}", usize::try_from(decimals.max(0)).unwrap_or(0));
    trim_zeros(text)
}

/// As [`significant`], on the safe side of a limit.
#[must_use]
pub fn significant_bound(value: f64, digits: i32, bound: Bound) -> String {
    significant_to(value, digits, Some(bound))
}

/// As [`significant`], but never more than `value` in size.
#[must_use]
pub fn significant_down(value: f64, digits: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    #[expect(clippy::cast_possible_truncation, reason = "log10 of a finite f64 fits i32")]
    let step = 10_f64.powi(value.abs().log10().floor() as i32 + 1 - digits);
    // A hair below a step is that step: rounding of the value itself.
    significant((value.abs() / step + 1e-9).floor() * step * value.signum(), digits)
}

/// `value` as exactly as four decimals allow, without trailing zeros.
#[must_use]
pub fn number(value: f64) -> String {
    trim_zeros(format!("{value:.4}"))
}

fn trim_zeros(text: String) -> String {
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text };
    if text == "-0" { "0".to_owned() } else { text }
}

/// Litres from which a volume is that of a room.
const ROOM: f64 = 5_000.0;

/// `value` (inside unit of `dimension`) with a unit that reads well in `system`, as calculations and tests need it:
/// three significant digits, four from a thousand up.
#[must_use]
pub fn print(dimension: Dimension, value: f64, system: System) -> String {
    with_minus(&shown(dimension, value, system, Digits::Reckoned, None))
}

/// A limit as calculations and tests need it: rounded to its safe side, whatever the unit.
#[must_use]
pub fn print_bound(dimension: Dimension, value: f64, system: System, bound: Bound) -> String {
    with_minus(&shown(dimension, value, system, Digits::Reckoned, Some(bound)))
}

/// The same as a person would say it, for documents of the owner: two significant digits below a hundred, three above;
/// a temperature to the degree. A voltage keeps three, since a tenth of a volt tells a full bank from an empty one;
/// what is measured with a rule or a scale stays as it is read there.
#[must_use]
pub fn said(dimension: Dimension, value: f64, system: System) -> String {
    with_minus(&shown(dimension, value, system, Digits::Said, None))
}

/// A limit as a person would say it, rounded to its safe side.
#[must_use]
pub fn said_bound(dimension: Dimension, value: f64, system: System, bound: Bound) -> String {
    with_minus(&shown(dimension, value, system, Digits::Said, Some(bound)))
}

/// A mass for a sign: whole kilograms or pounds, to the safe side.
#[must_use]
pub fn print_whole(kilograms: f64, system: System, bound: Bound) -> String {
    let unit = if system == System::Us { "lb" } else { "kg" };
    let value = kilograms / Dimension::Mass.unit(unit).map_or(1.0, |u| u.factor);
    format!("{:.0} {unit}", in_steps(value, 1.0, Some(bound)))
}

/// The sign as print sets it, U+2212, no hyphen; the reader takes both.
#[must_use]
pub fn with_minus(text: &str) -> String {
    text.strip_prefix('-').map_or_else(|| text.to_owned(), |rest| format!("−{rest}"))
}

/// How many digits a figure has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Digits {
    Reckoned,
    Said,
}

fn shown(dimension: Dimension, value: f64, system: System, digits: Digits, bound: Option<Bound>) -> String {
    use Dimension as D;
    use System::{Metric, Us};
    let large = value.abs();
    let unit = match (dimension, system) {
        (D::Length, Us) => return feet_and_inches(value, bound),
        (D::Length, Metric) if large < 1.0 && large > 0.0 => "mm",
        (D::Distance, Us) => "mi",
        (D::Area, Us) => "ft²",
        (D::Area, Metric) => "m²",
        (D::Section, _) => "mm²",
        // Air of a room, not what a tank holds.
        (D::Volume, Us) if large >= ROOM => "ft3",
        (D::Volume, Metric) if large >= ROOM => "m³",
        (D::Volume, Us) if large < 0.5 => "fl oz",
        (D::Volume, Us) => "gal",
        (D::Volume, Metric) if large < 0.5 && large > 0.0 => "mL",
        (D::Mass, Us) => "lb",
        (D::Power, _) if large >= 10_000.0 => "kW",
        (D::Current, _) if large >= 5_000.0 => "kA",
        (D::Current, _) if large < 0.1 && large > 0.0 => "mA",
        (D::Voltage, _) if large < 0.1 && large > 0.0 => "mV",
        (D::Energy, _) if large >= 1_000.0 => "kWh",
        (D::Resistance, _) if large < 0.5 && large > 0.0 => "mΩ",
        (D::Resistance, _) if large >= 1e6 => "MΩ",
        (D::Resistance, _) => "Ω",
        (D::Temperature | D::TemperatureDifference, Us) => "°F",
        (D::Duration, _) if large >= 172_800.0 => "days",
        (D::Duration, _) if large >= 5_400.0 => "h",
        (D::Duration, _) if large >= 90.0 => "min",
        (D::Duration, _) => "s",
        (D::Pressure, Us) => "psi",
        (D::Pressure, Metric) if large >= 100.0 => "bar",
        (D::Flow, Us) => "gal/min",
        // Screws of terminals are tightened with a tool in inch-pounds.
        (D::Torque, Us) if large < 20.0 => "in lb",
        (D::Torque, Us) => "ft lb",
        (D::Force, Us) => "lbf",
        (D::Force, Metric) if large >= 10_000.0 => "kN",
        (D::Speed, Us) => "mph",
        (D::Irradiation, _) => "kWh/m²",
        (D::HeatTransfer, Metric) => "W/m²K",
        (D::HeatTransfer, Us) => "Btu/h ft² °F",
        (D::HeatLoss, Us) => "Btu/h °F",
        (D::ThermalResistance, Us) => "ft² h °F/Btu",
        (D::Density, Us) => "lb/ft³",
        (D::FuelHeat, Us) => "kWh/gal",
        (D::LinearPower, Us) => "W/ft",
        _ => dimension.units()[0].name,
    };
    let Some(u) = dimension.unit(unit) else { return number(value) };
    let shown = (value - u.offset) / u.factor;
    let space = if unit == "°" { "" } else { " " };
    let decimals = |places: usize, scale: f64| trim_zeros(format!("{:.places$}", in_steps(shown, scale, bound)));
    let digits_of = |digits: i32| significant_to(shown, digits, bound);
    let text = match dimension {
        D::Temperature | D::TemperatureDifference if digits == Digits::Said => decimals(0, 1.0),
        D::Temperature | D::TemperatureDifference => decimals(1, 10.0),
        // Below one per cent two decimals say enough.
        D::Ratio if shown.abs() < 1.0 => decimals(2, 100.0),
        D::Voltage | D::Length | D::Mass => digits_of(if shown.abs() >= 1000.0 { 4 } else { 3 }),
        D::Torque if unit == "in lb" => digits_of(if shown.abs() < 100.0 { 2 } else { 3 }),
        _ if digits == Digits::Said => digits_of(if shown.abs() < 100.0 { 2 } else { 3 }),
        _ => digits_of(if shown.abs() >= 1000.0 { 4 } else { 3 }),
    };
    let unit = if unit == "ft3" { "ft³" } else { unit };
    format!("{text}{space}{unit}")
}

/// Feet and inches to the nearest quarter inch; below a foot inches only, below an inch to two digits.
fn feet_and_inches(metres: f64, bound: Option<Bound>) -> String {
    // Nobody measures a mountain in inches.
    const FAR: f64 = 300.0;
    if metres != 0.0 && metres.abs() < 0.0254 {
        return format!("{} in", significant_to(metres / 0.0254, 2, bound));
    }
    if metres.abs() >= FAR {
        return format!("{:.0} ft", in_steps(metres / 0.3048, 1.0, bound));
    }
    let signed = in_steps(metres / 0.0254 * 4.0, 1.0, bound);
    let quarters = signed.abs();
    let sign = if signed < 0.0 { "-" } else { "" };
    let feet = (quarters / 48.0).floor();
    let inches = (quarters - feet * 48.0) / 4.0;
    match (feet > 0.0, inches > 0.0) {
        (true, true) => format!("{sign}{feet:.0} ft {} in", number(inches)),
        (true, false) => format!("{sign}{feet:.0} ft"),
        _ => format!("{sign}{} in", number(inches)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prints_few_digits_and_no_tails() {
        assert_eq!(print(Dimension::Current, 7.5, System::Metric), "7.5 A");
        assert_eq!(print(Dimension::Current, 254.54, System::Metric), "255 A");
        assert_eq!(print(Dimension::Current, 12_800.0, System::Metric), "12.8 kA");
        assert_eq!(print(Dimension::Length, 4.2, System::Metric), "4.2 m");
        assert_eq!(print(Dimension::Length, 3.81, System::Us), "12 ft 6 in");
        assert_eq!(print(Dimension::Length, 1500.0, System::Us), "4921 ft");
        assert_eq!(print(Dimension::Length, 0.2, System::Metric), "200 mm");
        assert_eq!(print(Dimension::Length, 0.000_4, System::Us), "0.016 in");
        assert_eq!(print(Dimension::Length, 0.015, System::Us), "0.59 in");
        assert_eq!(print_bound(Dimension::Length, 0.015, System::Us, Bound::Least), "0.6 in");
        assert_eq!(print(Dimension::Volume, 113.562_353_52, System::Us), "30 gal");
        assert_eq!(print(Dimension::Temperature, -30.0, System::Us), "−22 °F");
        assert_eq!(print(Dimension::TemperatureDifference, 15.0, System::Us), "27 °F");
        assert_eq!(print(Dimension::TemperatureDifference, 15.0, System::Metric), "15 K");
        assert_eq!(print(Dimension::Ratio, 0.038_4, System::Us), "3.84 %");
        assert_eq!(print(Dimension::Ratio, 0.000_065_9, System::Us), "0.01 %");
        assert_eq!(print(Dimension::Voltage, 0.007_91, System::Metric), "7.91 mV");
        assert_eq!(print(Dimension::Mass, 3_500.0, System::Metric), "3500 kg");
        assert_eq!(print(Dimension::Temperature, 3.05, System::Us), "37.5 °F");
        assert_eq!(print(Dimension::Temperature, -0.01, System::Metric), "0 °C");
        assert_eq!(print(Dimension::Volume, 11_880.0, System::Us), "420 ft³");
        assert_eq!(print(Dimension::Force, 49_040.0, System::Metric), "49 kN");
        assert_eq!(significant(-0.0, 3), "0");
    }

    #[test]
    fn a_person_says_fewer_digits() {
        let us = |dimension, value| said(dimension, value, System::Us);
        assert_eq!(us(Dimension::Duration, 391_500.0), "4.5 days");
        assert_eq!(us(Dimension::Volume, 20.0), "5.3 gal");
        assert_eq!(us(Dimension::Temperature, 3.0), "37 °F");
        assert_eq!(us(Dimension::Speed, 40.0), "25 mph");
        assert_eq!(us(Dimension::Current, 9.166), "9.2 A");
        assert_eq!(us(Dimension::Current, 254.54), "255 A");
        assert_eq!(us(Dimension::Current, 99.6), "100 A");
        assert_eq!(us(Dimension::Voltage, 12.83), "12.8 V");
        assert_eq!(us(Dimension::Power, 1_234.0), "1230 W");
        assert_eq!(us(Dimension::Mass, 3_648.0), "8042 lb");
        assert_eq!(us(Dimension::Ratio, 0.0765), "7.7 %");
        assert_eq!(us(Dimension::Length, 3.81), "12 ft 6 in");
        assert_eq!(said(Dimension::Length, 3.456, System::Metric), "3.46 m");
    }

    #[test]
    fn rounding_down_never_adds() {
        for (value, text) in
            [(7.868, "7.8"), (0.0725, "0.072"), (36.0, "36"), (0.3, "0.3"), (99.9, "99"), (-7.868, "-7.8")]
        {
            assert_eq!(significant_down(value, 2), text);
        }
    }
}
