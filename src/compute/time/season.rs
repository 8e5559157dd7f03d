//! Seasons that bring upkeep, and the days of the year they stand for.

use super::TextFault;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;
use std::fmt;

/// Days between "before the first frost" and the frost itself: two weekends to do it in. Common practice, no source.
pub const FROST_LEAD_DAYS: i32 = 14;

/// A season that brings upkeep.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Season {
    /// Two weeks before the first frost expected.
    BeforeFirstFrost,
    /// When the van comes out of winter.
    Spring,
    /// When the summer's use ends.
    Autumn,
    /// Before every long trip: has no date.
    BeforeTrip,
}

/// Where the seasons fall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hemisphere {
    /// Spring in April.
    #[default]
    Northern,
    /// Spring in October.
    Southern,
}

impl Hemisphere {
    /// The hemisphere of a latitude in degrees, north positive; the equator counts as northern.
    #[must_use]
    pub fn of_latitude(degrees: f64) -> Self {
        if degrees < 0.0 { Self::Southern } else { Self::Northern }
    }
}

/// One season: its word in a kind's file, its words in print, its day in the north and in the south.
struct Rule {
    season: Season,
    word: &'static str,
    phrase: &'static str,
    days: Option<[MonthDay; 2]>,
}

const APRIL: MonthDay = MonthDay { month: 4, day: 1 };
const OCTOBER: MonthDay = MonthDay { month: 10, day: 1 };

/// The days are common practice, no source: the first of April and of October halve the year where frost matters.
/// The day of `before-first-frost` is the one used where the spec knows no frost date.
const RULES: [Rule; 4] = [
    Rule {
        season: Season::BeforeFirstFrost,
        word: "before-first-frost",
        phrase: "before the first frost",
        days: Some([OCTOBER, APRIL]),
    },
    Rule { season: Season::Spring, word: "spring", phrase: "every spring", days: Some([APRIL, OCTOBER]) },
    Rule { season: Season::Autumn, word: "autumn", phrase: "every autumn", days: Some([OCTOBER, APRIL]) },
    Rule { season: Season::BeforeTrip, word: "before-trip", phrase: "before every trip", days: None },
];

impl Season {
    /// Words a kind's file may use.
    pub const WORDS: [&'static str; 4] = [RULES[0].word, RULES[1].word, RULES[2].word, RULES[3].word];

    /// The season of a word such as `before-first-frost`.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        RULES.iter().find(|r| r.word == word).map(|r| r.season)
    }

    const fn rule(self) -> &'static Rule {
        &RULES[self as usize]
    }

    /// Its word in a kind's file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        self.rule().word
    }

    /// Its words in print.
    #[must_use]
    pub const fn phrase(self) -> &'static str {
        self.rule().phrase
    }

    /// The days it falls on after `after`, up to and with `last`; none for [`Season::BeforeTrip`].
    ///
    /// A frost less than two weeks after `after` still counts: its day is then the one after `after`.
    #[must_use]
    pub fn dates(self, after: Date, last: Date, first_frost: Option<MonthDay>, place: Hemisphere) -> Vec<Date> {
        let Some(days) = self.rule().days else { return Vec::new() };
        // One year more: a frost in early January is prepared for in December.
        let years = after.year()..=last.year().saturating_add(1).min(Date::MAX.year());
        let day = |year: i16| match first_frost.filter(|_| self == Self::BeforeFirstFrost) {
            Some(frost) => {
                let frost = frost.in_year(year)?;
                let due = frost.checked_sub(FROST_LEAD_DAYS.days()).ok()?;
                Some(if due <= after && after.tomorrow().ok()? < frost { after.tomorrow().ok()? } else { due })
            }
            None => days[place as usize].in_year(year),
        };
        years.filter_map(day).filter(|d| *d > after && *d <= last).collect()
    }
}

/// A day of the year, such as that of the first frost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct MonthDay {
    /// 1 to 12.
    pub month: i8,
    /// 1 to 31, one the month can have.
    pub day: i8,
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

