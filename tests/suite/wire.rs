//! Wire: which tables size it under which rules, of what type it is to be, which ring it ends in, and what that holds.

use crate::harness::{demo_specs, findings, house, load, stem};
use rigbinder::build::{Purpose, VEHICLE};
use rigbinder::compute::electrical::size::Criterion;
use rigbinder::compute::network::{CircuitFigures, DeviceAt};
use rigbinder::kinds::PostForm;
use rigbinder::pipeline::{self, Only, Worked};
use rigbinder::units::ConductorSize;
use std::collections::BTreeSet;

fn figures(text: &str, circuit: &str) -> CircuitFigures {
    let loaded = pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    worked.figures.electrical.circuits.get(circuit).cloned().expect("circuit")
}

fn size(text: &str, circuit: &str) -> String {
    figures(text, circuit).conductor().expect("sized").size.to_string()
}

fn fires(text: &str, name: &str, id: &str) -> bool {
    findings(text).iter().any(|f| f.name == name && f.headline.starts_with(&format!("{id}:")))
}

/// A heater of 230 V on 2.5 mm², given.
fn mains(rules: &str, breaker: &str) -> String {
    format!(
        r#"
[build]
rules = "{rules}"
[place]
wall = {{ about = "Filled wall", insulated = true }}
[component]
inlet  = {{ kind = "shore-inlet", rating = "32 A" }}
rcd    = {{ kind = "residual-current-device", fed_from = "inlet", run = "1 m", rating = "40 A", trip_current = "30 mA", with_overcurrent = true }}
unit   = {{ kind = "consumer-unit", fed_from = "rcd", run = "0.3 m", rating = "32 A" }}
heater = {{ kind = "water-heater-ac", fed_from = "unit", run = "2 m", draw = "2300 W", conductor = "2.5 mm2", protection = "{breaker}" }}
"#
    )
}

/// IEC 60364-5-52 Table B.52.2: 2.5 mm² in PVC, method B2, 23 A; in an insulated wall, method A2, 18.5 A. By the US table
/// it would carry more.
#[test]
fn eu_mains_carry_what_the_iec_lets_them() {
    let amps =
        |text: &str| figures(text, "heater").conductor().and_then(|s| s.ampacity.clone()).expect("table").corrected.0;
    let text = mains("eu", "20 A");
    assert!((amps(&text) - 23.0).abs() < 1e-9);
    assert!(!fires(&text, "fuse-above-conductor", "heater"));
    assert!(fires(&mains("eu", "25 A"), "fuse-above-conductor", "heater"), "25 A on 23 A");
    let within = text.replace("run = \"2 m\", draw", "run = \"2 m\", through = [\"wall\"], draw");
    assert!((amps(&within) - 18.5).abs() < 1e-9, "within insulation");
    assert!(fires(&within, "fuse-above-conductor", "heater"), "20 A on 18.5 A");
    assert!(amps(&mains("us", "20 A")) > 23.0);
}

