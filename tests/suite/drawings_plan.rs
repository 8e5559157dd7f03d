//! Drawings to scale: measures against the spec, every placed component once, nothing secret, figures as elsewhere.

use crate::harness::root;
use rigbinder::build::Build;
use rigbinder::compute::geometry::spots::{Level, Spot, spots};
use rigbinder::compute::geometry::van::Van;
use rigbinder::compute::network::is_worked_on;
use rigbinder::drawings::canvas::Area;
use rigbinder::drawings::{Drawing, Subject};
use rigbinder::kinds::{EmergencyMark, Stage};
use rigbinder::pipeline::{self, Worked};
use rigbinder::units::Metres;
use std::collections::{BTreeMap, BTreeSet};

const SPECS: [&str; 6] = ["heron", "turnstone", "purfling", "basalt", "ember", "weekend"];

fn with<R>(name: &str, text: &[u8], look: impl FnOnce(&Worked<'_>, &[Drawing]) -> R) -> R {
    let loaded = pipeline::load(crate::harness::house(), name, text).expect("loaded");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let drawings = pipeline::drawings(&worked);
    look(&worked, &drawings)
}

fn each(look: impl Fn(&str, &Worked<'_>, &[Drawing])) {
    for spec in SPECS {
        let bytes = std::fs::read(root().join(format!("specs/{spec}.toml"))).expect("spec");
        with(spec, &bytes, |worked, drawings| look(spec, worked, drawings));
    }
}

fn of(drawings: &[Drawing], subject: Subject) -> Vec<&Drawing> {
    drawings.iter().filter(|d| d.subject == subject).collect()
}

/// The plans of the levels: those with a key.
fn plans(drawings: &[Drawing]) -> Vec<&Drawing> {
    let keyed = |d: &&Drawing| d.subject == Subject::Plan && !["arrangement", "sides"].contains(&d.about.as_str());
    drawings.iter().filter(keyed).collect()
}

fn says(drawing: &Drawing, text: &str) -> usize {
    drawing.labels.iter().filter(|l| l.text == text).count()
}

/// How often an id stands in the keys of a drawing: ids are grey, at the end of their row.
fn lists(drawing: &Drawing, id: &str) -> usize {
    drawing.svg.matches(&format!("text-anchor=\"end\" fill=\"#595959\">{id}</text>")).count()
}

/// The numbered balloons of a view: middle and number. Those of the key are a little smaller.
fn balloons(drawing: &Drawing) -> Vec<((f64, f64), String)> {
    let round = circles(drawing).into_iter().filter(|(_, r)| (*r - 2.3).abs() < 1e-9);
    let within = |c: (f64, f64)| {
        let area = Area::at(c.0 - 2.3, c.1 - 2.3, 4.6, 4.6);
        let label = drawing.labels.iter().find(|l| area.holds(&l.area)).expect("a number in its balloon");
        (c, label.text.clone())
    };
    round.map(|(c, _)| within(c)).collect()
}

fn scale_of(drawing: &Drawing) -> f64 {
    let text = drawing.labels.iter().find_map(|l| l.text.strip_prefix("1:")).expect("a scale");
    text.parse().expect("a number")
}

/// Straight lines with two ends, in millimetres.
fn lines(drawing: &Drawing) -> Vec<((f64, f64), (f64, f64))> {
    let read = roxmltree::Document::parse(&drawing.svg).expect("XML");
    let line = |d: &str| {
        let (from, to) = d.strip_prefix('M')?.split_once('L')?;
        let point = |text: &str| {
            let (x, y) = text.split_once(' ')?;
            Some((x.parse().ok()?, y.parse().ok()?))
        };
        Some((point(from)?, point(to)?))
    };
    read.descendants().filter_map(|n| line(n.attribute("d")?)).collect()
}

fn circles(drawing: &Drawing) -> Vec<((f64, f64), f64)> {
    let read = roxmltree::Document::parse(&drawing.svg).expect("XML");
    let number = |n: &roxmltree::Node<'_, '_>, name: &str| n.attribute(name)?.parse::<f64>().ok();
    let one = |n: roxmltree::Node<'_, '_>| Some(((number(&n, "cx")?, number(&n, "cy")?), number(&n, "r")?));
    read.descendants().filter_map(one).collect()
}

fn numbered<'a>(build: &'a Build<'a>) -> Vec<Spot<'a>> {
    spots(build, &Van::of(build).expect("a wheelbase"))
}

#[test]
fn measures_on_the_sheet_times_the_scale_are_those_of_the_spec() {
    each(|spec, worked, drawings| {
        let vehicle = &worked.build.spec.vehicle;
        let sheet = drawings.iter().find(|d| d.about == "arrangement").expect("arrangement");
        let scale = scale_of(sheet);
        assert!(sheet.true_size, "{spec}: a scale holds at its own size only");
        let drawn = lines(sheet);
        let across = |mm: f64| drawn.iter().any(|(a, b)| a.1 == b.1 && ((a.0 - b.0).abs() - mm).abs() < 0.021);
        let upright = |mm: f64| drawn.iter().any(|(a, b)| a.0 == b.0 && ((a.1 - b.1).abs() - mm).abs() < 0.021);
        for field in ["wheelbase", "length", "front_overhang", "rear_overhang", "track"] {
            if let Some(Metres(m)) = vehicle.metres(field) {
                assert!(across(m * 1000.0 / scale), "{spec}: no line is as long as its {field}");
            }
        }
        for field in ["height", "floor_height", "width"] {
            if let Some(Metres(m)) = vehicle.metres(field).filter(|_| spec != "heron" || field == "width") {
                assert!(upright(m * 1000.0 / scale), "{spec}: no line is as long as its {field}");
            }
        }
        // The wheels stand a wheelbase apart, on the ground.
        let Metres(wheelbase) = vehicle.metres("wheelbase").expect("wheelbase");
        let tyre = vehicle.metres("tyre_radius").map_or(0.34, |m| m.0) * 1000.0 / scale;
        let wheels: Vec<_> = circles(sheet).into_iter().filter(|(_, r)| (r - tyre).abs() < 0.01).collect();
        assert_eq!(wheels.len(), 2, "{spec}");
        assert!((wheels[1].0.0 - wheels[0].0.0 - wheelbase * 1000.0 / scale).abs() < 0.021, "{spec}");
        if let Some(text) = vehicle.metres("wheelbase").map(|m| m.show(worked.build.prints())) {
            assert!(says(sheet, &text) >= 1, "{spec}: the dimension {text} is missing");
        }
    });
}

#[test]
fn every_placed_component_is_in_exactly_one_key_beside_its_place() {
    each(|spec, worked, drawings| {
        let build = &worked.build;
        let keys = plans(drawings);
        let spots = numbered(build);
        let first: BTreeMap<&str, usize> = spots
            .iter()
            .flat_map(|s| s.parts.iter().filter(|(_, here)| *here).map(|(p, _)| (p.id.as_str(), s.number)))
            .collect();
        let mut placed = 0;
        for part in build.parts.values() {
            let known = part.places.iter().any(|p| build.spec.places.contains_key(p));
            let sheets: Vec<_> = keys.iter().filter(|d| lists(d, &part.id) > 0).collect();
            let times: usize = sheets.iter().map(|d| lists(d, &part.id)).sum();
            let wanted = usize::from(known && !part.confidential);
            assert_eq!(times, wanted, "{spec}: {} stands in the keys {times} times", part.id);
            placed += wanted;
            if wanted == 1 {
                let number = first[part.id.as_str()].to_string();
                assert!(says(sheets[0], &number) >= 1, "{spec}: {} without the number of its place", part.id);
            }
        }
        assert_eq!(placed, first.len(), "{spec}");
        assert!(placed > 20, "{spec}: {placed}");
    });
}

#[test]
fn every_place_is_numbered_on_a_plan_and_on_a_side() {
    each(|spec, worked, drawings| {
        let sides = drawings.iter().find(|d| d.about == "sides").expect("sides");
        for spot in numbered(&worked.build).iter().filter(|s| s.level != Level::Nowhere) {
            let number = spot.number.to_string();
            let once = |d: &Drawing| balloons(d).iter().filter(|(_, n)| *n == number).count();
            assert_eq!(once(sides), 1, "{spec}: {} on the sides", spot.id);
            assert_eq!(plans(drawings).into_iter().map(once).sum::<usize>(), 1, "{spec}: {} on the plans", spot.id);
        }
    });
}

#[test]
fn every_dot_and_number_lies_where_its_place_is() {
    each(|spec, worked, drawings| {
        let spots = numbered(&worked.build);
        for sheet in plans(drawings).into_iter().filter(|d| d.labels.iter().any(|l| l.text.starts_with("1:"))) {
            let scale = scale_of(sheet);
            let balloons = balloons(sheet);
            assert!(!balloons.is_empty(), "{spec}: {}", sheet.stem);
            // From balloon to place: by its line, or its own middle; all places share one shift of the sheet.
            let lines = lines(sheet);
            let (mut along, mut across) = ((f64::MIN, f64::MAX), (f64::MIN, f64::MAX));
            for (centre, number) in balloons {
                let spot = spots.iter().find(|s| s.number.to_string() == number).expect("its place");
                let end = lines.iter().find(|(a, _)| *a == centre).map_or(centre, |(_, b)| *b);
                let at = spot.middle().expect("a middle");
                let half = spot.space.map_or([0.0; 3], |s| s.size().map(|d| d / 2.0));
                let k = 1000.0 / scale;
                // The end may be anywhere in the box: the shift lies between these.
                for (axis, at_end, all) in [(0, end.0, &mut along), (1, end.1, &mut across)] {
                    all.0 = f64::max(all.0, at_end - (at[axis] + half[axis]) * k);
                    all.1 = f64::min(all.1, at_end - (at[axis] - half[axis]) * k);
                }
            }
            assert!(along.0 <= along.1 + 0.05, "{spec}: {}: along", sheet.stem);
            assert!(across.0 <= across.1 + 0.05, "{spec}: {}: across", sheet.stem);
        }
    });
}

/// The plan of a packet names each place with work in it once, with the number that it has on every sheet.
#[test]
fn a_stage_shows_the_places_of_its_work_and_no_others() {
    each(|spec, worked, drawings| {
        let build = &worked.build;
        let van = Van::of(build).expect("measures");
        let mut found = 0;
        for stage in Stage::ALL {
            let sheets: Vec<_> = of(drawings, Subject::Stage).into_iter().filter(|d| d.about == stage.id()).collect();
            let tasks = build.tasks.values().filter(|t| t.stage == *stage);
            let worked_on: BTreeSet<&str> = tasks.filter_map(|t| t.part.as_deref()).collect();
            // Where conductors are pulled and terminated, the places of their ends as well.
            let wires = matches!(stage, Stage::ElectricalRoughIn | Stage::ElectricalFitOff);
            let mut ends: BTreeSet<&str> = BTreeSet::new();
            for conductor in build.wiring.conductors.values().filter(|c| wires && is_worked_on(build, c)) {
                for end in conductor.ends() {
                    let own = build.parts.get(&end.part).map_or(&[][..], |part| &part.places);
                    let places = end.place.as_ref().map_or(own, std::slice::from_ref);
                    ends.extend(places.iter().map(String::as_str));
                }
            }
            let has_work = |spot: &&Spot<'_>| {
                ends.contains(spot.id) || spot.parts.iter().any(|(p, _)| worked_on.contains(p.id.as_str()))
            };
            let spots = spots(build, &van);
            let wanted: Vec<String> =
                spots.iter().filter(has_work).map(|spot| format!("{} {}", spot.number, spot.name)).collect();
            let Some(sheet) = sheets.first() else { continue };
            let (_, told) = sheet.description.split_once(". ").expect("a sentence");
            assert_eq!(told.trim_end_matches('.'), wanted.join("; "), "{spec}: {}", stage.id());
            for spot in spots.iter().filter(has_work) {
                let number = spot.number.to_string();
                assert!(sheets.iter().any(|d| says(d, &number) >= 1), "{spec}: {}: {number}", stage.id());
            }
            found += 1;
        }
        assert!(found >= 5, "{spec}: {found} stages");
    });
}

#[test]
fn the_emergency_map_shows_what_there_is() {
    each(|spec, worked, drawings| {
        let build = &worked.build;
        let maps = of(drawings, Subject::Emergency);
        assert_eq!(maps.len(), 1, "{spec}");
        let marked = |p: &&rigbinder::build::Part<'_>| {
            let mark = p.kind.owner.emergency_map;
            let window = p.kind.id == "window";
            mark.is_some() && (!window || p.record.flag("escape")) && !p.confidential
        };
        let things: Vec<_> = build.parts.values().filter(marked).collect();
        for thing in &things {
            assert!(maps[0].description.contains(&thing.name), "{spec}: {} is not on the map", thing.id);
        }
        let kinds: BTreeSet<EmergencyMark> = things.iter().filter_map(|p| p.kind.owner.emergency_map).collect();
        for mark in kinds {
            assert!(says(maps[0], mark.title()) >= 1, "{spec}: {}", mark.id());
        }
        assert_eq!(drawings[0].subject, Subject::Emergency, "{spec}: it comes first");
    });
}

