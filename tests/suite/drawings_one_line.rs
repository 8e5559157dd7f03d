//! One-line diagrams: every circuit on one line of one sheet, for real builds and for odd ones; no line through a text.

use crate::harness::root;
use rigbinder::build::{Circuit, Purpose};
use rigbinder::compute::network::DeviceAt;
use rigbinder::drawings::canvas::{Area, Label};
use rigbinder::drawings::{Drawing, PAGE, Subject};
use rigbinder::pipeline::{self, Worked};
use std::fmt::Write as _;

const SPECS: [&str; 6] = ["heron", "turnstone", "purfling", "basalt", "ember", "weekend"];

/// Runs `with` on the build of a spec and its one-line diagrams.
fn drawn(name: &str, text: &str, with: impl Fn(&Worked<'_>, &[Drawing])) {
    let loaded = pipeline::load(crate::harness::house(), name, text.as_bytes()).expect("loaded");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let ours = |d: &Drawing| matches!(d.subject, Subject::DcOneLine | Subject::AcOneLine);
    let sheets: Vec<Drawing> = pipeline::drawings(&worked).into_iter().filter(ours).collect();
    with(&worked, &sheets);
}

fn spec(name: &str) -> String {
    std::fs::read_to_string(root().join(format!("specs/{name}.toml"))).expect("spec")
}

/// Texts near a label: of its row.
fn row<'d>(sheet: &'d Drawing, label: &Label) -> Vec<&'d str> {
    let near = |l: &&Label| (l.area.top - label.area.top).abs() < 22.0;
    sheet.labels.iter().filter(near).map(|l| l.text.as_str()).collect()
}

/// All that is wrong with how `circuit` is drawn.
fn faults(worked: &Worked<'_>, sheets: &[Drawing], circuit: &Circuit) -> Vec<String> {
    // A name that is written like an id has no frame around it.
    let framed = |sheet: &Drawing, l: &Label| l.text == circuit.id && sheet.svg.contains(&frame(&l.area));
    let found: Vec<(&Drawing, &Label)> =
        sheets.iter().flat_map(|s| s.labels.iter().filter(|l| framed(s, l)).map(move |l| (s, l))).collect();
    let [(sheet, label)] = found[..] else {
        return vec![format!("{} is drawn {} times", circuit.id, found.len())];
    };
    let texts = row(sheet, label);
    let joined = texts.join(" ");
    let mut faults = Vec::new();
    let mut wants = |what: &str, there: bool| {
        if !there {
            faults.push(format!("{}: no {what} near it on {}", circuit.id, sheet.stem));
        }
    };
    let figures = &worked.electrical.circuits[&circuit.id];
    if let Some(way) = circuit.way {
        wants("way", texts.contains(&way.to_string().as_str()));
    }
    match figures.device.at {
        DeviceAt::Way | DeviceAt::InLine => wants("device", joined.contains(&figures.device.show())),
        // That of a part of its own may stand in the head of its block.
        DeviceAt::Component(_) => wants("device", sheet.labels.iter().any(|l| l.text.contains(&figures.device.show()))),
        _ => {}
    }
    if let (Some(sized), true) = (figures.conductor(), figures.device.at != DeviceAt::Vehicle) {
        wants("conductor", joined.contains(&sized.size.to_string()));
    }
    if let Some(run) = circuit.run {
        wants("length", joined.contains(&run.show(worked.build.prints())));
    }
    if figures.demand.load.0 > 0.0 {
        wants("current", joined.contains(&figures.demand.load.show(worked.build.prints())));
    }
    faults
}

