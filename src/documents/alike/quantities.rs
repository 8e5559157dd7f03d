//! Quantities that stand as words in the texts of kinds ("after the first 1000 km") in the units of the documents.
//!
//! Kind texts are written in metric units. Facts of a part come out in the right units by themselves; what stands in
//! the text does not, so it is turned here, rounded to what a person would say. A tolerance is rounded down: it never
//! grows wider than the kind has it.

use crate::units::{Dimension, System, parse_quantity, significant, significant_down};
use std::borrow::Cow;

/// Metric units of the texts, and their dimension.
const UNITS: &[(&str, Dimension)] = &[
    ("L/min", Dimension::Flow),
    ("km/h", Dimension::Speed),
    ("km", Dimension::Distance),
    ("mm", Dimension::Length),
    ("cm", Dimension::Length),
    ("m", Dimension::Length),
    ("mL", Dimension::Volume),
    ("L", Dimension::Volume),
    ("kg", Dimension::Mass),
    ("°C", Dimension::Temperature),
    ("kPa", Dimension::Pressure),
    ("bar", Dimension::Pressure),
    ("N m", Dimension::Torque),
    ("kN", Dimension::Force),
    ("N", Dimension::Force),
];

/// The text with every metric quantity outside `{{ }}` and `{% %}` in the units of `system`.
#[must_use]
pub fn printed(text: &str, system: System) -> Cow<'_, str> {
    if system == System::Metric {
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
        let word = out.chars().next_back().is_some_and(|c| c.is_alphanumeric() || matches!(c, '.' | '-' | '_'));
        // Of "60 × 60 × 3 mm" the unit belongs to all three: it stays as it is.
        let product = out.trim_end().ends_with('×');
        if !word
            && !product
            && let Some((shown, end)) = quantity(rest, is_tolerance(&out))
        {
            out.push_str(&shown);
            rest = &rest[end..];
            continue;
        }
        let step = rest.chars().next().map_or(1, char::len_utf8);
        out.push_str(&rest[..step]);
        rest = &rest[step..];
    }
    Cow::Owned(out)
}

/// Length of the template tag that the text begins with.
fn tag(text: &str) -> Option<usize> {
    let close = if text.starts_with("{{") { "}}" } else { text.starts_with("{%").then_some("%}")? };
    Some(text.find(close).map_or(text.len(), |at| at + close.len()))
}

/// Whether what follows is how far a value may be off: it stands behind "±", or a text begins with "+" or "−".
fn is_tolerance(before: &str) -> bool {
    let before = before.trim_end();
    before.ends_with('±') || matches!(before, "+" | "−")
}

/// The quantity that the text begins with, as it is to be printed, and its length in the text.
fn quantity(text: &str, tolerance: bool) -> Option<(String, usize)> {
    let digits = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).filter(|end| *end > 0)?;
    let after = text[digits..].strip_prefix(' ')?;
    let ends = |unit: &str| !after[unit.len()..].starts_with(|c: char| c.is_alphanumeric() || c == '/');
    let (unit, dimension) = UNITS.iter().find(|(unit, _)| after.starts_with(unit) && ends(unit))?;
    let end = digits + 1 + unit.len();
    let value = parse_quantity(&text[..end], *dimension).ok()?.value;
    Some((us(*dimension, value, tolerance)?, end))
}

/// A value of the inside unit of its dimension in US units, to two digits; temperatures to the degree. A tolerance is
/// rounded down.
fn us(dimension: Dimension, value: f64, tolerance: bool) -> Option<String> {
    let name = match dimension {
        Dimension::Speed => "mph",
        Dimension::Distance => "mi",
        Dimension::Length if value >= 0.9 => "ft",
        Dimension::Length => "in",
        Dimension::Volume if value < 0.5 => "fl oz",
        Dimension::Volume if value < 3.5 => "qt",
        Dimension::Volume => "gal",
        Dimension::Mass => "lb",
        Dimension::Temperature => "°F",
        Dimension::Pressure => "psi",
        Dimension::Torque => "ft lb",
        Dimension::Flow => "gal/min",
        Dimension::Force => "lbf",
        _ => return None,
    };
    let unit = dimension.unit(name)?;
    let shown = (value - unit.offset) / unit.factor;
    if name == "in" {
        return Some(format!("{} in", inches(shown, tolerance)));
    }
    let number = match dimension {
        Dimension::Temperature => format!("{shown:.0}"),
        _ if tolerance => significant_down(shown, 2),
        _ => significant(shown, 2),
    };
    Some(format!("{number} {name}"))
}

/// Inches as a rule shows them: to the sixteenth below one inch, to the eighth below six, to the quarter above; never
/// nothing. A tolerance is rounded down where that leaves anything.
fn inches(value: f64, tolerance: bool) -> String {
    let parts: u32 = if value < 1.0 {
        16
    } else if value < 6.0 {
        8
    } else {
        4
    };
    let inches = |n: u32| f64::from(n) / f64::from(parts);
    let below = (1..=36 * parts).rfind(|n| inches(*n) <= value + 1e-9).filter(|_| tolerance);
    let nearest = || (1..=36 * parts).min_by(|a, b| (inches(*a) - value).abs().total_cmp(&(inches(*b) - value).abs()));
    let count = below.or_else(nearest);
    let (mut top, mut bottom) = (count.unwrap_or(1), parts);
    while top % 2 == 0 && bottom > 1 {
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
            ("It moves 25 mm or less.", "It moves 1 in or less."),
            ("Hold 2 mm, 15 mm, 45 mm and 175 mm.", "Hold 1/16 in, 9/16 in, 1 3/4 in and 7 in."),
            ("Not above 100 km/h.", "Not above 62 mph."),
            ("Pour in 0.2 L, then 2 L, then 10 L of water.", "Pour in 6.8 fl oz, then 2.1 qt, then 2.6 gal of water."),
            ("Below 0 °C or above 25 °C", "Below 32 °F or above 77 °F"),
            ("(2 bar; 23 N m)", "(29 psi; 17 ft lb)"),
            ("20000 km", "12000 mi"),
            ("about 300 N, at least 10 L/min", "about 67 lbf, at least 2.6 gal/min"),
            ("1.5 kPa", "0.22 psi"),
        ] {
            assert_eq!(printed(metric, System::Us), us);
            assert_eq!(printed(metric, System::Metric), metric);
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
            assert_eq!(printed(metric, System::Us), us);
        }
    }

    #[test]
    fn all_else_stays() {
        for text in [
            "Expect 13.5 V and 10 A for 20 minutes.",
            "Plates of 60 × 60 × 3 mm.",
            "{% if load == \"0 kg\" %}none{% else %}{{ load }} m{% endif %}",
            "Way 3 m2, S2 m, no. 4.2 mA, 5 months, 100 kmx",
            "°C 12 é 7",
            "{{ open",
        ] {
            assert_eq!(printed(text, System::Us), text);
        }
    }
}
