//! What a test expects, as a range of figures, and whether a recorded figure lies in it.

use crate::units::{Dimension, System, parse_quantity, print};
use jiff::civil::Date;
use serde::Serialize;

/// What a figure measures: a dimension of the units room, or a word of its own ("ppm", "dB", "" for a bare count).
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum Measure {
    /// A known dimension, its figures in the inside unit.
    Of(Dimension),
    /// Any other unit.
    Word(String),
}

/// Figures a test takes as good, both ends included.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Band {
    /// What is measured.
    pub measure: Measure,
    /// Smallest.
    pub low: Option<f64>,
    /// Largest.
    pub high: Option<f64>,
}

/// What a recorded figure says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Within the tolerance.
    Within,
    /// Out of tolerance.
    Outside,
    /// The expected value is in words, or the build does not give it: a person judges.
    Judge,
    /// The record is no figure of what is measured.
    Unreadable,
}

/// Share of the limit's own size that a figure may lie beyond it: rounding of what is printed and written.
const ROUNDING: f64 = 1e-6;

impl Band {
    /// From the expected value and the tolerance as a packet prints them: "13.4 V" and "± 0.2 V", "≤ 15 K" and "".
    /// `None` where the expected value is in words.
    #[must_use]
    pub fn read(expect: &str, tolerance: &str) -> Option<Self> {
        let expect = plain(expect);
        let (upper, lower) = limits(&expect);
        let body = expect.trim_start_matches(SIGNS).trim_end_matches(" or less").trim_end_matches(" ahead");
        let (measure, value) = product(body.trim_end_matches(" or more"))?;
        if upper || lower {
            return Some(Self { measure, low: lower.then_some(value), high: upper.then_some(value) });
        }
        let tolerance = plain(tolerance);
        if tolerance.is_empty() {
            // A count is met or not; any other bare figure is only a hint.
            let exact = measure == Measure::Word(String::new());
            return exact.then_some(Self { measure, low: Some(value), high: Some(value) });
        }
        let (of, spread) = product(tolerance.trim_start_matches(SIGNS))?;
        let spread = match (&of, &measure) {
            (a, b) if a == b => spread,
            (Measure::Of(Dimension::TemperatureDifference), Measure::Of(Dimension::Temperature)) => spread,
            (Measure::Of(Dimension::Ratio), _) => value.abs() * spread,
            _ => return None,
        };
        let below = if tolerance.starts_with('+') { 0.0 } else { spread };
        let above = if tolerance.starts_with(['−', '-']) { 0.0 } else { spread };
        Some(Self { measure, low: Some(value - below), high: Some(value + above) })
    }

    /// Holds a record against the band. A date stands for the years from `day` to it.
    #[must_use]
    pub fn judge(&self, recorded: &str, day: Option<Date>) -> Verdict {
        let Some(value) = self.value(recorded, day) else { return Verdict::Unreadable };
        let slack = |limit: f64| limit.abs() * ROUNDING + 1e-9;
        let low = self.low.is_none_or(|l| value >= l - slack(l));
        let high = self.high.is_none_or(|h| value <= h + slack(h));
        if low && high { Verdict::Within } else { Verdict::Outside }
    }

    fn value(&self, recorded: &str, day: Option<Date>) -> Option<f64> {
        let text = plain(recorded);
        // A meter at the end of its range shows "> 200 Mohm".
        let text = text.trim_start_matches(['≤', '≥', '<', '>', ' ']);
        match &self.measure {
            Measure::Of(Dimension::Duration) if text.parse::<Date>().is_ok() => {
                let days = day?.until(text.parse::<Date>().ok()?).ok()?.get_days();
                Some(f64::from(days) * 86_400.0)
            }
            Measure::Of(dimension) => parse_quantity(text, *dimension).ok().map(|q| q.value),
            Measure::Word(word) => number_and_word(text).filter(|(_, unit)| unit == word).map(|(n, _)| n),
        }
    }
}

