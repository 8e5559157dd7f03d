//! What the owner holds: the manual and the calendar say what they must, once, and never what they must not.

use crate::harness::root;
use jiff::ToSpan as _;
use jiff::civil::Date;
use rigbinder::compute::time::DueKind;
use rigbinder::kinds::Stage;
use rigbinder::pipeline::{self, Loaded, Only};
use std::collections::BTreeSet;

/// The small van of `specs/weekend.toml` with more parts.
fn weekend_with(more: &str) -> String {
    let small = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    format!("{small}\n{more}")
}

/// Reads a spec text.
fn load_text(text: &str) -> Loaded {
    pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("the library of kinds holds together")
}

/// The Markdown of the only document of a name.
fn markdown(loaded: &Loaded, document: &str) -> String {
    let worked = pipeline::work_out(loaded).expect("profile");
    let only = Only { documents: vec![document.to_owned()], stages: Vec::new() };
    pipeline::sheets(&worked, &only).expect("documents").remove(0).markdown
}

const HIDDEN: &str = r#"
[place.secret-shelf]
about = "Behind the loose plank"

[component.aux]
kind = "switch-panel"
fed_from = "master"
run = "1 m"
place = "galley"
master = "hidden"
master_switch = "master"

[component.master]
kind = "master-switch"
guard = "hidden"
fed_from = "busbar"
run = "1 m"
place = "secret-shelf"
owner_note = "Behind the loose plank, push up."
"#;

#[test]
fn a_hidden_switch_stays_hidden() {
    let loaded = load_text(&weekend_with(HIDDEN));
    for document in ["manual", "calendar"] {
        let text = markdown(&loaded, document);
        assert!(text.contains("aster"), "{document} tells of the switch");
        assert!(!text.contains("loose plank"), "{document} gives the place away");
    }
    let keyed = load_text(&weekend_with(&HIDDEN.replace("\"hidden\"", "\"keyed\"")));
    assert!(markdown(&keyed, "manual").contains("Behind the loose plank"), "a keyed switch is no secret");
}

