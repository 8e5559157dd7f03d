//! Dated entries → iCalendar text (RFC 5545).
//!
//! Single all-day events: a rule by months skips the months a day does not have, where upkeep moves to their last day,
//! and single events can be moved or ticked off one by one. Only what comes again after a fixed number of days is a
//! rule, where no month end can be in the way: a weekly test would else be hundreds of events. Own code: the crates at hand let a line break in a
//! name through, so that every text would have to be cleaned and escaped here all the same.

use jiff::civil::Date;
use serde::Serialize;
use std::fmt::Write;

/// Longest line in bytes, without its end (RFC 5545 section 3.1).
const LINE_BYTES: usize = 75;

/// Hour of the day at which an alarm rings.
const ALARM_HOUR: u32 = 9;

/// A calendar. RFC 5545 wants at least one entry: write no file for none.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Calendar {
    /// Name that the calendar shows.
    pub name: String,
    /// Number of the build; makes the ids of the entries unique.
    pub build: String,
    /// Raised with every revision, so that entries read in again replace the old ones. See [`sequence_of`].
    pub sequence: u32,
    /// Day of issue: stands in for the clock.
    pub stamp: Date,
    /// What falls due.
    pub entries: Vec<Entry>,
}

/// Something on one day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// Unique in the calendar and the same in every revision.
    pub id: String,
    /// The day.
    pub date: Date,
    /// One line.
    pub summary: String,
    /// Lines of the text.
    pub description: Vec<String>,
    /// Words to sort by.
    pub categories: Vec<String>,
    /// Comes again; `None` for once.
    pub repeat: Option<Repeat>,
    /// Rings at nine in the morning this many days before.
    pub alarm_days_before: Option<u16>,
}

/// The same again after a fixed number of days.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Repeat {
    /// Days from one to the next, at least 1.
    pub days: u32,
    /// How often in all, the first included, at least 2.
    pub times: u32,
}

impl Repeat {
    /// The repetition that gives just these dates, which must be in order; `None` where none does, or for one date.
    #[must_use]
    pub fn of(dates: &[Date]) -> Option<Self> {
        let gap = |pair: &[Date]| u32::try_from(pair[0].until(pair[1]).ok()?.get_days()).ok().filter(|d| *d > 0);
        let mut gaps = dates.windows(2).map(gap);
        let days = gaps.next()??;
        let even = gaps.all(|g| g == Some(days));
        even.then_some(Self { days, times: u32::try_from(dates.len()).ok()? })
    }

    /// Value of `RRULE` (RFC 5545 section 3.3.10).
    fn rule(self) -> String {
        let (unit, step) = if self.days.is_multiple_of(7) { ("WEEKLY", self.days / 7) } else { ("DAILY", self.days) };
        let interval = if step == 1 { String::new() } else { format!(";INTERVAL={step}") };
        format!("FREQ={unit}{interval};COUNT={}", self.times)
    }
}

impl Calendar {
    /// The file: UTF-8, lines of at most 75 bytes that end in CRLF.
    #[must_use]
    pub fn to_ics(&self) -> String {
        let mut file = Lines::default();
        file.raw("BEGIN", "VCALENDAR");
        file.raw("VERSION", "2.0");
        file.raw("PRODID", "-//rigbinder//maintenance calendar//EN");
        file.raw("CALSCALE", "GREGORIAN");
        // RFC 7986 has NAME; the X- one is what most programs read.
        file.text("NAME", &self.name);
        file.text("X-WR-CALNAME", &self.name);
        for entry in &self.entries {
            self.event(entry, &mut file);
        }
        file.raw("END", "VCALENDAR");
        file.0
    }