#[test]
fn hidden_parts_are_on_no_drawing_to_scale() {
    let mut hidden = 0;
    for spec in SPECS {
        let bytes = std::fs::read(root().join(format!("specs/{spec}.toml"))).expect("spec");
        let text = String::from_utf8(bytes).expect("UTF-8");
        // The same build with its keyed switches hidden.
        let text = text.replace("\"keyed\"", "\"hidden\"");
        hidden += with(spec, text.as_bytes(), |worked, drawings| {
            let secret: Vec<_> = worked.build.parts.values().filter(|p| p.confidential).collect();
            let to_scale = [Subject::Plan, Subject::Stage, Subject::Emergency, Subject::Storage, Subject::Weight];
            for drawing in drawings.iter().filter(|d| to_scale.contains(&d.subject)) {
                for part in &secret {
                    assert_eq!(lists(drawing, &part.id), 0, "{spec}: {} on {}", part.id, drawing.stem);
                    assert!(!drawing.svg.contains(&format!(">{}<", part.name)), "{spec}: {}", part.name);
                }
            }
            secret.len()
        });
    }
    assert!(hidden > 0, "no spec has anything to hide: the test proves nothing");
}

#[test]
fn the_weight_sheet_prints_the_figures_of_the_ledger() {
    each(|spec, worked, drawings| {
        let sheets = of(drawings, Subject::Weight);
        assert_eq!(sheets.len(), 1, "{spec}");
        let prints = worked.build.prints();
        let mut figures = 0;
        for case in &worked.weight.cases {
            for formula in ["front-axle", "rear-axle", "total-mass"] {
                let figure = worked.ledger.get(&format!("{}.{formula}", case.id.id())).expect("a figure");
                assert!(says(sheets[0], &figure.show(prints)) >= 1, "{spec}: {}", figure.id);
                let margin = figure.show_margin(prints).map(|m| format!("{m} left"));
                if let Some(margin) = margin.filter(|_| figure.limit.as_ref().is_some_and(|l| l.kept)) {
                    assert!(says(sheets[0], &margin) >= 1, "{spec}: {}: {margin}", figure.id);
                }
                figures += 1;
            }
        }
        assert_eq!(figures, 18, "{spec}");
        // What is added is all listed: the places and the rest make up the whole.
        let id = worked.weight.cases.last().expect("cases").id;
        let by_place: f64 = worked.weight.items.by_place(id).values().map(|m| m.0).sum();
        let added = worked.weight.case(id).expect("case").added.0;
        assert!((by_place - added).abs() < 1e-9 * added.max(1.0), "{spec}: {by_place} of {added}");
    });
}

