//! The opening schedule: every hole through the vehicle's skin, once, in its surface, where the spec says or as a blank.

use crate::harness::{demo_specs, house, load, sheets};
use rigbinder::compute::geometry::openings::{Middle, Opening, Surface, openings};
use rigbinder::kinds::{Library, Stage, TaskTemplate};
use rigbinder::pipeline;
use std::collections::BTreeMap;

/// Tasks that cut metal of which no opening can be told, and why.
const OTHERS: [(&str, &str); 4] = [
    ("chassis-bond.point", "a hole in a frame part, not through the skin"),
    ("grey-tank.hang", "holes of the chassis that are there"),
    ("metalwork.cut", "the method for the openings of all"),
    ("mud-flaps.fit", "holes in the lip of a wheel arch"),
];

#[test]
fn who_cuts_the_body_says_what_opening() {
    let library = Library::load(house()).expect("kinds");
    let tasks = library.iter().flat_map(|k| k.tasks.iter().map(move |t| (format!("{}.{}", k.id, t.id), t)));
    let mut silent: Vec<String> =
        tasks.filter(|(_, task)| task.brings("cut") && !task.cuts_skin()).map(|(id, _)| id).collect();
    silent.sort();
    assert_eq!(silent, OTHERS.map(|(id, _)| id));
}

#[test]
fn every_opening_stands_once_in_the_schedule_and_only_there() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let all = openings(build);
        let mut counted: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        for task in build.tasks.values() {
            let Some((template, part)) = task.template.zip(task.part.as_ref().map(|p| &build.parts[p])) else {
                continue;
            };
            let through = template.cut_outs_of(part.record).filter(|cut| cut.through.is_some()).count();
            if through > 0 && !part.confidential {
                counted.insert((&part.id, &template.id), through * part.places.len().max(1));
            }
        }
        let mut told: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        for opening in &all {
            *told.entry((&opening.part.id, &opening.task.template.expect("of a kind").id)).or_default() += 1;
        }
        assert_eq!(told, counted, "{}", path.display());
        let packets: Vec<_> = sheets(&loaded).into_iter().filter(|s| s.stem.contains("packet")).collect();
        let with: Vec<_> = packets.iter().filter(|s| s.markdown.contains("## Opening schedule")).collect();
        assert_eq!(with.len(), usize::from(!all.is_empty()), "{}", path.display());
        let Some(with) = with.first() else { continue };
        let section = &with.markdown[with.markdown.find("## Opening schedule").expect("there")..];
        for number in 1..=all.len() {
            assert_eq!(section.matches(&format!("\n| {number} ☐ | ")).count(), 1, "{}: {number}", path.display());
        }
        assert!(!section.contains(&format!("\n| {} ☐ | ", all.len() + 1)));
    }
}

