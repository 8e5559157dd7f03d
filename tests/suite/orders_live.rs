//! Commissioning as it can be worked: nothing runs before it is started, each load by itself before several together, and
//! every fuse goes in by a step.

use crate::harness::{demo_specs, house, load, root, sheets};
use crate::orders::{Placed, in_demos, late};
use rigbinder::build::Feeding;
use rigbinder::compute::network::DeviceAt;
use rigbinder::kinds::{Kind, Library, Network, Role, Stage, TaskTemplate};
use rigbinder::pipeline::{self, Worked};

fn steps<'t>(task: &'t Placed<'_>) -> impl Iterator<Item = &'t String> {
    task.template.into_iter().filter(|_| task.stage == Stage::Commissioning).flat_map(|t| &t.steps)
}

/// What a step of a kind uses, by its words, and the state that must be so first.
const USES: [(&[&str], &str); 4] = [
    (&["{{ largest_load }}"], "inverter-proved"),
    (&["n the inverter", "nverter on", "{{ inverters }} on", "switch Inverter on"], "inverter-live"),
    (&["un the pump", "the pump on.", "un the water pump"], "water-running"),
    (&["Drive "], "aligned"),
];

/// What a task runs has been started by the task that may start it; nobody drives a van that is not weighed and aligned.
fn started_before_it_is_used(order: &[Placed<'_>]) -> Vec<String> {
    let mut faults = Vec::new();
    for (words, state) in USES {
        let uses = |t: &Placed<'_>| steps(t).any(|s| words.iter().any(|w| s.contains(w)));
        faults.extend(late(order, |t| t.brings(state), |t| uses(t) && !t.brings(state)));
    }
    let drives = |t: &Placed<'_>| steps(t).any(|s| s.starts_with("Drive ")) && !t.brings("aligned");
    for state in ["van-weighed", "tyres-set"] {
        faults.extend(late(order, |t| t.brings(state), drives));
    }
    faults
}

/// One load after the other, then several at once.
fn alone_before_together(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let is_load = |t: &Placed<'_>| {
        let part = t.part.and_then(|p| worked.build.parts.get(p));
        t.stage == Stage::Commissioning && part.and_then(rigbinder::build::Part::role) == Some(Role::Load)
    };
    late(order, |t| is_load(t) && t.brings("tried"), |t| t.brings("panels-loaded"))
}

/// What is wrong with the order in which a build comes to life.
pub(crate) fn faults(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let mut all = started_before_it_is_used(order);
    all.extend(alone_before_together(worked, order));
    all
}

#[test]
fn inverter_pump_and_van_are_proved_before_a_test_uses_them() {
    in_demos(|_, order| started_before_it_is_used(order), "inverter-live");
}

#[test]
fn each_load_runs_by_itself_before_a_panel_carries_several() {
    in_demos(alone_before_together, "panels-loaded");
}

fn commissioning(kind: &Kind) -> Vec<&TaskTemplate> {
    kind.tasks.iter().filter(|t| t.stage == Stage::Commissioning).collect()
}

/// Whoever adds a load says which task runs it for the first time, or a panel is loaded before it.
#[test]
fn every_kind_of_load_says_when_it_has_run() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut loads = 0;
    for kind in library.iter().filter(|k| k.roles.contains(&"load")) {
        let tasks = commissioning(kind);
        assert!(tasks.is_empty() || tasks.iter().any(|t| t.brings("tried")), "{} never says that it ran", kind.id);
        loads += tasks.len();
    }
    assert!(loads > 30, "{loads}");
}

/// A charger with the profile of another chemistry harms the bank: it is set before shore power, sun or engine reach it.
#[test]
fn every_charger_is_set_up_before_it_can_charge() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let charges = |k: &&Kind| ["charger", "inverter-charger"].iter().any(|role| k.roles.contains(role));
    let mut set = 0;
    for kind in library.iter().filter(charges) {
        let all: Vec<&String> = commissioning(kind).into_iter().flat_map(|t| &t.steps).collect();
        let first = |words: &[&str]| all.iter().position(|s| words.iter().any(|w| s.contains(w)));
        let profile = first(&["chemistry", "charge profile"]);
        let lets_in = first(&["Plug in shore", "Start the engine", "Close the isolator", "plug in shore power"]);
        let Some((profile, lets_in)) = profile.zip(lets_in) else { continue };
        assert!(profile < lets_in, "{} charges before its profile is set", kind.id);
        set += 1;
    }
    assert!(set >= 4, "{set}");
}

/// The small fuse of a lead goes in in a step that names its rating.
#[test]
fn every_lead_with_a_fuse_has_a_step_that_puts_it_in() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut seen = 0;
    for kind in library.iter() {
        for lead in &kind.leads {
            let Some(field) = lead.fuse_from.as_deref() else { continue };
            let rating = format!("{{{{ {field} }}}}");
            let goes_in = |s: &String| s.contains(&rating) && (s.contains("ut the ") || s.contains("ut its "));
            let told = commissioning(kind).iter().flat_map(|t| &t.steps).any(goes_in);
            assert!(told, "{}: nothing puts the fuse of lead {} in", kind.id, lead.id);
            seen += 1;
        }
    }
    assert!(seen >= 8, "{seen}");
}

