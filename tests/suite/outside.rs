//! Comparisons with Python libraries: python-dateutil for dates, icalendar for calendar files.
//!
//! The interpreter comes from `RIGBINDER_TEST_PYTHON` (made by the Makefile from `tests/outside/requirements.txt`).
//! Without it these tests fail, so that they can't be forgotten; `RIGBINDER_SKIP_OUTSIDE=1` leaves them out.

use jiff::civil::{Date, date};
use rigbinder::compute::time::CalendarInterval;
use rigbinder::documents::ics::{Calendar, Entry, Repeat};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

/// Runs a script of `tests/outside`: whether it succeeded, and what it printed. `None` where these tests are left out.
///
/// # Panics
/// Where there is no interpreter.
pub(crate) fn run(script: &str, arguments: &[&Path]) -> Option<(bool, String)> {
    if env::var_os("RIGBINDER_SKIP_OUTSIDE").is_some_and(|v| v == "1") {
        return None;
    }
    let python = env::var_os("RIGBINDER_TEST_PYTHON")
        .expect("RIGBINDER_TEST_PYTHON must name a Python with tests/outside/requirements.txt (see the Makefile)");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside").join(script);
    let run = Command::new(python)
        .arg(&script)
        .args(arguments)
        .env("PYTHONIOENCODING", "utf-8")
        .env("PYTHONDONTWRITEBYTECODE", "1")
        .output()
        .expect("the interpreter runs");
    let printed = [run.stdout, run.stderr].map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).concat();
    Some((run.status.success(), printed))
}

/// Reads `calendar` back with the Python library and compares it with `entries` (see `tests/outside/check_ics.py`):
/// whether all agree, and what the script printed. `None` where these tests are left out.
pub(crate) fn check_ics(test: &str, calendar: &str, name: &str, entries: &[Value]) -> Option<(bool, String)> {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR"));
    let (file, expected) = (folder.join(format!("{test}.ics")), folder.join(format!("{test}.json")));
    fs::write(&file, calendar).expect("written");
    fs::write(&expected, json!({ "name": name, "entries": entries }).to_string()).expect("written");
    run("check_ics.py", &[&file, &expected])
}

/// 400 intervals drawn anew and added up by python-dateutil.
#[test]
fn dates_as_dateutil_has_them() {
    let Some((success, table)) = run("intervals_live.py", &[]) else { return };
    assert!(success, "{table}");
    let (mut intervals, mut dates) = (0, 0);
    for row in csv::Reader::from_reader(table.as_bytes()).records() {
        let row = row.expect("a row");
        let start: Date = row[1].parse().expect("a date");
        let limit: usize = row[2].parse().expect("a limit");
        intervals += 1;
        let interval = CalendarInterval::parse(&row[0]).unwrap_or_else(|fault| panic!("{}: {fault}", &row[0]));
        let got: Vec<Date> = (1..=12).filter_map(|n| interval.nth(start, n)).take(limit).collect();
        let expected: Vec<Date> = row[3].split_whitespace().map(|d| d.parse().expect("a date")).collect();
        assert_eq!(got, expected, "{} from {start}", &row[0]);
        dates += expected.len();
    }
    assert_eq!((intervals, dates), (400, 4800));
}

/// Texts a spec may hold, and what a calendar must show of them.
const TEXTS: [(&str, &str); 12] = [
    ("Check battery terminal torque", "Check battery terminal torque"),
    ("Sanitise the tank; flush twice, drain", "Sanitise the tank; flush twice, drain"),
    ("first\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nsecond", "first\nEND:VEVENT\nBEGIN:VEVENT\nsecond"),
    ("one\rtwo\nthree\u{2028}four\u{85}five", "one\ntwo\nthree\nfour\nfive"),
    ("C:\\new\\table \\; \\, \\N \\\\n", "C:\\new\\table \\; \\, \\N \\\\n"),
    ("bell \u{7} null \u{0} delete \u{7f} end", "bell  null  delete  end"),
    ("tab\there", "tab here"),
    ("\"quoted\": ^n ^' name=value:x", "\"quoted\": ^n ^' name=value:x"),
    (
        "vérifier l’étanchéité et le débit d’air à −22 °C — ½ tour de clé, pas plus ; fermer",
        "vérifier l’étanchéité et le débit d’air à −22 °C — ½ tour de clé, pas plus ; fermer",
    ),
    (
        "🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐",
        "🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐🚐",
    ),
    (" leading and trailing ", " leading and trailing "),
    (
        "水箱每六个月清洗一次，检查排水阀是否关闭，并在记录表上签名和日期，然后通知车主。完成。",
        "水箱每六个月清洗一次，检查排水阀是否关闭，并在记录表上签名和日期，然后通知车主。完成。",
    ),
];