#[test]
fn the_storage_map_names_every_store_with_its_limit() {
    each(|spec, worked, drawings| {
        let build = &worked.build;
        let sheets = of(drawings, Subject::Storage);
        let stores = build.parts.values().filter(|p| p.kind.load.as_ref().is_some_and(|l| l.rating.is_some()));
        for part in stores.filter(|p| !p.places.is_empty() && !p.confidential) {
            let limit = part.kind.load.as_ref().and_then(|l| l.rating.as_ref()).map(|r| &r.limit).expect("limit");
            let told = sheets.iter().any(|d| d.description.contains(&part.name));
            assert!(told, "{spec}: {} is not on the map", part.id);
            if let Some(most) = part.record.kilograms(limit) {
                let text = format!("at most {}", most.bound(rigbinder::units::Bound::Most, build.prints()));
                let told = sheets.iter().any(|d| d.description.contains(&text));
                assert!(told, "{spec}: {}: {text}", part.id);
            }
        }
        assert_eq!(sheets.is_empty(), spec == "weekend", "{spec}");
    });
}

const SMALL: &str = "format = 1\n[build]\ntitle = \"Small\"\nnumber = \"1\"\nrevision = \"A\"\nrules = \"eu\"\n";

#[test]
fn a_build_without_a_van_or_places_has_nothing_to_draw() {
    let none = with("none", SMALL.as_bytes(), |_, drawings| drawings.len());
    assert_eq!(none, 0);
    let van = format!("{SMALL}[vehicle]\nwheelbase = \"3 m\"\n");
    with("van", van.as_bytes(), |_, drawings| {
        let stems: Vec<&str> = drawings.iter().map(|d| d.stem.as_str()).collect();
        assert_eq!(stems, ["plan-0-arrangement"], "a van with nothing in it has its outline alone");
    });
}

