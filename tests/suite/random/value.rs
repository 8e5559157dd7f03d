//! A value for a declared field: near what is usual, or anywhere its declaration allows.

use super::text;
use rigbinder::fields::{FieldDecl, FieldType};
use rigbinder::units::{Dimension, parse_quantity};
use std::str::FromStr;
use toml::Value;
use toml::value::Datetime;

/// What was rolled for a value.
#[derive(Clone, Copy, Debug)]
pub(super) struct Die {
    /// Picks among words.
    pub(super) which: u16,
    /// Where in a range, of 65 535.
    pub(super) share: u16,
    /// Anywhere in the range that the declaration allows; else near the usual.
    pub(super) wild: bool,
}

/// Usual values of fields that declare none, for a build that works.
const USUAL: &[(&str, &str)] = &[
    ("wheelbase", "3.6 m"),
    ("gross_mass", "3800 kg"),
    ("front_axle_limit", "2000 kg"),
    ("rear_axle_limit", "2500 kg"),
    ("front_axle_empty", "1050 kg"),
    ("rear_axle_empty", "850 kg"),
    ("front_axle", "1500 kg"),
    ("rear_axle", "1500 kg"),
    ("left", "1500 kg"),
    ("right", "1500 kg"),
    ("total", "3000 kg"),
    ("height", "2.7 m"),
    ("length", "6 m"),
    ("width", "2.05 m"),
    ("latitude", "45 °"),
    ("irradiation", "3.5 kWh/m2"),
    ("low", "3 °C"),
    ("high", "17 °C"),
    ("record_low", "-15 °C"),
    ("record_high", "35 °C"),
    ("area", "4 m2"),
    ("capacity", "100 L"),
    ("mass", "3 kg"),
    ("run", "2 m"),
    ("output_run", "0.6 m"),
    ("trip_current", "5 mA"),
    ("voc", "22 V"),
    ("vmp", "18.5 V"),
    ("isc", "9 A"),
    ("imp", "8.6 A"),
    ("output_current", "20 A"),
    ("at", "1.5 m"),
    ("size", "0.4 m"),
];

/// A value for the field `name`; `None` for one that refers to something, or that the roll leaves out.
pub(super) fn value(name: &str, decl: &FieldDecl, die: Die) -> Option<Value> {
    Some(match decl.ty {
        FieldType::Quantity(dimension) => Value::from(quantity(name, decl, dimension, die)),
        FieldType::Points => {
            let point = |turn: u16| {
                let one = |axis: u16| {
                    let die = Die { share: die.share.rotate_left(u32::from(turn * 3 + axis) * 3), ..die };
                    Value::from(quantity("at", decl, Dimension::Length, die))
                };
                Value::from([0, 1, 2].map(one).to_vec())
            };
            Value::Array((0..die.share % 5).map(point).collect())
        }
        FieldType::Lengths3 | FieldType::Lengths2 => {
            let one = |turn: u16| {
                let die = Die { share: die.share.rotate_left(u32::from(turn) * 5), ..die };
                Value::from(quantity(name, decl, Dimension::Length, die))
            };
            let turns = if decl.ty == FieldType::Lengths2 { 0..2 } else { 0..3 };
            Value::from(turns.map(one).collect::<Vec<_>>())
        }
        FieldType::Text | FieldType::Prose if decl.required => Value::from(text::words(die.which)),
        FieldType::Text | FieldType::Prose => Value::from(text::line(die.which)),
        FieldType::Flag => Value::from(die.which.is_multiple_of(2)),
        FieldType::Count => Value::from(count(decl, die)),
        FieldType::Choice => Value::from(decl.choices[usize::from(die.which) % decl.choices.len()].clone()),
        FieldType::Date => date(die),
        FieldType::MonthDay => Value::from(format!("{:02}-{:02}", 1 + die.which % 12, 1 + die.share % 28)),
        FieldType::Texts if decl.required => Value::Array(vec![Value::from(text::words(die.which))]),
        FieldType::Texts => {
            let lines = (0..die.share % 4).map(|n| Value::from(text::line(die.which.wrapping_add(n)))).collect();
            Value::Array(lines)
        }
        FieldType::Conductor if die.wild => {
            let sizes = ["10 AWG", "14 AWG", "2/0 AWG", "6 mm2", "1.5 mm²", "35 mm2"];
            Value::from(sizes[usize::from(die.which) % sizes.len()])
        }
        FieldType::Price => {
            let currency = ["EUR", "USD", "CHF", "JPY"][usize::from(die.which) % 4];
            Value::from(format!("{currency} {}.{:02}", die.share / 16, die.which % 100))
        }
        FieldType::Rows(of) => {
            let row = |n: u16| {
                let die = Die { which: die.which.wrapping_add(n), ..die };
                let fields = of.fields();
                let inner = fields.iter().filter_map(|(name, decl)| Some((name.clone(), value(name, decl, die)?)));
                // An id is plain and stands once.
                let with_id =
                    inner.map(|(name, v)| if name == "id" { (name, Value::from(format!("r{n}"))) } else { (name, v) });
                Value::Table(with_id.collect())
            };
            Value::Array((0..die.share % 3).map(row).collect())
        }
        FieldType::Parts => {
            let part = |n: u16| {
                let die = Die { which: die.which.wrapping_add(n), ..die };
                let inner = decl.has.iter().filter_map(|(name, decl)| Some((name.clone(), value(name, decl, die)?)));
                (format!("p{n}"), Value::Table(inner.collect()))
            };
            Value::Table((0..die.share % 4).map(part).collect())
        }
        // What names something of the build, or says something of other fields, is drawn where those are known.
        FieldType::ChoiceByField
        | FieldType::Conductor
        | FieldType::Component
        | FieldType::Components
        | FieldType::Switch
        | FieldType::Place
        | FieldType::Places => return None,
    })
}

