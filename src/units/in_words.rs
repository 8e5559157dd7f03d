//! Quantities that stand as words in the texts of kinds ("after the first 1000 km") in the units of the documents.
//!
//! Kind texts are written in metric units. Facts of a part come out in the right units by themselves; what stands in
//! the text does not, so it is turned here, rounded to what a person would say. A tolerance is rounded down: it never
//! grows wider than the kind has it. A limit is rounded to its safe side. A difference of temperature is written in
//! kelvins: it has no zero point.

use super::{Dimension, System, number, parse_quantity, significant, significant_down, with_minus};
use std::borrow::Cow;

/// Metric units of the texts, and their dimension. A test holds the texts of kinds to these.
pub const UNITS: &[(&str, Dimension)] = &[
    ("L/min", Dimension::Flow),
    ("km/h", Dimension::Speed),
    ("km", Dimension::Distance),
    ("mm", Dimension::Length),
    ("cm", Dimension::Length),
    ("m", Dimension::Length),
    ("cm²", Dimension::Area),
    ("m²", Dimension::Area),
    ("mL", Dimension::Volume),
    ("L", Dimension::Volume),
    ("kg", Dimension::Mass),
    ("g", Dimension::Mass),
    ("°C", Dimension::Temperature),
    ("K", Dimension::TemperatureDifference),
    ("kPa", Dimension::Pressure),
    ("mbar", Dimension::Pressure),
    ("bar", Dimension::Pressure),
    ("N m", Dimension::Torque),
    ("kN", Dimension::Force),
    ("N", Dimension::Force),
    ("W/m", Dimension::LinearPower),
];

/// To which side a value is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Rounding {
    /// To the nearest.
    Nearest,
    /// What is allowed: never more.
    Down,
    /// What is needed: never less.
    Up,
    /// A hole: to the nearest, but never so small that what belongs in it does not go in.
    Hole,
}

/// Share of a hole by which it may be smaller than what its size says: a file takes that away.
const FILED: f64 = 0.01;

/// The text with every metric quantity outside `{{ }}` and `{% %}` in the units of `system`.
#[must_use]
pub fn in_words(text: &str, system: System) -> Cow<'_, str> {
    convert(text, system, &|_| true, None)
}

/// The same of the size of a hole.
#[must_use]
pub fn in_words_of_hole(text: &str, system: System) -> Cow<'_, str> {
    convert(text, system, &|_| true, Some(Rounding::Hole))
}

/// The same, but differences of temperature stay in kelvins: what is judged must tell them from temperatures.
#[must_use]
pub fn in_words_but_differences(text: &str, system: System) -> Cow<'_, str> {
    convert(text, system, &|dimension| dimension != Dimension::TemperatureDifference, None)
}

/// Whether the text is a metric quantity and nothing else: "200 mm", "60 × 60 × 3 mm".
#[must_use]
pub fn is_measure(text: &str) -> bool {
    quantity(text.trim(), &|_| true).is_some_and(|found| found.end == text.trim().len())
}

fn convert<'t>(
    text: &'t str,
    system: System,
    wanted: &dyn Fn(Dimension) -> bool,
    always: Option<Rounding>,
) -> Cow<'t, str> {
    if system == System::Metric || !text.contains(|c: char| c.is_ascii_digit()) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while !rest.is_empty() {
        if let Some(end) = tag(rest) {
            out.push_str(&rest[..end]);
            rest = &rest[end..];
            continue;
        }
        if let Some(found) = quantity(rest, wanted).filter(|_| begins(&out)) {
            let rounding = always.unwrap_or_else(|| rounding(&out, &rest[found.end..]));
            let minus = found.dimension == Dimension::Temperature && is_negative(&out);
            let sign = if minus { -1.0 } else { 1.0 };
            let shown: Option<Vec<_>> =
                found.values.iter().map(|value| us(found.dimension, sign * value, rounding)).collect();
            if let Some(shown) = shown {
                if minus {
                    out.truncate(out.trim_end_matches(['−', '-']).len());
                }
                out.push_str(&joined(&shown));
                rest = &rest[found.end..];
                continue;
            }
        }
        let step = rest.chars().next().map_or(1, char::len_utf8);
        out.push_str(&rest[..step]);
        rest = &rest[step..];
    }
    Cow::Owned(out)
}

/// Whether a number may begin behind what was written: not inside a word or another number.
fn begins(before: &str) -> bool {
    let mut back = before.chars().rev();
    match back.next() {
        Some('-' | '−') => !back.next().is_some_and(|c| c.is_alphanumeric() || c == '.'),
        Some(c) => !(c.is_alphanumeric() || matches!(c, '.' | '_')),
        None => true,
    }
}