    fn event(&self, entry: &Entry, file: &mut Lines) {
        let uid = self.uid(entry);
        let stamp = format!("{}T000000Z", day(self.stamp));
        file.raw("BEGIN", "VEVENT");
        file.raw("UID", &uid);
        file.raw("DTSTAMP", &stamp);
        file.raw("LAST-MODIFIED", &stamp);
        file.raw("SEQUENCE", &self.sequence.to_string());
        file.raw("DTSTART;VALUE=DATE", &day(entry.date));
        // The end is the day after (RFC 5545 section 3.6.1). On the last day of the calendar there is none: one day
        // is what a missing end means.
        if let Ok(next) = entry.date.tomorrow() {
            file.raw("DTEND;VALUE=DATE", &day(next));
        }
        if let Some(repeat) = entry.repeat {
            file.raw("RRULE", &repeat.rule());
        }
        file.text("SUMMARY", &entry.summary);
        if !entry.description.is_empty() {
            file.text("DESCRIPTION", &entry.description.join("\n"));
        }
        if !entry.categories.is_empty() {
            let words: Vec<String> = entry.categories.iter().map(|c| escape(c)).collect();
            file.raw("CATEGORIES", &words.join(","));
        }
        file.raw("TRANSP", "TRANSPARENT");
        if let Some(days) = entry.alarm_days_before {
            file.raw("BEGIN", "VALARM");
            // RFC 9074 gives alarms an id of their own.
            file.raw("UID", &format!("alarm.{uid}"));
            file.raw("ACTION", "DISPLAY");
            file.text("DESCRIPTION", &entry.summary);
            file.raw("TRIGGER", &trigger(days));
            file.raw("END", "VALARM");
        }
        file.raw("END", "VEVENT");
    }

    /// The id of an entry for the whole world: build and entry, without a character that needs care anywhere.
    #[must_use]
    pub fn uid(&self, entry: &Entry) -> String {
        format!("{}.{}@rigbinder", plain(&self.build, ""), plain(&entry.id, "."))
    }
}

/// The number of a revision: "A" 0, "B" 1, … "Z" 25, "AA" 26; "7" 7; the number at the end of other names; else 0.
#[must_use]
pub fn sequence_of(revision: &str) -> u32 {
    let name = revision.trim();
    if !name.is_empty() && name.len() <= 4 && name.bytes().all(|b| b.is_ascii_alphabetic()) {
        let letters = name.bytes().map(|b| u32::from(b.to_ascii_uppercase() - b'A') + 1);
        return letters.fold(0, |sum, letter| sum * 26 + letter) - 1;
    }
    let digits = name.len() - name.bytes().rev().take_while(u8::is_ascii_digit).count();
    // RFC 5545 integers end at 2,147,483,647.
    name[digits..].parse().ok().filter(|n| *n <= i32::MAX.unsigned_abs()).unwrap_or(0)
}

fn day(date: Date) -> String {
    format!("{:04}{:02}{:02}", date.year(), date.month(), date.day())
}

/// Distance of the alarm from the midnight its day begins with.
fn trigger(days_before: u16) -> String {
    match days_before {
        0 => format!("PT{ALARM_HOUR}H"),
        1 => format!("-PT{}H", 24 - ALARM_HOUR),
        days => format!("-P{}DT{}H", days - 1, 24 - ALARM_HOUR),
    }
}

/// Letters, digits, `-`, `_` and `also` as they are, all else as `%` and its bytes, so that ids stay apart.
fn plain(id: &str, also: &str) -> String {
    let mut text = String::new();
    for byte in id.bytes() {
        let c = char::from(byte);
        if c.is_ascii_alphanumeric() || matches!(c, '-' | '_') || also.contains(c) {
            text.push(c);
        } else {
            let _ = write!(text, "%{byte:02X}");
        }
    }
    text
}

/// A text value (RFC 5545 section 3.3.11): line breaks of every sort become `\n`, other control characters go.
fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    let mut characters = text.chars().peekable();
    while let Some(c) = characters.next() {
        match c {
            '\\' | ';' | ',' => escaped.extend(['\\', c]),
            '\r' if characters.peek() == Some(&'\n') => {}
            '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => escaped.push_str("\\n"),
            '\t' => escaped.push(' '),
            c if c.is_control() => {}
            c => escaped.push(c),
        }
    }
    escaped
}

/// The lines of a file.
#[derive(Default)]
struct Lines(String);

impl Lines {
    fn text(&mut self, name: &str, value: &str) {
        self.raw(name, &escape(value));
    }

