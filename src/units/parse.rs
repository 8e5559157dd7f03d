//! Text of a spec → quantity: `"4.2 m"`, `"12 ft 6 in"`, `"1 1/2 in"`, `"2 h 30 min"`, `"-22 °C"`.

use super::{Dimension, Quantity, Unit};
use std::ops::Range;

/// Largest magnitude, in the inside unit, that anything on a van can have.
const LARGEST: f64 = 1e12;

/// Why a text is not a quantity: where in the text, what was expected, a likely spelling.
#[derive(Clone, Debug, PartialEq)]
pub struct ParseFault {
    /// Bytes of the text at fault.
    pub at: Range<usize>,
    /// What is wrong, as a clause.
    pub message: String,
    /// A likely spelling, where one can be told.
    pub likely: Option<String>,
}

/// Reads `text` as a quantity of `dimension`.
///
/// # Errors
/// [`ParseFault`] where number or unit are missing, unknown, of another dimension, or not finite.
pub fn parse_quantity(text: &str, dimension: Dimension) -> Result<Quantity, ParseFault> {
    let mut rest = Scanner { text, at: 0 };
    let mut total = 0.0;
    let mut system = None;
    let mut last_factor = f64::INFINITY;
    let negative = rest.take_sign();
    loop {
        let number_at = rest.skip_space();
        let value = rest.number(dimension)?;
        let unit_at = rest.skip_space();
        let (unit, end) = rest.unit(dimension, if negative { -value } else { value }, number_at)?;
        if unit.factor >= last_factor {
            return Err(fault(unit_at..end, "a second part must be in a smaller unit, as in \"12 ft 6 in\"", None));
        }
        last_factor = unit.factor;
        total += value * unit.factor;
        if unit.offset != 0.0 {
            total = (if negative { -value } else { value }) * unit.factor + unit.offset;
        }
        system = system.or(unit.system);
        rest.at = end;
        rest.skip_space();
        if rest.at == text.len() {
            if negative && unit.offset == 0.0 {
                total = -total;
            }
            break;
        }
        if unit.offset != 0.0 {
            return Err(fault(rest.at..text.len(), "nothing may follow the unit", None));
        }
    }
    if !total.is_finite() || total.abs() > LARGEST {
        return Err(fault(0..text.len(), "the number is too large for anything on a van", None));
    }
    Ok(Quantity { dimension, value: total, written: text.trim().to_owned(), system, bound: None })
}

fn fault(at: Range<usize>, message: impl Into<String>, likely: Option<String>) -> ParseFault {
    ParseFault { at, message: message.into(), likely }
}