/// Whether a sign stands right before the number. A tolerance has a space behind its sign.
fn is_negative(before: &str) -> bool {
    before.ends_with(['−', '-'])
}

/// Length of the template tag that the text begins with.
fn tag(text: &str) -> Option<usize> {
    let close = if text.starts_with("{{") { "}}" } else { text.starts_with("{%").then_some("%}")? };
    Some(text.find(close).map_or(text.len(), |at| at + close.len()))
}

/// To which side a value between these words is rounded. How far a value may be off stands behind "±", or its text begins
/// with "+" or "−".
fn rounding(before: &str, after: &str) -> Rounding {
    const MOST: &[&str] = &["±", "≤", "at most", "no more than", "not more than", "not above", "never above"];
    const LEAST: &[&str] = &["≥", "at least", "no less than", "not less than", "not below", "never below"];
    let before = before.trim_end();
    let follows = |words: &[&str]| words.iter().any(|w| before.to_lowercase().ends_with(w));
    if matches!(before, "+" | "−") || follows(MOST) || after.starts_with(" or less") {
        Rounding::Down
    } else if follows(LEAST) || after.starts_with(" or more") {
        Rounding::Up
    } else {
        Rounding::Nearest
    }
}

/// What a text begins with: values of one unit, and where they end.
struct Found {
    dimension: Dimension,
    values: Vec<f64>,
    end: usize,
}

/// "20 m", or "60 × 60 × 3 mm": there the unit belongs to all three.
fn quantity(text: &str, wanted: &dyn Fn(Dimension) -> bool) -> Option<Found> {
    let mut numbers = Vec::new();
    let mut at = 0;
    loop {
        let digits = text[at..].find(|c: char| !(c.is_ascii_digit() || c == '.')).filter(|end| *end > 0)?;
        numbers.push(&text[at..at + digits]);
        at += digits;
        match text[at..].strip_prefix(" × ") {
            Some(next) if next.starts_with(|c: char| c.is_ascii_digit()) => at += " × ".len(),
            _ => break,
        }
    }
    let after = text[at..].strip_prefix(' ')?;
    let ends = |unit: &str| !after[unit.len()..].starts_with(|c: char| c.is_alphanumeric() || c == '/');
    let (unit, dimension) = UNITS.iter().find(|(unit, _)| after.starts_with(unit) && ends(unit))?;
    let read = |n: &&str| parse_quantity(&format!("{n} {unit}"), *dimension).ok().map(|q| q.value);
    let values = numbers.iter().map(read).collect::<Option<Vec<f64>>>()?;
    wanted(*dimension).then_some(Found { dimension: *dimension, values, end: at + 1 + unit.len() })
}

/// Values with their unit, which stands once where it is the same: "2 3/8 × 2 3/8 × 1/8 in".
fn joined(shown: &[(String, &str)]) -> String {
    let alike = shown.iter().all(|(_, unit)| *unit == shown[0].1);
    let last = shown.len() - 1;
    let one = |(at, (number, unit)): (usize, &(String, &str))| {
        if alike && at < last { number.clone() } else { format!("{number} {unit}") }
    };
    shown.iter().enumerate().map(one).collect::<Vec<_>>().join(" × ")
}

/// A value of the inside unit of its dimension in US units, to two digits; temperatures to the degree.
fn us(dimension: Dimension, value: f64, rounding: Rounding) -> Option<(String, &'static str)> {
    let name = match dimension {
        Dimension::Speed => "mph",
        Dimension::Distance => "mi",
        Dimension::Length if value >= 0.9 => "ft",
        Dimension::Length => "in",
        Dimension::Area if value < 0.1 => "in²",
        Dimension::Area => "ft²",
        Dimension::Volume if value < 0.5 => "fl oz",
        Dimension::Volume if value < 3.5 => "qt",
        Dimension::Volume => "gal",
        Dimension::Mass if value < 0.45 => "oz",
        Dimension::Mass => "lb",
        Dimension::Temperature | Dimension::TemperatureDifference => "°F",
        Dimension::Pressure => "psi",
        Dimension::Torque => "ft lb",
        Dimension::Flow => "gal/min",
        Dimension::Force => "lbf",
        Dimension::LinearPower => "W/ft",
        _ => return None,
    };
    let shown = dimension.unit(name)?.of_inside(value);
    let number = match dimension {
        _ if name == "in" => inches(shown, rounding),
        Dimension::Temperature | Dimension::TemperatureDifference => number(match rounding {
            Rounding::Nearest | Rounding::Hole => shown.round(),
            Rounding::Down => (shown + 1e-9).floor(),
            Rounding::Up => (shown - 1e-9).ceil(),
        }),
        _ => digits(shown, rounding),
    };
    Some((with_minus(&number), name))
}