#[test]
fn parts_of_one_kind_are_told_once_and_told_apart() {
    let loaded = load_text(&weekend_with(
        "[component.usb-2]\nkind = \"usb-outlet\"\nfed_from = \"panel\"\nrun = \"2 m\"\nplace = \"bench\"\n\
         [component.sink-2]\nkind = \"sink\"\ndrains_to = \"grey\"\nplace = \"bench\"\n",
    ));
    let manual = markdown(&loaded, "manual");
    assert_eq!(manual.matches("Charging ports straight from the 12 V bank").count(), 1);
    assert!(!manual.contains("way N"), "a way has its number");
    assert!(manual.contains("{#about-usb}") && manual.contains("<a id=\"about-usb-2\"></a>"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let plan = worked.due_dates().expect("a handover date");
    let titles =
        |id: &str| -> Vec<_> { plan.dated.iter().filter(|d| d.component == id).map(|d| d.title.as_str()).collect() };
    assert!(titles("sink-2").iter().all(|t| t.contains("{{ name }}")), "{:?}", titles("sink-2"));
    assert!(titles("grey").iter().all(|t| !t.contains("{{ name }}")), "{:?}", titles("grey"));
}

#[test]
fn a_printed_date_wins_over_the_life_of_a_kind() {
    let due = |more: &str| {
        let text = weekend_with("").replace("kind = \"co-alarm\"", &format!("kind = \"co-alarm\"{more}"));
        let loaded = load_text(&text);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let plan = worked.due_dates().expect("a handover date");
        let of = |d: &&rigbinder::compute::time::Due| d.component == "co-alarm" && d.kind == DueKind::Replace;
        plan.dated.iter().find(of).expect("a life limit").date.to_string()
    };
    // Handover is on 2027-04-09; the kind's life counts from there, or from the day it was made.
    assert!(due("").ends_with("-04-09"), "{}", due(""));
    assert_eq!(due(", made = 2026-01-31")[4..], due(", made = 2025-01-31")[4..]);
    assert!(due(", made = 2026-01-31").ends_with("-01-31"));
    assert_eq!(due(", made = 2026-01-31, replace_by = 2031-02-03"), "2031-02-03");
}

#[test]
fn a_skipped_stage_leaves_its_tasks_out() {
    let all = load_text(&weekend_with(""));
    let some = load_text(&weekend_with("[stage.furniture]\nskip = true\n"));
    let schedule = |loaded| pipeline::work_out(loaded).expect("profile").schedule.expect("no circle");
    let of_furniture =
        |s: &rigbinder::compute::time::Schedule| s.order.iter().filter(|t| t.stage == Stage::Furniture.id()).count();
    let (all, some) = (schedule(&all), schedule(&some));
    assert!(of_furniture(&all) > 0);
    assert_eq!(of_furniture(&some), 0);
    assert_eq!(all.order.len() - of_furniture(&all), some.order.len());
}

/// The days of a rule of weeks or days, all that our calendars have; `check_ics.py` reads them by another library.
fn repeated(rule: &str, start: Date) -> Vec<Date> {
    let part = |name: &str| rule.split(';').find_map(|p| p.strip_prefix(name)?.strip_prefix('='));
    let number = |name: &str| part(name).map(|n| n.parse::<i32>().expect("a number"));
    let unit = match part("FREQ") {
        Some("WEEKLY") => 7,
        Some("DAILY") => 1,
        other => panic!("{other:?} in {rule}"),
    };
    let step = unit * number("INTERVAL").unwrap_or(1);
    (0..number("COUNT").expect("an end")).map(|n| start + (n * step).days()).collect()
}

/// Every day on which an entry of a calendar file falls.
fn days_in(feed: &str) -> BTreeSet<Date> {
    let mut days = BTreeSet::new();
    for event in feed.split("BEGIN:VEVENT").skip(1) {
        let value = |name: &str| event.lines().find_map(|l| l.strip_prefix(name));
        let start = value("DTSTART;VALUE=DATE:").expect("a start");
        let start = Date::strptime("%Y%m%d", start).expect("a date");
        match value("RRULE:") {
            Some(rule) => days.extend(repeated(rule, start)),
            None => drop(days.insert(start)),
        }
    }
    days
}

#[test]
fn the_calendar_of_the_phone_holds_every_due_date_once() {
    let loaded = load_text(&weekend_with(""));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let plan = worked.due_dates().expect("a handover date");
    let only = Only { documents: vec!["calendar".into()], stages: Vec::new() };
    let sheets = pipeline::sheets(&worked, &only).expect("documents");
    let (_, feed) = sheets[0].beside.iter().find(|(name, _)| name.ends_with(".ics")).expect("a feed");
    let feed = feed.replace("\r\n ", "");
    let days: BTreeSet<Date> = plan.dated.iter().map(|d| d.date).collect();
    assert_eq!(days, days_in(&feed));
    let rules = feed.lines().filter(|l| l.starts_with("RRULE:FREQ=WEEKLY;COUNT=")).count();
    assert_eq!(rules, 1, "both alarms are tested every week: one round");
    let mut ids: Vec<_> = feed.lines().filter(|l| l.starts_with("UID:") && !l.contains("alarm.")).collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "an id stands twice");
}

#[test]
fn a_build_without_a_handover_date_still_has_both_documents() {
    let undated = weekend_with("").replace("handover = 2027-04-09", "");
    let loaded = load_text(&undated);
    let calendar = markdown(&loaded, "calendar");
    assert!(calendar.contains("there are no dates") && calendar.contains("## By system"), "{calendar}");
    assert!(!calendar.contains("## By date"));
    assert!(markdown(&loaded, "manual").contains("## In an emergency"));
}

/// The manual and the figures it is made from, for every spec of the project.
fn manuals(mut look: impl FnMut(&str, &pipeline::Worked<'_>, &str)) {
    for demo in crate::harness::demos() {
        look(crate::harness::stem(&demo.path), &demo.worked, demo.markdown("owners-manual"));
    }
}

/// A part of Markdown from a heading on, up to the next of its level.
fn section<'t>(text: &'t str, heading: &str) -> &'t str {
    let start = text.find(heading).unwrap_or_else(|| panic!("no {heading}"));
    let level = heading.split(' ').next().unwrap_or_default();
    let end = text[start + 1..].find(&format!("\n{level} ")).map_or(text.len(), |i| start + 1 + i);
    &text[start..end]
}

