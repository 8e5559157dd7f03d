//! One fastener has one torque, in whatever document it stands.

use crate::harness::{demo_specs, load, sheets};
use rigbinder::kinds::Library;
use rigbinder::pipeline;
use rigbinder::tables::bolts;
use std::collections::{BTreeMap, BTreeSet};

/// Thread and class of a fastener in the words of a document; `None` where a soft joint or a softer metal makes it another
/// one.
fn fastener(words: &str) -> Option<(String, &'static str)> {
    let other = ["gasket", "soft", "inserts", "copper", "brass", "battery", "terminal screws"];
    if other.iter().any(|word| words.contains(word)) {
        return None;
    }
    let thread = words.split([' ', ',']).next().filter(|t| bolts::Metric::named(t).is_some())?;
    let class = ["class 8.8", "class 10.9", "A2-70"].into_iter().find(|class| words.contains(class))?;
    Some((thread.to_owned(), class))
}

/// What a packet prints between the words of a fastener and its source.
fn printed(markdown: &str) -> Vec<(String, String)> {
    let lines = markdown.lines().filter_map(|line| line.split_once("Torque: "));
    let parts = lines.filter_map(|(_, rest)| {
        let (what, value) = rest.split_once(" **")?;
        Some((what.to_owned(), value.split("**").next()?.to_owned()))
    });
    parts.collect()
}

#[test]
fn the_same_bolt_never_has_two_torques() {
    let mut seen = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let system = worked.build.prints();
        let mut told: BTreeMap<(String, &str), BTreeSet<String>> = BTreeMap::new();
        for sheet in sheets(&loaded) {
            for (what, value) in printed(&sheet.markdown) {
                let Some(key) = fastener(&what) else { continue };
                // A packet gives both scales: "25.5 N m (18.8 ft lb)".
                let ours = value.split_once(" (").map_or(value.as_str(), |(_, us)| us.trim_end_matches(')'));
                told.entry(key).or_default().insert(ours.replace('\u{a0}', " "));
            }
        }
        for figure in worked.ledger.figures().filter(|f| f.formula == "torque") {
            let key = figure.inputs.iter().find_map(|i| fastener(&i.show(system))).expect("size and class");
            told.entry(key).or_default().insert(figure.value.show(system));
        }
        for ((thread, class), values) in &told {
            assert_eq!(values.len(), 1, "{}: {thread} {class}: {values:?}", path.display());
        }
        seen += told.len();
    }
    assert!(seen >= 10, "only {seen} fasteners were told");
}

/// No kind writes down a figure that a table has, and every figure can be told.
#[test]
fn a_torque_has_one_home() {
    let library = Library::load(crate::harness::built_in()).expect("kinds");
    for kind in library.iter() {
        for torque in kind.tasks.iter().flat_map(|t| &t.torque) {
            // A row for one choice of a field alone.
            let row = torque.what.strip_suffix("{% endif %}");
            let row = row.map_or(torque.what.as_str(), |all| all.split_once("%}").map_or(all, |(_, what)| what));
            // The size of bolts that the spec gives.
            let what = row.split("%}").last().unwrap_or_default().replace("{{ bolt_size }}", "M8");
            let what = if row.starts_with("{%") { format!("M8{what}") } else { what };
            let figure = torque.figure(&what);
            let makers = torque.value == "by maker";
            assert!(figure.is_some() != makers, "{}: nobody knows the torque of {what}", kind.id);
            assert!(
                fastener(&what).is_none() || torque.value.starts_with("by "),
                "{}: {what}: {} stands here and in a table",
                kind.id,
                torque.value
            );
            assert!(!torque.basis(&what).trim().is_empty() && !torque.source.is_empty(), "{}: {what}", kind.id);
        }
    }
}

/// What makes an electrical joint good its maker alone knows: an end tells his figure where the spec gives it, that of UL
/// 486A-486B for the screws it was made for, else nothing; and the packet leaves a blank.
#[test]
fn no_end_has_a_torque_by_rule_of_thumb() {
    let (mut given, mut blank) = (0, 0);
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        for (id, figures) in &worked.electrical.conductors {
            for (end, landing) in figures.ends.iter().zip(worked.build.wiring.conductors[id].ends()) {
                let said = worked
                    .build
                    .parts
                    .get(&landing.part)
                    .and_then(|p| p.said_of_post(&p.post(landing)?.id)?.torque.get());
                match (end.torque, said) {
                    (Some(torque), Some(said)) => assert!((torque - said.0).abs() < 1e-12, "{id}"),
                    // A bolt into the body is one of its class.
                    (Some(_), None) if worked.build.parts[&landing.part].roles.chassis_bond.is_some() => {
                        assert!(end.basis.starts_with("class 8.8"), "{id}: {}", end.basis);
                    }
                    (Some(_), None) => assert!(end.basis.starts_with("UL 486A-486B"), "{id}: {}", end.basis),
                    (None, None) => blank += 1,
                    (None, Some(said)) => panic!("{id}: {said:?} is printed nowhere"),
                }
                given += usize::from(said.is_some());
            }
        }
        let rows: Vec<String> =
            sheets(&loaded).into_iter().filter(|s| s.stem.starts_with("packet-08")).map(|s| s.markdown).collect();
        assert!(
            rows.iter().all(|text| text.contains("Torque: M8 studs ______")
                || text.contains(" ______ (the ")
                || !text.contains("Torque: M")),
            "a blank"
        );
    }
    assert!(given > 3 && blank > 50, "{given} given, {blank} blank");
}