/// Conductors and devices that stand in no diagram or in two; gives how many were looked for.
///
/// A conductor that carries the current of a circuit is on the line of that circuit, one beside another on the line of that
/// one. A build whose parts hang on nothing has no diagram.
fn undrawn(worked: &Worked<'_>, sheets: &[Drawing]) -> (Vec<String>, usize) {
    let build = &worked.build;
    let mut faults = Vec::new();
    let mut looked = 0;
    let framed = |id: &str| {
        let of = |s: &Drawing| s.labels.iter().filter(|l| l.text == id && s.svg.contains(&frame(&l.area))).count();
        sheets.iter().map(of).sum::<usize>()
    };
    let texts: Vec<&str> = sheets.iter().flat_map(|s| &s.labels).map(|l| l.text.as_str()).collect();
    for conductor in build.wiring.conductors.values() {
        looked += 1;
        let own = match (&conductor.circuit, conductor.purpose) {
            (Some(circuit), Purpose::Circuit) => circuit,
            _ => &conductor.id,
        };
        let names =
            |t: &&&str| t.split_once("with ").is_some_and(|(_, rest)| rest.split(", ").any(|l| l == conductor.local));
        let beside = texts.iter().filter(names);
        let times = match framed(own) {
            0 if conductor.purpose == Purpose::Leg && conductor.is_back() => usize::from(beside.count() > 0),
            times => times,
        };
        if times != 1 {
            faults.push(format!("{}: {own} is drawn {times} times", conductor.id));
        }
    }
    // Names may be broken at the end of a line, behind a hyphen too.
    let unbroken = |text: &str| text.split_whitespace().collect::<String>();
    let all = unbroken(&texts.join(" "));
    for part in build
        .parts
        .values()
        .filter(|p| p.electric().is_some() && (build.leaving(&p.id).chain(build.arriving(&p.id))).next().is_some())
    {
        looked += 1;
        let name: String = part.name.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(14).collect();
        if !all.contains(&unbroken(&name)) {
            faults.push(format!("{}: its name is in no diagram", part.id));
        }
        for (id, key) in part.keys() {
            let at = format!("{}.{id}", part.id);
            let used = build.parts.values().any(|p| p.supply.switched_at.text() == Some(at.as_str()));
            let label: String = key.label.text().unwrap_or(id).chars().take(10).collect();
            if used && !all.contains(&unbroken(&label)) {
                faults.push(format!("{at}: its key is in no diagram"));
            }
        }
        for (id, switch) in part.switches() {
            let used = build
                .wiring
                .conductors
                .values()
                .any(|c| c.from.part == part.id && c.from.switch.as_deref() == Some(id));
            let label: String = switch.label.text().unwrap_or(id).chars().take(10).collect();
            if used && !all.contains(&unbroken(&label)) {
                faults.push(format!("{}.{id}: its switch is in no diagram", part.id));
            }
        }
    }
    (faults, looked)
}

/// Whatever has an end in the list of conductors stands in a one-line diagram, once; gives how many were looked for.
pub(crate) fn everything_is_drawn(worked: &Worked<'_>) -> usize {
    let ours = |d: &Drawing| matches!(d.subject, Subject::DcOneLine | Subject::AcOneLine);
    let sheets: Vec<Drawing> = pipeline::drawings(worked).into_iter().filter(ours).collect();
    if sheets.is_empty() {
        return 0;
    }
    let (faults, looked) = undrawn(worked, &sheets);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    looked
}

/// How the frame of a wire label begins in the picture.
fn frame(text: &Area) -> String {
    let number = |v: f64| format!("{v:.2}").trim_end_matches('0').trim_end_matches('.').to_owned();
    let grown = text.grown(0.55);
    format!("<rect x=\"{}\" y=\"{}\"", number(grown.left), number(grown.top))
}

