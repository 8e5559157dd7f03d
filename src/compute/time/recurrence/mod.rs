//! Recurrence rules of RFC 5545 (section 3.3.10), expanded without time zone data.
//!
//! Own code on jiff's civil dates: the crates for this bring a second date library with a whole time zone database,
//! and their faults carry no place in the rule. Held to every worked example of the RFC and to python-dateutil
//! (`tests/reference`, `tests/outside`).
//!
//! Where the RFC leaves room:
//! - `DTSTART` is an instance only if it matches the rule ("undefined" in the RFC; dateutil does the same).
//! - `BYWEEKNO` picks days of the calendar year, so week 1 may begin in the last days of December (dateutil).
//! - `BYWEEKNO` without `BYDAY` takes the weekday of the start (the RFC: what is missing comes from `DTSTART`).
//! - `BYSECOND=60` is 59, as the RFC says for systems without leap seconds.

mod days;
mod expand;
mod parse;

#[cfg(test)]
mod tests;

use super::TextFault;
use jiff::civil::{Date, DateTime, Time, Weekday};
use jiff::tz::TimeZone;
use serde::{Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// `FREQ`, from short to long.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Frequency {
    Secondly,
    Minutely,
    Hourly,
    Daily,
    Weekly,
    Monthly,
    Yearly,
}

/// `UNTIL`: the last moment an instance may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Until {
    /// A day, with all its hours.
    Day(Date),
    /// Local time.
    Local(DateTime),
    /// Universal time.
    Utc(DateTime),
}

/// One entry of `BYDAY`: a weekday, and which one in the month or year (0: every).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct ByDay {
    nth: i8,
    weekday: Weekday,
}

/// A recurrence rule. Make one with [`Recurrence::parse`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recurrence {
    text: String,
    frequency: Frequency,
    interval: i64,
    count: Option<usize>,
    until: Option<Until>,
    seconds: Vec<i8>,
    minutes: Vec<i8>,
    hours: Vec<i8>,
    weekdays: Vec<ByDay>,
    month_days: Vec<i16>,
    year_days: Vec<i16>,
    weeks: Vec<i16>,
    months: Vec<i16>,
    positions: Vec<i16>,
    week_start: Weekday,
}

impl Recurrence {
    /// Reads the value of an `RRULE`, such as `FREQ=MONTHLY;BYMONTHDAY=-1`.
    ///
    /// # Errors
    /// Where a part is unknown, given twice, out of its range, or not allowed with the frequency (RFC 5545).
    pub fn parse(rule: &str) -> Result<Self, TextFault> {
        parse::rule(rule)
    }

    /// Whether it has times of day, so that it makes no sense for whole days.
    #[must_use]
    pub fn has_times(&self) -> bool {
        self.frequency < Frequency::Daily
            || !(self.hours.is_empty() && self.minutes.is_empty() && self.seconds.is_empty())
    }

    /// The first `limit` days of the series that begins at `start`. Fewer where the rule ends, where the calendar
    /// ends (year 9999), or where nothing matches for 400 years.
    #[must_use]
    pub fn dates(&self, start: Date, limit: usize) -> Vec<Date> {
        self.days_of(start, Date::MAX, limit)
    }

    /// The days of the series that begins at `start`, up to and with `last`.
    #[must_use]
    pub fn dates_until(&self, start: Date, last: Date) -> Vec<Date> {
        self.days_of(start, last, usize::MAX)
    }

    /// The first `limit` instances by the clock on the wall. `zone` is needed only to compare with an `UNTIL` in
    /// universal time; shifts of the clock are otherwise not looked at.
    #[must_use]
    pub fn times(&self, start: DateTime, zone: &TimeZone, limit: usize) -> Vec<DateTime> {
        let until = match self.until {
            None => DateTime::MAX,
            Some(Until::Day(day)) => day.to_datetime(Time::MAX),
            Some(Until::Local(moment)) => moment,
            Some(Until::Utc(moment)) => {
                TimeZone::UTC.to_timestamp(moment).map_or(moment, |instant| zone.to_datetime(instant))
            }
        };
        expand::Series::new(self, start, until).take(limit).collect()
    }

    /// As RFC 5545 has it for a `DTSTART` that is a date, only the day of an `UNTIL` counts.
    fn days_of(&self, start: Date, last: Date, limit: usize) -> Vec<Date> {
        let until = match self.until {
            None => Date::MAX,
            Some(Until::Day(day)) => day,
            Some(Until::Local(moment) | Until::Utc(moment)) => moment.date(),
        };
        let until = until.min(last).to_datetime(Time::MAX);
        let mut days: Vec<Date> = Vec::new();
        for moment in expand::Series::new(self, start.to_datetime(Time::midnight()), until) {
            if days.last() == Some(&moment.date()) {
                continue;
            }
            if days.len() >= limit {
                break;
            }
            days.push(moment.date());
        }
        days
    }
}

impl FromStr for Recurrence {
    type Err = TextFault;

    fn from_str(text: &str) -> Result<Self, TextFault> {
        Self::parse(text)
    }
}

impl fmt::Display for Recurrence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl Serialize for Recurrence {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}
