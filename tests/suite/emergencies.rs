//! What an emergency step tells to switch off is in the table of what to shut off, with its place, and on the map, with its
//! number; ways out are marked in the skin of the van.

use crate::harness::{demo_specs, load, stem};
use rigbinder::compute::emergency::things;
use rigbinder::drawings::Subject;
use rigbinder::kinds::EmergencyMark;
use rigbinder::pipeline::{self, Only};

/// Kinds that cards and kinds tell to turn, switch or close in danger.
const CONTROLS: &[&str] = &[
    "battery-disconnect",
    "shore-inlet",
    "inverter",
    "inverter-charger",
    "lpg-locker",
    "air-heater",
    "water-heater",
    "water-heater-ac",
    "water-heater-fuel",
    "fuel-shut-off",
    "water-pump",
    "city-inlet",
];

/// A part of Markdown from a heading on, up to the next of its level.
fn section<'t>(text: &'t str, heading: &str) -> &'t str {
    let start = text.find(heading).unwrap_or_else(|| panic!("no {heading}"));
    let level = heading.split(' ').next().unwrap_or_default();
    let end = text[start + 1..].find(&format!("\n{level} ")).map_or(text.len(), |i| start + 1 + i);
    &text[start..end]
}

#[test]
fn controls_named_in_an_emergency_are_on_the_table_and_the_map() {
    let shown = |text: &str| rigbinder::render::markdown_text(text);
    let (mut named, mut apart) = (0, 0);
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let only = Only { documents: vec!["manual".to_owned()], stages: Vec::new() };
        let manual = pipeline::sheets(&worked, &only).expect("documents").remove(0).markdown;
        let cards = section(&manual, "## Emergencies step by step");
        let table = section(&manual, "### What to shut off, and where");
        let drawings = pipeline::drawings(&worked);
        let map = drawings.iter().find(|d| d.subject == Subject::Emergency);
        let things = things(&worked.build);
        for part in worked.build.parts.values().filter(|p| CONTROLS.contains(&p.kind.id.as_str())) {
            let spec = format!("{}: {}", stem(&path), part.id);
            let steps = cards.lines().filter(|l| ["Switch", "Turn", "Close", "Unplug"].iter().any(|v| l.contains(v)));
            if !steps.map(str::to_owned).any(|l| l.contains(&shown(&part.name))) {
                continue;
            }
            named += 1;
            let link = format!("(#about-{})", part.id);
            let row = table.lines().find(|l| l.contains(&link)).unwrap_or_else(|| panic!("{spec}: no row"));
            let thing = things.iter().find(|t| t.parts.contains(&part.id)).unwrap_or_else(|| panic!("{spec}: no sign"));
            let cells: Vec<&str> = row.split('|').map(str::trim).collect();
            for place in &part.places {
                assert!(cells[2].contains(&shown(&worked.build.place_name(place))), "{spec}: {row}");
            }
            for control in part.record.list("control_at") {
                apart += 1;
                let place = worked.build.place_name(&control.value);
                assert!(cells[2].contains(&format!("Control: {}", shown(&place))), "{spec}: {row}");
                assert!(thing.places.contains(&control.value), "{spec}: the sign is not at its control");
            }
            let Some(map) = map else { continue };
            let number = thing.number.to_string();
            let all = cells[3].split([',', '–', ' ']);
            assert!(all.clone().any(|n| n == number) || cells[3].contains('–'), "{spec}: number {number}: {row}");
            let sign = format!("{number} {}: ", thing.mark.title());
            assert!(map.description.contains(&sign), "{spec}: {sign}");
        }
        for exit in things.iter().filter(|t| t.mark == EmergencyMark::Exit) {
            assert!(!exit.side.is_empty(), "{}: {:?} has no side", stem(&path), exit.parts);
        }
    }
    assert!(named > 12 && apart >= 4, "{named} controls named, {apart} apart from what they control");
}