/// Wire of less than the rules assume carries less, so the sizes grow with it, or a finding says that a given one fails.
#[test]
fn sizes_follow_the_insulation_that_the_spec_gives() {
    let van = |rules: &str, more: &str| {
        format!(
            r#"
[build]
rules = "{rules}"
[place]
bench = {{ about = "Bench" }}
engine = {{ about = "Engine bay", zone = "engine-space" }}
[component]
bank     = {{ kind = "battery-bank", capacity = "400 Ah", place = "bench" }}
fuse     = {{ kind = "main-fuse", fed_from = "bank", run = "15 cm", place = "bench" }}
switch   = {{ kind = "battery-disconnect", fed_from = "fuse", run = "20 cm", place = "bench" }}
inverter = {{ kind = "inverter", fed_from = "switch", run = "0.6 m", place = "bench", power = "1000 W", low_cutoff = "11 V", feeds = "rcd", output_run = "1 m"{more} }}
rcd      = {{ kind = "residual-current-device", trip_current = "5 mA", place = "bench" }}
"#
        )
    };
    for (rules, classes) in [("us", [105, 90, 75, 60]), ("eu", [105, 90, 70, 60])] {
        let area = |class: i32, more: &str| {
            let text = van(rules, &format!(", insulation = \"{class} °C\"{more}"));
            figures(&text, "inverter").conductor().expect("sized").size.area().0
        };
        let sizes = classes.map(|class| area(class, ""));
        assert!(sizes.windows(2).all(|w| w[0] <= w[1]) && sizes[0] < sizes[3], "{rules}: {sizes:?}");
        // In an engine space the low class suffers more than the high one.
        let hot = classes.map(|class| area(class, ", through = [\"engine\"]"));
        assert!(hot.iter().zip(&sizes).all(|(hot, cool)| hot >= cool) && hot[3] > sizes[3], "{rules}: {hot:?}");
    }
    let given = van("us", ", conductor = \"4 AWG\"");
    assert!(!fires(&given, "fuse-above-conductor", "inverter"));
    let low = van("us", ", conductor = \"4 AWG\", insulation = \"60 °C\"");
    assert!(fires(&low, "fuse-above-conductor", "inverter") || fires(&low, "conductor-below-load", "inverter"));
}

/// Each document that lists cable says once what wire it is, by the class that sizes it; a circuit of another class is
/// named with it.
#[test]
fn the_wire_is_told_once_a_document() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let profile = &worked.figures.electrical.profile;
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        for stem_of in ["schedule", "packet-04-electrical-rough-in", "labels"] {
            let sheet = sheets.iter().find(|s| s.stem == stem_of).unwrap_or_else(|| panic!("no {stem_of}"));
            let text = sheet.markdown.replace('\u{a0}', " ");
            let told: Vec<&str> = text.lines().filter(|l| l.contains("insulation for at least")).collect();
            let limit = format!("{} °C", profile.wire.dc.insulation.limit().0);
            assert_eq!(told.iter().filter(|l| l.starts_with("- DC: ")).count(), 1, "{} {stem_of}", stem(&path));
            assert!(
                told.iter().any(|l| l.contains(&limit) && l.contains(&profile.wire.dc.sold_as)),
                "{limit}: {told:?}"
            );
        }
    }
    let text = std::fs::read_to_string(crate::harness::root().join("specs/turnstone.toml")).expect("spec");
    let other = text.replacen("kind     = \"roof-fan\"", "kind     = \"roof-fan\"\ninsulation = \"60 °C\"", 1);
    assert_ne!(text, other);
    let loaded = pipeline::load(house(), "turnstone.toml", other.as_bytes()).expect("kinds");
    let sheets = crate::harness::sheets(&loaded);
    let schedule = sheets.iter().find(|s| s.stem == "schedule").expect("schedule");
    let line = schedule.markdown.lines().find(|l| l.starts_with("- DC, `roof-fan`:")).expect("a line of its own");
    assert!(line.contains("60") && !line.contains("FLRY"), "{line}");
}

/// Every ring on a stud whose rings are known is one that shops have, or a finding names the circuit. Returns how many
/// were held.
pub(crate) fn rings_are_sold(worked: &Worked<'_>) -> usize {
    // The thinnest and the thickest conductor in mm², by stud; common practice, no source.
    let range = |thread: &str| match thread {
        "M4" => Some((0.0, 6.7)),
        "M5" => Some((0.0, 26.0)),
        "M6" => Some((0.0, 36.0)),
        "M8" => Some((0.5, 121.0)),
        "M10" => Some((3.2, 300.0)),
        _ => None,
    };
    let mut held = 0;
    for (id, figures) in &worked.electrical.conductors {
        let conductor = &worked.build.wiring.conductors[id];
        let about = conductor.circuit.as_ref().filter(|_| conductor.purpose == Purpose::Circuit).unwrap_or(id);
        for end in &figures.ends {
            let ring = end.lug().starts_with("ring ");
            let Some(((least, most), size)) = range(&end.thread).filter(|_| ring).zip(end.size) else { continue };
            let sold = (least..=most).contains(&size.area().0);
            let told = worked.findings.iter().any(|f| {
                let of_stud = format!("{size} × {} ", end.thread);
                f.name == "ring-not-sold"
                    && f.headline.starts_with(&format!("{about}: no ring"))
                    && f.headline.contains(&of_stud)
            });
            assert_eq!(sold, !told, "{id}: {}", end.lug());
            held += 1;
        }
    }
    held
}

