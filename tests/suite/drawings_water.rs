//! Water diagrams: every part once, pipes with their length and bore, marks on what they name.

use crate::harness::root;
use rigbinder::drawings::{Drawing, PAGE, Subject};
use rigbinder::kinds::PlumbingRole;
use rigbinder::pipeline::{self, Worked};
use std::fmt::Write as _;

const SPECS: [&str; 5] = ["heron", "turnstone", "purfling", "basalt", "weekend"];

fn with<T>(text: &[u8], look: impl FnOnce(&Worked<'_>, &[Drawing]) -> T) -> T {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let drawings: Vec<_> = pipeline::drawings(&worked).into_iter().filter(|d| d.subject == Subject::Water).collect();
    look(&worked, &drawings)
}

fn spec(name: &str) -> Vec<u8> {
    std::fs::read(root().join(format!("specs/{name}.toml"))).expect("spec")
}

fn texts(drawings: &[Drawing]) -> Vec<String> {
    drawings.iter().flat_map(|d| d.labels.iter().map(|l| l.text.clone())).collect()
}

fn every_part_is_there_once(name: &str, text: &[u8]) -> usize {
    with(text, |worked, drawings| {
        let texts = texts(drawings);
        let parts = worked.build.parts.values().filter(|p| p.kind.plumbing.is_some());
        parts
            .map(|part| {
                let times = texts.iter().filter(|t| **t == part.id).count();
                assert_eq!(times, 1, "{name}: {} is drawn {times} times", part.id);
            })
            .count()
    })
}

#[test]
fn every_part_of_the_water_system_is_drawn_once() {
    let counts = SPECS.map(|name| every_part_is_there_once(name, &spec(name)));
    assert!(counts.iter().sum::<usize>() > 55, "{counts:?}");
    assert!(every_part_is_there_once("wet", wet().as_bytes()) > 60);
    assert_eq!(
        every_part_is_there_once(
            "one",
            format!("{HEAD}tank = {{ kind = \"fresh-tank\", capacity = \"20 L\" }}\n").as_bytes()
        ),
        1
    );
}

#[test]
fn a_build_without_water_has_no_diagram() {
    with(b"[build]\ntitle = \"Dry\"\n", |_, drawings| assert!(drawings.is_empty()));
}

/// A key names what its sheet shows: no line or ground more, none less.
#[test]
fn a_key_names_what_is_drawn() {
    let line = |dash: &str| format!("stroke-width=\"0.52\"{dash}/>");
    let signs = [
        ("cold", line("")),
        ("hot", line(" stroke-dasharray=\"2 1.2\"")),
        ("waste", line(" stroke-dasharray=\"4 1 0.6 1\"")),
        ("joined, the spec names no pipe", "stroke-width=\"0.26\"/>".to_owned()),
        ("outside the heated space", "fill=\"#e0e0e0\"/>".to_owned()),
    ];
    let (mut named, mut left_out) = (0, 0);
    let wet = wet();
    let one = format!("{HEAD}tank = {{ kind = \"fresh-tank\", capacity = \"20 L\" }}\n");
    let texts = SPECS.map(spec).into_iter().chain([wet.into_bytes(), one.into_bytes()]);
    for text in texts {
        with(&text, |worked, drawings| {
            for drawing in drawings {
                for (word, look) in &signs {
                    let at = format!("{}: {}: {word}", worked.build.about.title.text().unwrap_or(""), drawing.stem);
                    // One of them is that of the key itself; the arrow of "flow" has a thin line too.
                    let thin = *word == "joined, the spec names no pipe";
                    let flow = usize::from(thin && drawing.labels.iter().any(|l| l.text == "flow"));
                    let drawn = drawing.svg.matches(look.as_str()).count() - flow;
                    if drawing.labels.iter().any(|l| l.text == *word) {
                        assert!(drawn >= 2, "{at} is in the key and not drawn");
                        named += 1;
                    } else {
                        assert_eq!(drawn, 0, "{at} is drawn and not in the key");
                        left_out += 1;
                    }
                }
            }
        });
    }
    assert!(named > 12 && left_out > 6, "{named} named, {left_out} left out");
}

/// The length of Heron's cold pipe is 3.4 m, its bore 9.5 mm: 3.4 m / 0.0254 = 133.86 in = 11 ft 1.86 in, 9.5 mm = 0.374 in.
#[test]
fn pipes_tell_their_length_and_bore() {
    with(&spec("heron"), |_, drawings| {
        let texts = texts(drawings);
        let at = texts.iter().position(|t| t == "cold-galley").expect("pipe");
        let size = texts[at..].iter().find(|t| t.contains("bore")).expect("size");
        assert!(size.starts_with("11 ft 1.") && size.ends_with("bore 3/8 in"), "{size}");
    });
    with(&spec("turnstone"), |_, drawings| {
        assert!(texts(drawings).iter().any(|t| t == "3 m, bore 9.5 mm" || t == "3.0 m, bore 9.5 mm"));
    });
}

#[test]
fn a_mark_stands_at_its_drain_and_at_all_that_it_empties() {
    with(&spec("heron"), |worked, drawings| {
        let drains = worked.build.parts["low-drain"].record.list("drains").len();
        let marks = texts(drawings).iter().filter(|t| *t == "D1").count();
        assert_eq!(marks, drains + 1);
    });
}

#[test]
fn the_sheet_tells_what_stops_a_leak() {
    with(&spec("heron"), |worked, drawings| {
        let way = worked.build.circuits["water-pump"].way.expect("way");
        let said = texts(drawings).join(" ");
        assert!(said.contains(&format!("way {way} of House panel")), "{said}");
        assert!(said.contains("City water inlet") && said.contains("open D1"), "{said}");
        assert!(said.contains("If Grey dump valve does not move, open Grey hand valve by hand."), "{said}");
    });
}

#[test]
fn sheets_are_no_larger_than_a_page_and_their_texts_apart() {
    for text in SPECS.map(spec).into_iter().chain([wet().into_bytes()]) {
        with(&text, |_, drawings| {
            for d in drawings {
                assert!(d.size.0 <= PAGE.0 && d.size.1 <= PAGE.1, "{}: {:?}", d.stem, d.size);
                for (i, label) in d.labels.iter().enumerate() {
                    let over = d.labels[..i].iter().find(|o| o.area.overlaps(&label.area));
                    assert!(over.is_none(), "{}: `{}` over {over:?}", d.stem, label.text);
                }
            }
        });
    }
}

#[test]
fn every_role_has_a_part_that_is_drawn() {
    let drawn = with(wet().as_bytes(), |worked, _| {
        let roles = worked.build.parts.values().filter_map(|p| p.kind.plumbing).map(|p| format!("{:?}", p.role));
        roles.collect::<std::collections::BTreeSet<_>>()
    });
    for role in [PlumbingRole::Pipe, PlumbingRole::Pad, PlumbingRole::Sender, PlumbingRole::Accumulator] {
        assert!(drawn.contains(&format!("{role:?}")), "{role:?}");
    }
    assert_eq!(drawn.len(), 19, "{drawn:?}");
}

const HEAD: &str = "[build]\ntitle = \"Wet\"\nhandover = 2027-04-09\nrules = \"eu\"\n[component]\n";

/// More of everything than fits a sheet; pipes that branch, lead nowhere or come from nowhere.
fn wet() -> String {
    let mut text = HEAD.to_owned();
    let mut part = |id: &str, kind: &str, fields: &str| {
        let _ = writeln!(text, "{id} = {{ kind = \"{kind}\"{fields} }}");
    };
    for id in ["tank-1", "tank-2", "tank-3"] {
        part(id, "fresh-tank", ", capacity = \"50 L\"");
    }
    for (id, kind) in [
        ("fill-1", "fill-inlet"),
        ("fill-2", "fill-inlet"),
        ("strainer", "strainer"),
        ("strainer-b", "strainer"),
        ("pump", "water-pump"),
        ("pump-b", "water-pump"),
        ("city", "city-inlet"),
        ("winter", "winterising-port"),
        ("vessel", "accumulator"),
        ("filter-a", "water-filter"),
        ("filter-b", "water-filter"),
        ("lonely", "shower"),
        ("toilet", "toilet"),
        ("sink", "sink"),
        ("drain-2", "drain-valve"),
        ("hand-2", "manual-valve"),
    ] {
        part(id, kind, "");
    }
    part("heater", "water-heater-fuel", ", capacity = \"10 L\"");
    part("heater-2", "water-heater", ", capacity = \"6 L\"");
    part("grey", "grey-tank", ", capacity = \"30 L\"");
    part("grey-2", "grey-tank", ", capacity = \"30 L\"");
    part("sink-2", "sink", ", drains_to = \"grey\"");
    part("motor", "dump-valve", ", tank = \"grey\"");
    part("hand", "manual-valve", ", bypass_of = \"motor\"");
    part("hand-3", "manual-valve", ", tank = \"tank-1\"");
    part("drain", "drain-valve", ", drains = [\"heater\", \"main\", \"grey\"]");
    part("trace", "heat-trace", ", length = \"1 m\", draw = \"10 W\", protects = [\"suck\"]");
    part("pad", "tank-pad", ", tank = \"grey-2\"");
    part("sender", "level-sender", ", tank = \"tank-2\"");
    let mut pipe = |id: &str, medium: &str, ends: &str| {
        part(id, "pipe-run", &format!(", medium = \"{medium}\", length = \"1 m\"{ends}"));
    };
    pipe("suck", "suction", ", from = \"tank-1\", to = \"pump\", position = \"under-floor\"");
    pipe("suck-2", "suction", ", from = \"tank-2\", to = \"pump-b\"");
    pipe("main", "cold", ", from = \"pump\"");
    pipe("second", "cold", ", from = \"pump\"");
    pipe("to-heater", "cold", ", from = \"second\", to = \"heater\"");
    pipe("to-filter", "cold", ", from = \"main\", to = \"filter-b\"");
    pipe("drink", "cold", ", from = \"filter-b\", to = \"tap-0\"");
    pipe("flush", "cold", ", from = \"pump\", to = \"toilet\"");
    pipe("vent", "vent", ", from = \"tank-1\"");
    pipe("waste-1", "waste", ", from = \"sink\", to = \"grey\"");
    pipe("waste-2", "waste", "");
    pipe("waste-3", "waste", ", from = \"lonely\", to = \"grey\"");
    for i in 0..12 {
        pipe(&format!("cold-{i}"), "cold", &format!(", from = \"main\", to = \"tap-{i}\""));
        let heater = if i % 2 == 0 { "heater" } else { "heater-2" };
        pipe(&format!("hot-{i}"), "hot", &format!(", from = \"{heater}\", to = \"tap-{i}\", position = \"in-wall\""));
    }
    for i in 0..12 {
        let _ = writeln!(text, "tap-{i} = {{ kind = \"tap\" }}");
    }
    text
}

/// An outlet has one flow: the diagram tells what reaches it, as manual and tests do, not what it is named for.
#[test]
fn an_outlet_has_one_flow() {
    let mut seen = 0;
    for name in SPECS {
        with(&spec(name), |worked, drawings| {
            let texts = texts(drawings);
            for figure in worked.ledger.figures().filter(|f| f.id.ends_with(".cold-flow")) {
                let shown = figure.value.show(worked.build.prints());
                let part = figure.id.trim_end_matches(".cold-flow");
                let at = texts.iter().position(|t| t == part).unwrap_or_else(|| panic!("{name}: no {part}"));
                assert!(texts[at..].iter().take(3).any(|t| *t == shown), "{name}: {part} is not told with {shown}");
                seen += 1;
            }
        });
    }
    assert!(seen >= 5, "{seen}");
}

/// A storage heater has its non-return valve, by-pass, drain and relief on the diagram.
#[test]
fn a_storage_heater_has_its_fittings() {
    let mut seen = 0;
    for name in SPECS {
        with(&spec(name), |worked, drawings| {
            let texts = texts(drawings);
            let stores = |p: &&rigbinder::build::Part<'_>| p.kind.plumbing.is_some() && p.kind.takes("relief_pressure");
            let heaters = worked.build.parts.values().filter(stores).count();
            for letter in ["N", "B", "D", "R"] {
                assert_eq!(texts.iter().filter(|t| *t == letter).count(), heaters, "{name}: {letter}");
            }
            let legend = texts.iter().filter(|t| t.contains("R relief to outside")).count();
            assert_eq!(legend, heaters, "{name}: what the letters mean");
            seen += heaters;
        });
    }
    assert!(seen >= 3, "{seen}");
}