/// Two digits of a value.
fn digits(value: f64, rounding: Rounding) -> String {
    let down = significant_down(value, 2);
    match rounding {
        Rounding::Nearest | Rounding::Hole => significant(value, 2),
        Rounding::Down => down,
        Rounding::Up => {
            let reached = down.parse::<f64>().is_ok_and(|d| d >= value * (1.0 - 1e-9));
            // The next step of the last digit lies less than a tenth above.
            let step = if value > 0.0 { 10_f64.powf(value.log10().floor() - 1.0) } else { 0.0 };
            if reached { down } else { significant(down.parse::<f64>().unwrap_or(value) + step, 2) }
        }
    }
}

/// Share of a length by which inches of a rule may miss it.
const MISSED: f64 = 0.06;
/// The same for a tolerance or a limit, which is rounded to one side.
const GIVEN_AWAY: f64 = 0.1;
/// Share below which two lengths are the same on any rule: 432 mm are 17 in.
const SAME: f64 = 0.002;

/// Inches as a rule shows them: to the sixteenth below one inch, to the eighth below six, to the quarter above, and finer
/// where that would miss the length by more than a little; where no rule shows it, two digits.
fn inches(value: f64, rounding: Rounding) -> String {
    let coarsest: u32 = if value < 1.0 {
        16
    } else if value < 6.0 {
        8
    } else {
        4
    };
    let allowed = if matches!(rounding, Rounding::Nearest | Rounding::Hole) { MISSED } else { GIVEN_AWAY };
    let mut parts = coarsest;
    while parts <= 64 {
        let exact = value * f64::from(parts);
        let count = match rounding {
            Rounding::Hole if exact.round() < exact * (1.0 - FILED) => exact.ceil(),
            Rounding::Nearest | Rounding::Hole => exact.round(),
            Rounding::Down => (exact * (1.0 + SAME)).floor(),
            Rounding::Up => (exact * (1.0 - SAME)).ceil(),
        };
        if (count - exact).abs() <= allowed * exact {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below 36 inches in 64ths")]
            return fraction(count as u32, parts);
        }
        parts *= 2;
    }
    digits(value, rounding)
}