#[test]
fn crowded_or_mistyped_places_stay_on_the_sheet() {
    use std::fmt::Write as _;
    let mut text = format!("{SMALL}[vehicle]\nwheelbase = \"3 m\"\n");
    for n in 0..120 {
        let _ = write!(
            text,
            "[place.p{n}]\nat = [\"{} m\", \"0.1 m\", \"0.1 m\"]\nsize = [\"0.3 m\", \"0.2 m\", \"0.2 m\"]\n\
             [component.c{n}]\nkind = \"compartment\"\nplace = \"p{n}\"\n",
            f64::from(n % 7) * 0.1 + 1.0
        );
    }
    text.push_str("[place.far]\nat = [\"4000 m\", \"0 m\", \"900 m\"]\n[component.far]\nkind = \"compartment\"\nplace = \"far\"\n");
    with("crowded", text.as_bytes(), |worked, drawings| {
        assert_eq!(worked.build.parts.len(), 121);
        for drawing in drawings {
            let sheet = Area::at(0.0, 0.0, drawing.size.0, drawing.size.1);
            for (n, label) in drawing.labels.iter().enumerate() {
                assert!(sheet.holds(&label.area), "{}: {} leaves the sheet", drawing.stem, label.text);
                let over = drawing.labels[..n].iter().find(|o| o.area.overlaps(&label.area));
                assert!(over.is_none(), "{}: {} lies over {over:?}", drawing.stem, label.text);
            }
        }
        let listed: usize = plans(drawings).iter().map(|d| says(d, "far")).sum();
        assert_eq!(listed, 2, "the place by its name, the component by its id");
    });
}