/// Lines through texts, and texts over texts or outside their sheet.
fn crossings(sheet: &Drawing) -> Vec<String> {
    let mut faults = Vec::new();
    let read = roxmltree::Document::parse(&sheet.svg).expect("well-formed");
    let page = Area::at(0.0, 0.0, sheet.size.0, sheet.size.1);
    for (at, label) in sheet.labels.iter().enumerate() {
        if !page.holds(&label.area) {
            faults.push(format!("{}: `{}` leaves the sheet", sheet.stem, label.text));
        }
        for other in sheet.labels[..at].iter().filter(|o| o.area.overlaps(&label.area)) {
            faults.push(format!("{}: `{}` lies over `{}`", sheet.stem, label.text, other.text));
        }
    }
    for path in read.descendants().filter(|n| n.has_tag_name("path")) {
        for segment in segments(path.attribute("d").unwrap_or("")) {
            for label in sheet.labels.iter().filter(|l| meets(segment, &l.area)) {
                faults.push(format!("{}: a line at {segment:?} crosses `{}`", sheet.stem, label.text));
            }
        }
    }
    faults
}

type Segment = ((f64, f64), (f64, f64));

/// The straight lines of a path; curves are those of symbols.
fn segments(path: &str) -> Vec<Segment> {
    if path.contains(['C', 'A', 'a', 'c', 'S']) {
        return Vec::new();
    }
    let point = |text: &str| {
        let mut numbers = text.split(' ').filter_map(|n| n.parse::<f64>().ok());
        Some((numbers.next()?, numbers.next()?))
    };
    let points: Vec<_> = path.trim_matches(['M', 'Z']).split('L').filter_map(point).collect();
    points.windows(2).map(|p| (p[0], p[1])).collect()
}

/// Whether a line passes through a box, seen at steps of a tenth of a millimetre.
fn meets(line: Segment, area: &Area) -> bool {
    let (from, to) = line;
    let length = (to.0 - from.0).hypot(to.1 - from.1);
    let mut at = 0.0;
    while at <= length {
        let share = if length > 0.0 { at / length } else { 0.0 };
        let across = from.0 + (to.0 - from.0) * share;
        let down = from.1 + (to.1 - from.1) * share;
        if across > area.left + 0.1 && across < area.right - 0.1 && down > area.top + 0.1 && down < area.bottom - 0.1 {
            return true;
        }
        at += 0.1;
    }
    false
}

fn check(name: &str, text: &str) {
    drawn(name, text, |worked, sheets| {
        let mut all: Vec<String> = worked.build.circuits.values().flat_map(|c| faults(worked, sheets, c)).collect();
        all.extend(sheets.iter().flat_map(crossings));
        if !sheets.is_empty() {
            all.extend(undrawn(worked, sheets).0);
        }
        for sheet in sheets {
            if sheet.size.1 > PAGE.1 || sheet.size.0 > PAGE.0 {
                all.push(format!("{}: {:?} is larger than a page", sheet.stem, sheet.size));
            }
        }
        if let Ok(folder) = std::env::var("ONE_LINE_OUT") {
            for sheet in sheets {
                std::fs::write(format!("{folder}/{name}-{}.svg", sheet.stem), &sheet.svg).expect("written");
            }
        }
        assert!(all.is_empty(), "{name}:\n{}", all.join("\n"));
    });
}

#[test]
fn every_circuit_is_drawn_once_with_its_way_device_conductor_length_and_current() {
    for name in SPECS {
        check(name, &spec(name));
    }
}

/// A monitor that says where it returns to stands in the negative, its bars behind it, and bonds have their sizes.
#[test]
fn the_return_side_is_drawn_as_the_spec_says_it() {
    let text = spec("heron");
    let now = "[component.battery-monitor]\nstock         = \"monitor-500\"\nname          = \"Battery monitor\"\nfed_from      = \"house-bank\"";
    assert!(text.contains(now), "the monitor of heron");
    let text = text.replace(now, &now.replace("fed_from      =", "returns_to    ="));
    check("returns", &text);
    drawn("returns", &text, |worked, sheets| {
        let first = &sheets[0];
        let label = first.labels.iter().find(|l| l.text == "battery-monitor").expect("the cable of the monitor");
        let texts = row(first, label);
        let size = |id: &str| worked.electrical.conductors[id].size.expect("a size").to_string();
        assert!(texts.iter().any(|t| t.contains(&size("battery-monitor.return"))), "{texts:?}");
        let bond = first.labels.iter().find(|l| l.text == "chassis-bond.bond").expect("the main bond");
        assert!(row(first, bond).contains(&size("chassis-bond.bond").as_str()), "{:?}", row(first, bond));
        let ac = sheets.iter().find(|s| s.subject == Subject::AcOneLine).expect("a sheet of alternating current");
        for id in ["inverter.bond", "shore-charger.bond", "shore-unit.bond", "consumer-unit.bond"] {
            let label = ac.labels.iter().find(|l| l.text == id).expect(id);
            assert!(row(ac, label).iter().any(|t| t.ends_with(&size(id))), "{id}: {:?}", row(ac, label));
        }
    });
}

