//! When an upkeep falls due: read from the words of a kind's file.

use super::{CalendarInterval, Season, TextFault};
use serde::Serialize;
use std::fmt;

/// When an upkeep falls due.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cadence {
    /// Again and again, counted from the handover.
    Every(CalendarInterval),
    /// One check, so long after the handover.
    Once(CalendarInterval),
    /// One replacement, so long after the handover.
    Replace(CalendarInterval),
    /// In a season, every year.
    Season(Season),
    /// By distance or running hours alone.
    Use,
}

/// What a kind's file says of an upkeep. One of the first four, or none and then `distance` or `hours`.
#[derive(Clone, Copy, Debug, Default)]
pub struct CadenceText<'a> {
    /// An interval, as "6 months".
    pub every: Option<&'a str>,
    /// An interval, as "1 month".
    pub once: Option<&'a str>,
    /// An interval, as "7 years".
    pub replace: Option<&'a str>,
    /// A season's word.
    pub season: Option<&'a str>,
    /// A distance; its unit is not looked at here.
    pub distance: Option<&'a str>,
    /// Running hours; the unit is not looked at here.
    pub hours: Option<&'a str>,
}

/// A fault in one of the words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CadenceFault {
    /// Key that has the fault; `every` where no key is given at all.
    pub key: &'static str,
    /// The fault, with its place in the text of the key.
    pub fault: TextFault,
}

impl Cadence {
    /// Reads the words of an upkeep.
    ///
    /// # Errors
    /// Where none or several are given, or one can't be read.
    pub fn read(text: &CadenceText) -> Result<Self, CadenceFault> {
        let keys = [("every", text.every), ("once", text.once), ("replace", text.replace), ("season", text.season)];
        let mut given = keys.into_iter().filter_map(|(key, value)| Some((key, value?)));
        let Some((key, value)) = given.next() else {
            if text.distance.or(text.hours).is_some() {
                return Ok(Self::Use);
            }
            let fault = TextFault::new(0..0, "nothing says when it falls due")
                .help("give one of every, once, replace, season, or distance or hours");
            return Err(CadenceFault { key: "every", fault });
        };
        if let Some((second, value)) = given.next() {
            let fault = TextFault::new(0..value.len(), format!("`{key}` and `{second}` exclude each other"));
            return Err(CadenceFault { key: second, fault });
        }
        let at_key = |fault| CadenceFault { key, fault };
        let interval = || CalendarInterval::parse(value).map_err(at_key);
        match key {
            "every" => interval().map(Self::Every),
            "once" => interval().map(Self::Once),
            "replace" => interval().map(Self::Replace),
            _ => Season::from_word(value).map(Self::Season).ok_or_else(|| {
                let fault = TextFault::new(0..value.len(), format!("`{value}` is not a season"));
                at_key(fault.help(format!("seasons are {}", Season::WORDS.join(", "))))
            }),
        }
    }
}

impl fmt::Display for Cadence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Every(interval) => {
                let text = interval.to_string();
                // "every month", not "every 1 month"; but "every 1 year 6 months".
                let single = text.strip_prefix("1 ").filter(|unit| !unit.contains(' '));
                write!(f, "every {}", single.unwrap_or(&text))
            }
            Self::Once(interval) => write!(f, "once, {interval} after handover"),
            Self::Replace(interval) => write!(f, "replace after {interval}"),
            Self::Season(season) => f.write_str(season.phrase()),
            Self::Use => f.write_str("by use"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_each_word_and_prints_it() {
        let none = CadenceText::default();
        for (text, printed) in [
            (CadenceText { every: Some("6 months"), ..none }, "every 6 months"),
            (CadenceText { every: Some("1 months"), ..none }, "every month"),
            (CadenceText { every: Some("1 year 6 months"), ..none }, "every 1 year 6 months"),
            (CadenceText { once: Some("1 month"), distance: Some("1000 km"), ..none }, "once, 1 month after handover"),
            (CadenceText { replace: Some("7 years"), ..none }, "replace after 7 years"),
            (CadenceText { season: Some("spring"), ..none }, "every spring"),
            (CadenceText { hours: Some("500 h"), ..none }, "by use"),
        ] {
            assert_eq!(Cadence::read(&text).expect(printed).to_string(), printed);
        }
    }

    #[test]
    fn says_which_key_is_at_fault() {
        let none = CadenceText::default();
        let fault = |text| {
            let fault = Cadence::read(&text).expect_err("a fault");
            (fault.key, fault.fault.message, fault.fault.range)
        };
        assert_eq!(fault(none), ("every", "nothing says when it falls due".into(), 0..0));
        let both = CadenceText { every: Some("1 year"), season: Some("spring"), ..none };
        assert_eq!(fault(both), ("season", "`every` and `season` exclude each other".into(), 0..6));
        let misspelt = CadenceText { season: Some("sping"), ..none };
        assert_eq!(fault(misspelt), ("season", "`sping` is not a season".into(), 0..5));
        let interval = CadenceText { replace: Some("7 jears"), ..none };
        assert_eq!(fault(interval), ("replace", "`jears` is not a unit of the calendar".into(), 2..7));
    }
}
