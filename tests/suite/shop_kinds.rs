//! The two kinds of the demo's shop: their work, upkeep and words are in the documents of the spec that takes them, and
//! no line of the program knows of either.

use crate::harness::{house, load, root, sheets};
use rigbinder::kinds::Library;
use rigbinder::pipeline::{self, Sheet};
use rigbinder::units::Watts;
use std::collections::BTreeSet;

fn turnstone() -> Vec<Sheet> {
    sheets(&load(&root().join("specs/turnstone.toml")))
}

fn text<'s>(sheets: &'s [Sheet], stem: &str) -> &'s str {
    &sheets.iter().find(|s| s.stem.contains(stem)).unwrap_or_else(|| panic!("no {stem}")).markdown
}

/// What stands from a heading with these words to the next heading of any level.
fn section<'t>(text: &'t str, heading: &str) -> &'t str {
    let mut from = text.lines().scan(0, |at, line| {
        let here = *at;
        *at += line.len() + 1;
        Some((here, line))
    });
    let (start, line) = from.find(|(_, l)| l.starts_with('#') && l.contains(heading)).expect(heading);
    let rest = &text[start + line.len()..];
    &rest[..rest.find("\n#").unwrap_or(rest.len())]
}

#[test]
fn the_espresso_machine_runs_on_twelve_volts_and_is_descaled_every_month() {
    let loaded = load(&root().join("specs/turnstone.toml"));
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let part = &worked.build.parts["espresso"];
    assert_eq!((part.kind.id.as_str(), part.record.watts("draw")), ("espresso-machine", Some(Watts(300.0))));
    // 300 W at the 12 V of the bank.
    let current = worked.electrical.circuits["espresso"].demand.load.0;
    assert!((current - 25.0).abs() < 1e-9, "{current} A");
    let sheets = turnstone();
    let round = section(text(&sheets, "maintenance-calendar"), "Every month");
    assert!(round.contains("Descale the espresso machine"), "{round}");
    // In the calendar of the phone: an event in each month after handover, for five years.
    let calendar = sheets.iter().flat_map(|s| &s.beside).find(|(name, _)| name.ends_with(".ics")).expect("a calendar");
    let unfolded = calendar.1.replace("\r\n ", "");
    let events = unfolded.split("BEGIN:VEVENT").skip(1).filter(|e| e.contains("Descale the espresso machine"));
    let day = |event: &str| {
        let (_, after) = event.split_once("DTSTART;VALUE=DATE:").expect("a day");
        after[..6].parse::<u32>().expect("year and month")
    };
    let months: Vec<u32> = events.map(day).collect();
    // Handover is on 30 September 2027.
    let expected: Vec<u32> = (2027 * 12 + 9..).take(60).map(|month| month / 12 * 100 + month % 12 + 1).collect();
    assert_eq!(months, expected);
}

#[test]
fn the_hatchs_own_steps_and_hold_are_in_their_packets() {
    let sheets = turnstone();
    let openings = text(&sheets, "packet-02");
    let cut = section(openings, "Cut the observation hatch's opening");
    let (hold, first) =
        (cut.find("Hold point of task").expect("a hold"), cut.find("Drill the corners").expect("steps"));
    assert!(hold < first, "the hold stands before the cut");
    assert!(cut.contains("check template, bows, what lies behind"), "{cut}");
    assert!(cut.find("A fall from the roof").expect("a caution") < hold, "cautions come first");
    assert!(openings.contains("500 mm × 500 mm"), "its own cut-out");
    let at = |words: &str| openings.find(words).unwrap_or_else(|| panic!("no {words}"));
    assert!(
        at(". Mark the observation hatch's opening") < at(". Cut the observation hatch's opening")
            && at(". Cut the observation hatch's opening") < at(". Bed and seal the observation hatch")
    );
    assert!(text(&sheets, "packet-07").contains("Fit the observation hatch's step"));
    assert!(text(&sheets, "packet-11").contains("Try the observation hatch"));
    let round = section(text(&sheets, "maintenance-calendar"), "Every 6 months");
    assert!(round.contains("Clean and grease the observation hatch's seal"), "{round}");
    assert!(text(&sheets, "owners-manual").contains("thrown"), "its caution for the owner");
}

/// Neither program nor templates name what a shop brings.
#[test]
fn nothing_of_the_shops_kinds_is_in_the_program() {
    let built_in: BTreeSet<String> = Library::ids(crate::harness::built_in()).into_iter().collect();
    let own: Vec<String> = Library::ids(house()).into_iter().filter(|id| !built_in.contains(id)).collect();
    assert_eq!(own, ["espresso-machine", "observation-hatch"]);
    let (mut open, mut read) = (vec![root().join("src"), root().join("templates")], 0);
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).expect("folder") {
            let path = entry.expect("entry").path();
            if path.is_dir() {
                open.push(path);
                continue;
            }
            let Ok(text) = std::fs::read_to_string(&path) else { continue };
            read += 1;
            let named = own.iter().find(|id| text.contains(*id) || text.contains(&id.replace('-', "_")));
            assert_eq!(named, None, "{}", path.display());
        }
    }
    assert!(read > 400, "only {read} files");
}