/// A text as Markdown prints it.
fn shown(text: impl AsRef<str>) -> String {
    rigbinder::render::markdown_text(text.as_ref())
}

#[test]
fn every_part_every_way_and_every_shut_off_is_in_the_manual() {
    let (mut parts, mut ways, mut places) = (0, 0, 0);
    manuals(|spec, worked, manual| {
        for part in worked.build.parts.values() {
            parts += 1;
            let anchors = [format!("{{#about-{}}}", part.id), format!("<a id=\"about-{}\"></a>", part.id)];
            assert!(anchors.iter().any(|a| manual.contains(a.as_str())), "{spec}: {} is not told", part.id);
        }
        let maps = section(manual, "## Switch and outlet maps");
        for circuit in worked.build.circuits.values() {
            let Some(way) = circuit.way else { continue };
            ways += 1;
            let map =
                section(maps, &format!("### {} {{#map-{}}}", shown(worked.build.name(&circuit.from)), circuit.from));
            let row = map.lines().find(|l| l.starts_with(&format!("| {way} |")));
            let row = row.unwrap_or_else(|| panic!("{spec}: way {way} of {} is on no map", circuit.from));
            assert!(row.contains(&shown(worked.build.name(&circuit.to))), "{spec}: {row}");
        }
        // Each part that shuts something off or is safety gear stands with the places of the spec, and with no other.
        let front = section(manual, "## In an emergency");
        for part in worked.build.parts.values().filter(|p| front.contains(&format!("(#about-{})", p.id))) {
            places += 1;
            let row = front.lines().find(|l| l.contains(&format!("(#about-{})", part.id))).unwrap_or_default();
            for place in &part.places {
                let place = shown(worked.build.place_name(place));
                assert!(row.contains(&place), "{spec}: {} is at {place}: {row}", part.id);
            }
        }
    });
    assert!(parts > 300 && ways > 60 && places > 30, "{parts} parts, {ways} ways, {places} places");
}

/// Where a card names a part, the words in brackets behind it are its place in the spec.
#[test]
fn cards_and_symptoms_name_parts_with_their_places() {
    let mut named = 0;
    manuals(|spec, worked, manual| {
        let cards = section(manual, "## Emergencies step by step");
        let symptoms = section(manual, "## What if");
        for kind in ["battery-disconnect", "water-pump", "shore-inlet", "main-fuse", "lpg-locker", "water-heater"] {
            for part in worked.build.parts.values().filter(|p| p.kind.id == kind) {
                let places: Vec<_> = part.places.iter().map(|p| shown(worked.build.place_name(p))).collect();
                // From where else it is worked may follow.
                let full = format!("{} ({}", shown(&part.name), places.join("; "));
                if !places.is_empty() {
                    named += 1;
                    assert!(cards.contains(&full) || symptoms.contains(&full), "{spec}: {full}");
                }
            }
        }
    });
    assert!(named >= 10, "{named}");
}

/// Links inside the manual lead somewhere, for every spec and for a van with nothing in it.
#[test]
fn every_link_leads_somewhere() {
    let check = |spec: &str, manual: &str| {
        let targets: BTreeSet<&str> = manual
            .match_indices("{#")
            .filter_map(|(i, _)| manual[i + 2..].split('}').next())
            .chain(manual.match_indices("<a id=\"").filter_map(|(i, _)| manual[i + 7..].split('"').next()))
            .collect();
        let links: BTreeSet<&str> =
            manual.match_indices("](#").filter_map(|(i, _)| manual[i + 3..].split(')').next()).collect();
        let lost: Vec<_> = links.difference(&targets).collect();
        assert!(lost.is_empty(), "{spec}: {lost:?}");
        assert!(!manual.contains("](\\#"), "{spec}: a link is printed as text");
        links.len()
    };
    let mut links = 0;
    manuals(|spec, _, manual| links += check(spec, manual));
    assert!(links > 500, "{links}");
    let bare = load_text("[build]\ntitle = \"Bare\"\n");
    let manual = markdown(&bare, "manual");
    check("bare", &manual);
    for absent in ["Is  ", "()", "**Where:** .", "Switch off .", "a smell of gas"] {
        assert!(!manual.to_lowercase().contains(&absent.to_lowercase()), "{absent:?} in a bare manual");
    }
}

