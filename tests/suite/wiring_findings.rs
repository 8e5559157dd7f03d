//! What a survey of built wiring found, number by number: which test holds each. What no other file holds is held here.
//!
//! 1. A path without a conductor that carries it: `carried::demo_specs_carry_what_they_must_and_list_every_cable`, its
//!    laws over builds drawn at random in `random::builds_hold_together`,
//!    `carried::the_cable_of_a_shunt_carries_all_mains_or_a_finding_says_that_none_does`.
//! 2. Drop that acceptance lets pass: `acceptance::mains_wiring_may_lose_little_more_than_its_copper`.
//! 3. Continuity below 1 Ω: `acceptance::a_recorded_value_is_held_to_its_own_cable`.
//! 4. Main breaker and residual-current device on every path:
//!    `protection::demo_builds_are_protected_as_their_documents_say`,
//!    `protection::the_way_of_a_shore_input_is_a_breaker`.
//! 5. No credit for a fuse further up: `protection::a_short_is_judged_at_the_place_and_no_fuse_before_it_counts`.
//! 6. A given fault current that is too low: `a_fault_current_far_below_the_usual_is_told`.
//! 7. Polarity of labels: `polarity::no_negative_of_the_demo_vans_is_labelled_with_a_positive_part`.
//! 8. Bonds: `bonds_are_as_thick_as_what_can_flow_in_them`, `no_bond_is_made_at_a_bolt_that_holds_people`.
//! 9. A charger on the alternator: `carried::a_charger_fed_from_the_alternator_has_a_cable_and_a_fuse`.
//! 10. Voltages of networks: all of `networks`.
//! 11. Wire type: `wire::the_wire_is_told_once_a_document`, `wire::sizes_follow_the_insulation_that_the_spec_gives`.
//! 12. Bundling: `what_lies_side_by_side_carries_less`, `channels_of_the_demo_vans_bundle`.
//! 13. Two declarations of one cable: `ac::a_cable_told_at_both_ends_is_one`; pairs in series: `specs/broken`
//!     `two-way-pairs-in-series`; power factor: `a_charger_without_correction_takes_more_current`.
//! 14. EU tables: `wire::eu_mains_carry_what_the_iec_lets_them`, `wire::a_stud_sizes_the_conductor_that_ends_on_it`.
//! 15. Drop from bank to load: `drop_counts_from_the_bank_to_the_load_and_back`,
//!     `no_load_of_the_demo_vans_loses_more_than_its_limit_without_a_word`.
//! 16. Tests that overload: `loads::no_test_of_the_demo_vans_overloads_a_fuse`.
//! 17. Negatives: `wiring::conductors_end_on_posts_that_take_them`, `wiring::every_load_has_a_closed_path`.
//! 18. What was in no list: `wiring::each_conductor_is_in_one_pull_list_and_both_ends_in_one_terminate_list`, all of
//!     `leads`, `wire::every_end_has_its_lug_in_the_list`; walls over untested cables:
//!     `orders::nothing_is_closed_over_an_untested_cable_or_pipe`.
//! 19. What is plugged in, either/or, run-time goals: all of `devices`.
//! 20. One fact in one place: `one_fact_of_the_wiring_stands_in_one_place`.
//! 21. `leads::legs_lead_on_or_from_a_joint`, `wire::demo_specs_have_rings_for_their_studs`,
//!     `wire::every_end_has_its_lug_in_the_list`, `wire::the_packet_says_what_each_crimp_holds`.

use crate::harness::{demo_specs, findings, house, load, root, stem};
use rigbinder::build::Purpose;
use rigbinder::compute::network::Electrical;
use rigbinder::kinds::{Library, Role};
use rigbinder::pipeline::{self, Worked};
use rigbinder::units::ConductorSize;