#[test]
fn demo_specs_have_rings_for_their_studs() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let given = worked.build.circuits.values().any(|c| c.given_conductor.is_some());
        let rings = rings_are_sold(&worked);
        assert!(rings > 5, "{}: {rings}, given {given}", stem(&path));
    }
}

/// 10 A over half a metre need 16 AWG; a stud of M10 makes 12 AWG of it, one of M8 does not. What is given is told.
#[test]
fn a_stud_sizes_the_conductor_that_ends_on_it() {
    let van = |stud: &str, more: &str| {
        format!(
            r#"
[component]
bank       = {{ kind = "battery-bank", capacity = "200 Ah" }}
fuse       = {{ kind = "main-fuse", fed_from = "bank", run = "15 cm" }}
busbar     = {{ kind = "busbar", fed_from = "fuse", run = "20 cm", stud = "{stud}", rating = "300 A" }}
array      = {{ kind = "solar-array", power = "100 W", voc = "24 V", isc = "5 A", vmp = "20 V", imp = "4.8 A" }}
controller = {{ kind = "solar-controller", fed_from = "array", run = "1 m", feeds = "busbar", output_run = "0.5 m", output_current = "10 A"{more} }}
"#
        )
    };
    assert_eq!(size(&van("M8", ""), "controller.out"), "16 AWG");
    let sized = figures(&van("M10", ""), "controller.out");
    assert_eq!(sized.conductor().map(|s| (s.size, s.governed_by)), Some((ConductorSize::Awg(12), Criterion::Ring)));
    let thin = van("M10", ", output_conductor = \"16 AWG\"");
    assert!(fires(&thin, "ring-not-sold", "controller.out") && size(&thin, "controller.out") == "16 AWG");
    let thick = van("M6", ", output_conductor = \"50 mm2\"");
    assert!(fires(&thick, "ring-not-sold", "controller.out"));
}

/// What every size that is terminated must hold stands in the packet: UL 486A, 16 AWG 30 lbf, 8 AWG 90 lbf, 4/0 AWG
/// 450 lbf from memory.
#[test]
fn the_packet_says_what_each_crimp_holds() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        let packet = sheets.iter().find(|s| s.stem == "packet-08-electrical-fit-off").expect("packet");
        let told: BTreeSet<&str> = packet
            .markdown
            .lines()
            .skip_while(|l| *l != "## Pull test")
            .take_while(|l| !l.starts_with("<!-- /keep"))
            .filter_map(|l| l.strip_prefix("| ☐ | ")?.split(" | ").next())
            .filter(|cell| cell.ends_with("AWG") || cell.ends_with("mm²"))
            .collect();
        let sizes = worked.electrical.circuits.values().filter(|f| f.device.at != DeviceAt::Vehicle);
        let sizes: BTreeSet<String> = sizes.filter_map(|f| Some(f.conductor()?.size.to_string())).collect();
        let missing: Vec<&String> = sizes.iter().filter(|s| !told.contains(s.as_str())).collect();
        assert!(told.len() > 3 && missing.is_empty(), "{}: {missing:?} of {sizes:?}", stem(&path));
        if stem(&path) == "heron" {
            for row in ["16 AWG | 30 lbf |", "8 AWG | 90 lbf |", "4/0 AWG | 450 lbf* |"] {
                assert!(packet.markdown.replace('\u{a0}', " ").contains(row), "{row}");
            }
        }
    }
}

