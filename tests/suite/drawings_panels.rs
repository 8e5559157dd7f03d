//! Stickers and faces of panels: every way once with its device, true sizes, nothing of a hidden master.

use crate::harness::root;
use rigbinder::compute::directory::{Directory, directories};
use rigbinder::compute::wording::Reader;
use rigbinder::drawings::canvas::Area;
use rigbinder::drawings::fuse_sticker::{QR_SIDE, qr_place};
use rigbinder::drawings::{Drawing, PAGE, Subject};
use rigbinder::kinds::Role;
use rigbinder::pipeline;
use std::fmt::Write as _;

const SPECS: [&str; 5] = ["heron", "turnstone", "purfling", "basalt", "weekend"];

/// Drawings of one subject and the panel directories of a spec.
fn drawn(text: &[u8], subject: Subject) -> (Vec<Drawing>, Vec<Directory>) {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let mut drawings = pipeline::drawings(&worked);
    drawings.retain(|d| d.subject == subject);
    let directories = directories(&worked.build, &worked.electrical, Reader::Binder);
    (drawings, directories)
}

fn spec(name: &str) -> Vec<u8> {
    std::fs::read(root().join(format!("specs/{name}.toml"))).expect("spec")
}

/// Texts of a drawing as they are read from its SVG.
fn texts(drawing: &Drawing) -> Vec<String> {
    let read = roxmltree::Document::parse(&drawing.svg).expect("svg");
    read.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text().map(str::to_owned)).collect()
}

/// Texts from `at` on that together, with spaces between, say `wanted`; where the next begins.
fn says(texts: &[String], at: usize, wanted: &str) -> Option<usize> {
    if wanted.is_empty() {
        return Some(at);
    }
    let mut said = String::new();
    for (i, text) in texts.iter().enumerate().skip(at) {
        said = if said.is_empty() { text.clone() } else { format!("{said} {text}") };
        if said == wanted {
            return Some(i + 1);
        }
        if !wanted.starts_with(&said) {
            return None;
        }
    }
    None
}

/// How often the stickers of a panel have a row: way, what it feeds, device or its rating, colour, conductor.
fn rows_like(stickers: &[&Drawing], row: &rigbinder::compute::directory::WayRow) -> usize {
    let rating = row.device.split_once(" A ").map_or(row.device.clone(), |(amps, _)| format!("{amps} A"));
    let coloured = format!("{} ({})", row.device, row.colour);
    let count = |sticker: &&Drawing| {
        let texts = texts(sticker);
        let is_row = |at: usize| {
            let after = says(&texts, at, &row.way).and_then(|at| says(&texts, at, &row.feeds))?;
            let short = says(&texts, after, &rating).and_then(|at| says(&texts, at, &row.colour));
            let long = || says(&texts, after, if row.colour.is_empty() { &row.device } else { &coloured });
            short.or_else(long).and_then(|at| says(&texts, at, &row.conductor))
        };
        (0..texts.len()).filter(|at| is_row(*at).is_some()).count()
    };
    stickers.iter().map(count).sum()
}

fn every_way_is_there_once(name: &str, text: &[u8]) {
    let (stickers, directories) = drawn(text, Subject::FuseSticker);
    for panel in &directories {
        let own: Vec<_> = stickers.iter().filter(|s| s.about == panel.id).collect();
        assert!(panel.rows.is_empty() || !own.is_empty(), "{name}: {} has no sticker", panel.id);
        for row in &panel.rows {
            assert_eq!(rows_like(&own, row), 1, "{name}: {} way {}: {row:?}", panel.id, row.way);
        }
    }
}

#[test]
fn every_way_of_every_panel_is_once_on_its_sticker_as_in_the_directory() {
    for name in SPECS {
        every_way_is_there_once(name, &spec(name));
    }
    every_way_is_there_once("many", many().as_bytes());
}

#[test]
fn busbars_and_fuse_holders_have_stickers_with_their_fuses() {
    let (stickers, _) = drawn(&spec("heron"), Subject::FuseSticker);
    let of = |id: &str| texts(stickers.iter().find(|s| s.about == id).expect(id)).join(" ");
    let bus = of("dc-busbar");
    for words in ["Aux master key", "Roof solar controller", "Fuse of the house panel", "in line"] {
        assert!(bus.contains(words), "{words}: {bus}");
    }
    let holder = of("main-fuse");
    assert!(holder.contains("Main disconnect") && holder.contains("400 A"), "{holder}");
    assert!(stickers.iter().all(|s| s.about != "negative-busbar"), "no fuse sits in the negative");
}

#[test]
fn stickers_and_faces_have_true_sizes_and_nothing_over_the_qr_symbol() {
    let mut count = 0;
    for text in SPECS.map(spec).into_iter().chain([many().into_bytes()]) {
        for drawing in drawn(&text, Subject::FuseSticker).0.iter().chain(&drawn(&text, Subject::SwitchPanel).0) {
            count += 1;
            let read = roxmltree::Document::parse(&drawing.svg).expect("svg");
            let svg = read.root_element();
            let mm = |name| svg.attribute(name).and_then(|v| v.strip_suffix("mm")).and_then(|v| v.parse::<f64>().ok());
            let (w, h) = (mm("width").expect("mm"), mm("height").expect("mm"));
            assert!((w - drawing.size.0).abs() < 0.006 && (h - drawing.size.1).abs() < 0.006, "{}", drawing.stem);
            let box_ = svg.attribute("viewBox").expect("box");
            assert_eq!(box_, format!("0 0 {w} {h}"), "one unit is one millimetre");
            assert!(drawing.true_size && w <= PAGE.0 + 0.01 && h <= PAGE.1 + 0.01, "{}: {w} × {h}", drawing.stem);
            if drawing.subject == Subject::FuseSticker {
                let free = qr_place(drawing.size);
                assert!((free.width() - QR_SIDE).abs() < 1e-9 && Area::at(0.0, 0.0, w, h).holds(&free));
                let over = drawing.labels.iter().find(|l| l.area.overlaps(&free));
                assert!(over.is_none(), "{}: {over:?} in the place of the QR symbol", drawing.stem);
            }
        }
    }
    assert!(count > 20);
}

