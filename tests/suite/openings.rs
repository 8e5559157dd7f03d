//! The opening schedule: every hole through the vehicle's skin, once, in its surface, where the spec says or as a blank.

use crate::harness::{demo_specs, house, load, sheets};
use rigbinder::compute::geometry::openings::{Middle, Opening, Surface, openings};
use rigbinder::kinds::Library;
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
    let mut silent: Vec<String> = tasks
        .filter(|(_, task)| task.brings("cut") && !task.cut_outs.iter().any(|cut| cut.through.is_some()))
        .map(|(id, _)| id)
        .collect();
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