/// What a test measures, where its expected value or its tolerance tells it.
#[must_use]
pub fn measured(expect: &str, tolerance: &str) -> Option<Measure> {
    if let Some(band) = Band::read(expect, tolerance) {
        return Some(band.measure);
    }
    let (of, _) = product(plain(tolerance).trim_start_matches(SIGNS))?;
    match of {
        Measure::Of(Dimension::Ratio) | Measure::Word(_) => None,
        Measure::Of(Dimension::TemperatureDifference) => Some(Measure::Of(Dimension::Temperature)),
        Measure::Of(_) => Some(of),
    }
}

/// Holds a record against expected value and tolerance. A date stands for the years from `day` to it.
#[must_use]
pub fn judge(expect: &str, tolerance: &str, recorded: &str, day: Option<Date>) -> Verdict {
    if let Some(band) = Band::read(expect, tolerance) {
        return band.judge(recorded, day);
    }
    // No figure is expected, but what is measured is known.
    let any = measured(expect, tolerance).map(|measure| Band { measure, low: None, high: None });
    let readable = any.is_none_or(|band| band.value(recorded, day).is_some());
    if readable { Verdict::Judge } else { Verdict::Unreadable }
}

/// A record as a build that prints `system` shows it: a figure in units of the other system is converted, and stands
/// behind as it was read. "0.1 bar" becomes "1.45 psi (0.1 bar)"; anything else stays.
#[must_use]
pub fn in_units(expect: &str, tolerance: &str, recorded: &str, system: System) -> String {
    let text = plain(recorded);
    let body = text.trim_start_matches(['≤', '≥', '<', '>', ' ']);
    let sign = &text[..text.len() - body.len()];
    let converted = match measured(expect, tolerance) {
        Some(Measure::Of(dimension)) => {
            let read = parse_quantity(body, dimension).ok();
            read.filter(|q| q.system.is_some_and(|own| own != system)).map(|q| print(dimension, q.value, system))
        }
        // What is expected is told in words; the record says itself what it is.
        None => figure(body).and_then(|(measure, value)| match measure {
            Measure::Of(dimension) => {
                let read = parse_quantity(body, dimension).ok()?;
                read.system.is_some_and(|own| own != system).then(|| print(dimension, value, system))
            }
            Measure::Word(_) => None,
        }),
        Some(Measure::Word(_)) => None,
    };
    converted.map_or_else(|| recorded.to_owned(), |shown| format!("{sign}{shown} ({text})"))
}

/// Signs before a limit or tolerance.
const SIGNS: [char; 9] = ['±', '≤', '≥', '<', '>', '+', '−', '-', ' '];

/// Without what Markdown adds, with plain spaces.
fn plain(text: &str) -> String {
    text.replace('\\', "").replace(['\u{a0}', '\u{202f}'], " ").trim().to_owned()
}

/// Whether the text sets an upper and a lower limit.
fn limits(text: &str) -> (bool, bool) {
    let upper = text.starts_with(['≤', '<']) || text.ends_with(" or less");
    let lower = text.starts_with(['≥', '>']) || text.ends_with(" or more") || text.ends_with(" or more ahead");
    (upper, lower)
}

/// "18.2 V × 2", "50 % of 8.5 A", "12.4 V (0.2 V below the source)", "60 K, full output" or a plain figure.
fn product(text: &str) -> Option<(Measure, f64)> {
    let text = text.split(" (").next().unwrap_or(text).split(", ").next().unwrap_or(text).trim();
    if let Some((share, whole)) = text.split_once(" % of ") {
        let (measure, value) = figure(whole)?;
        return Some((measure, value * share.trim().parse::<f64>().ok()? / 100.0));
    }
    if let Some((one, times)) = text.split_once(" × ") {
        let (measure, value) = figure(one)?;
        return Some((measure, value * times.trim().parse::<f64>().ok()?));
    }
    figure(text)
}

fn figure(text: &str) -> Option<(Measure, f64)> {
    let text = text.trim();
    let mut known = Dimension::ALL.iter().copied().filter(|d| *d != Dimension::Section);
    if let Some(q) = known.find_map(|d| parse_quantity(text, d).ok()) {
        return Some((Measure::Of(q.dimension), q.value));
    }
    let (number, unit) = number_and_word(text)?;
    let short = unit.chars().count() <= 6 && !unit.contains(' ');
    short.then(|| (Measure::Word(unit.to_owned()), number))
}