impl MonthDay {
    /// Reads `10-15`, `15 October`, `15 Oct` or `October 15`.
    ///
    /// # Errors
    /// Where the text is none of these or no such day exists.
    pub fn parse(text: &str) -> Result<Self, TextFault> {
        let whole = 0..text.len();
        let fault = |message: &str| {
            TextFault::new(whole.clone(), message).help("write it like \"15 October\" or \"10-15\" (month-day)")
        };
        let trimmed = text.trim();
        let (month, day) = match trimmed.split_once('-') {
            Some((month, day)) => (month.parse().ok(), day),
            None => match trimmed.split_once(char::is_whitespace) {
                Some((a, b)) if a.starts_with(|c: char| c.is_ascii_digit()) => (month_of(b.trim()), a),
                Some((a, b)) => (month_of(a), b.trim()),
                None => (None, ""),
            },
        };
        let month = month.filter(|m: &i8| (1..=12).contains(m));
        let (Some(month), Ok(day)) = (month, day.parse::<i8>()) else { return Err(fault("not a day of the year")) };
        // A leap year, so that 29 February is one.
        Date::new(2000, month, day).map_err(|_| fault("no such day"))?;
        Ok(Self { month, day })
    }

    /// The day in `year`; 29 February becomes the 28th in a common year. `None` for a day that is none.
    #[must_use]
    pub fn in_year(self, year: i16) -> Option<Date> {
        let first = Date::new(year, self.month, 1).ok()?;
        Date::new(year, self.month, self.day.min(first.days_in_month())).ok()
    }
}

fn month_of(word: &str) -> Option<i8> {
    let matches =
        |name: &&str| word.len() >= 3 && name.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word));
    (1_i8..).zip(MONTHS).find(|(_, name)| matches(name)).map(|(number, _)| number)
}

impl fmt::Display for MonthDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = usize::try_from(self.month - 1).ok().and_then(|m| MONTHS.get(m)).copied().unwrap_or("?");
        write!(f, "{} {name}", self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn every_rule_stands_at_its_season() {
        for (word, rule) in Season::WORDS.into_iter().zip(&RULES) {
            assert_eq!(Season::from_word(word), Some(rule.season));
            assert_eq!(rule.season.word(), word);
        }
        assert_eq!(Season::from_word("winter"), None);
    }

    #[test]
    fn reads_days_of_the_year() {
        let october = MonthDay { month: 10, day: 15 };
        for text in ["10-15", "15 October", "October 15", "15 oct", " 15  OCT "] {
            assert_eq!(MonthDay::parse(text), Ok(october), "{text}");
        }
        assert_eq!(october.to_string(), "15 October");
        for text in ["", "15", "31 June", "13-01", "30 Feb", "Oct", "15 o", "10-", "été 5", "15 été"] {
            assert!(MonthDay::parse(text).is_err(), "{text}");
        }
        let leap = MonthDay::parse("29 February").expect("a leap day");
        assert_eq!(leap.in_year(2027), Some(date(2027, 2, 28)));
        assert_eq!(leap.in_year(2028), Some(date(2028, 2, 29)));
    }

    #[test]
    fn frost_is_met_two_weeks_early() {
        let frost = MonthDay::parse("15 October").ok();
        let dates =
            |after, frost| Season::BeforeFirstFrost.dates(after, date(2029, 12, 31), frost, Hemisphere::Northern);
        let year_by_year = [date(2027, 10, 1), date(2028, 10, 1), date(2029, 10, 1)];
        assert_eq!(dates(date(2027, 5, 14), frost), year_by_year);
        assert_eq!(dates(date(2027, 5, 14), None), year_by_year, "1 October where no frost date is known");
        assert_eq!(dates(date(2027, 10, 5), frost)[0], date(2027, 10, 6), "handed over between notice and frost");
        assert_eq!(dates(date(2027, 10, 20), frost)[0], date(2028, 10, 1));
        assert_eq!(dates(date(2029, 11, 1), MonthDay::parse("5 Jan").ok()), [date(2029, 12, 22)]);
    }

    #[test]
    fn the_south_turns_the_year_round() {
        let spring = |place| Season::Spring.dates(date(2027, 5, 14), date(2028, 5, 14), None, place);
        assert_eq!(spring(Hemisphere::Northern), [date(2028, 4, 1)]);
        assert_eq!(spring(Hemisphere::of_latitude(-36.5)), [date(2027, 10, 1)]);
        let from_spring_to_spring =
            Season::Spring.dates(date(2027, 4, 1), date(2029, 4, 1), None, Hemisphere::Northern);
        assert_eq!(from_spring_to_spring, [date(2028, 4, 1), date(2029, 4, 1)], "not the first day, but the last");
        assert_eq!(Season::BeforeTrip.dates(date(2027, 1, 1), date(2030, 1, 1), None, Hemisphere::Northern), []);
    }
}