struct Scanner<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Scanner<'a> {
    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    fn skip_space(&mut self) -> usize {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
        self.at
    }

    fn take_sign(&mut self) -> bool {
        self.skip_space();
        for (sign, negative) in [("-", true), ("−", true), ("+", false)] {
            if self.rest().starts_with(sign) {
                self.at += sign.len();
                return negative;
            }
        }
        false
    }

    /// A decimal, a fraction ("1/2") or a mixed number ("1 1/2").
    fn number(&mut self, dimension: Dimension) -> Result<f64, ParseFault> {
        let start = self.at;
        let whole = self.digits();
        if whole.is_empty() {
            let what = if self.rest().is_empty() { "a number is missing" } else { "this is not a number" };
            let message = format!("{what}; expected {}, like \"{}\"", dimension.a_word(), dimension.example());
            return Err(fault(start..self.text.len(), message, None));
        }
        if let Some(after) = self.rest().strip_prefix(',') {
            let decimals = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
            let likely = if decimals == 3 { format!("{whole}{after}") } else { format!("{whole}.{after}") };
            return Err(fault(
                self.at..self.at + 1,
                "a comma is not allowed in a number; decimals have a point",
                Some(likely),
            ));
        }
        if whole.contains('.') {
            return parse_float(whole, start..self.at);
        }
        let mark = self.at;
        if self.rest().starts_with('/') {
            self.at += 1;
            return self.fraction(whole, start);
        }
        let space = self.skip_space() > mark;
        let top = self.digits();
        if space && !top.is_empty() && !top.contains('.') && self.rest().starts_with('/') {
            self.at += 1;
            return Ok(parse_float(whole, start..mark)? + self.fraction(top, start)?);
        }
        self.at = mark;
        parse_float(whole, start..mark)
    }

    fn fraction(&mut self, top: &str, start: usize) -> Result<f64, ParseFault> {
        let bottom = self.digits();
        let range = start..self.at;
        match parse_float(bottom, range.clone()) {
            Ok(b) if b > 0.0 => Ok(parse_float(top, range)? / b),
            _ => Err(fault(range, "this is not a fraction", None)),
        }
    }

    fn digits(&mut self) -> &'a str {
        let rest = self.rest();
        let len = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        self.at += len;
        &rest[..len]
    }

    /// The longest unit spelling here; it must not run into another letter.
    fn unit(&self, dimension: Dimension, value: f64, number_at: usize) -> Result<(&'static Unit, usize), ParseFault> {
        let rest = self.rest();
        let fits = |u: &&Unit| {
            rest.strip_prefix(u.name).is_some_and(|after| {
                !after.starts_with(|c: char| c.is_alphanumeric() && u.name.ends_with(char::is_alphabetic) || c == '/')
            })
        };
        if let Some(unit) = dimension.units().iter().filter(fits).max_by_key(|u| u.name.len()) {
            return Ok((unit, self.at + unit.name.len()));
        }
        let word_end = rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len());
        let word = rest[..word_end].trim_end();
        let at = self.at..self.at + word.len();
        let shown = super::number(value);
        if word.is_empty() {
            let likely = format!("{shown} {}", likely_unit(dimension, &shown));
            let at = number_at..self.text.len();
            return Err(fault(at, format!("the unit is missing; expected {}", dimension.a_word()), Some(likely)));
        }
        if let Some(other) = Dimension::ALL.iter().find(|d| d.unit(word).is_some()) {
            let message = format!(
                "`{word}` measures {}; expected {}, like \"{}\"",
                other.word(),
                dimension.a_word(),
                dimension.example()
            );
            return Err(fault(at, message, None));
        }
        let likely = nearest_unit(dimension, word).map(|u| format!("{shown} {u}"));
        let known: Vec<_> = dimension.units().iter().map(|u| u.name).collect();
        Err(fault(
            at,
            format!("`{word}` is not a unit of {}; known are {}", dimension.word(), known.join(", ")),
            likely,
        ))
    }
}

fn likely_unit(dimension: Dimension, shown: &str) -> &'static str {
    let example = dimension.example();
    let unit = example.trim_start_matches(|c: char| !c.is_alphabetic() && c != '%' && c != '°');
    dimension
        .units()
        .iter()
        .map(|u| u.name)
        .find(|n| unit.starts_with(n) && !shown.is_empty())
        .unwrap_or(dimension.units()[0].name)
}

