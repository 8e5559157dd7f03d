//! Elevations of electrical boards: to scale to the millimetre, every device with a size on the board and apart from all
//! others, what has none told.

use crate::harness::root;
use rigbinder::build::Feeding;
use rigbinder::compute::board_holders::{holders, stud_face};
use rigbinder::compute::geometry::board::{AC_GAP, Board, Device, GAP, Pole, WARM_GAP, boards, space};
use rigbinder::compute::network::{reach_of_tail, stud_of};
use rigbinder::drawings::{Drawing, PAGE, Subject};
use rigbinder::pipeline::{self, Worked};
use std::fmt::Write as _;

fn drawn(name: &str, text: &str, mut with: impl FnMut(&Worked<'_>, &[Drawing])) {
    let loaded = pipeline::load(crate::harness::house(), name, text.as_bytes()).expect("loaded");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let plans: Vec<Drawing> = pipeline::drawings(&worked).into_iter().filter(|d| d.subject == Subject::Board).collect();
    if let Ok(folder) = std::env::var("ONE_LINE_OUT") {
        for plan in &plans {
            std::fs::write(format!("{folder}/{name}-{}.svg", plan.stem), &plan.svg).expect("written");
        }
    }
    with(&worked, &plans);
}

const HEAD: &str =
    "spec = 2\n[build]\ntitle = \"Board\"\nrules = \"eu\"\nprints = \"metric\"\n[vehicle]\nwheelbase = \"3.6 m\"\n";

/// A board of 1 m × 0.7 m with devices of all sorts; `size` says whether the place has its size.
fn board(size: bool) -> String {
    let size = if size { "size = [\"1.0 m\", \"0.25 m\", \"0.7 m\"]" } else { "" };
    let mut text = format!("{HEAD}[place.board]\nat = [\"3.0 m\", \"0.8 m\", \"0.2 m\"]\n{size}\n");
    text.push_str("[place.box]\nat = [\"4.0 m\", \"0.6 m\", \"0 m\"]\n[component]\n");
    let mut part = |id: &str, fields: &str, size: Option<[u16; 3]>| {
        let size =
            size.map_or_else(String::new, |s| format!(", size = [\"{} mm\", \"{} mm\", \"{} mm\"]", s[0], s[2], s[1]));
        writeln!(text, "{id} = {{ {fields}{size} }}").expect("a text");
    };
    let here = "place = \"board\", run = \"0.4 m\"";
    part("bank", "kind = \"battery-bank\", place = \"box\"", None);
    part("fuse", &format!("kind = \"main-fuse\", fed_from = \"bank\", {here}"), Some([60, 80, 60]));
    part("switch", &format!("kind = \"battery-disconnect\", fed_from = \"fuse\", {here}"), Some([70, 70, 80]));
    part(
        "bus",
        &format!("kind = \"busbar\", fed_from = \"switch\", {here}, on_board = [\"400 mm\", \"100 mm\"]"),
        Some([200, 60, 60]),
    );
    part("minus", "kind = \"negative-busbar\", place = \"board\", run = \"0.4 m\"", Some([200, 60, 60]));
    part("panel", &format!("kind = \"fuse-panel\", ways = 12, fed_from = \"bus\", {here}"), Some([170, 130, 60]));
    part("inverter", &format!("kind = \"inverter\", fed_from = \"bus\", {here}"), Some([420, 200, 110]));
    part(
        "charger",
        &format!("kind = \"dc-dc-charger\", fed_from = \"bus\", output_current = \"10 A\", {here}"),
        Some([130, 190, 70]),
    );
    part("unit", &format!("kind = \"consumer-unit\", fed_from = \"inverter\", ways = 4, {here}"), Some([130, 200, 80]));
    part("rcd", &format!("kind = \"residual-current-device\", fed_from = \"unit\", {here}"), Some([40, 90, 70]));
    part("bare", &format!("kind = \"terminal-fuse\", fed_from = \"bus\", {here}"), None);
    text
}

/// Boxes of a picture: left, top, width, height.
fn boxes(sheet: &Drawing) -> Vec<[f64; 4]> {
    let read = roxmltree::Document::parse(&sheet.svg).expect("well-formed");
    let number = |node: &roxmltree::Node<'_, '_>, name| node.attribute(name)?.parse().ok();
    let one = |node: roxmltree::Node<'_, '_>| {
        let all = ["x", "y", "width", "height"].map(|name| number(&node, name));
        all.into_iter().collect::<Option<Vec<f64>>>()?.try_into().ok()
    };
    read.descendants().filter(|n| n.has_tag_name("rect")).filter_map(one).collect()
}

fn only(worked: &Worked<'_>) -> Board {
    let mut all = boards(&worked.build);
    assert_eq!(all.len(), 1, "one board");
    all.remove(0)
}

#[test]
fn devices_stand_on_the_board_to_scale() {
    drawn("board", &board(true), |worked, plans| {
        let [sheet] = plans else { panic!("{} sheets", plans.len()) };
        let scale = sheet.labels.iter().find_map(|l| l.text.strip_prefix("1:")).expect("a scale");
        let k = 1000.0 / scale.parse::<f64>().expect("a number");
        let all = boxes(sheet);
        let near = |a: f64, b: f64| (a - b).abs() <= 0.0101;
        let frame = all.iter().find(|b| near(b[2], k) && near(b[3], 0.7 * k)).expect("the board, 1 m × 0.7 m");
        let laid = only(worked).laid();
        assert!(laid.left_over.is_empty(), "{laid:?}");
        assert_eq!(laid.faces.len(), 9);
        for (at, face) in &laid.faces {
            let wanted = [
                frame[0] + face.at[0] * k,
                frame[1] + frame[3] - (face.at[1] + face.size[1]) * k,
                face.size[0] * k,
                face.size[1] * k,
            ];
            let there = all.iter().any(|b| (0..4).all(|n| near(b[n], wanted[n])));
            assert!(there, "{at}: {wanted:?} is not drawn");
        }
        // What the spec puts somewhere is there.
        let build = &worked.build;
        let bus = laid.faces.iter().find(|(at, _)| only(worked).devices[*at].part == "bus").expect("the bus");
        assert_eq!(bus.1.at, [0.4, 0.1]);
        assert!(sheet.labels.iter().any(|l| l.text.contains("no size") && l.text.contains(build.name("bare"))));
        assert!(sheet.size.0 <= PAGE.0 && sheet.size.1 <= PAGE.1);
    });
}

#[test]
fn the_rule_keeps_devices_apart_and_in_their_order() {
    for size in [true, false] {
        drawn("rule", &board(size), |worked, plans| {
            assert_eq!(plans.len(), 1);
            let board = only(worked);
            let laid = board.laid();
            for (n, (one, face)) in laid.faces.iter().enumerate() {
                assert!(face.is_on(laid.size), "{}: {face:?}", board.devices[*one].part);
                for (other, there) in &laid.faces[..n] {
                    let (a, b) = (&board.devices[*one], &board.devices[*other]);
                    let apart = if a.is_ac == b.is_ac { GAP } else { AC_GAP };
                    let gap = apart.max(if a.is_warm || b.is_warm { WARM_GAP } else { GAP });
                    assert!(!face.nearer(there, [gap, gap]), "{} and {}", a.part, b.part);
                    for gap in a.asked(b) {
                        assert!(!face.nearer(there, gap), "{} and {}: {gap:?} is asked", a.part, b.part);
                    }
                }
            }
            let at = |id: &str| {
                let of = |(at, _): &&(usize, _)| board.devices[*at].part == id;
                laid.faces.iter().find(of).expect(id).1
            };
            let top = |id: &str| at(id).at[1] + at(id).size[1];
            // The van's rear, where the bank is, lies to the left of a board on its left wall.
            assert!(!board.bank_right);
            assert!(at("switch").at[0] < at("unit").at[0], "the bank's side, alternating current apart");
            assert!(top("inverter") > top("panel") && top("charger") > top("panel"), "heat upward");
        });
    }
}

/// What says where it is on a board takes that room of the van: a board on the left wall is seen with the front to the
/// right, so what is 0.4 m from its left edge is 0.4 m from its rear end. The run to it is held against that room.
#[test]
fn a_place_on_a_board_is_a_place_in_the_van() {
    drawn("space", &board(true), |worked, _| {
        let room = space(&worked.build, &worked.build.parts["bus"]).expect("it says where it is");
        let wanted = [[2.9, 0.675, 0.3], [3.1, 0.925, 0.36]];
        for (got, wanted) in [room.min, room.max].into_iter().flatten().zip(wanted.into_iter().flatten()) {
            assert!((got - wanted).abs() < 1e-9, "{room:?}");
        }
        assert!(space(&worked.build, &worked.build.parts["panel"]).is_none(), "by rule");
    });
    let far = board(true).replace(
        "fed_from = \"bus\", place = \"board\", run = \"0.4 m\", size",
        "fed_from = \"bus\", place = \"board\", run = \"0.1 m\", on_board = [\"20 mm\", \"500 mm\"], size",
    );
    let found = |text: &str| crate::harness::findings(text).iter().any(|f| f.name == "run-below-gap");
    assert!(found(&far) && !found(&board(true)));
}

/// The other side of the van, the other way round.
#[test]
fn a_board_is_seen_from_the_aisle() {
    let text = board(true).replace("[\"3.0 m\", \"0.8 m\", \"0.2 m\"]", "[\"3.0 m\", \"-0.8 m\", \"0.2 m\"]");
    drawn("right", &text, |worked, plans| {
        assert!(only(worked).bank_right);
        assert!(plans[0].labels.iter().any(|l| l.text == "Seen from the aisle, looking right"));
        assert!(plans[0].labels.iter().any(|l| l.text == "rear, bank side →"));
    });
}

/// A board that is too small says what it has no room for; a place where little stands is none.
#[test]
fn what_finds_no_room_is_told() {
    let small = board(true).replace("[\"1.0 m\", \"0.25 m\", \"0.7 m\"]", "[\"0.7 m\", \"0.25 m\", \"0.3 m\"]");
    drawn("small", &small, |worked, plans| {
        let board = only(worked);
        let left = board.laid().left_over;
        assert!(!left.is_empty());
        let texts: Vec<&str> = plans[0].labels.iter().map(|l| l.text.as_str()).collect();
        let told = texts.join(" ");
        for at in left {
            let name = worked.build.name(&board.devices[at].part).to_owned();
            assert!(told.contains("there is no room") && told.contains(&name), "{name}: {told}");
        }
    });
    let text = format!(
        "{HEAD}[component]\nbank = {{ kind = \"battery-bank\" }}\nfuse = {{ kind = \"main-fuse\", fed_from = \"bank\", size = [\"60 mm\", \"60 mm\", \"60 mm\"] }}\n"
    );
    drawn("few", &text, |worked, plans| assert!(boards(&worked.build).is_empty() && plans.is_empty()));
}

#[test]
fn boards_of_the_demo_builds_fit_their_pages() {
    let mut held = 0;
    for spec in ["heron", "turnstone", "purfling", "weekend", "basalt"] {
        let text = std::fs::read_to_string(root().join(format!("specs/{spec}.toml"))).expect("spec");
        drawn(spec, &text, |worked, plans| {
            for plan in plans {
                assert!(plan.size.0 <= PAGE.0 && plan.size.1 <= PAGE.1, "{spec}: {:?}", plan.size);
            }
            for board in boards(&worked.build).iter().filter(|b| b.devices.iter().any(|d| d.size.is_some())) {
                let laid = board.laid();
                assert!(laid.left_over.is_empty(), "{spec}: no room for {:?}", laid.left_over);
                hold(spec, worked, board, plans, &mut held);
            }
        });
    }
    assert!(held >= 8, "{held} holders");
}

/// Each fuse in the line beside a bar has a holder on the drawing, within 7 in of its own stud (33 CFR 183.455(b)), apart from
/// all else, and as far from the negative as the kinds ask.
fn hold(spec: &str, worked: &Worked<'_>, board: &Board, plans: &[Drawing], held: &mut usize) {
    let laid = board.laid();
    let all = holders(&worked.build, &worked.electrical, board, &laid);
    for (n, holder) in all.iter().enumerate() {
        let id = &holder.circuit.id;
        let face = holder.face.unwrap_or_else(|| panic!("{spec}: {id} has no place"));
        assert!(face.is_on(laid.size), "{spec}: {id}");
        let at = |part: &str| laid.faces.iter().find(|(at, _)| board.devices[*at].part == part);
        let source = if holder.circuit.feeding == Feeding::Output { &holder.circuit.to } else { &holder.circuit.from };
        let (index, bar) = at(source).expect("the source is on the board");
        let stud = stud_of(&worked.build, &worked.electrical, holder.circuit, source);
        let post = stud_face(&worked.build, board, (*index, bar), stud);
        // From the middle of the stud, in a straight line: the cable is no shorter.
        assert!(face.gap(&post) < 0.178, "{spec}: {id} is {} m from its stud", face.gap(&post));
        assert!(post.gap(bar) < 1e-9 && (stud.is_none() || post.size == [0.0; 2]), "{spec}: {id}");
        for (other, there) in &laid.faces {
            let device = &board.devices[*other];
            assert!(!face.nearer(there, [0.0; 2]), "{spec}: {id} on {}", device.part);
            let apart = device.bars_apart.filter(|_| device.pole == Some(Pole::Minus)).unwrap_or_default();
            assert!(!face.nearer(there, [apart; 2]), "{spec}: {id} beside {}", device.part);
        }
        for other in &all[..n] {
            assert!(!face.nearer(&other.face.expect("placed"), [0.0; 2]), "{spec}: {id} and {}", other.circuit.id);
        }
        let name = format!("Fuse holder, {}", worked.build.name(&holder.circuit.owner));
        assert!(plans.iter().any(|plan| plan.description.contains(&name)), "{spec}: {name} is in no key");
        *held += 1;
    }
    // The same of a fuse that is a part of its own, and of the tail between.
    for circuit in worked.build.circuits.values() {
        let Some(most) = reach_of_tail(&worked.build, &worked.electrical, circuit) else { continue };
        let at = |part: &str| laid.faces.iter().find(|(at, _)| board.devices[*at].part == part);
        if let (Some((index, bar)), Some((_, fuse))) = (at(&circuit.from), at(&circuit.to)) {
            let stud = stud_of(&worked.build, &worked.electrical, circuit, &circuit.from);
            let gap = fuse.gap(&stud_face(&worked.build, board, (*index, bar), stud));
            assert!(gap < most.0, "{spec}: {} is {gap} m from its stud", circuit.id);
            *held += 1;
        }
    }
}

/// Measures beyond all sense make no drawing that leaves its sheet: what is not on the board is told.
#[test]
fn odd_measures_stay_on_their_sheet() {
    let text = board(true);
    let odd = [
        text.replace("[\"1.0 m\", \"0.25 m\", \"0.7 m\"]", "[\"40 m\", \"0.25 m\", \"30 m\"]"),
        text.replace("[\"400 mm\", \"100 mm\"]", "[\"-400 mm\", \"100 mm\"]"),
        text.replace("[\"400 mm\", \"100 mm\"]", "[\"50 m\", \"100 mm\"]"),
        board(false).replace("[\"400 mm\", \"100 mm\"]", "[\"50 m\", \"100 mm\"]"),
        text.replace("420 mm", "59 m").replace("200 mm\"", "0.01 mm\""),
    ];
    for (n, text) in odd.iter().enumerate() {
        drawn(&format!("odd-{n}"), text, |worked, plans| {
            let [sheet, ..] = plans else { panic!("{n}: no sheet") };
            assert!(sheet.size.0 <= PAGE.0 && sheet.size.1 <= PAGE.1, "{n}: {:?}", sheet.size);
            let page = rigbinder::drawings::canvas::Area::at(0.0, 0.0, sheet.size.0, sheet.size.1);
            for label in &sheet.labels {
                assert!(page.holds(&label.area), "{n}: `{}` leaves the sheet", label.text);
            }
            for [left, top, wide, high] in boxes(sheet) {
                let inside = left >= -0.01 && top >= -0.01 && left + wide <= sheet.size.0 + 0.01;
                assert!(inside && top + high <= sheet.size.1 + 0.01, "{n}: a box at {left}, {top}");
            }
            let told = sheet.labels.iter().map(|l| l.text.as_str()).collect::<Vec<_>>().join(" ");
            let board = only(worked);
            let size = board.laid().size;
            if board.devices.iter().filter_map(Device::placed).any(|face| !face.is_on(size)) {
                assert!(told.contains("beyond the board"), "{n}: {told}");
            }
        });
    }
}