    /// Writes a line; folds it before the byte that is too much, but never inside a character.
    fn raw(&mut self, name: &str, value: &str) {
        let mut length = 0;
        for c in name.chars().chain([':']).chain(value.chars()) {
            if length + c.len_utf8() > LINE_BYTES {
                self.0.push_str("\r\n ");
                length = 1;
            }
            self.0.push(c);
            length += c.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn entry() -> Entry {
        Entry {
            id: "fridge.clean-condenser.1".to_owned(),
            date: date(2027, 12, 31),
            summary: "Brush the condenser clean".to_owned(),
            description: vec!["1. Switch the fridge off.".to_owned(), "2. Brush, gently; no water.".to_owned()],
            categories: vec!["galley".to_owned(), "owner, yearly".to_owned()],
            repeat: None,
            alarm_days_before: Some(7),
        }
    }

    fn calendar(entries: Vec<Entry>) -> Calendar {
        let (name, build) = ("Heron: upkeep".to_owned(), "W-0412".to_owned());
        Calendar { name, build, sequence: sequence_of("C"), stamp: date(2027, 5, 14), entries }
    }

    #[test]
    fn a_whole_file() {
        let expected = "BEGIN:VCALENDAR\r\n\
            VERSION:2.0\r\n\
            PRODID:-//rigbinder//maintenance calendar//EN\r\n\
            CALSCALE:GREGORIAN\r\n\
            NAME:Heron: upkeep\r\n\
            X-WR-CALNAME:Heron: upkeep\r\n\
            BEGIN:VEVENT\r\n\
            UID:W-0412.fridge.clean-condenser.1@rigbinder\r\n\
            DTSTAMP:20270514T000000Z\r\n\
            LAST-MODIFIED:20270514T000000Z\r\n\
            SEQUENCE:2\r\n\
            DTSTART;VALUE=DATE:20271231\r\n\
            DTEND;VALUE=DATE:20280101\r\n\
            SUMMARY:Brush the condenser clean\r\n\
            DESCRIPTION:1. Switch the fridge off.\\n2. Brush\\, gently\\; no water.\r\n\
            CATEGORIES:galley,owner\\, yearly\r\n\
            TRANSP:TRANSPARENT\r\n\
            BEGIN:VALARM\r\n\
            UID:alarm.W-0412.fridge.clean-condenser.1@rigbinder\r\n\
            ACTION:DISPLAY\r\n\
            DESCRIPTION:Brush the condenser clean\r\n\
            TRIGGER:-P6DT15H\r\n\
            END:VALARM\r\n\
            END:VEVENT\r\n\
            END:VCALENDAR\r\n";
        assert_eq!(calendar(vec![entry()]).to_ics(), expected);
    }

    /// tests/reference/ical-folding.csv: SUMMARY lines of the Python library icalendar 7.3.2, compared unfolded, as
    /// the place of a fold is free.
    #[test]
    fn folds_and_escapes_as_the_reference() {
        let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/ical-folding.csv"));
        let mut rows = 0;
        for row in csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).records() {
            let row = row.expect("row");
            let lines: Vec<String> = serde_json::from_str(&row[3]).expect("lines");
            let mut file = Lines::default();
            // The table marks a line break inside a text like this.
            file.text("SUMMARY", &row[0].replace("\\n(LF)", "\n"));
            assert!(file.0.split("\r\n").all(|line| line.len() <= LINE_BYTES), "{}", file.0);
            assert_eq!(file.0.replace("\r\n ", ""), format!("{}\r\n", lines.join("\r\n").replace("\r\n ", "")));
            rows += 1;
        }
        assert_eq!(rows, 5);
    }

    #[test]
    fn folds_at_seventy_five_bytes_and_not_inside_a_character() {
        // Bytes of the value → bytes of each line, the name's colon and the space of a continuation included.
        let bytes = |value: &str| -> Vec<usize> {
            let mut file = Lines::default();
            file.raw("", value);
            assert_eq!(file.0.replace("\r\n ", ""), format!(":{value}\r\n"));
            file.0.split_terminator("\r\n").map(str::len).collect()
        };
        assert_eq!(bytes(&"a".repeat(74)), [75]);
        assert_eq!(bytes(&"a".repeat(75)), [75, 2]);
        assert_eq!(bytes(&"a".repeat(74 + 74 + 74)), [75, 75, 75]);
        assert_eq!(bytes(&format!("{}é", "a".repeat(72))), [75]);
        assert_eq!(bytes(&format!("{}é", "a".repeat(73))), [74, 3]);
        assert_eq!(bytes(&"🚐".repeat(37)), [73, 73, 1 + 4]);
    }

    #[test]
    fn no_text_can_add_a_line() {
        let evil = "x\r\nATTACH:a\rB\nC\u{b}D\u{c}E\u{85}F\u{2028}G\u{2029}H\u{0}\u{7}\u{7f}\u{9f}I\tJ";
        let mut bad = entry();
        bad.id = evil.to_owned();
        bad.summary = evil.to_owned();
        bad.description = vec![evil.to_owned()];
        bad.categories = vec![evil.to_owned()];
        let mut calendar = calendar(vec![bad]);
        let lines = |c: &Calendar| c.to_ics().replace("\r\n ", "").lines().count();
        let before = lines(&super::tests::calendar(vec![entry()]));
        calendar.name = evil.to_owned();
        calendar.build = evil.to_owned();
        assert_eq!(lines(&calendar), before);
        let text = calendar.to_ics();
        assert!(!text.replace("\r\n", "").contains(|c: char| c.is_control() || c == '\u{2028}'));
        assert_eq!(escape(evil), "x\\nATTACH:a\\nB\\nC\\nD\\nE\\nF\\nG\\nHI J");
    }

    #[test]
    fn ids_of_different_builds_stay_apart() {
        let uid = |build: &str, id: &str| {
            let calendar = Calendar { build: build.to_owned(), ..calendar(Vec::new()) };
            calendar.uid(&Entry { id: id.to_owned(), ..entry() })
        };
        assert_eq!(uid("W/1", "a.b.1"), "W%2F1.a.b.1@rigbinder");
        assert_ne!(uid("W/1", "a"), uid("W 1", "a"));
        assert_ne!(uid("W.a", "b"), uid("W", "a.b"));
    }

    #[test]
    fn revisions_count_up() {
        let got = ["A", "b", "C", "Z", "AA", "AB", "7", "rev 12", "", "-", "99999999999", "été"].map(sequence_of);
        assert_eq!(got, [0, 1, 2, 25, 26, 27, 7, 12, 0, 0, 0, 0]);
    }

    #[test]
    fn only_even_days_are_a_rule() {
        let days = |days: &[i8]| -> Vec<Date> { days.iter().map(|d| date(2028, 2, *d)).collect() };
        assert_eq!(Repeat::of(&days(&[1, 8, 15, 22, 29])), Some(Repeat { days: 7, times: 5 }));
        let over_the_end = [date(2028, 2, 21), date(2028, 3, 6), date(2028, 3, 20)];
        assert_eq!(Repeat::of(&over_the_end).map(Repeat::rule).as_deref(), Some("FREQ=WEEKLY;INTERVAL=2;COUNT=3"));
        assert_eq!(
            Repeat::of(&days(&[1, 11, 21])).map(Repeat::rule).as_deref(),
            Some("FREQ=DAILY;INTERVAL=10;COUNT=3")
        );
        // Months, a date twice, one date, none, backwards.
        assert_eq!(Repeat::of(&[date(2028, 1, 14), date(2028, 2, 14), date(2028, 3, 14)]), None);
        for uneven in [&[1, 1][..], &[1], &[], &[9, 2]] {
            assert_eq!(Repeat::of(&days(uneven)), None, "{uneven:?}");
        }
        let weekly = Entry { repeat: Some(Repeat { days: 7, times: 260 }), ..entry() };
        let text = calendar(vec![weekly]).to_ics();
        assert!(text.contains("DTEND;VALUE=DATE:20280101\r\nRRULE:FREQ=WEEKLY;COUNT=260\r\nSUMMARY"), "{text}");
    }

    #[test]
    fn alarms_ring_at_nine() {
        assert_eq!([0, 1, 2, 30].map(trigger), ["PT9H", "-PT15H", "-P1DT15H", "-P29DT15H"]);
    }

    #[test]
    fn the_last_day_of_the_calendar_needs_no_end() {
        let last = Entry { date: Date::MAX, ..entry() };
        let text = calendar(vec![last]).to_ics();
        assert!(text.contains("DTSTART;VALUE=DATE:99991231\r\nSUMMARY"), "{text}");
    }
}
