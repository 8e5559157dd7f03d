//! Reads the text of a recurrence rule, with the place of every fault.

use super::{ByDay, Frequency, Recurrence, TextFault, Until};
use jiff::civil::{Date, DateTime, Weekday};
use std::ops::Range;

/// Longer than any rule that is not an attack: all days of a year are 1,400 bytes.
const LONGEST: usize = 4096;

const FREQUENCIES: [(&str, Frequency); 7] = [
    ("SECONDLY", Frequency::Secondly),
    ("MINUTELY", Frequency::Minutely),
    ("HOURLY", Frequency::Hourly),
    ("DAILY", Frequency::Daily),
    ("WEEKLY", Frequency::Weekly),
    ("MONTHLY", Frequency::Monthly),
    ("YEARLY", Frequency::Yearly),
];

const WEEKDAYS: [(&str, Weekday); 7] = [
    ("MO", Weekday::Monday),
    ("TU", Weekday::Tuesday),
    ("WE", Weekday::Wednesday),
    ("TH", Weekday::Thursday),
    ("FR", Weekday::Friday),
    ("SA", Weekday::Saturday),
    ("SU", Weekday::Sunday),
];

const PARTS: [&str; 14] = [
    "FREQ",
    "INTERVAL",
    "COUNT",
    "UNTIL",
    "BYSECOND",
    "BYMINUTE",
    "BYHOUR",
    "BYDAY",
    "BYMONTHDAY",
    "BYYEARDAY",
    "BYWEEKNO",
    "BYMONTH",
    "BYSETPOS",
    "WKST",
];

/// A value and its place in the rule.
struct Piece<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Piece<'a> {
    fn fault(&self, message: impl Into<String>) -> TextFault {
        TextFault::new(self.range(), message)
    }

    const fn range(&self) -> Range<usize> {
        self.at..self.at + self.text.len()
    }

    fn items(&self) -> impl Iterator<Item = Piece<'a>> {
        let mut at = self.at;
        self.text.split(',').map(move |text| {
            let piece = Piece { text, at };
            at += text.len() + 1;
            piece
        })
    }

    /// A whole number of `low` to `high`; with `both_ends` also the same counted from the end.
    fn number(&self, low: i16, high: i16, both_ends: bool) -> Result<i16, TextFault> {
        let plain = self.text.strip_prefix(['+', '-']).unwrap_or(self.text);
        let digits = !plain.is_empty() && plain.bytes().all(|b| b.is_ascii_digit());
        let value = self.text.parse::<i16>().ok().filter(|_| digits && (both_ends || plain == self.text));
        let inside = |v: &i16| (low..=high).contains(v) || (both_ends && (low..=high).contains(&-v));
        value.filter(inside).ok_or_else(|| {
            let ends = if both_ends { format!(" or -{high} to -{low}") } else { String::new() };
            self.fault(format!("`{}` is not a number of {low} to {high}{ends}", self.text))
        })
    }

    fn numbers(&self, low: i16, high: i16, both_ends: bool) -> Result<Vec<i16>, TextFault> {
        let mut numbers = self.items().map(|i| i.number(low, high, both_ends)).collect::<Result<Vec<_>, _>>()?;
        numbers.sort_unstable();
        numbers.dedup();
        Ok(numbers)
    }

    fn clock(&self, high: i16) -> Result<Vec<i8>, TextFault> {
        Ok(self.numbers(0, high, false)?.into_iter().filter_map(|n| i8::try_from(n).ok()).collect())
    }

    /// A positive whole number of at most nine digits.
    fn amount(&self) -> Result<u32, TextFault> {
        let digits = (1..=9).contains(&self.text.len()) && self.text.bytes().all(|b| b.is_ascii_digit());
        let value = self.text.parse().ok().filter(|n: &u32| digits && *n > 0);
        value.ok_or_else(|| self.fault(format!("`{}` is not a whole number of 1 or more", self.text)))
    }

    fn weekday(&self) -> Result<Weekday, TextFault> {
        let found = WEEKDAYS.iter().find(|(word, _)| *word == self.text).map(|(_, day)| *day);
        found.ok_or_else(|| {
            self.fault(format!("`{}` is not a weekday", self.text)).help("weekdays are MO TU WE TH FR SA SU")
        })
    }

    fn by_day(&self) -> Result<ByDay, TextFault> {
        let split = self.text.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(self.text.len());
        let weekday = Piece { text: &self.text[split..], at: self.at + split }.weekday()?;
        let nth = match &self.text[..split] {
            "" => 0,
            text => Piece { text, at: self.at }.number(1, 53, true)?,
        };
        Ok(ByDay { nth: i8::try_from(nth).unwrap_or(0), weekday })
    }

    fn until(&self) -> Result<Until, TextFault> {
        let shape: String = self.text.chars().map(|c| if c.is_ascii_digit() { '0' } else { c }).collect();
        let read = match shape.as_str() {
            "00000000" => Date::strptime("%Y%m%d", self.text).map(Until::Day),
            "00000000T000000" => DateTime::strptime("%Y%m%dT%H%M%S", self.text).map(Until::Local),
            "00000000T000000Z" => DateTime::strptime("%Y%m%dT%H%M%SZ", self.text).map(Until::Utc),
            _ => return Err(self.not_until()),
        };
        read.map_err(|_| self.not_until())
    }

    fn not_until(&self) -> TextFault {
        self.fault(format!("`{}` is not a date", self.text)).help("write the last day like 20301231")
    }
}