/// Banks side by side add up at the busbar (ABYC E-11), alike or not.
#[test]
fn shorts_of_banks_in_parallel_add_up() {
    let van = |second: &str| {
        let text = format!(
            r#"
[component]
left    = {{ kind = "battery-bank", capacity = "100 Ah", fault_current = "3000 A" }}
right   = {{ kind = "battery-bank", capacity = "100 Ah", fault_current = "{second}" }}
one     = {{ kind = "main-fuse", fed_from = "left", run = "0 m" }}
two     = {{ kind = "main-fuse", fed_from = "right", run = "0 m" }}
busbar  = {{ kind = "busbar", fed_from = ["one", "two"], run = "0 m" }}
panel   = {{ kind = "fuse-panel", fed_from = "busbar", run = "0 m" }}
"#
        );
        figures(&text, "panel").fault.expect("a short").current.0
    };
    assert!((van("3000 A") - 6000.0).abs() < 1e-6, "{}", van("3000 A"));
    assert!((van("2000 A") - 5000.0).abs() < 1e-6, "{}", van("2000 A"));
}

/// Every end that is cut is in the list of lugs, once, and every fuse in the line has its holder.
#[test]
fn every_end_has_its_lug_in_the_list() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let cut = build.wiring.conductors.values().filter(|c| c.is_cut() && build.parts[&c.owner].is_worked_on());
        let cut: Vec<_> =
            cut.filter(|c| worked.electrical.conductors.get(&c.id).is_some_and(|f| f.size.is_some())).collect();
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        let packet = sheets.iter().find(|s| s.stem == "packet-08-electrical-fit-off").expect("packet");
        let section = |title: &str| {
            let lines = packet.markdown.lines().skip_while(|l| *l != title).skip(1);
            lines.take_while(|l| !l.starts_with("## ")).collect::<Vec<_>>()
        };
        let small = section("## Small parts to take").into_iter().filter_map(|l| {
            let mut cells = l.strip_prefix("| ☐ | ")?.trim_end_matches(" |").split(" | ");
            Some((cells.next()?.to_owned(), cells.next()?.parse().ok()?))
        });
        let rows: Vec<(String, usize)> = section("## Lugs to take")
            .into_iter()
            .filter_map(|l| l.strip_prefix("| ☐ | ")?.trim_end_matches(" |").split_once(" | "))
            .flat_map(|(_, parts)| parts.split(", "))
            .filter_map(|item| {
                let (count, what) = item.split_once(' ')?;
                Some((what.to_owned(), count.parse().ok()?))
            })
            .chain(small)
            .collect();
        let of =
            |wanted: &dyn Fn(&str) -> bool| rows.iter().filter(|(what, _)| wanted(what)).map(|(_, n)| n).sum::<usize>();
        let worked_on = |owner: &str| build.parts[owner].is_worked_on();
        let fuses = build.wiring.conductors.values().filter(|c| c.fuse.is_some() && worked_on(&c.owner)).count()
            + worked
                .electrical
                .circuits
                .iter()
                .filter(|(id, f)| f.device.at == DeviceAt::InLine && worked_on(&build.circuits[*id].owner))
                .count();
        assert_eq!(of(&|what| what.starts_with("in-line")), fuses, "{}", stem(&path));
        // A fuse in the line cuts its conductor in two: both pieces end at its holder.
        let is_end = |what: &str| {
            let forms = ["ring", "ferrule", "push-on", "splice", "plug", "lug or ferrule "];
            // A short lead brings its own receptacle to the blade.
            forms.iter().any(|form| what.starts_with(form)) && !what.ends_with("on a short lead")
        };
        let ends = of(&is_end);
        // All that come to one tail of a device are one joint with it.
        let mut joints = BTreeSet::new();
        let mut shared = 0;
        for conductor in &cut {
            for (at, end) in conductor.ends().into_iter().zip(&worked.electrical.conductors[&conductor.id].ends) {
                let is_tail = end.form == Some(PostForm::Splice) && at.part != VEHICLE;
                shared += usize::from(is_tail && !joints.insert(at.spot()));
            }
        }
        assert_eq!(ends, 2 * (cut.len() + fuses) - shared, "{}", stem(&path));
        assert!(of(&|what| what.starts_with("heat-shrink")) > 10, "{}", stem(&path));
    }
}