const HEAD: &str = "spec = 2\n[build]\ntitle = \"Odd\"\nrules = \"eu\"\nprints = \"metric\"\n[component]\n";

fn main_path(bank: &str) -> String {
    format!(
        "{bank} = {{ kind = \"battery-bank\", capacity = \"200 Ah\" }}\n\
         {bank}-fuse = {{ kind = \"main-fuse\", fed_from = \"{bank}\", run = \"0.2 m\" }}\n\
         {bank}-switch = {{ kind = \"battery-disconnect\", fed_from = \"{bank}-fuse\", run = \"0.2 m\" }}\n"
    )
}

#[test]
fn a_build_of_a_hundred_and_fifty_loads_stays_whole_and_legible() {
    let mut text = format!("{HEAD}{}", main_path("bank"));
    text.push_str("bus = { kind = \"busbar\", fed_from = \"bank-switch\", run = \"0.4 m\" }\n");
    for panel in 0..10 {
        let _ = writeln!(text, "p{panel} = {{ kind = \"fuse-panel\", ways = 20, fed_from = \"bus\", run = \"1 m\" }}");
        for load in 0..15 {
            let kind = ["usb-outlet", "light-zone", "roof-fan"][load % 3];
            let _ =
                writeln!(text, "u{panel}-{load} = {{ kind = \"{kind}\", fed_from = \"p{panel}\", run = \"2.5 m\" }}");
        }
    }
    check("many", &text);
    drawn("many", &text, |_, sheets| {
        assert_eq!(sheets.iter().filter(|s| s.about.starts_with('p')).count(), 10, "a sheet a panel");
        assert!(sheets.iter().flat_map(|s| &s.labels).all(|l| l.area.height() >= 2.2 * 0.9), "small text");
        let named = |at: usize| sheets[0].labels.iter().any(|l| l.text.ends_with(&format!("→ sheet {}", at + 1)));
        let panel = sheets.iter().position(|s| s.about == "p0").expect("sheet of the first panel");
        assert!(named(panel), "the overview names the sheet of a panel");
    });
}

#[test]
fn sixty_ways_in_one_panel_go_on_over_sheets() {
    let mut text = format!("{HEAD}{}", main_path("bank"));
    text.push_str("big = { kind = \"fuse-panel\", ways = 60, fed_from = \"bank-switch\", run = \"1 m\" }\n");
    text.push_str(
        "mppt = { kind = \"solar-controller\", fed_from = \"roof\", output_current = \"15 A\", feeds = \"big\" }\n",
    );
    text.push_str("roof = { kind = \"solar-array\", power = \"100 W\", voc = \"22 V\", isc = \"6 A\", vmp = \"18 V\", imp = \"5.6 A\" }\n");
    for load in 0..60 {
        let _ = writeln!(text, "load-{load} = {{ kind = \"usb-outlet\", fed_from = \"big\", run = \"3 m\" }}");
    }
    check("sixty", &text);
    drawn("sixty", &text, |_, sheets| {
        let big: Vec<_> = sheets.iter().filter(|s| s.about == "big").collect();
        assert!(big.len() > 2 && big[1].labels.iter().any(|l| l.text.contains("continued")), "{}", big.len());
    });
}

