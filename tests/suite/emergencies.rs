//! What an emergency step tells to switch off is in the table of what to shut off, with its place, and on the map, with its
//! number; ways out are marked in the skin of the van.

use crate::harness::{demos, stem};
use rigbinder::compute::emergency::things;
use rigbinder::drawings::Subject;
use rigbinder::kinds::EmergencyMark;
use rigbinder::pipeline;

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
    for demo in demos() {
        let path = &demo.path;
        let (worked, manual) = (&demo.worked, demo.markdown("owners-manual"));
        let cards = section(manual, "## Emergencies step by step");
        let table = section(manual, "### What to shut off, and where");
        let drawings = pipeline::drawings(worked);
        let map = drawings.iter().find(|d| d.subject == Subject::Emergency);
        let things = things(&worked.build);
        for part in worked.build.parts.values().filter(|p| CONTROLS.contains(&p.kind.id.as_str())) {
            let spec = format!("{}: {}", stem(path), part.id);
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
            assert!(!exit.side.is_empty(), "{}: {:?} has no side", stem(path), exit.parts);
        }
    }
    assert!(named > 12 && apart >= 4, "{named} controls named, {apart} apart from what they control");
}

/// Steps by which people leave, but for those that follow only when a small fire is not put out.
fn leaves(step: &str) -> bool {
    let step = step.to_lowercase();
    let out = ["get everyone", "get out", "leave the van", "go out"].iter().any(|words| step.contains(words));
    out && !["goes on", "does not go out at once", "do not go out"].iter().any(|words| step.contains(words))
}

/// Steps by which something of the van is switched off or shut.
fn works_a_control(step: &str) -> bool {
    const VERBS: [&str; 8] =
        ["Switch ", "Turn ", "Close ", "Unplug ", "Pull ", "Shut ", "Stop the engine", "Stop the gen"];
    let sentences = step.split(". ").map(str::trim);
    let bare = |s: &str| s.rsplit_once(", ").map_or_else(String::new, |(_, order)| rigbinder::letters::capital(order));
    let own = |s: &str| [s.to_owned(), bare(s)].iter().any(|s| VERBS.iter().any(|verb| s.starts_with(verb)));
    sentences.filter(|s| !s.contains("hazard lights")).any(own)
}

/// The step that works a control although people leave only after it.
fn too_early<'s>(steps: &[&'s str]) -> Option<&'s str> {
    let out = steps.iter().position(|step| leaves(step))?;
    steps[..out].iter().copied().find(|step| works_a_control(step))
}

/// The steps of each list and each row of a part of a manual.
fn lists_of(text: &str) -> Vec<Vec<&str>> {
    let mut all: Vec<Vec<&str>> = vec![Vec::new()];
    for line in text.lines() {
        let number = line.split_once(". ").filter(|(n, _)| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()));
        match (number, line.split_once("| (1) ")) {
            (Some(("1", step)), _) => all.push(vec![step]),
            (Some((_, step)), _) => all.last_mut().expect("begun").push(step),
            (None, Some((_, steps))) => {
                let step = |s: &'_ str| s.find(") ").map_or(0, |at| at + 2);
                let steps: Vec<&str> = steps.trim_end_matches(" |").split(" (").collect();
                all.push(steps.iter().enumerate().map(|(at, s)| if at == 0 { *s } else { &s[step(s)..] }).collect());
            }
            _ => {}
        }
    }
    all
}

/// People first, then the source, then the rest: the order of first aid guides and of NIOSH 2009-113 (from memory).
#[test]
fn people_leave_before_anybody_works_a_control() {
    let mut faults = Vec::new();
    let mut read = 0;
    for demo in demos() {
        let path = &demo.path;
        let manual = demo.markdown("owners-manual");
        let cards = section(manual, "## Emergencies step by step").replace('\u{a0}', " ");
        for steps in lists_of(&cards) {
            read += usize::from(steps.iter().any(|step| leaves(step)));
            faults.extend(too_early(&steps).map(|step| format!("{}: {step}", stem(path))));
        }
        let Some((_, shock)) = cards.split_once("{#emergency-shock}") else { continue };
        let steps = lists_of(shock).swap_remove(1);
        let at = |words: &str| steps.iter().position(|step| step.contains(words));
        assert_eq!(at("Do not touch the person"), Some(0), "{}", stem(path));
        let dry = at("one dry hand");
        assert!(at("at its post").is_none_or(|post| dry.is_none_or(|dry| post < dry)), "{}: {steps:?}", stem(path));
        let touch = at("Touch the person when all of this is off").expect("when the person is touched");
        assert!(dry < Some(touch) && at("at its post") < Some(touch), "{}: {steps:?}", stem(path));
    }
    let library = rigbinder::kinds::Library::load(crate::harness::house()).expect("kinds");
    for kind in library.iter() {
        for emergency in &kind.owner.emergency {
            let steps: Vec<&str> = emergency.actions.iter().map(String::as_str).collect();
            // What stands in conditions is held in the builds above; here each text is read without its marks.
            let bare: Vec<String> = steps.iter().map(|step| without_marks(step)).collect();
            let bare: Vec<&str> = bare.iter().map(String::as_str).collect();
            faults.extend(too_early(&bare).map(|step| format!("{}: {step}", kind.id)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(read > 25, "{read}");
    let old = ["Turn the switch off.", "Get everyone out."];
    assert!(too_early(&old).is_some() && too_early(&["Get everyone out.", "Turn it off."]).is_none());
}

/// A text without what stands in its braces.
fn without_marks(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find('{') {
        out.push_str(&rest[..at]);
        rest = rest[at..].split_once('}').map_or("", |(_, behind)| behind.trim_start_matches('}'));
    }
    out + rest
}

/// Each way out is among the ways out of the fire card and of the safety gear, and is kept free on arrival.
#[test]
fn every_way_out_is_on_every_list_of_them() {
    let mut hatches = 0;
    for demo in demos() {
        let path = &demo.path;
        let (worked, manual) = (&demo.worked, demo.markdown("owners-manual"));
        let led_through: Vec<String> =
            worked.build.parts.values().flat_map(|p| p.record.list("leads_through")).map(|p| p.value.clone()).collect();
        let things = things(&worked.build);
        let exits = things.iter().filter(|t| t.mark == EmergencyMark::Exit).flat_map(|t| &t.parts);
        for id in exits.filter(|id| !led_through.contains(id)) {
            let part = &worked.build.parts[id.as_str()];
            hatches += usize::from(part.kind.id != "escape-route");
            let name = rigbinder::render::markdown_text(&part.name);
            for heading in ["### Fire or smoke", "### Safety gear and ways out", "### When you arrive"] {
                assert!(section(manual, heading).contains(&name), "{}: {name} is not in {heading}", stem(path));
            }
        }
    }
    assert!(hatches > 0, "no hatch or window that is a way out by itself");
}
