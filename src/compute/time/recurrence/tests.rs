//! The worked examples of RFC 5545 and the rules expanded by python-dateutil, row by row.

use super::*;
use jiff::civil::date;
use std::time::{Duration, Instant};

fn rows(text: &str) -> Vec<csv::StringRecord> {
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes())
        .records()
        .collect::<Result<_, _>>()
        .expect("a readable table")
}

fn moments(text: &str) -> Vec<DateTime> {
    text.split_whitespace().map(|t| DateTime::strptime("%Y%m%dT%H%M%S", t).expect(t)).collect()
}

fn rule(text: &str) -> Recurrence {
    Recurrence::parse(text).expect(text)
}

/// tests/reference/rfc5545-recurrence.csv: the examples of RFC 5545 section 3.8.5.3, in New York.
#[test]
fn all_worked_examples_of_rfc_5545() {
    let table = rows(include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/rfc5545-recurrence.csv")));
    // The clock of New York in 1997, as the VTIMEZONE of RFC 5545 section 3.6.5 has it.
    let new_york = TimeZone::posix("EST5EDT,M4.1.0,M10.5.0").expect("a zone");
    let mut errata = 0;
    for row in &table {
        let [start, left_out, mut expected] = [&row[1], &row[3], &row[6]].map(moments);
        let parsed = rule(&row[2]);
        let got: Vec<DateTime> = parsed
            .times(start[0], &new_york, expected.len() + left_out.len() + 5)
            .into_iter()
            .filter(|moment| !left_out.contains(moment))
            .collect();
        if &row[7] == "disagree" {
            // The RFC prints 15:00 for UNTIL=19970902T170000Z, but 17:00 UTC is 13:00 in New York: 12:00 is the last.
            assert_eq!(&row[2], "FREQ=HOURLY;INTERVAL=3;UNTIL=19970902T170000Z");
            assert_eq!(expected.pop(), Some(date(1997, 9, 2).at(15, 0, 0, 0)));
            errata += 1;
        }
        match &row[4] {
            "complete" => assert_eq!(got, expected, "{} {}", &row[0], &row[2]),
            _ => assert_eq!(got.get(..expected.len()), Some(&expected[..]), "{} {}", &row[0], &row[2]),
        }
    }
    assert_eq!((table.len(), errata), (42, 1));
}

/// tests/reference/recurrence-dateutil.csv: python-dateutil 2.9.0.post0, whole days.
#[test]
fn rules_of_upkeep_as_dateutil_has_them() {
    let table = rows(include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/recurrence-dateutil.csv")));
    for row in &table {
        let start = Date::strptime("%Y%m%d", &row[2]).expect("a date");
        let limit = row[4].parse().expect("a limit");
        let got: Vec<String> =
            rule(&row[3]).dates(start, limit).iter().map(|d| d.strftime("%Y%m%d").to_string()).collect();
        assert_eq!(got.join(" "), &row[6], "{} {}", &row[0], &row[1]);
    }
    assert_eq!(table.len(), 15);
}

#[test]
fn ends_where_it_is_told() {
    let monthly = rule("FREQ=MONTHLY;BYMONTHDAY=1");
    let start = date(2027, 5, 14);
    assert_eq!(monthly.dates_until(start, date(2027, 8, 1)), [date(2027, 6, 1), date(2027, 7, 1), date(2027, 8, 1)]);
    assert_eq!(monthly.dates(start, 0), []);
    assert_eq!(rule("FREQ=WEEKLY;UNTIL=20270528").dates(start, 9).last(), Some(&date(2027, 5, 28)));
    assert_eq!(rule("FREQ=WEEKLY;UNTIL=20270513").dates(start, 9), []);
    assert_eq!(rule("FREQ=YEARLY").dates(date(9998, 5, 14), 9).len(), 2);
}

#[test]
fn a_count_of_one_is_the_start_itself() {
    assert_eq!(rule("FREQ=MONTHLY;COUNT=1").dates(date(2027, 5, 14), 9), [date(2027, 5, 14)]);
}

#[test]
fn a_week_without_weekday_takes_that_of_the_start() {
    let first = rule("FREQ=YEARLY;BYWEEKNO=20").dates(date(1997, 5, 12), 3);
    assert_eq!(first, [date(1997, 5, 12), date(1998, 5, 11), date(1999, 5, 17)], "as BYDAY=MO in RFC 5545");
}

#[test]
fn numbered_and_plain_weekdays_add_up() {
    let days = rule("FREQ=MONTHLY;BYDAY=1MO,-1MO,FR;COUNT=6").dates(date(2025, 1, 1), 9);
    assert_eq!(days, [3, 6, 10, 17, 24, 27].map(|d| date(2025, 1, d)));
}

#[test]
fn days_are_given_once() {
    assert_eq!(rule("FREQ=HOURLY;INTERVAL=6").dates(date(2025, 1, 1), 3), [1, 2, 3].map(|d| date(2025, 1, d)));
    assert!(rule("FREQ=HOURLY;INTERVAL=6").has_times());
    assert!(rule("FREQ=DAILY;BYHOUR=9").has_times());
    assert!(!rule("FREQ=DAILY").has_times());
}

#[test]
fn hostile_rules_end_soon() {
    let all = |last: i16| (1..=last).map(|n| n.to_string()).collect::<Vec<_>>().join(",");
    let clock = format!("BYHOUR={};BYMINUTE={};BYSECOND={}", all(23), all(59), all(59));
    let wide = format!("FREQ=YEARLY;BYYEARDAY={};{clock};BYSETPOS=366,-366", all(366));
    let barren = format!("FREQ=YEARLY;BYYEARDAY={};BYMONTH=2;BYMONTHDAY=30", all(366));
    for (text, found) in [
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", 0),
        ("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", 0),
        ("FREQ=SECONDLY;BYMONTH=2;BYMONTHDAY=30", 0),
        ("FREQ=SECONDLY;INTERVAL=999999999;BYHOUR=3;BYMINUTE=7;BYSECOND=11;BYMONTHDAY=31;BYDAY=MO", 0),
        ("FREQ=YEARLY;INTERVAL=999999999", 1),
        ("FREQ=MONTHLY;INTERVAL=12;BYMONTHDAY=31;BYMONTH=2", 0),
        ("FREQ=YEARLY;INTERVAL=4;BYYEARDAY=366;COUNT=3", 0),
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29;BYDAY=MO;COUNT=3", 3),
        ("FREQ=SECONDLY;COUNT=999999999", 1000),
        ("FREQ=SECONDLY;BYSECOND=0,1;BYSETPOS=2", 0),
        (&wide, 1000),
        (&barren, 0),
    ] {
        let began = Instant::now();
        let got = rule(text).times(date(2025, 1, 1).at(0, 0, 0, 0), &TimeZone::UTC, 1000);
        assert_eq!(got.len(), found, "{}", &text[..text.len().min(90)]);
        assert!(got.is_sorted_by(|a, b| a < b));
        assert!(began.elapsed() < Duration::from_secs(10), "{text} took {:?}", began.elapsed());
    }
}

#[test]
fn faults_stand_at_their_place() {
    for (text, range, message) in [
        ("", 0..0, "`` has no value (parts are like FREQ=MONTHLY, apart by `;`)"),
        ("FREQ=MONTLY", 5..11, "`MONTLY` is not a frequency (frequencies are YEARLY, MONTHLY, WEEKLY, DAILY)"),
        ("RRULE:FREQ=DAILY", 0..10, "`RRULE:FREQ` is not a part of a recurrence rule (leave out `RRULE:`)"),
        ("FREQ=DAILY;INTERVALL=2", 11..20, "`INTERVALL` is not a part of a recurrence rule (did you mean `INTERVAL`?)"),
        ("FREQ=DAILY;INTERVAL=0", 20..21, "`0` is not a whole number of 1 or more"),
        ("FREQ=DAILY;COUNT=+1", 17..19, "`+1` is not a whole number of 1 or more"),
        ("FREQ=DAILY;COUNT=1;UNTIL=20300101", 17..18, "`COUNT` and `UNTIL` exclude each other"),
        ("FREQ=DAILY;UNTIL=2030-01-01", 17..27, "`2030-01-01` is not a date (write the last day like 20301231)"),
        ("FREQ=DAILY;UNTIL=20300230", 17..25, "`20300230` is not a date (write the last day like 20301231)"),
        ("FREQ=MONTHLY;BYMONTHDAY=15,32", 27..29, "`32` is not a number of 1 to 31 or -31 to -1"),
        ("FREQ=MONTHLY;BYMONTHDAY=0", 24..25, "`0` is not a number of 1 to 31 or -31 to -1"),
        ("FREQ=YEARLY;BYMONTH=-1", 20..22, "`-1` is not a number of 1 to 12"),
        ("FREQ=MONTHLY;BYDAY=MO,1XX", 23..25, "`XX` is not a weekday (weekdays are MO TU WE TH FR SA SU)"),
        ("FREQ=MONTHLY;BYDAY=MO,é", 24..24, "`` is not a weekday (weekdays are MO TU WE TH FR SA SU)"),
        ("FREQ=WEEKLY;BYDAY=1MO", 18..21, "`BYDAY` may have numbers only with FREQ=MONTHLY or YEARLY"),
        ("FREQ=MONTHLY;BYWEEKNO=1", 22..23, "`BYWEEKNO` goes with FREQ=YEARLY only"),
        ("FREQ=DAILY;BYSETPOS=1", 20..21, "`BYSETPOS` needs another BY… part to pick from"),
        ("FREQ=DAILY;FREQ=DAILY", 11..21, "`FREQ` is given twice"),
        ("COUNT=3", 0..7, "`FREQ` is missing (begin with FREQ=YEARLY, MONTHLY, WEEKLY or DAILY)"),
        ("FREQ=DAILY;", 11..11, "`` has no value (parts are like FREQ=MONTHLY, apart by `;`)"),
    ] {
        let fault = Recurrence::parse(text).expect_err(text);
        assert_eq!((fault.to_string().as_str(), fault.range.clone()), (message, range), "{text}");
    }
    assert!(Recurrence::parse(&"BYDAY=MO;".repeat(1000)).is_err());
    assert_eq!(rule(" freq=daily;byday=mo ").to_string(), "FREQ=DAILY;BYDAY=MO");
}
