//! Calendar intervals: "6 months", "2 years 6 months". A month is a calendar month, not 30 days.

use super::TextFault;
use jiff::Span;
use jiff::civil::Date;
use serde::Serialize;
use std::fmt;
use std::str::FromStr;

/// The longest interval that is taken for meant, in years.
const LONGEST_YEARS: u32 = 200;

/// A positive interval of the calendar, in the units it was written in. At most 200 years.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct CalendarInterval {
    /// Calendar years.
    pub years: u16,
    /// Calendar months.
    pub months: u16,
    /// Weeks of seven days.
    pub weeks: u16,
    /// Days.
    pub days: u16,
}

/// Units from large to small: place, singular, plural, most that 200 years hold.
const UNITS: [(&str, &str, u32); 4] = [
    ("year", "years", LONGEST_YEARS),
    ("month", "months", LONGEST_YEARS * 12),
    ("week", "weeks", LONGEST_YEARS * 52),
    ("day", "days", 65_535),
];

impl CalendarInterval {
    /// An interval of whole years.
    #[must_use]
    pub const fn of_years(years: u16) -> Self {
        Self { years, months: 0, weeks: 0, days: 0 }
    }

    /// Reads an interval: numbers and units, large units first, each unit once.
    ///
    /// # Errors
    /// Where the text is empty, zero, longer than 200 years, or has an unknown unit.
    pub fn parse(text: &str) -> Result<Self, TextFault> {
        let mut amounts = [0_u16; 4];
        let mut next_unit = 0;
        let mut at = skip_spaces(text, 0);
        if at == text.len() {
            return Err(TextFault::new(0..text.len(), "an interval is missing").help("write it like \"6 months\""));
        }
        while at < text.len() {
            let (amount, number_end) = read_number(text, at)?;
            let word_start = skip_spaces(text, number_end);
            let word_end = end_of(text, word_start, char::is_alphabetic);
            let word = &text[word_start..word_end];
            let Some(unit) = UNITS.iter().position(|(one, many, _)| word == *one || word == *many) else {
                return Err(unknown_unit(text, at, word_start..word_end));
            };
            if unit < next_unit {
                return Err(TextFault::new(word_start..word_end, format!("`{word}` is out of order"))
                    .help("give each unit once, large units first, as in \"2 years 6 months\""));
            }
            let most = UNITS[unit].2;
            amounts[unit] = amount
                .filter(|a| *a <= most)
                .and_then(|a| u16::try_from(a).ok())
                .ok_or_else(|| TextFault::new(at..word_end, format!("more than {most} {}", UNITS[unit].1)))?;
            next_unit = unit + 1;
            at = skip_spaces(text, word_end);
        }
        if amounts == [0; 4] {
            return Err(TextFault::new(0..text.len(), "an interval must be longer than nothing"));
        }
        let [years, months, weeks, days] = amounts;
        Ok(Self { years, months, weeks, days })
    }

    /// `anchor` plus `n` times this interval, counted from the anchor itself, so that the 31st comes back after a
    /// short month. A day the month does not have becomes its last day. `None` beyond the year 9999.
    #[must_use]
    pub fn nth(self, anchor: Date, n: u32) -> Option<Date> {
        let times = |amount: u16| i64::from(amount) * i64::from(n);
        let span = Span::new()
            .try_years(times(self.years))
            .and_then(|s| s.try_months(times(self.months)))
            .and_then(|s| s.try_weeks(times(self.weeks)))
            .and_then(|s| s.try_days(times(self.days)));
        anchor.checked_add(span.ok()?).ok()
    }

    /// The dates one, two, three … intervals after `anchor`, up to and with `last`.
    #[must_use]
    pub fn dates(self, anchor: Date, last: Date) -> Vec<Date> {
        (1..).map_while(|n| self.nth(anchor, n)).take_while(|d| *d <= last).collect()
    }
}

impl FromStr for CalendarInterval {
    type Err = TextFault;

    fn from_str(text: &str) -> Result<Self, TextFault> {
        Self::parse(text)
    }
}

impl fmt::Display for CalendarInterval {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let amounts = [self.years, self.months, self.weeks, self.days];
        let mut gap = "";
        for (amount, (one, many, _)) in amounts.into_iter().zip(UNITS).filter(|(a, _)| *a > 0) {
            write!(f, "{gap}{amount} {}", if amount == 1 { one } else { many })?;
            gap = " ";
        }
        Ok(())
    }
}

fn end_of(text: &str, from: usize, keep: impl Fn(char) -> bool) -> usize {
    text[from..].find(|c| !keep(c)).map_or(text.len(), |n| from + n)
}

fn skip_spaces(text: &str, from: usize) -> usize {
    end_of(text, from, char::is_whitespace)
}