fn worked<T>(text: &str, look: impl Fn(&Worked<'_>) -> T) -> T {
    let loaded = pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds");
    look(&pipeline::work_out(&loaded).expect("profile"))
}

fn electrical(text: &str) -> Electrical {
    worked(text, |w| w.electrical.clone())
}

fn fires(text: &str, name: &str, id: &str) -> bool {
    findings(text).iter().any(|f| f.name == name && f.headline.starts_with(&format!("{id}:")))
}

/// A bank, a panel and as many lamps in one duct; `lamp` is what the spec says of each.
fn duct(lamps: usize, lamp: &str) -> String {
    let lamps: Vec<String> = (1..=lamps)
        .map(|n| format!("lamp-{n} = {{ kind = \"light-bar\", fed_from = \"panel\", draw = \"168 W\", place = \"galley\", {lamp} }}\n"))
        .collect();
    let lamps = lamps.concat();
    format!(
        r#"
[place]
board  = {{ about = "Board", at = ["3 m", "0.7 m", "0.3 m"] }}
galley = {{ about = "Galley", at = ["1 m", "0.7 m", "0.3 m"] }}
[channel.duct]
about  = "Duct along the wall"
form   = "duct"
inside = "80 mm"
points = [["3 m", "0.7 m", "0.6 m"], ["1 m", "0.7 m", "0.6 m"]]
[component]
bank  = {{ kind = "battery-bank", capacity = "400 Ah", place = "board" }}
fuse  = {{ kind = "main-fuse", fed_from = "bank", run = "0.1 m", place = "board" }}
panel = {{ kind = "fuse-panel", fed_from = "fuse", run = "0.3 m", largest_way = "30 A", place = "board" }}
{lamps}"#
    )
}

/// 33 CFR 183.425 Table 5: 16 AWG of 105 °C carries 25 A; its note 2: 50 % of it where 7 to 24 conductors lie together.
/// 14 A for hours want 17.5 A.
#[test]
fn what_lies_side_by_side_carries_less() {
    let given = "conductor = \"16 AWG\"";
    let lamp = |text: &str| {
        let all = electrical(text);
        let figures = &all.circuits["lamp-1"];
        let sized = figures.conductor().expect("sized");
        (figures.installation.bundled, sized.ampacity.as_ref().expect("in the table").corrected.0, sized.size)
    };
    let (alone, amps, _) = lamp(&duct(1, given));
    assert_eq!((alone, (amps * 10.0).round()), (2, 250.0));
    assert!(!fires(&duct(1, given), "conductor-below-load", "lamp-1"));
    let (four, amps, _) = lamp(&duct(4, given));
    assert_eq!((four, (amps * 10.0).round()), (8, 125.0));
    assert!(fires(&duct(4, given), "conductor-below-load", "lamp-1"));
    // Left open, it grows with what lies beside it: 17.5 A at half of what a size carries.
    let (_, amps, size) = lamp(&duct(4, ""));
    assert!(amps >= 17.5 && size.area().0 > ConductorSize::Awg(16).area().0, "{size}: {amps} A");
    // What the spec says of the bundle wins over the count.
    let told = format!("{given}, bundle = 2");
    assert_eq!(lamp(&duct(4, &told)).0, 2);
}

#[test]
fn channels_of_the_demo_vans_bundle() {
    let mut bundled = 0;
    for path in demo_specs().into_iter().filter(|p| !["weekend", "ember"].contains(&stem(p))) {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let many = worked.electrical.circuits.iter().filter(|(_, f)| f.installation.bundled > 3);
        let of_channels =
            many.filter(|(id, _)| worked.build.wiring.of_circuit(id).any(|c| !c.route.channels.is_empty()));
        let of_channels = of_channels.count();
        assert!(of_channels > 3, "{}: {of_channels}", stem(&path));
        bundled += of_channels;
    }
    assert!(bundled > 30, "{bundled}");
}

/// 75 A at 14.4 V with 88 % are 1227 W; at a power factor of 0.65 and 120 V that is 15.7 A, more than a 15 A breaker
/// takes: P = U × I × λ.
#[test]
fn a_charger_without_correction_takes_more_current() {
    let text = |more: &str| {
        format!(
            r#"
[component]
bank    = {{ kind = "battery-bank", capacity = "400 Ah" }}
inlet   = {{ kind = "shore-inlet", rating = "30 A" }}
unit    = {{ kind = "consumer-unit", fed_from = "inlet", run = "1 m", rating = "30 A" }}
charger = {{ kind = "shore-charger", fed_from = "unit", run = "1 m", output_current = "75 A", feeds = "bank", output_run = "0.5 m", protection = "15 A", efficiency = "88 %"{more} }}
"#
        )
    };
    let amps = |more: &str| electrical(&text(more)).circuits["charger"].demand.load.0;
    let by_hand = 75.0 * 14.4 / 0.88 / 120.0;
    assert!((amps(", power_factor = \"100 %\"") - by_hand).abs() < 1e-9);
    assert!((amps(", power_factor = \"65 %\"") - 15.7).abs() < 0.05);
    assert!((amps("") - by_hand / 0.65).abs() < 1e-9, "what nobody says is without correction");
    assert!(fires(&text(""), "fuse-below-load", "charger"));
    assert!(!fires(&text(", power_factor = \"98 %\""), "fuse-below-load", "charger"));
    // What is read off the plate is what flows.
    assert!((amps(", input_current = \"9 A\"") - 9.0).abs() < 1e-9);
}

/// Each piece by itself is within 3 %, all together are not. NEC Chapter 9 Table 8 with its note 2, stranded, at 20 °C:
/// 14 AWG 8.45 mΩ/m, 8 AWG 2.10 mΩ/m; warm copper has more. Fuses lose beside that.
#[test]
fn drop_counts_from_the_bank_to_the_load_and_back() {
    let text = |feeder: &str, lamp: &str| {
        format!(
            r#"
[component]
bank   = {{ kind = "battery-bank", capacity = "400 Ah" }}
fuse   = {{ kind = "main-fuse", fed_from = "bank", run = "0.1 m" }}
panel  = {{ kind = "fuse-panel", fed_from = "fuse", run = "{feeder}", conductor = "8 AWG", diversity = "100 %" }}
lamp   = {{ kind = "light-zone", fed_from = "panel", run = "4 m", draw = "60 W", critical = true{lamp} }}
second = {{ kind = "light-bar", fed_from = "panel", run = "1 m", draw = "180 W" }}
"#
        )
    };
    let given = ", conductor = \"14 AWG\"";
    let all = electrical(&text("3 m", given));
    let (lamp, panel) = (&all.circuits["lamp"], &all.circuits["panel"]);
    let copper = 5.0 * 8.0 * 8.45e-3 + 20.0 * 6.0 * 2.10e-3;
    let own = [lamp, panel].map(|f| f.conductor().expect("sized").drop.share.0);
    assert!(own.iter().all(|share| *share < 0.035) && own[0] + own[1] > 0.045, "{own:?}");
    // Copper at its working temperature has up to a third more than at 20 °C; two fuses and the main one lose 0.3 V at most.
    assert!(
        lamp.total.0 > copper && lamp.total.0 < copper * 1.33 + 0.3,
        "{:?} for {copper} V of cold copper",
        lamp.total
    );
    assert!(fires(&text("3 m", given), "voltage-drop-over-limit", "lamp"));
    // What the feeder takes of a limit of 10 % is taken from the lamp's own cable: of 21 m of it 14 AWG lose 7.4 %, cold.
    let size = |feeder: &str| {
        let text = text(feeder, "").replace("run = \"4 m\"", "run = \"10.5 m\"").replace("8 AWG", "12 AWG");
        let text = text.replace(", critical = true", "").replace("draw = \"180 W\"", "draw = \"10 W\"");
        electrical(&text).circuits["lamp"].conductor().expect("sized").size
    };
    assert_eq!([size("0.1 m"), size("2.5 m")], [ConductorSize::Awg(14), ConductorSize::Awg(12)]);
}

/// A fitting of four takes a quarter of the current: through the legs of a chain flow 3/4, 2/4 and 1/4 of it, each 1 m there
/// and 1 m back, as much as 3 m with all of it; in a star 3 m there and back carry 1/4, as much as 1.5 m. U = R × I.
#[test]
fn legs_lose_their_part() {
    let text = |legs: &str| {
        format!(
            r#"
[place]
board = {{ about = "Board", at = ["0 m", "0.7 m", "0.5 m"] }}
one   = {{ about = "One", at = ["2 m", "0.7 m", "0.5 m"] }}
two   = {{ about = "Two", at = ["3 m", "0.7 m", "0.5 m"] }}
three = {{ about = "Three", at = ["4 m", "0.7 m", "0.5 m"] }}
four  = {{ about = "Four", at = ["5 m", "0.7 m", "0.5 m"] }}
[channel.duct]
about  = "Duct"
form   = "duct"
inside = "80 mm"
points = [["0 m", "0.7 m", "0.5 m"], ["2 m", "0.7 m", "0.5 m"], ["3 m", "0.7 m", "0.5 m"], ["4 m", "0.7 m", "0.5 m"], ["5 m", "0.7 m", "0.5 m"]]
[component]
bank  = {{ kind = "battery-bank", capacity = "400 Ah", place = "board" }}
fuse  = {{ kind = "main-fuse", fed_from = "bank", run = "0.1 m", place = "board" }}
panel = {{ kind = "fuse-panel", fed_from = "fuse", run = "0.3 m", place = "board" }}
lamps = {{ kind = "light-bar", fed_from = "panel", draw = "24 W", count = 4, places = ["one", "two", "three", "four"], conductor = "14 AWG", bundle = 2{legs} }}
"#
        )
    };
    let lost = |legs: &str| {
        let all = electrical(&text(legs));
        let figures = &all.circuits["lamps"];
        (figures.total.0, figures.conductor().expect("sized").drop.volts.0 / 4.0)
    };
    let (chain, a_metre) = lost(", legs = \"chain\"");
    let (star, _) = lost(", legs = \"star\"");
    assert!(((chain - star) / a_metre - 1.5).abs() < 1e-6, "{chain} V and {star} V, {a_metre} V/m");
    // Left open, the conductor keeps the limit with its legs.
    let open = text(", legs = \"chain\"").replace(", conductor = \"14 AWG\"", "");
    let all = electrical(&open);
    let figures = &all.circuits["lamps"];
    assert!(figures.total_share().expect("12 V").0 <= figures.drop_limit.0 * (1.0 + 1e-9), "{:?}", figures.total);
}

/// What is lost from the source to a load is within the limit of that load, or a finding names it.
#[test]
fn no_load_of_the_demo_vans_loses_more_than_its_limit_without_a_word() {
    let mut held = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        for (id, figures) in worked.electrical.circuits.iter().filter(|(_, f)| f.run_known) {
            let circuit = &worked.build.circuits[id];
            let is_load = worked.build.parts[&circuit.to].role() == Some(Role::Load);
            let Some(share) = figures.total_share().filter(|_| is_load) else { continue };
            let told = worked
                .findings
                .iter()
                .any(|f| f.name == "voltage-drop-over-limit" && f.headline.starts_with(&format!("{id}:")));
            assert!(share.0 <= figures.drop_limit.0 * (1.0 + 1e-9) || told, "{}: {id}: {share:?}", stem(&path));
            held += 1;
        }
    }
    assert!(held > 80, "{held}");
}

