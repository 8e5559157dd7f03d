//! Terminal plans: each conductor of a panel, bar, shunt or fuse stands in its plan with its lug, and nothing else does.

use crate::harness::root;
use rigbinder::build::Purpose;
use rigbinder::drawings::{Drawing, PAGE, Subject};
use rigbinder::kinds::Role;
use rigbinder::pipeline::{self, Worked};
use std::collections::BTreeMap;

fn worked(name: &str, with: impl Fn(&Worked<'_>, &[Drawing])) {
    let text = std::fs::read_to_string(root().join(format!("specs/{name}.toml"))).expect("spec");
    let loaded = pipeline::load(crate::harness::house(), name, text.as_bytes()).expect("loaded");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let plans: Vec<Drawing> =
        pipeline::drawings(&worked).into_iter().filter(|d| d.subject == Subject::Terminals).collect();
    with(&worked, &plans);
}

/// Texts below the name of a part on its sheets, up to the name of the next one.
fn block<'d>(plans: &'d [Drawing], names: &[&str], name: &str) -> Vec<&'d str> {
    let mut out = Vec::new();
    for plan in plans {
        let heads: Vec<(usize, &str)> = plan
            .labels
            .iter()
            .enumerate()
            .filter(|(_, l)| l.area.left < 1.1 && l.area.height() > 2.7 && l.area.top > 10.0)
            .map(|(at, l)| (at, l.text.trim_end_matches(", continued")))
            .collect();
        for (nth, (at, head)) in heads.iter().enumerate() {
            assert!(names.contains(head), "{}: {head} is no part with a plan", plan.stem);
            if *head == name {
                let end = heads.get(nth + 1).map_or(plan.labels.len(), |(next, _)| *next);
                out.extend(plan.labels[*at..end].iter().map(|l| l.text.as_str()));
            }
        }
    }
    out
}

#[test]
fn every_conductor_of_a_panel_is_in_its_plan() {
    let mut seen = 0;
    for spec in ["heron", "turnstone", "purfling", "weekend", "basalt"] {
        worked(spec, |worked, plans| {
            let build = &worked.build;
            let names: Vec<&str> = build.parts.values().map(|p| p.name.as_str()).collect();
            let mut cores: BTreeMap<&str, usize> = BTreeMap::new();
            for conductor in build.wiring.conductors.values() {
                *cores.entry(conductor.cable.as_str()).or_default() += 1;
            }
            for part in build.parts.values() {
                let wanted = part.roles.negative_bar.is_some()
                    || part.role().is_some_and(|role| {
                        role.has_ways() || matches!(role, Role::Bus | Role::Shunt | Role::Protection | Role::Rcd)
                    });
                if !wanted {
                    continue;
                }
                let texts = block(plans, &names, &part.name);
                let mut labels: Vec<&str> = Vec::new();
                for conductor in build.wiring.conductors.values() {
                    let whole = conductor.circuit.as_ref().filter(|_| conductor.purpose == Purpose::Circuit);
                    let in_jacket = cores[conductor.cable.as_str()] > 1;
                    let label = if in_jacket { whole.unwrap_or(&conductor.cable) } else { &conductor.id };
                    labels
                        .extend(conductor.ends().into_iter().filter(|end| end.part == part.id).map(|_| label.as_str()));
                }
                for label in &labels {
                    let there = texts.iter().filter(|t| *t == label).count();
                    let ends = labels.iter().filter(|l| l == &label).count();
                    assert_eq!(there, ends, "{spec}: {label} at {}: {texts:?}", part.id);
                }
            }
        });
        seen += 1;
    }
    assert_eq!(seen, 5);
}

/// The lug and torque of an end are those that the packet and the labels print.
#[test]
fn an_end_in_a_plan_has_its_lug_and_torque() {
    worked("heron", |worked, plans| {
        // A conductor by itself, and the first core of a jacket, which bears the label of its circuit. Most torques are the
        // makers'; that of a screw which clamps a conductor goes by the conductor.
        let mut torques = 0;
        for (id, at) in [
            ("fridge.supply", "fridge.supply"),
            ("induction.supply", "induction"),
            ("water-pump.supply", "water-pump.supply"),
        ] {
            let end = &worked.electrical.conductors[id].ends[0];
            let print = |t| rigbinder::units::print(rigbinder::units::Dimension::Torque, t, worked.build.prints());
            torques += usize::from(end.torque.is_some());
            let told = end.torque.map_or_else(|| end.lug(), |t| format!("{} · {}", end.lug(), print(t)));
            let plan = plans.iter().find(|p| p.labels.iter().any(|l| l.text == at)).expect("its plan");
            let label = plan.labels.iter().find(|l| l.text == at).expect("its label");
            let below = plan.labels.iter().find(|l| {
                (l.area.right - label.area.right).abs() < 0.2 && (1.0..5.0).contains(&(l.area.top - label.area.top))
            });
            assert_eq!(below.expect("a text below it").text, told, "{id}");
        }
        assert!(torques > 0, "no torque is told");
        let plan = plans.iter().find(|p| p.labels.iter().any(|l| l.text == "fridge.supply")).expect("its plan");
        let label = plan.labels.iter().find(|l| l.text == "fridge.supply").expect("its label");
        // Its way and its negative stand in the same row.
        let row: Vec<&str> =
            plan.labels.iter().filter(|l| (l.area.top - label.area.top).abs() < 3.5).map(|l| l.text.as_str()).collect();
        let way = format!("way {}", worked.build.circuits["fridge"].way.expect("a way"));
        assert!(row.contains(&way.as_str()) && row.contains(&"fridge.return"), "{row:?}");
    });
}

#[test]
fn plans_fit_their_page() {
    for spec in ["heron", "turnstone", "purfling", "weekend", "basalt"] {
        worked(spec, |_, plans| {
            assert!(!plans.is_empty(), "{spec}");
            for plan in plans {
                assert!(plan.size.1 <= PAGE.1 && plan.size.0 <= PAGE.0, "{spec}: {} {:?}", plan.stem, plan.size);
            }
            if let Ok(folder) = std::env::var("ONE_LINE_OUT") {
                for plan in plans {
                    std::fs::write(format!("{folder}/{spec}-{}.svg", plan.stem), &plan.svg).expect("written");
                }
            }
        });
    }
}