/// Reads a whole rule.
pub(super) fn rule(text: &str) -> Result<Recurrence, TextFault> {
    if text.len() > LONGEST {
        return Err(TextFault::new(0..0, format!("a rule of more than {LONGEST} bytes")));
    }
    // Names are case-insensitive in RFC 5545; ASCII upper case keeps every byte in its place.
    let upper = text.to_ascii_uppercase();
    let mut values: [Option<Piece>; 14] = [const { None }; 14];
    let mut at = upper.len() - upper.trim_start().len();
    for part in upper.trim().split(';') {
        let whole = Piece { text: part, at };
        at += part.len() + 1;
        let Some((name, value)) = part.split_once('=') else {
            return Err(whole
                .fault(format!("`{part}` has no value"))
                .help("parts are like FREQ=MONTHLY, apart by `;`"));
        };
        let Some(slot) = PARTS.iter().position(|p| *p == name) else {
            return Err(unknown_part(&Piece { text: name, at: whole.at }));
        };
        let value = Piece { text: value, at: whole.at + name.len() + 1 };
        if values[slot].replace(value).is_some() {
            return Err(whole.fault(format!("`{name}` is given twice")));
        }
    }
    let rule = fill(upper.trim(), &values)?;
    allowed(&rule, &values)?;
    Ok(rule)
}

fn unknown_part(name: &Piece) -> TextFault {
    let fault = name.fault(format!("`{}` is not a part of a recurrence rule", name.text));
    if name.text.starts_with("RRULE") {
        return fault.help("leave out `RRULE:`");
    }
    let near = PARTS
        .iter()
        .filter(|p| strsim::damerau_levenshtein(p, name.text) <= 2)
        .min_by_key(|p| strsim::damerau_levenshtein(p, name.text));
    match near {
        Some(part) => fault.help(format!("did you mean `{part}`?")),
        None => fault,
    }
}

fn fill(text: &str, values: &[Option<Piece>; 14]) -> Result<Recurrence, TextFault> {
    let [
        freq,
        interval,
        count,
        until,
        seconds,
        minutes,
        hours,
        by_day,
        month_days,
        year_days,
        weeks,
        months,
        positions,
        wkst,
    ] = values;
    let Some(freq) = freq else {
        return Err(
            TextFault::new(0..text.len(), "`FREQ` is missing").help("begin with FREQ=YEARLY, MONTHLY, WEEKLY or DAILY")
        );
    };
    let frequency = FREQUENCIES.iter().find(|(word, _)| *word == freq.text).map(|(_, f)| *f);
    let frequency = frequency.ok_or_else(|| {
        freq.fault(format!("`{}` is not a frequency", freq.text)).help("frequencies are YEARLY, MONTHLY, WEEKLY, DAILY")
    })?;
    let numbers = |piece: &Option<Piece>, high, both_ends| match piece {
        Some(p) => p.numbers(1, high, both_ends),
        None => Ok(Vec::new()),
    };
    let clock = |piece: &Option<Piece>, high| piece.as_ref().map_or(Ok(Vec::new()), |p| p.clock(high));
    let mut seconds = clock(seconds, 60)?;
    if seconds.last() == Some(&60) {
        seconds.retain(|s| *s < 59);
        seconds.push(59);
    }
    let amount = |piece: &Option<Piece>| piece.as_ref().map(Piece::amount).transpose();
    Ok(Recurrence {
        text: text.to_owned(),
        frequency,
        interval: amount(interval)?.map_or(1, i64::from),
        count: amount(count)?.map(|n| usize::try_from(n).unwrap_or(usize::MAX)),
        until: until.as_ref().map(Piece::until).transpose()?,
        seconds,
        minutes: clock(minutes, 59)?,
        hours: clock(hours, 23)?,
        weekdays: by_day.as_ref().map_or(Ok(Vec::new()), |p| p.items().map(|i| i.by_day()).collect())?,
        month_days: numbers(month_days, 31, true)?,
        year_days: numbers(year_days, 366, true)?,
        weeks: numbers(weeks, 53, true)?,
        months: numbers(months, 12, false)?,
        positions: numbers(positions, 366, true)?,
        week_start: wkst.as_ref().map_or(Ok(Weekday::Monday), Piece::weekday)?,
    })
}

/// What RFC 5545 section 3.3.10 forbids together.
fn allowed(rule: &Recurrence, values: &[Option<Piece>; 14]) -> Result<(), TextFault> {
    let forbid = |bad: bool, name: &str, why: &str| {
        let piece = PARTS.iter().position(|p| *p == name).and_then(|i| values[i].as_ref());
        match piece {
            Some(piece) if bad => Err(piece.fault(format!("`{name}` {why}"))),
            _ => Ok(()),
        }
    };
    let frequency = rule.frequency;
    let numbered = rule.weekdays.iter().any(|d| d.nth != 0);
    let long = matches!(frequency, Frequency::Monthly | Frequency::Yearly);
    let no_day_part = values[4..12].iter().all(Option::is_none);
    forbid(rule.until.is_some(), "COUNT", "and `UNTIL` exclude each other")?;
    forbid(numbered && !long, "BYDAY", "may have numbers only with FREQ=MONTHLY or YEARLY")?;
    forbid(numbered && !rule.weeks.is_empty(), "BYDAY", "may have no numbers beside `BYWEEKNO`")?;
    forbid(frequency == Frequency::Weekly, "BYMONTHDAY", "does not go with FREQ=WEEKLY")?;
    let days = matches!(frequency, Frequency::Daily | Frequency::Weekly | Frequency::Monthly);
    forbid(days, "BYYEARDAY", "does not go with FREQ=DAILY, WEEKLY or MONTHLY")?;
    forbid(frequency != Frequency::Yearly, "BYWEEKNO", "goes with FREQ=YEARLY only")?;
    forbid(no_day_part, "BYSETPOS", "needs another BY… part to pick from")
}