/// The number at `at` (`None` where it is too large to hold) and where it ends.
fn read_number(text: &str, at: usize) -> Result<(Option<u32>, usize), TextFault> {
    let end = end_of(text, at, |c| c.is_ascii_digit());
    if end == at {
        let word_end = end_of(text, at, |c| !c.is_whitespace());
        return Err(TextFault::new(at..word_end, format!("a number was expected, not `{}`", &text[at..word_end]))
            .help("write it like \"6 months\""));
    }
    if text[end..].starts_with(['.', ',', '/', '½', '¼', '¾']) {
        let word_end = end_of(text, at, |c| !c.is_whitespace());
        return Err(TextFault::new(at..word_end, "an interval has whole numbers only")
            .help("write \"18 months\" for a year and a half"));
    }
    Ok((text[at..end].parse().ok(), end))
}

fn unknown_unit(text: &str, number: usize, word: std::ops::Range<usize>) -> TextFault {
    let name = &text[word.clone()];
    let range = if name.is_empty() { number..word.end } else { word };
    let fault = match name {
        "" => TextFault::new(range, "a unit was expected after the number"),
        _ => TextFault::new(range, format!("`{name}` is not a unit of the calendar")),
    };
    match name.to_lowercase().as_str() {
        "h" | "hour" | "hours" => fault.help("engine or running hours go into `hours`"),
        "km" | "mi" | "miles" => fault.help("distances go into `distance`"),
        _ => fault.help("units are years, months, weeks and days"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn fault(text: &str) -> (String, std::ops::Range<usize>) {
        let fault = CalendarInterval::parse(text).expect_err(text);
        (fault.to_string(), fault.range)
    }

    #[test]
    fn reads_and_prints_what_people_write() {
        for (text, printed) in [
            ("6 months", "6 months"),
            ("1 months", "1 month"),
            (" 2  weeks ", "2 weeks"),
            ("90 days", "90 days"),
            ("1 year", "1 year"),
            ("2 years 6 months", "2 years 6 months"),
            ("12months", "12 months"),
            ("1 year 0 months 3 days", "1 year 3 days"),
        ] {
            let interval = CalendarInterval::parse(text).expect(text);
            assert_eq!(interval.to_string(), printed);
            assert_eq!(printed.parse(), Ok(interval));
        }
    }

    #[test]
    fn points_at_what_it_cannot_read() {
        assert_eq!(
            fault("6 moths"),
            ("`moths` is not a unit of the calendar (units are years, months, weeks and days)".into(), 2..7)
        );
        assert_eq!(
            fault("6"),
            ("a unit was expected after the number (units are years, months, weeks and days)".into(), 0..1)
        );
        assert_eq!(fault("yearly"), ("a number was expected, not `yearly` (write it like \"6 months\")".into(), 0..6));
        assert_eq!(
            fault("1.5 years"),
            ("an interval has whole numbers only (write \"18 months\" for a year and a half)".into(), 0..3)
        );
        assert_eq!(fault("-1 year").1, 0..2);
        assert_eq!(
            fault("500 h"),
            ("`h` is not a unit of the calendar (engine or running hours go into `hours`)".into(), 4..5)
        );
        assert_eq!(fault("0 months").0, "an interval must be longer than nothing");
        assert_eq!(fault("6 months 1 year").1, 11..15);
        assert_eq!(fault("1 year 1 year").1, 9..13);
        assert_eq!(fault("99999999999 years"), ("more than 200 years".into(), 0..17));
        assert_eq!(fault("").1, 0..0);
        assert_eq!(fault("½ jahr").1, 0..2);
    }

    #[test]
    fn ends_quietly_at_the_end_of_the_calendar() {
        let interval = CalendarInterval::parse("200 years").expect("valid");
        assert_eq!(interval.nth(date(9990, 1, 1), 1), None);
        assert_eq!(interval.nth(date(2025, 1, 1), u32::MAX), None);
        assert_eq!(interval.dates(date(9000, 1, 1), Date::MAX).len(), 4);
    }

    /// tests/reference/month-end-clamp.csv: python-dateutil 2.9.0.post0, relativedelta.
    #[test]
    fn agrees_with_relativedelta_at_month_ends() {
        let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/month-end-clamp.csv"));
        let mut rows = 0;
        for row in csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).records() {
            let row = row.expect("row");
            let anchor: Date = row[0].parse().expect("date");
            let interval = CalendarInterval::parse(&format!("{} months", &row[1])).expect("interval");
            let count: u32 = row[2].parse().expect("count");
            let got: Vec<String> = (1..=count).filter_map(|n| Some(interval.nth(anchor, n)?.to_string())).collect();
            assert_eq!(got.join(" "), &row[3], "{} + {}", &row[0], &row[1]);
            if row[3] != row[4] {
                assert_ne!(got.join(" "), &row[4], "counted from the anchor, not chained");
            }
            rows += 1;
        }
        assert_eq!(rows, 5);
    }
}