/// Every text in every place, at every length that meets a fold.
#[test]
fn calendar_files_read_back_the_same() {
    let stamp = date(2027, 5, 14);
    let (mut entries, mut expected) = (Vec::new(), Vec::new());
    for (n, (given, shown)) in (0_u16..).zip(TEXTS.iter().cycle()).take(960) {
        let pad = "x".repeat(usize::from(n / 12));
        let day = stamp.checked_add(jiff::Span::new().days(n)).expect("a day");
        let other = TEXTS[usize::from(n % 11)];
        let alarm = [None, Some(0), Some(1), Some(7), Some(30)][usize::from(n % 5)];
        let id = format!("part-{n}.upkeep.{}", n % 7);
        entries.push(Entry {
            id: id.clone(),
            date: day,
            summary: format!("{pad}{given}"),
            description: if n % 4 == 0 { Vec::new() } else { vec![format!("1. {}", other.0), format!("2. {given}")] },
            categories: if n % 3 == 0 { Vec::new() } else { vec!["water".to_owned(), format!("{pad}a,b;c\\d")] },
            repeat: None,
            alarm_days_before: alarm,
        });
        expected.push(json!({
            "uid": format!("W-0412.{id}@rigbinder"),
            "date": day.to_string(),
            "end": day.tomorrow().expect("a day").to_string(),
            "stamp": "2027-05-14",
            "sequence": 3,
            "summary": format!("{pad}{shown}"),
            "description": (n % 4 != 0).then(|| format!("1. {}\n2. {shown}", other.1)),
            "categories": if n % 3 == 0 { json!([]) } else { json!(["water", format!("{pad}a,b;c\\d")]) },
            "alarm_hours": alarm.map(|days| 9 - 24 * i32::from(days)),
        }));
    }
    let name = "Heron, upkeep; all of it".to_owned();
    let calendar = Calendar { name: name.clone(), build: "W-0412".to_owned(), sequence: 3, stamp, entries };
    let Some((agree, printed)) = check_ics("texts", &calendar.to_ics(), &name, &expected) else { return };
    assert!(agree && printed.trim() == "960 entries agree", "{printed}");
}

/// The comparison itself: every change of a good file must be told.
#[test]
fn a_changed_calendar_file_does_not_pass() {
    let entry = Entry {
        id: "fridge.clean-condenser.1".to_owned(),
        date: date(2027, 11, 14),
        summary: "Brush the condenser clean".to_owned(),
        description: vec!["Switch the fridge off.".to_owned()],
        categories: vec!["galley".to_owned()],
        repeat: Some(Repeat { days: 14, times: 4 }),
        alarm_days_before: Some(1),
    };
    let calendar =
        Calendar { name: "N".to_owned(), build: "B".to_owned(), sequence: 1, stamp: entry.date, entries: vec![entry] };
    let expected = [json!({
        "uid": "B.fridge.clean-condenser.1@rigbinder", "date": "2027-11-14", "end": "2027-11-15", "sequence": 1,
        "stamp": "2027-11-14", "summary": "Brush the condenser clean", "description": "Switch the fridge off.",
        "categories": ["galley"], "alarm_hours": -15,
        "dates": ["2027-11-14", "2027-11-28", "2027-12-12", "2027-12-26"],
    })];
    let good = calendar.to_ics();
    let Some((agree, printed)) = check_ics("changed", &good, "N", &expected) else { return };
    assert!(agree, "{printed}");
    for (from, to) in [
        ("DTEND;VALUE=DATE:20271115", "DTEND;VALUE=DATE:20271114"),
        ("DTSTART;VALUE=DATE:20271114", "DTSTART:20271114T000000Z"),
        ("clean\r\n", "cl\r\n ean!\r\n"),
        ("SEQUENCE:1", "SEQUENCE:2"),
        ("UID:B.", "UID:C."),
        ("-PT15H", "-PT16H"),
        ("CATEGORIES:galley", "CATEGORIES:galley,water"),
        ("DTSTAMP:20271114", "DTSTAMP:20271113"),
        ("END:VEVENT\r\n", "END:VEVENT\n"),
        ("VERSION:2.0", "VERSION:2.0\r\nMETHOD:PUBLISH"),
        ("RRULE:FREQ=WEEKLY;INTERVAL=2;COUNT=4\r\n", ""),
        ("RRULE:FREQ=WEEKLY;INTERVAL=2;COUNT=4", "RRULE:FREQ=WEEKLY;INTERVAL=2;COUNT=5"),
        ("FREQ=WEEKLY;INTERVAL=2", "FREQ=WEEKLY"),
        ("Switch the fridge off.", "Switch the fridge off.                                                        "),
    ] {
        assert!(good.contains(from), "{from}");
        let Some((agree, printed)) = check_ics("changed", &good.replacen(from, to, 1), "N", &expected) else { return };
        assert!(!agree, "{from} -> {to} passed: {printed}");
    }
}