/// A van 2 m wide whose rear wall is 5 m behind the front axle, and one part at one place.
fn one(place: &str, component: &str, hold: impl Fn(&[Opening<'_>])) {
    let text = format!(
        "spec = 2\n[build]\ntitle = \"One\"\nrules = \"eu\"\n[vehicle]\nwheelbase = \"4 m\"\nrear_overhang = \"1 m\"\n\
         front_overhang = \"1 m\"\nwidth = \"2 m\"\n[place]\nhere = {{ about = \"Here\", {place} }}\n[component]\nx = {{ {component}, place = \"here\" }}\n"
    );
    let loaded = pipeline::load(house(), "one.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    hold(&openings(&worked.build));
}

/// By hand: the middle of a box is its middle in every direction, and the nearest wall is the one with the smallest gap.
#[test]
fn the_surface_is_the_nearest_and_its_measures_are_those_of_the_place() {
    let near = |at: &[Opening<'_>]| match at[0].middle {
        Middle::Near(at) => at.map(|m| (m.0 * 1000.0).round() / 1000.0),
        other => panic!("{other:?}"),
    };
    let inlet = "kind = \"shore-inlet\"";
    // Left: gaps 0.1 to the left, 1.5 to the right, 2.4 to the rear.
    one(r#"at = ["2.4 m", "0.7 m", "0.3 m"], size = ["0.4 m", "0.4 m", "0.6 m"]"#, inlet, |all| {
        assert_eq!((all.len(), all[0].surface), (1, Some(Surface::Left)));
        assert!(near(all) == [2.4, 0.6], "{:?}", near(all));
    });
    // Rear: gaps 0.9 and 0.7 to the sides, 0.05 to the rear.
    one(r#"at = ["4.85 m", "-0.1 m", "1 m"], size = ["0.2 m", "0.4 m", "0.2 m"]"#, inlet, |all| {
        assert_eq!(all[0].surface, Some(Surface::Rear));
        assert!(near(all) == [-0.1, 1.1], "{:?}", near(all));
    });
    one(
        r#"at = ["2 m", "0.2 m", "1.9 m"], size = ["0.4 m", "0.4 m", "0.1 m"], zone = "roof""#,
        "kind = \"roof-fan\"",
        |all| {
            assert_eq!(all[0].surface, Some(Surface::Roof));
            assert!(near(all) == [2.0, 0.2], "{:?}", near(all));
        },
    );
    one(r#"zone = "underbody""#, inlet, |all| {
        assert_eq!((all[0].surface, all[0].middle), (Some(Surface::Floor), Middle::Unknown));
    });
    one(r#"zone = "cabin""#, inlet, |all| assert_eq!((all[0].surface, all[0].middle), (None, Middle::Unknown)));
    let given = "kind = \"shore-inlet\", opening_at = [\"3 m\", \"0.5 m\"]";
    one(r#"at = ["2.4 m", "0.7 m", "0.3 m"], size = ["0.4 m", "0.4 m", "0.6 m"]"#, given, |all| {
        let Middle::Given(at) = all[0].middle else { panic!("{:?}", all[0].middle) };
        assert_eq!(at.map(|m| m.0), [3.0, 0.5]);
    });
    // An air conditioner under a bench breathes through the floor, one on the roof through that.
    let box_ = r#"at = ["2 m", "0 m", "0 m"], size = ["0.6 m", "0.6 m", "0.3 m"]"#;
    for (mounting, surface) in [("roof", Surface::Roof), ("under-bench", Surface::Floor)] {
        one(box_, &format!("kind = \"air-conditioner\", mounting = \"{mounting}\""), |all| {
            assert_eq!(all.iter().map(|o| o.surface).collect::<Vec<_>>(), [Some(surface)]);
        });
    }
}

/// A window in a pod is no second hole beside that of the pod; an inlet is where its field says; each bolt has its own blank.
#[test]
fn every_hole_is_cut_once_where_it_is() {
    let box_ = r#"at = ["2.4 m", "0.7 m", "0.3 m"], size = ["0.4 m", "0.4 m", "0.6 m"]"#;
    one(box_, "kind = \"window\", set_in = \"pod\"", |all| assert!(all.is_empty(), "{all:?}"));
    one(box_, "kind = \"window\"", |all| assert_eq!(all.len(), 1));
    // Eight bolts of each of two rails.
    one(box_, "kind = \"lashing-rail\", count = 2, bolts = 8", |all| {
        assert_eq!((all.len(), all[0].holes), (1, 16));
    });
    // The place of its inlet, not that of the module.
    let two = format!(
        "{box_} }}\nouter = {{ about = \"Outer\", at = [\"2 m\", \"-0.9 m\", \"0.5 m\"], size = [\"0.1 m\", \"0.1 m\", \"0.1 m\"]"
    );
    one(&two, "kind = \"portable-array\", inlet_at = \"outer\"", |all| {
        assert_eq!((all.len(), all[0].place, all[0].surface), (1, "outer", Some(Surface::Right)));
    });
    // One point is that of one opening: exhaust, intake, relief and fuel line are not at the same.
    one(box_, "kind = \"water-heater-fuel\", opening_at = [\"2 m\", \"0.4 m\"]", |all| {
        let given = all.iter().filter(|o| matches!(o.middle, Middle::Given(_))).count();
        assert_eq!((all.len(), given), (4, 1));
    });
}

/// After the floor is laid nobody gets at its holes from above, and what is drilled then is bare.
#[test]
fn the_skin_is_cut_before_the_floor_is_laid() {
    let library = Library::load(house()).expect("kinds");
    let all = library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t)));
    let through = all.filter(|(_, t)| t.cuts_skin());
    let late: Vec<String> =
        through.filter(|(_, t)| t.stage > Stage::PlumbingRoughIn).map(|(k, t)| format!("{}.{}", k.id, t.id)).collect();
    assert!(late.is_empty(), "{late:?}");
}