/// 6.6 kA stood beside the 53.8 kA that the tool itself reckons with where nothing is given: an eighth. Ohm's law: 12.8 V over
/// the 0.2 Ω Ah that is common practice, no source.
#[test]
fn a_fault_current_far_below_the_usual_is_told() {
    let text = |given: &str| {
        format!(
            "[component]\nbank = {{ kind = \"battery-bank\", capacity = \"560 Ah\"{given} }}\n\
             fuse = {{ kind = \"main-fuse\", fed_from = \"bank\", run = \"0.1 m\" }}\n"
        )
    };
    let usual = electrical(&text("")).banks["bank"].fault.expect("reckoned").0;
    assert!((usual - 12.8 * 560.0 / 0.2).abs() < 1.0, "{usual}");
    let told = |share: f64, sheet: &str| {
        let given = format!(", fault_current = \"{} A\"{sheet}", (usual * share).round());
        ["fault-current-unsourced", "fault-current-implausible"].map(|name| fires(&text(&given), name, "bank"))
    };
    let sheet = ", fault_current_from = \"data sheet\"";
    assert_eq!(told(6.6 / 53.8, ""), [true, false]);
    assert_eq!(told(6.6 / 53.8, sheet), [false, false]);
    assert_eq!(told(0.04, sheet), [false, true], "no sheet helps where a figure has slipped");
    assert_eq!(told(0.8, ""), [false, false]);
}