fn date(die: Die) -> Value {
    let (first, years) = if die.wild { (1950, 200) } else { (2026, 4) };
    let year = first + die.share % years;
    let text = format!("{year:04}-{:02}-{:02}", 1 + die.which % 12, 1 + (die.which / 12) % 28);
    Value::Datetime(Datetime::from_str(&text).expect("a date"))
}

fn count(decl: &FieldDecl, die: Die) -> i64 {
    let whole = |v: &Option<Value>| v.as_ref().and_then(Value::as_integer);
    let (low, high) = (whole(&decl.min).unwrap_or(0), whole(&decl.max).unwrap_or(1000));
    let usual = whole(&decl.default).unwrap_or(low).clamp(low, high);
    let reach = if die.wild { high - low } else { 3 };
    let from = if die.wild { low } else { usual };
    (from + i64::from(die.share) % (reach + 1)).clamp(low, high)
}

fn quantity(name: &str, decl: &FieldDecl, dimension: Dimension, die: Die) -> String {
    let inside = |text: &str| parse_quantity(text, dimension).ok().map(|q| q.value);
    let declared = |v: &Option<Value>| v.as_ref().and_then(Value::as_str).and_then(inside);
    let known = USUAL.iter().filter(|(field, _)| *field == name).find_map(|(_, text)| inside(text));
    let (min, max) = (declared(&decl.min), declared(&decl.max));
    let middle = match (min, max) {
        (Some(a), Some(b)) if a > 0.0 => Some((a * b).sqrt()),
        (Some(a), Some(b)) => Some(a + 0.2 * (b - a)),
        _ => None,
    };
    let usual = declared(&decl.default).or(known).or(middle).or_else(|| inside(dimension.example())).unwrap_or(1.0);
    let share = f64::from(die.share) / 65_535.0;
    let drawn = match (die.wild, min, max) {
        // The very ends too: limits may be met exactly.
        (true, Some(a), Some(b)) => a + share * (b - a),
        (true, ..) => usual * 10_f64.powf(2.0 * share - 1.0),
        (false, ..) if dimension == Dimension::Temperature => usual + 6.0 * share - 3.0,
        (false, ..) => usual * (0.8 + 0.4 * share),
    };
    // Rounding in another unit must not step over a bound.
    let (low, high) = (min.unwrap_or(f64::NEG_INFINITY), max.unwrap_or(f64::INFINITY));
    let units = dimension.units();
    let spellings = [&units[usize::from(die.which) % units.len()], &units[0]];
    let write = |unit: &rigbinder::units::Unit| format!("{} {}", rounded(unit.of_inside(drawn)), unit.name);
    let fits = |text: &String| inside(text).is_some_and(|v| v >= low && v <= high);
    let at_bound = |v: Option<&Value>| v.and_then(Value::as_str).map(str::to_owned);
    let written = spellings.into_iter().map(write).find(fits);
    let bound = if drawn < usual { decl.min.as_ref() } else { decl.max.as_ref() };
    written.or_else(|| at_bound(bound)).or_else(|| at_bound(decl.default.as_ref())).unwrap_or_else(|| write(&units[0]))
}

/// Five significant figures, never in the form with an exponent.
fn rounded(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return 0.0;
    }
    let scale = 10_f64.powf(4.0 - value.abs().log10().floor());
    (value * scale).round() / scale
}