/// Spelled-out and mistyped units, by the unit they stand for.
const WORDS: &[(&str, &str)] = &[
    ("amp", "A"),
    ("amps", "A"),
    ("ampere", "A"),
    ("amperes", "A"),
    ("volt", "V"),
    ("volts", "V"),
    ("watt", "W"),
    ("watts", "W"),
    ("metre", "m"),
    ("metres", "m"),
    ("meter", "m"),
    ("meters", "m"),
    ("mtr", "m"),
    ("feet", "ft"),
    ("foot", "ft"),
    ("inch", "in"),
    ("inches", "in"),
    ("litre", "L"),
    ("litres", "L"),
    ("liter", "L"),
    ("liters", "L"),
    ("gallon", "gal"),
    ("gallons", "gal"),
    ("kilo", "kg"),
    ("kilos", "kg"),
    ("kgs", "kg"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("hour", "h"),
    ("hours", "h"),
    ("hrs", "h"),
    ("hr", "h"),
    ("minutes", "min"),
    ("mins", "min"),
    ("gpm", "gal/min"),
    ("lpm", "L/min"),
    ("percent", "%"),
    ("degrees", "°"),
    ("ohms", "ohm"),
    ("cfm", "ft3/min"),
];

fn nearest_unit(dimension: Dimension, word: &str) -> Option<&'static str> {
    let lower = word.to_lowercase();
    let known = |name: &str| dimension.unit(name).map(|u| u.name);
    if let Some((_, unit)) = WORDS.iter().find(|(w, _)| *w == lower) {
        return known(unit);
    }
    let same_letters = dimension.units().iter().find(|u| u.name.to_lowercase() == lower);
    same_letters.map(|u| u.name).or_else(|| {
        let close = |u: &&Unit| strsim::damerau_levenshtein(&u.name.to_lowercase(), &lower) == 1 && u.name.len() > 1;
        dimension.units().iter().find(close).map(|u| u.name)
    })
}

fn parse_float(digits: &str, at: Range<usize>) -> Result<f64, ParseFault> {
    digits.parse::<f64>().ok().filter(|v| v.is_finite()).ok_or_else(|| fault(at, "this is not a number", None))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str, dimension: Dimension) -> f64 {
        parse_quantity(text, dimension).expect(text).value
    }

    /// Factors: NIST SP 811 (2008) appendix B.8, exact definitions.
    #[test]
    fn reads_what_a_shop_writes() {
        let cases = [
            ("14 ft", Dimension::Length, 4.2672),
            ("12 ft 6 in", Dimension::Length, 3.81),
            ("1/2 in", Dimension::Length, 0.0127),
            ("1 1/2 in", Dimension::Length, 0.0381),
            ("-0.55 m", Dimension::Length, -0.55),
            ("30 gal", Dimension::Volume, 113.562_353_52),
            ("2 h 30 min", Dimension::Duration, 9000.0),
            ("-22 °C", Dimension::Temperature, -22.0),
            ("-20 °F", Dimension::Temperature, -28.888_888_888_888_89),
            ("40 %", Dimension::Ratio, 0.4),
            ("1000 Ah", Dimension::Charge, 1000.0),
            ("30A", Dimension::Current, 30.0),
            ("90 lbs", Dimension::Mass, 40.823_313_3),
            ("12 Nm", Dimension::Torque, 12.0),
            ("9 ft lb", Dimension::Torque, 12.202_361_534_982_6),
            ("3 gal/min", Dimension::Flow, 11.356_235_352),
        ];
        for (text, dimension, expected) in cases {
            let got = value(text, dimension);
            assert!((got - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{text}: {got} is not {expected}");
        }
    }

    #[test]
    fn faults_name_place_and_likely_spelling() {
        let fault = |text, dimension| parse_quantity(text, dimension).expect_err(text);
        assert_eq!(fault("4,2 m", Dimension::Length).likely.as_deref(), Some("4.2 m"));
        assert_eq!(fault("1,000 Ah", Dimension::Charge).likely.as_deref(), Some("1000 Ah"));
        assert_eq!(fault("30 amps", Dimension::Current).likely.as_deref(), Some("30 A"));
        assert_eq!(fault("30 amps", Dimension::Current).at, 3..7);
        assert_eq!(fault("30", Dimension::Current).likely.as_deref(), Some("30 A"));
        assert!(fault("30 kg", Dimension::Current).message.contains("measures mass"));
        for text in ["", "NaN A", "inf A", "1e308 A", "9999999999999999 A", "A", "1/0 A", "1..2 A", "30 A 5", "3 A 4 A"]
        {
            assert!(parse_quantity(text, Dimension::Current).is_err(), "{text}");
        }
    }
}