/// "1 3/4".
fn fraction(mut top: u32, mut bottom: u32) -> String {
    while top.is_multiple_of(2) && bottom > 1 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    match (top / bottom, top % bottom) {
        (whole, 0) => whole.to_string(),
        (0, part) => format!("{part}/{bottom}"),
        (whole, part) => format!("{whole} {part}/{bottom}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811, appendix B.9: 1 mi = 1.609 344 km, 1 ft = 0.3048 m, 1 in = 25.4 mm, 1 US gallon = 3.785 412 L,
    /// 1 US fluid ounce = 29.573 53 mL, 1 psi = 6.894 757 kPa, 1 lb = 0.453 592 kg, 1 ft lbf = 1.355 818 N m.
    #[test]
    fn words_become_us_units() {
        for (metric, us) in [
            ("Re-torque it after the first 1000 km.", "Re-torque it after the first 620 mi."),
            ("Meet at least 20 m away, upwind.", "Meet at least 66 ft away, upwind."),
            ("It moves 25 mm or less.", "It moves 15/16 in or less."),
            ("Hold 2 mm, 15 mm, 45 mm and 175 mm.", "Hold 5/64 in, 9/16 in, 1 3/4 in and 7 in."),
            ("A gap of 0.5 mm to 1 mm, or of 3 mm.", "A gap of 0.02 in to 0.039 in, or of 1/8 in."),
            ("Plates of 60 × 60 × 3 mm.", "Plates of 2 3/8 × 2 3/8 × 1/8 in."),
            ("356 × 356 mm", "14 × 14 in"),
            ("200 cm² free area, 2 m² of board, 50 g", "31 in² free area, 22 ft² of board, 1.8 oz"),
            ("At −20 °C to -30 °C, at 10 W/m.", "At −4 °F to −22 °F, at 3 W/ft."),
            ("Not above 100 km/h.", "Not above 62 mph."),
            ("Pour in 0.2 L, then 2 L, then 10 L of water.", "Pour in 6.8 fl oz, then 2.1 qt, then 2.6 gal of water."),
            ("Below 0 °C or above 25 °C", "Below 32 °F or above 77 °F"),
            ("(2 bar; 23 N m)", "(29 psi; 17 ft lb)"),
            ("20000 km", "12000 mi"),
            ("about 300 N, at least 10 L/min", "about 67 lbf, at least 2.7 gal/min"),
            ("1.5 kPa", "0.22 psi"),
        ] {
            assert_eq!(in_words(metric, System::Us), us);
            assert_eq!(in_words(metric, System::Metric), metric);
        }
    }

    /// 35 N = 7.868 lbf, 0.1 bar = 1.450 psi, 0.5 bar = 7.252 psi, 20 mm = 0.787 in, 15 mm = 0.591 in: by the factors
    /// above and 1 lbf = 4.448 222 N.
    #[test]
    fn a_tolerance_never_grows() {
        for (metric, us) in [
            ("± 35 N", "± 7.8 lbf"),
            ("± 0.1 bar", "± 1.4 psi"),
            ("± 0.5 bar", "± 7.2 psi"),
            ("± 0.5 kPa", "± 0.072 psi"),
            ("± 20 mm", "± 3/4 in"),
            ("± 15 mm", "± 9/16 in"),
            ("± 30 mm", "± 1 1/8 in"),
            ("± 10 %", "± 10 %"),
        ] {
            assert_eq!(in_words(metric, System::Us), us);
        }
    }

    /// A kelvin is 1.8 degrees Fahrenheit, whatever the temperature (NIST SP 811, appendix B.9).
    #[test]
    fn a_difference_has_no_zero_point() {
        for (metric, us) in [
            ("≤ 20 K", "≤ 36 °F"),
            ("60 K, full output", "108 °F, full output"),
            ("± 3 K", "± 5 °F"),
            ("± 1 K", "± 1 °F"),
            ("less 3 % for each 10 K above 25 °C", "less 3 % for each 18 °F above 77 °F"),
            ("2 Kg", "2 Kg"),
            ("K 0.18", "K 0.18"),
        ] {
            assert_eq!(in_words(metric, System::Us), us);
            assert_eq!(in_words(metric, System::Metric), metric);
        }
        assert_eq!(in_words_but_differences("≤ 20 K at 20 °C", System::Us), "≤ 20 K at 68 °F");
    }

    /// 10 mm = 0.394 in, 432 mm = 17.008 in, 50 mm = 1.97 in, 49 °C = 120.2 °F, 46 °C = 114.8 °F, 5 L = 1.32 gal.
    #[test]
    fn a_limit_is_rounded_to_its_safe_side() {
        for (metric, us) in [
            ("at least 10 mm", "at least 13/32 in"),
            ("≥ 432 mm", "≥ 17 in"),
            ("At most 50 mm", "At most 1 7/8 in"),
            ("≤ 49 °C", "≤ 120 °F"),
            ("46 °C or less", "46 °C or less"),
            ("5 L or more", "5 L or more"),
        ] {
            let us = us.replace("46 °C", "114 °F").replace("5 L", "1.4 gal");
            assert_eq!(in_words(metric, System::Us), us);
        }
    }

    #[test]
    fn all_else_stays() {
        for text in [
            "Expect 13.5 V and 10 A for 20 minutes.",
            "2.5 mm² and M8 × 30, 1000 W/m², 830 N/mm², −0.3 %/K, 50 mg/L",
            "{% if load == \"0 kg\" %}none{% else %}{{ load }} m{% endif %}",
            "Way 3 m2, S2 m, no. 4.2 mA, 5 months, 100 kmx",
            "°C 12 é 7",
            "{{ open",
        ] {
            assert_eq!(in_words(text, System::Us), text);
        }
    }

    /// Metric cable glands: an M16 thread measures 16 mm (ISO 262), so 5/8 in, 15.9 mm, is too small for it.
    #[test]
    fn a_hole_lets_in_what_belongs_in_it() {
        for (metric, us) in [
            ("16.5 mm diameter", "11/16 in diameter"),
            ("20.5 mm diameter", "13/16 in diameter"),
            ("Ø 8 mm", "Ø 5/16 in"),
            ("356 × 356 mm", "14 × 14 in"),
        ] {
            assert_eq!(in_words_of_hole(metric, System::Us), us);
            assert_eq!(in_words_of_hole(metric, System::Metric), metric);
        }
    }
}
