//! The figures a test takes as good, and whether a recorded figure lies among them.

use crate::kinds::{Limits, Measured};
use crate::units::{System, parse_quantity, print};
use jiff::civil::Date;
use serde::Serialize;

/// Figures a test takes as good, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Band {
    /// What is measured.
    pub measured: Measured,
    /// Smallest and largest in the inside unit; `None` where a person judges.
    pub limits: Option<Limits>,
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
    /// Holds a record against the band. A date stands for the time from `day` to it.
    #[must_use]
    pub fn judge(&self, recorded: &str, day: Option<Date>) -> Verdict {
        if self.measured == Measured::Words {
            return Verdict::Judge;
        }
        let Some(value) = self.value(recorded, day) else { return Verdict::Unreadable };
        let Some(limits) = self.limits else { return Verdict::Judge };
        let slack = |limit: f64| limit.abs() * ROUNDING + 1e-9;
        let low = limits.low.is_none_or(|l| value >= l - slack(l));
        let high = limits.high.is_none_or(|h| value <= h + slack(h));
        if low && high { Verdict::Within } else { Verdict::Outside }
    }

    fn value(&self, recorded: &str, day: Option<Date>) -> Option<f64> {
        let text = plain(recorded);
        // A meter at the end of its range shows "> 200 Mohm".
        let text = text.trim_start_matches(SIGNS);
        match self.measured {
            Measured::Of(dimension) => parse_quantity(text, dimension).ok().map(|q| q.value),
            Measured::Count => text.parse().ok().filter(|n: &f64| n.is_finite()),
            Measured::Day => {
                let days = day?.until(text.parse::<Date>().ok()?).ok()?.get_days();
                Some(f64::from(days) * 86_400.0)
            }
            Measured::Words => None,
        }
    }

    /// A record as a build that prints `system` shows it: a figure in units of the other system is converted, and stands
    /// behind as it was read. "0.1 bar" becomes "1.45 psi (0.1 bar)"; anything else stays.
    #[must_use]
    pub fn in_units(&self, recorded: &str, system: System) -> String {
        let Measured::Of(dimension) = self.measured else { return recorded.to_owned() };
        let text = plain(recorded);
        let body = text.trim_start_matches(SIGNS);
        let sign = &text[..text.len() - body.len()];
        let read = parse_quantity(body, dimension).ok();
        let other = read.filter(|q| q.system.is_some_and(|own| own != system));
        other.map_or_else(|| recorded.to_owned(), |q| format!("{sign}{} ({text})", print(dimension, q.value, system)))
    }
}

/// What may stand before a figure that was read.
pub const SIGNS: [char; 5] = ['≤', '≥', '<', '>', ' '];

/// With plain spaces, without what Markdown adds.
fn plain(text: &str) -> String {
    text.replace('\\', "").replace(['\u{a0}', '\u{202f}'], " ").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Dimension as D;

    fn verdict(measured: Measured, low: Option<f64>, high: Option<f64>, recorded: &str) -> Verdict {
        let day = Some(jiff::civil::date(2027, 5, 14));
        Band { measured, limits: Some(Limits { low, high }) }.judge(recorded, day)
    }

    #[test]
    fn limits_count_both_ends_in() {
        let years = 8.0 * 31_556_952.0;
        for (measured, low, high, good, bad) in [
            (Measured::Of(D::Voltage), Some(13.2), Some(13.6), "13.2 V", "13.19 V"),
            (Measured::Of(D::Length), None, Some(0.025), "25 mm", "1.1 in"),
            (Measured::Of(D::Resistance), Some(1e6), None, "> 200 Mohm", "900 kohm"),
            (Measured::Of(D::Temperature), None, Some(60.0), "140 °F", "61 °C"),
            (Measured::Of(D::TemperatureDifference), Some(40.0), Some(80.0), "104 °F", "81 K"),
            (Measured::Of(D::Gas), None, Some(5.0), "5 ppm", "6 ppm"),
            (Measured::Of(D::Gain), Some(10.0), None, "14 dB", "9 dB"),
            (Measured::Count, Some(0.0), Some(0.0), "0", "1"),
            (Measured::Day, Some(years), None, "2036-11-10", "2033-01-01"),
        ] {
            assert_eq!(verdict(measured, low, high, good), Verdict::Within, "{measured:?}: {good}");
            assert_eq!(verdict(measured, low, high, bad), Verdict::Outside, "{measured:?}: {bad}");
        }
    }

    /// NIST SP 811, appendix B.9: 1 psi = 6.894 757 kPa, 1 lbf = 4.448 222 N.
    #[test]
    fn a_record_is_shown_in_the_units_of_the_build() {
        for (measured, recorded, system, shown) in [
            (Measured::Of(D::Pressure), "0.1 bar", System::Us, "1.45 psi (0.1 bar)"),
            (Measured::Of(D::Force), "70 N", System::Us, "15.7 lbf (70 N)"),
            (Measured::Of(D::Pressure), "0.5 psi", System::Us, "0.5 psi"),
            (Measured::Of(D::Pressure), "< 0.2 bar", System::Us, "< 2.9 psi (< 0.2 bar)"),
            (Measured::Of(D::TemperatureDifference), "12 K", System::Us, "21.6 °F (12 K)"),
            (Measured::Of(D::TemperatureDifference), "12 K", System::Metric, "12 K"),
            (Measured::Of(D::TemperatureDifference), "18 °F", System::Metric, "10 K (18 °F)"),
            (Measured::Of(D::Voltage), "13.3 V", System::Us, "13.3 V"),
            (Measured::Of(D::Mass), "1210 kg", System::Us, "2668 lb (1210 kg)"),
            (Measured::Of(D::Mass), "fine", System::Us, "fine"),
            (Measured::Words, "70 N", System::Us, "70 N"),
        ] {
            assert_eq!(Band { measured, limits: None }.in_units(recorded, system), shown);
        }
    }

    #[test]
    fn words_are_for_a_person_and_other_units_are_no_figure() {
        let open = |measured, recorded: &str| Band { measured, limits: None }.judge(recorded, None);
        assert_eq!(open(Measured::Of(D::Mass), "1210 kg"), Verdict::Judge);
        assert_eq!(open(Measured::Words, "fine"), Verdict::Judge);
        assert_eq!(open(Measured::Of(D::Voltage), "fine"), Verdict::Unreadable);
        assert_eq!(verdict(Measured::Of(D::Voltage), Some(13.2), None, "13.4 A"), Verdict::Unreadable);
        assert_eq!(verdict(Measured::Of(D::Gas), None, Some(5.0), "3 A"), Verdict::Unreadable);
    }
}