/// A fuse that is no way of a panel and no part of its own goes in where its circuit is tested; ways that were left alone
/// while their panel was made live go in in the tests of what they feed.
#[test]
fn every_fuse_goes_in_by_a_step() {
    let mut seen = [0, 0, 0];
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let packet = sheets(&loaded).into_iter().find(|s| s.stem.contains("commissioning"));
        let Some(packet) = packet else { continue };
        let lines = |is: &dyn Fn(&str) -> bool| packet.markdown.lines().any(is);
        for (id, figures) in &worked.electrical.circuits {
            let Some(circuit) = build.circuits.get(id) else { continue };
            let owner = build.parts.get(&circuit.owner).filter(|p| p.is_worked_on());
            // A part that no task proves is a fault of its kind, told elsewhere.
            let proved = owner.is_some_and(|p| !commissioning(p.kind).is_empty());
            if !proved || circuit.feeding == Feeding::Return {
                continue;
            }
            if figures.device.at == DeviceAt::InLine && circuit.network != Network::Ac {
                let named = format!("({id})");
                let puts = |l: &str| l.to_lowercase().contains("put in") && l.contains(&named);
                assert!(lines(&puts), "{}: nothing puts the fuse of {id} in", path.display());
                seen[0] += 1;
                // A fuse on studs goes in with the switch off and nothing measured, told once and named wherever one does.
                if figures.device.family.is_some_and(rigbinder::tables::fuse_series::Family::is_bolted) {
                    let named = |l: &str| puts(l) && l.contains("as “Bolted fuses” says");
                    assert!(lines(&named), "{}: {id} goes in as if it were a blade fuse", path.display());
                    let (_, told) = packet.markdown.split_once("## Bolted fuses").expect("the section is printed");
                    let at = |words: &str| told.find(words).expect("the step is there");
                    assert!(at(" OFF and tag it") < at("Expect 0 V") && at("Expect 0 V") < at("Put the fuse in"));
                    assert!(at("Put the fuse in") < at(" ON, measure behind the fuse"));
                    seen[2] += 1;
                }
            }
            let later = rigbinder::compute::network::waits_for_its_test(build, circuit);
            if let Some(way) = circuit.way.filter(|_| later && circuit.network == Network::Dc) {
                let panel = build.name(&circuit.from);
                // Several that read alike say “way N”, with a column.
                let named = [format!("of way {way} in {panel}"), "of way N in its panel".to_owned()];
                let feeder = format!("feeder's fuse in at {panel}");
                let puts = |l: &str| named.iter().any(|n| l.contains(n)) || l.contains(&feeder);
                assert!(lines(&puts), "{}: nothing puts the fuse of {id} in", path.display());
                seen[1] += 1;
            }
        }
    }
    assert!(seen[0] >= 10 && seen[1] >= 10 && seen[2] >= 8, "{seen:?}");
}

/// The fuse at a starter battery goes in while that battery's negative is off.
#[test]
fn fuses_at_the_starter_battery_go_in_before_it_is_live() {
    in_demos(|_, order| late(order, |t| t.brings("start-fuses-in"), |t| t.brings("vehicle-live")), "start-fuses-in");
}

/// Who reads of a circle learns what each of its tasks waits for.
#[test]
fn a_circle_is_told_with_the_states_that_make_it() {
    let text = format!(
        "{}\n[task.toe]\nstage = \"commissioning\"\ntitle = \"Set the toe\"\nneeds = [\"tyres-set\"]\nbrings = [\"aligned\"]\n\n[task.tyres]\nstage = \"commissioning\"\ntitle = \"Fill the tyres\"\nneeds = [\"aligned\"]\nbrings = [\"tyres-set\"]\n",
        std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec")
    );
    let loaded = pipeline::load(house(), "weekend.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let told = worked.findings.iter().find(|f| f.name == "task-loop").expect("the circle is found");
    let said: Vec<&str> = told.labels.iter().map(|label| label.text.as_str()).collect();
    let said = format!("{} {}", told.here, said.join(" "));
    for (task, before, state) in [("toe", "tyres", "tyres-set"), ("tyres", "toe", "aligned")] {
        let wanted = format!("`{task}` comes after `{before}`, which brings `{state}`");
        assert!(said.contains(&wanted), "{said}");
    }
}

/// A circuit is tested live in the task that runs its load for the first time, and its row says which.
#[test]
fn a_live_test_names_the_task_that_runs_its_load() {
    let mut named = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let Some(packet) = sheets(&loaded).into_iter().find(|s| s.stem.contains("commissioning")) else { continue };
        let Some(at) = packet.markdown.find("## Circuit tests, live") else { continue };
        // The rows stand before or behind the tasks, as the packet has room.
        let tests = &packet.markdown[at..];
        let told: Vec<&str> = packet.markdown.split("\n### ").skip(1).collect();
        for row in
            tests.lines().skip_while(|l| !l.starts_with("| Label | Task |")).skip(2).take_while(|l| l.starts_with('|'))
        {
            let cells: Vec<&str> = row.split('|').map(str::trim).collect();
            let id = cells[1].split('`').nth(1).unwrap_or_default();
            let load = worked.build.circuits.get(id).map(|c| c.to.clone()).unwrap_or_default();
            let Ok(number) = cells[2].parse::<usize>() else { continue };
            let task = told.iter().find(|t| t.starts_with(&format!("{number}. ")));
            let about = task.is_some_and(|t| t.contains(&format!("`{load}.")));
            assert!(about, "{}: {id} is tested in task {number}, which is not about {load}", path.display());
            named += 1;
        }
    }
    assert!(named > 60, "{named}");
}