#[test]
fn odd_builds_are_drawn_too() {
    let bus = "bus = { kind = \"busbar\", fed_from = \"bank-switch\" }\n";
    let long = "Lamp over the table that was moved twice and is now above the door beside the window of the galley";
    let mut chain =
        format!("{HEAD}{}s0 = {{ kind = \"master-switch\", fed_from = \"bank-switch\" }}\n", main_path("bank"));
    for at in 1..30 {
        let kind = if at % 4 == 0 { "sub-panel" } else { "master-switch" };
        let _ = writeln!(chain, "s{at} = {{ kind = \"{kind}\", fed_from = \"s{}\", run = \"0.5 m\" }}", at - 1);
    }
    let odd = [
        ("empty", HEAD.to_owned()),
        (
            "one-load",
            format!(
                "{HEAD}bank = {{ kind = \"battery-bank\" }}\nlamp = {{ kind = \"light-zone\", fed_from = \"bank\" }}\n"
            ),
        ),
        (
            "no-bank",
            format!("{HEAD}bus = {{ kind = \"busbar\" }}\nfan = {{ kind = \"roof-fan\", fed_from = \"bus\" }}\n"),
        ),
        (
            "two-banks",
            format!(
                "{HEAD}{}{}bus = {{ kind = \"busbar\", fed_from = [\"bank-switch\", \"other-switch\"] }}\nfan = {{ kind = \"roof-fan\", fed_from = \"bus\" }}\n",
                main_path("bank"),
                main_path("other")
            ),
        ),
        (
            "only-ac",
            format!(
                "{HEAD}inlet = {{ kind = \"shore-inlet\", rating = \"16 A\" }}\nunit = {{ kind = \"consumer-unit\", fed_from = \"inlet\", ways = 6 }}\nplug = {{ kind = \"ac-outlet\", fed_from = \"unit\", run = \"2 m\" }}\n"
            ),
        ),
        (
            "long-names",
            format!(
                "{HEAD}{}{bus}panel = {{ kind = \"fuse-panel\", name = \"{long}\", fed_from = \"bus\" }}\ndim = {{ kind = \"dimmer\", name = \"{long}\", fed_from = \"panel\" }}\nlamp-over-the-table = {{ kind = \"light-zone\", name = \"{long}\", fed_from = \"dim\" }}\nother = {{ kind = \"light-zone\", name = \"{long}\", fed_from = \"bus\" }}\n",
                main_path("bank")
            ),
        ),
        (
            "dimmer-of-two",
            format!(
                "{HEAD}{}{bus}panel = {{ kind = \"fuse-panel\", fed_from = \"bus\" }}\ndim = {{ kind = \"dimmer\", fed_from = \"panel\" }}\nleft = {{ kind = \"light-zone\", fed_from = \"dim\" }}\nright = {{ kind = \"light-zone\", fed_from = \"dim\" }}\n",
                main_path("bank")
            ),
        ),
        (
            "ring",
            format!(
                "{HEAD}one = {{ kind = \"dc-dc-charger\", output_current = \"10 A\", feeds = \"two\" }}\ntwo = {{ kind = \"dc-dc-charger\", output_current = \"10 A\", feeds = \"one\" }}\n"
            ),
        ),
        ("chain", chain),
    ];
    for (name, text) in &odd {
        check(name, text);
    }
}

#[test]
fn shapes_follow_the_rules_of_the_build() {
    for (name, standard) in [("heron", "IEEE 315"), ("turnstone", "IEC 60617")] {
        drawn(name, &spec(name), |_, sheets| {
            for subject in [Subject::DcOneLine, Subject::AcOneLine] {
                let first = sheets.iter().find(|s| s.subject == subject).expect("a sheet");
                assert!(first.labels.iter().any(|l| l.text.contains(standard)), "{name}: {subject:?}");
            }
        });
    }
}