/// The main bond is as thick as the thickest lead of the bank, that of a case at most one size under its positive (ABYC
/// E-11, from memory): a fault opens the fuse and leaves the bond.
#[test]
fn bonds_are_as_thick_as_what_can_flow_in_them() {
    let mut bonds = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let area = |id: &str| worked.electrical.circuits[id].conductor().map_or(0.0, |s| s.as_one().area().0);
        let banks = build.parts.values().filter(|p| p.role() == Some(Role::Bank));
        let thickest = banks.flat_map(|b| build.leaving(&b.id)).map(|c| area(&c.id)).fold(0.0, f64::max);
        for (id, conductor) in &build.wiring.conductors {
            let Some(size) = worked.electrical.conductors.get(id).and_then(|f| f.size) else { continue };
            match conductor.purpose {
                Purpose::Bond => {
                    let told = worked.findings.iter().any(|f| f.name == "bond-too-thin");
                    assert!(size.area().0 >= thickest * (1.0 - 1e-9) || told, "{}: {id} is {size}", stem(&path));
                }
                Purpose::EquipmentBond => {
                    // One size of the trade is at most 1.7 times the next, in AWG and in mm².
                    let dc = build
                        .circuits
                        .values()
                        .filter(|c| c.owner == conductor.owner && c.network == rigbinder::kinds::Network::Dc);
                    let positive = dc.map(|c| area(&c.id)).fold(0.0, f64::max);
                    let told = worked.findings.iter().any(|f| f.name == "bond-too-thin");
                    assert!(size.area().0 * 1.7 >= positive || told, "{}: {id} is {size}", stem(&path));
                }
                _ => continue,
            }
            bonds += 1;
        }
    }
    assert!(bonds > 8, "{bonds}");
}