/// Where an opening is, the row of the schedule says, and the hold point of the marks confirms it: who cuts chooses nothing, and
/// fits nothing over an edge that is not primed yet.
#[test]
fn who_cuts_neither_chooses_the_place_nor_fits_the_part() {
    const CHOOSES: [&str; 4] = ["Mark ", "Choose ", "Find ", "Place "];
    const FITS: [&str; 8] = ["Fit ", "Push ", "Glue ", "Bed ", "Seal ", "Screw ", "Bolt ", "Set "];
    let library = Library::load(house()).expect("kinds");
    let cutting = library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t)));
    let mut seen = 0;
    for (kind, task) in cutting.filter(|(_, t)| t.stage == Stage::Openings && t.brings("cut")) {
        for step in &task.steps {
            // A step may begin with the words for one choice of a field.
            let parts = step.split('}').chain([step.as_str()]).map(str::trim_start);
            let bad = parts.filter(|p| CHOOSES.iter().chain(&FITS).any(|word| p.starts_with(word))).count();
            assert_eq!(bad, 0, "{}.{}: {step}", kind.id, task.id);
        }
        seen += 1;
    }
    assert!(seen >= 30, "{seen}");
}

/// The coating goes on bare, primed metal and cures; then openings get their parts, and cavities their wax.
#[test]
fn the_coating_is_on_before_seals_and_wax() {
    let mut coated = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let order: Vec<_> = worked.schedule.iter().flat_map(|s| &s.order).collect();
        let task = |id: &str| worked.build.tasks.get(id).and_then(|t| t.template);
        let Some(last) = order.iter().rposition(|s| task(&s.id).is_some_and(|t| t.brings("coated"))) else { continue };
        let cures = worked.build.tasks[&order[last].id].cures;
        for (at, other) in order.iter().enumerate().filter(|(_, s)| s.stage == Stage::Openings.id()) {
            let Some(template) = task(&other.id) else { continue };
            let is_wax = template.steps.iter().any(|s| s.contains("Spray sills, pillars and ribs"));
            if template.brings("sealed") || is_wax {
                assert!(at > last, "{}: {} stands before the coating", path.display(), other.id);
                assert!(other.start >= order[last].finish + cures, "{}: {}", path.display(), other.id);
                coated += 1;
            }
        }
    }
    assert!(coated >= 5, "{coated}");
}

/// Who cuts an opening says so in a step, and a later task of the part closes it round what goes through: an opening that
/// is sealed and never cut, or cut and never sealed, lets nothing in or water.
#[test]
fn every_opening_is_cut_by_one_task_and_closed_by_a_later_one() {
    const CUTS: [&str; 4] = ["cut", "drill", "hole", "saw"];
    const CLOSES: [&str; 9] = ["seal", "gasket", "gland", "grommet", "bed ", "mesh", "boot", "adhesive", "bolt"];
    let library = Library::load(house()).expect("kinds");
    let mut seen = 0;
    for kind in library.iter() {
        let says = |task: &TaskTemplate, words: &[&str]| {
            let texts = task.steps.iter().map(|s| s.to_lowercase());
            texts.into_iter().any(|step| words.iter().any(|w| step.contains(w)))
        };
        for task in kind.tasks.iter().filter(|t| t.cuts_skin()) {
            assert!(says(task, &CUTS), "{}.{} cuts nothing", kind.id, task.id);
            let later = kind.tasks.iter().filter(|t| t.id != task.id && t.stage >= task.stage);
            let closed = later.filter(|t| says(t, &CLOSES)).count();
            assert!(closed > 0, "{}.{}: nobody closes the opening", kind.id, task.id);
            seen += 1;
        }
        // Nobody seals in the skin what only the same step could have cut.
        for task in kind.tasks.iter().filter(|t| t.stage > Stage::Openings) {
            assert!(!task.cuts_skin(), "{}.{} cuts the skin after the openings", kind.id, task.id);
        }
    }
    assert!(seen >= 45, "{seen}");
}