#[test]
fn every_switch_is_once_on_its_face_with_its_word() {
    let (faces, directories) = drawn(&spec("heron"), Subject::SwitchPanel);
    let face = texts(faces.iter().find(|f| f.about == "aux-panel").expect("face"));
    let directory = directories.iter().find(|d| d.id == "aux-panel").expect("panel");
    let words = [
        "Light bar",
        "Ditch lights",
        "Scene left",
        "Scene right",
        "Scene rear",
        "Awning light",
        "Compressor",
        "Step lights",
    ];
    for (row, word) in directory.rows.iter().zip(words) {
        let switch = |at: usize| {
            says(&face, at, &row.way).and_then(|i| says(&face, i, word)).and_then(|i| says(&face, i, &row.feeds))
        };
        assert_eq!((0..face.len()).filter(|at| switch(*at).is_some()).count(), 1, "way {} `{word}`", row.way);
    }
    let (faces, directories) = drawn(many().as_bytes(), Subject::SwitchPanel);
    for panel in directories.iter().filter(|d| d.id.starts_with("switches")) {
        let all: Vec<String> = faces.iter().filter(|f| f.about == panel.id).flat_map(texts).collect();
        for row in &panel.rows {
            assert_eq!(all.iter().filter(|t| **t == row.way).count(), 1, "{}: {}", panel.id, row.way);
        }
    }
}

/// Panels with one way and with many, long names, and masters of each kind.
fn many() -> String {
    let mut text = String::from(
        "[build]\ntitle = \"Many\"\nhandover = 2027-04-09\nrules = \"eu\"\n\
         [component]\nbank = { kind = \"battery-bank\", capacity = \"280 Ah\" }\n\
         bus = { kind = \"busbar\", fed_from = \"bank\" }\n\
         one = { kind = \"fuse-panel\", fed_from = \"bus\", ways = 1 }\n\
         forty = { kind = \"fuse-panel\", name = \"A panel with a name so long that no sticker has room for all of it, wherever it is put\", fed_from = \"bus\", ways = 60 }\n\
         secret-thing = { kind = \"master-switch\", name = \"Nobody may see\", guard = \"hidden\", fed_from = \"bus\" }\n\
         switches-24 = { kind = \"switch-panel\", fed_from = \"secret-thing\", ways = 24, master = \"hidden\", master_switch = \"secret-thing\" }\n\
         switches-2 = { kind = \"switch-panel\", fed_from = \"bus\", ways = 2, master = \"keyed\", way_names = [\"A & <B>\", \"Incomprehensibilities of many words\"] }\n\
         only = { kind = \"strip-light\", fed_from = \"one\", run = \"1 m\" }\n\
         lamp = { kind = \"exterior-light\", fed_from = \"switches-2\" }\n",
    );
    for i in 0..45 {
        let _ = writeln!(
            text,
            "light-{i} = {{ kind = \"strip-light\", name = \"Light {i} <in> the & corridor behind the galley\", fed_from = \"forty\", run = \"3 m\" }}"
        );
    }
    for i in 0..20 {
        let _ = writeln!(text, "lamp-{i} = {{ kind = \"exterior-light\", fed_from = \"switches-24\", run = \"3 m\" }}");
    }
    text
}

#[test]
fn a_hidden_master_is_on_no_face_and_a_keyed_one_is() {
    let (faces, _) = drawn(many().as_bytes(), Subject::SwitchPanel);
    for face in &faces {
        assert!(!face.svg.contains("Nobody") && !face.svg.contains("secret"), "{}", face.stem);
    }
    let said = |id: &str| faces.iter().filter(|f| f.about == id).flat_map(texts).collect::<Vec<_>>();
    assert!(said("switches-2").iter().any(|t| t == "MASTER"));
    assert!(said("switches-24").iter().all(|t| t != "MASTER" && !t.contains("Dead until")));
    // The sticker on a hidden master's panel does not name it either.
    let (stickers, _) = drawn(many().as_bytes(), Subject::FuseSticker);
    let own: Vec<_> = stickers.iter().filter(|s| s.about == "switches-24").collect();
    assert!(!own.is_empty() && own.iter().all(|s| !s.svg.contains("Nobody")));
    let (heron, _) = drawn(&spec("heron"), Subject::SwitchPanel);
    assert!(texts(&heron[0]).iter().any(|t| t == "Dead until Aux master key is on."));
}

#[test]
fn faces_are_of_switch_panels_and_nothing_else() {
    for name in SPECS {
        let loaded = pipeline::load(crate::harness::house(), name, &spec(name)).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let panels = worked.build.parts.values().filter(|p| p.role() == Some(Role::SwitchPanel)).count();
        let faces = pipeline::drawings(&worked).iter().filter(|d| d.subject == Subject::SwitchPanel).count();
        assert_eq!(faces, panels, "{name}");
    }
}