/// Bolts of seats and belts hold people, at a torque that no ring may lie under: the work on openings forbids them.
#[test]
fn no_bond_is_made_at_a_bolt_that_holds_people() {
    let mut points = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        for bond in worked.build.parts.values().filter_map(|p| p.roles.chassis_bond.as_ref()) {
            let point = bond.bond_point.text().unwrap_or_default().to_lowercase();
            assert!(!point.contains("seat") && !point.contains("belt"), "{}: {point}", stem(&path));
            points += 1;
        }
    }
    assert!(points >= 3, "{points}");
}

/// How far from its source a fuse may be stands in the list of fuses alone; no text names a sheet that nobody prints; a
/// display of voltage senses over its supply or by a lead, never both.
#[test]
fn one_fact_of_the_wiring_stands_in_one_place() {
    let library = Library::load(house()).expect("kinds");
    let mut steps = 0;
    for kind in library.iter() {
        for text in kind.tasks.iter().flat_map(|t| t.steps.iter().chain(&t.hold)) {
            let lower = text.to_lowercase();
            assert!(!lower.contains("bond sheet"), "{}: {text}", kind.id);
            let fits_fuse = lower.contains("fuse") && lower.contains("of the post") && lower.contains(" mm");
            // The fact is that of the list.
            let fits_fuse = fits_fuse && !text.contains("{{ reach }}");
            assert!(!fits_fuse, "{}: {text}", kind.id);
            steps += 1;
        }
    }
    assert!(steps > 1000, "{steps}");
    let display = |fed_from: &str| {
        let text = format!(
            r#"
[component]
bank    = {{ kind = "battery-bank", capacity = "100 Ah" }}
starter = {{ kind = "starter-battery" }}
fuse    = {{ kind = "main-fuse", fed_from = "bank", run = "0.1 m" }}
panel   = {{ kind = "fuse-panel", fed_from = "fuse", run = "0.3 m" }}
volts   = {{ kind = "volt-display", fed_from = "{fed_from}", shows = "starter", run = "1 m" }}
"#
        );
        worked(&text, |w| w.build.wiring.conductors.keys().filter(|id| id.starts_with("volts.sense")).count())
    };
    assert_eq!((display("starter"), display("panel")), (0, 1));
    // Rough-in and fit-off print one distance for the fuse of a circuit: 72 in (33 CFR 183.455(b)) are 1.8288 m, and a limit
    // is rounded to the safe side.
    let loaded = load(&root().join("specs/turnstone.toml"));
    let sheets = crate::harness::sheets(&loaded);
    let mut told = 0;
    for sheet in &sheets {
        for line in sheet.markdown.lines().filter(|l| l.contains("`dc-dc`") && l.contains("in line, within")) {
            assert!(line.replace('\u{a0}', " ").contains("within 1.82 m of Starter battery"), "{}: {line}", sheet.stem);
            told += 1;
        }
    }
    assert!(told > 0);
}