fn number_and_word(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.' && c != '-').unwrap_or(text.len());
    let number = text[..end].parse::<f64>().ok().filter(|n| n.is_finite())?;
    Some((number, text[end..].trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn verdict(expect: &str, tolerance: &str, recorded: &str) -> Verdict {
        let day = Some(jiff::civil::date(2027, 5, 14));
        judge(expect, tolerance, recorded, day)
    }

    #[test]
    fn limits_count_both_ends_in() {
        for (expect, tolerance, good, bad) in [
            ("13.4 V", "± 0.2 V", "13.2 V", "13.19 V"),
            ("≤ 25 mm", "", "25 mm", "1.1 in"),
            ("≥ 1 Mohm", "", "> 200 Mohm", "900 kohm"),
            ("60 °C or less", "", "140 °F", "61 °C"),
            ("0 A", "+ 10 mA", "10 mA", "11 mA"),
            ("100 %", "− 10 %", "90 %", "101 %"),
            ("50 %", "± 10 %", "60 %", "61 %"),
            ("7.5 A", "± 20 %", "9 A", "9.1 A"),
            ("60 K, full output", "± 20 K", "104 °F", "81 K"),
            ("≤ 15 K", "", "12 K", "16 K"),
            ("4 °C", "± 3 K", "44 °F", "0 °C"),
            ("18.2 V × 2", "± 8 %", "36.9 V", "32 V"),
            ("≥ 50 % of 8 A", "", "4 A", "3.9 A"),
            ("12.41 V (0.16 V below the source)", "± 0.3 V", "12.7 V", "12.8 V"),
            ("0 ppm", "+ 5 ppm", "5 ppm", "6 ppm"),
            ("10 dB or more", "", "14 dB", "9 dB"),
            ("0", "", "0", "1"),
            ("8 years or more ahead", "", "2036-11-10", "2033-01-01"),
        ] {
            assert_eq!(verdict(expect, tolerance, good), Verdict::Within, "{expect} {tolerance}: {good}");
            assert_eq!(verdict(expect, tolerance, bad), Verdict::Outside, "{expect} {tolerance}: {bad}");
        }
    }

    /// NIST SP 811, appendix B.9: 1 psi = 6.894 757 kPa, 1 lbf = 4.448 222 N.
    #[test]
    fn a_record_is_shown_in_the_units_of_the_build() {
        for (expect, tolerance, recorded, system, shown) in [
            ("0 psi", "± 7.2 psi", "0.1 bar", System::Us, "1.45 psi (0.1 bar)"),
            ("17.9 lbf", "± 7.8 lbf", "70 N", System::Us, "15.7 lbf (70 N)"),
            ("0 psi", "± 7.2 psi", "0.5 psi", System::Us, "0.5 psi"),
            ("≤ 2.9 psi", "", "< 0.2 bar", System::Us, "< 2.9 psi (< 0.2 bar)"),
            ("≤ 15 K", "", "12 K", System::Us, "21.6 °F (12 K)"),
            ("≤ 15 K", "", "12 K", System::Metric, "12 K"),
            ("≤ 15 K", "", "18 °F", System::Metric, "10 K (18 °F)"),
            ("13.4 V", "± 0.2 V", "13.3 V", System::Us, "13.3 V"),
            ("half of the total", "± 4 %", "1210 kg", System::Us, "2668 lb (1210 kg)"),
            ("half of the total", "± 4 %", "fine", System::Us, "fine"),
        ] {
            assert_eq!(in_units(expect, tolerance, recorded, system), shown);
        }
    }

    #[test]
    fn words_are_for_a_person_and_other_units_are_no_figure() {
        assert_eq!(verdict("half of the total", "± 4 %", "1210 kg"), Verdict::Judge);
        assert_eq!(verdict("", "± 0.3 V", "12 V"), Verdict::Judge);
        assert_eq!(verdict("", "± 0.3 V", "fine"), Verdict::Unreadable);
        assert_eq!(verdict("13.4 V", "± 0.2 V", "fine"), Verdict::Unreadable);
        assert_eq!(verdict("13.4 V", "± 0.2 V", "13.4 A"), Verdict::Unreadable);
        assert_eq!(verdict("≤ 5 ppm", "", "3 A"), Verdict::Unreadable);
    }
}