#[test]
fn a_symptom_names_the_way_and_the_fuse_of_this_van() {
    let loaded = load_text(&weekend_with(""));
    let manual = markdown(&loaded, "manual");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let way = worked.build.circuits["pump"].way.expect("a way");
    let fuse = worked.electrical.circuits["pump"].device.show();
    let panel = worked.build.name(&worked.build.circuits["pump"].from);
    let told = format!("way {way} in {panel}, {fuse}");
    assert!(section(&manual, "### No water").contains(&told), "{told}");
    let stop = format!("pull the fuse of way {way} in {panel}");
    assert!(section(&manual, "### Water runs inside the van").contains(&stop), "{stop}");
    assert!(!manual.contains("A smell of gas"), "there is no gas in this van");
}

/// Grade of the instructions by Flesch and Kincaid, reckoned by an independent library.
#[test]
fn instructions_read_easily() {
    let folder = crate::harness::folder("reading-grade");
    manuals(|spec, _, manual| std::fs::write(folder.join(format!("{spec}.md")), manual).expect("written"));
    let Some((success, printed)) = crate::outside::run("reading_grade.py", &[&folder]) else { return };
    println!("{printed}");
    assert!(success, "{printed}");
}

/// What a kind tells as a limit of the van stands there whatever its part is called, and by name where there are two.
#[test]
fn a_figure_of_a_kind_is_among_the_limits() {
    const LABEL: &str = "Fuel of the heater on the coldest usual day";
    let text = std::fs::read_to_string(root().join("specs/purfling.toml")).expect("spec");
    let rows = |text: &str| {
        let manual = markdown(&load_text(text), "manual");
        let rows = manual.lines().filter_map(|line| Some(line.strip_prefix("| ")?.strip_prefix(LABEL)?.to_owned()));
        rows.collect::<Vec<_>>()
    };
    assert!(matches!(&rows(&text)[..], [one] if one.starts_with(" | ") && one.contains('L')));
    let two = format!("{text}\n[component.zz-second]\nlike = \"heater\"\nname = \"Second heater\"\n");
    let two = rows(&two);
    assert!(two.len() == 2 && two.iter().all(|row| row.starts_with(": ")), "{two:?}");
    assert!(two.iter().any(|row| row.starts_with(": Second heater |")), "{two:?}");
}

/// What safety, warranty and law ask of an owner is told apart from what is good, and is work that a person does: at most
/// 20 hours in the first year, and never more than all of it.
#[test]
fn the_calendar_tells_what_is_essential() {
    for demo in crate::harness::demos() {
        let (path, calendar) = (&demo.path, demo.spaced("maintenance-calendar"));
        let hours = |before: &str, behind: &str| -> f64 {
            let told = calendar.split_once(before).and_then(|(_, rest)| rest.split_once(behind));
            told.and_then(|(n, _)| n.trim().parse().ok()).expect("hours of the year")
        };
        let all = hours("The first year asks ", " hours of you");
        let essential = hours("short rounds counted in, and ", " of them are **essential**");
        assert!(0.0 < essential && essential <= all.min(20.0), "{}: {essential} of {all} h", path.display());
        let rounds = calendar
            .split("\n### ")
            .filter(|round| round.contains("of it essential") && !round.contains("order of the manual"));
        for round in rounds {
            let (must, good) = (round.find("\nEssential:\n"), round.find("\nGood for the van:\n"));
            assert!(must.is_some() && must < good, "{}: {round}", path.display());
        }
    }
}
