//! Nothing carries more than it may without a word, and whatever takes current has a cable and a fuse in a list: over
//! the demo specs here, over builds drawn at random in `random`.

use crate::harness::{demo_specs, findings, load, stem};
use rigbinder::build::{Build, Circuit, Part};
use rigbinder::compute::electrical::size::Criterion;
use rigbinder::compute::ledger::Amount;
use rigbinder::compute::network::{CircuitFigures, DeviceAt, Electrical};
use rigbinder::diag::{Finding, Severity};
use rigbinder::kinds::{Network, Role};
use rigbinder::pipeline::{self, Only, Sheet, Worked};
use std::collections::BTreeSet;

/// What an outlet among several is counted with: NEC 220.14(I), from memory.
const OUTLET_WATTS: f64 = 180.0;

fn within(value: f64, most: f64) -> bool {
    value <= most + most.abs() * 1e-6 + 1e-9
}

/// Whether one of these findings is about one of these parts or circuits: its headline begins with the id.
fn told(worked: &Worked<'_>, names: &[&str], ids: &[&str]) -> bool {
    let about = |f: &Finding| ids.iter().any(|id| f.headline.starts_with(&format!("{id}:")));
    worked.findings.iter().any(|f| names.contains(&f.name) && about(f))
}

fn role(build: &Build<'_>, part: &str) -> Option<Role> {
    build.parts.get(part).and_then(Part::role)
}

/// Circuits that the shop wires.
fn wired<'a>(worked: &'a Worked<'_>) -> impl Iterator<Item = (&'a Circuit, &'a CircuitFigures)> {
    let of = |c: &'a Circuit| (c, &worked.electrical.circuits[&c.id]);
    worked.build.circuits.values().map(of).filter(|(_, f)| f.device.at != DeviceAt::Vehicle)
}

/// The conductor of every circuit carries its design current where it lies, and no temperature is printed that its
/// insulation does not stand; or a finding says of which it is not so. Returns how many were held.
pub(crate) fn conductors_carry(worked: &Worked<'_>) -> usize {
    let mut held = 0;
    for (circuit, figures) in wired(worked) {
        let id = circuit.id.as_str();
        let Some(sized) = figures.conductor() else {
            assert!(told(worked, &["no-conductor-fits"], &[id]), "{id} has no conductor, and nothing says so");
            continue;
        };
        assert_eq!(sized.governed_by == Criterion::Given, circuit.given_conductor.is_some(), "{id}: `given`");
        let Some(ampacity) = &sized.ampacity else {
            assert!(told(worked, &["conductor-too-thin"], &[id]), "{id} is below the table, and nothing says so");
            continue;
        };
        let enough = within(figures.design.0, ampacity.corrected.0);
        assert!(
            enough || told(worked, &["conductor-below-load"], &[id]),
            "{id}: {} carries {:?}, the design current is {:?}",
            sized.size,
            ampacity.corrected,
            figures.design
        );
        let limit = figures.installation.insulation.limit().0;
        assert!(!enough || within(sized.conductor_temperature.0, limit), "{id}: {:?}", sized.conductor_temperature);
        if let Some(figure) = worked.ledger.get(&format!("{id}.voltage-drop")) {
            let Amount::Of(_, printed) = figure.inputs[3] else { panic!("{id}: no temperature") };
            assert!(within(printed, limit), "{id}: printed at {printed} °C, its insulation stands {limit} °C");
        }
        held += 1;
    }
    held
}

/// Whether an inverter, which limits its own current, is a source of `part`.
fn is_inverted(build: &Build<'_>, part: &str, depth: usize) -> bool {
    let above = || build.arriving(part).filter(|c| c.network == Network::Ac);
    matches!(role(build, part), Some(Role::Inverter | Role::InverterCharger))
        || depth < 40 && above().any(|c| is_inverted(build, &c.from, depth + 1))
}

/// The circuits of the same network on the way from the source to `part`.
fn upstream<'a>(build: &'a Build<'_>, part: &str, network: Network, depth: usize) -> Vec<&'a Circuit> {
    let own: Vec<&Circuit> = build.arriving(part).filter(|c| c.network == network && depth < 40).collect();
    let further = own.clone().into_iter().flat_map(|c| upstream(build, &c.from, network, depth + 1));
    own.iter().copied().chain(further).collect()
}

/// Every fuse, breaker, switch and shunt is rated for the design current, or a finding names it. Returns how many were
/// held.
pub(crate) fn devices_carry(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let mut held = 0;
    for (circuit, figures) in wired(worked) {
        let id = circuit.id.as_str();
        let Some(rating) = figures.device.rating else {
            assert!(!figures.device.is_own() || figures.sized.is_err(), "{id}: its fuse has no rating");
            continue;
        };
        held += 1;
        if within(figures.design.0, rating.0) {
            continue;
        }
        let said = match &figures.device.at {
            DeviceAt::Upstream(above) => told(worked, &["fuse-below-load"], &[id, above]),
            DeviceAt::Source => {
                let above = upstream(build, &circuit.from, Network::Ac, 0);
                let ids: Vec<&str> = above.iter().map(|c| c.id.as_str()).chain([id]).collect();
                is_inverted(build, &circuit.from, 0) || told(worked, &["supply-below-load"], &ids)
            }
            _ => told(worked, &["fuse-below-load"], &[id]),
        };
        assert!(said, "{id}: {:?} for {:?}, and nothing says so", figures.device, figures.design);
    }
    for part in build.parts.values() {
        let (Some(role), Some(rating)) = (part.role(), part.record.amps("rating")) else { continue };
        let arriving = || build.arriving(&part.id).map(|c| &worked.electrical.circuits[&c.id]);
        let (needed, name) = match role {
            Role::Disconnect | Role::Shunt | Role::Control | Role::Transfer | Role::Rcd => {
                (arriving().map(|f| f.design.0).fold(0.0, f64::max), "switch-over-rating")
            }
            Role::Bus => (arriving().map(|f| f.demand.load.0).fold(0.0, f64::max), "busbar-over-rating"),
            Role::Panel | Role::SwitchPanel => {
                (arriving().map(|f| f.demand.load.0).fold(0.0, f64::max), "panel-over-rating")
            }
            Role::AcPanel => (wanted(worked, part), "main-breaker-below-load"),
            _ => continue,
        };
        held += 1;
        assert!(
            within(needed, rating.0) || told(worked, &[name], &[&part.id]),
            "{}: rated {rating:?} for {needed} A, and nothing says so",
            part.id
        );
    }
    held
}

/// What all behind a consumer unit takes at one time.
fn wanted(worked: &Worked<'_>, unit: &Part<'_>) -> f64 {
    let volts = worked.electrical.profile.ac.volts.0;
    let each = worked.build.leaving(&unit.id).filter(|c| c.network == Network::Ac).map(|c| {
        let load = worked.electrical.circuits[&c.id].demand.load.0;
        let to = &worked.build.parts[&c.to];
        if to.role() == Some(Role::Outlet) { load.min(OUTLET_WATTS / volts * to.times()) } else { load }
    });
    each.sum::<f64>() * unit.record.ratio("diversity").map_or(1.0, |r| r.0)
}

/// Whatever takes, passes on or gives current has a cable that arrives, and a fuse or a source that limits it, or an
/// error about it or about what feeds it. Returns how many parts were held.
pub(crate) fn everything_is_wired(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let errors: Vec<&Finding> = worked.findings.iter().filter(|f| f.severity == Severity::Error).collect();
    let wrong = |id: &str| errors.iter().any(|f| f.subject.as_deref() == Some(id));
    let mut held = 0;
    for part in build.parts.values() {
        let Some(role) = part.role().filter(|r| !r.is_source()) else { continue };
        // The display measures a resistive sender.
        if part.record.text("technology") == Some("resistive") {
            continue;
        }
        held += 1;
        // A sender of resistance has no supply: what it is joined to by its leads reads it.
        let led = build.wiring.conductors.values().any(|c| c.from.part == part.id || c.to.part == part.id)
            || worked.findings.iter().any(|f| f.name == "lead-leads-nowhere" && f.subject.as_deref() == Some(&part.id));
        let arriving = build.arriving(&part.id).next().is_some() || !part.record.gave("fed_from") && led;
        let leaving = !role.has_output() || build.leaving(&part.id).next().is_some();
        assert!(arriving && leaving || wrong(&part.id), "{} hangs on nothing, and nothing says so", part.id);
    }
    for circuit in build.circuits.values() {
        let figures = &worked.electrical.circuits[&circuit.id];
        match figures.device.at {
            DeviceAt::Vehicle => {
                let ends = (self::role(build, &circuit.from), self::role(build, &circuit.to));
                let own = ends == (Some(Role::Alternator), Some(Role::StartBattery));
                assert!(own, "{} is no cable of the vehicle's maker", circuit.id);
            }
            DeviceAt::Nothing => {
                let above = upstream(build, &circuit.from, circuit.network, 0);
                let mut ids = BTreeSet::from([circuit.from.as_str(), circuit.owner.as_str(), circuit.to.as_str()]);
                ids.extend(above.iter().flat_map(|c| [c.from.as_str(), c.owner.as_str()]));
                assert!(ids.iter().any(|id| wrong(id)), "{}: nothing protects it, and nothing says so", circuit.id);
            }
            _ => {}
        }
    }
    held
}

/// Every cable that the shop pulls stands in the schedule and in a packet. Returns how many were looked for.
pub(crate) fn cables_are_listed(worked: &Worked<'_>, sheets: &[Sheet]) -> usize {
    let text = |wanted: &dyn Fn(&str) -> bool| -> String {
        sheets.iter().filter(|s| wanted(&s.stem)).map(|s| s.markdown.as_str()).collect()
    };
    let (schedule, packets) = (text(&|stem| stem == "schedule"), text(&|stem| stem.starts_with("packet-")));
    let skipped = worked.build.spec.stages.values().any(|s| s.flag("skip"));
    let mut looked = 0;
    for (circuit, _) in wired(worked) {
        let cell = format!("`{}`", circuit.id);
        assert!(schedule.contains(&cell), "{} is in no schedule", circuit.id);
        assert!(skipped || packets.contains(&cell), "{} is in no packet", circuit.id);
        looked += 1;
    }
    looked
}

#[test]
fn demo_specs_carry_what_they_must_and_list_every_cable() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let held = conductors_carry(&worked).min(devices_carry(&worked)).min(everything_is_wired(&worked));
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        assert!(held.min(cables_are_listed(&worked, &sheets)) > 10, "{} is poor", stem(&path));
    }
}

fn electrical(text: &str) -> Electrical {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
    pipeline::work_out(&loaded).expect("profile").figures.electrical
}

/// What says that something carries too much, or is not wired.
const OURS: &[&str] = &[
    "no-conductor-fits",
    "conductor-below-load",
    "return-below-positive",
    "return-to-no-negative",
    "main-negative-unknown",
    "fuse-below-load",
    "supply-below-load",
    "switch-over-rating",
    "panel-over-rating",
    "main-breaker-below-load",
    "feeder-cannot-feed",
    "circuit-without-protection",
];

/// Of those the ones about `id`.
fn names(text: &str, id: &str) -> Vec<&'static str> {
    let found = findings(text);
    let about = found.iter().filter(|f| f.headline.starts_with(&format!("{id}:")) && OURS.contains(&f.name));
    about.map(|f| f.name).collect()
}

const TWO_MAINS: &str = r#"
[component]
bank    = { kind = "battery-bank", capacity = "1200 Ah", max_discharge = "700 A", max_charge = "50 A" }
monitor = { kind = "battery-monitor", fed_from = "bank", run = "0.3 m", rating = "1000 A" }
fuse    = { kind = "main-fuse", fed_from = "bank", run = "15 cm" }
left    = { kind = "inverter", fed_from = "fuse", run = "0.4 m", power = "2400 W", low_cutoff = "11 V", feeds = "rcd", output_run = "1 m" }
second  = { kind = "main-fuse", fed_from = "bank", run = "15 cm" }
right   = { kind = "inverter", fed_from = "second", run = "0.4 m", power = "2400 W", low_cutoff = "11 V", feeds = "other", output_run = "1 m" }
rcd     = { kind = "residual-current-device", trip_current = "5 mA" }
other   = { kind = "residual-current-device", trip_current = "5 mA" }
"#;

/// Two mains of 300 A each come back through one shunt. Its cable was as large as the first of them, and nothing was
/// said: 4/0 AWG carries 445 A (33 CFR 183.425 Table 5).
#[test]
fn the_cable_of_a_shunt_carries_all_mains_or_a_finding_says_that_none_does() {
    let all = electrical(TWO_MAINS);
    let (one, both) = (&all.circuits["fuse"], &all.circuits["monitor"]);
    assert!((both.design.0 - 2.0 * one.design.0).abs() < 1e-6 && both.design.0 > 445.0, "{:?}", both.design);
    assert_eq!(names(TWO_MAINS, "monitor"), ["no-conductor-fits"]);
    let given = TWO_MAINS.replace("rating = \"1000 A\"", "rating = \"1000 A\", conductor = \"4/0 AWG\"");
    assert_eq!(names(&given, "monitor"), ["conductor-below-load"]);
}

/// 8 A of 10 A for hours is what a switch, a breaker with residual-current protection and a main breaker stand: 125 %.
#[test]
fn a_breaker_of_32_amperes_for_a_design_current_of_40_is_told() {
    let text = r#"
[build]
rules = "eu"
[component]
inlet  = { kind = "shore-inlet", rating = "63 A" }
rcbo   = { kind = "residual-current-device", fed_from = "inlet", run = "1 m", rating = "32 A", trip_current = "30 mA", with_overcurrent = true }
unit   = { kind = "consumer-unit", fed_from = "rcbo", run = "0.3 m", rating = "32 A" }
first  = { kind = "water-heater-ac", fed_from = "unit", run = "2 m", draw = "1840 W" }
second = { kind = "water-heater-ac", fed_from = "unit", run = "2 m", draw = "1840 W" }
third  = { kind = "water-heater-ac", fed_from = "unit", run = "2 m", draw = "1840 W" }
fourth = { kind = "water-heater-ac", fed_from = "unit", run = "2 m", draw = "1840 W" }
"#;
    let all = electrical(text);
    assert!((all.circuits["rcbo"].design.0 - 40.0).abs() < 1e-6, "{:?}", all.circuits["rcbo"].design);
    assert_eq!(names(text, "rcbo"), ["switch-over-rating"]);
    assert_eq!(names(text, "unit"), ["main-breaker-below-load"]);
    let kept = text.replace("1840 W", "1472 W");
    assert_eq!((names(&kept, "rcbo"), names(&kept, "unit")), (vec![], vec![]));
}

/// A charger on the alternator's post is laid by the shop: it has a cable and a fuse as one on the starter battery has.
#[test]
fn a_charger_fed_from_the_alternator_has_a_cable_and_a_fuse() {
    let of = |from: &str| {
        format!(
            r#"
[component]
bank        = {{ kind = "battery-bank", capacity = "100 Ah" }}
fuse        = {{ kind = "main-fuse", fed_from = "bank", run = "15 cm" }}
switch      = {{ kind = "battery-disconnect", fed_from = "fuse", run = "20 cm" }}
alternator  = {{ kind = "alternator", rating = "180 A", feeds = "starter", output_run = "0.8 m" }}
starter     = {{ kind = "starter-battery" }}
dc-dc       = {{ kind = "dc-dc-charger", fed_from = "{from}", run = "4 m", output_current = "30 A", feeds = "switch", output_run = "0.5 m" }}
"#
        )
    };
    for from in ["starter", "alternator"] {
        let all = electrical(&of(from));
        let circuit = &all.circuits["dc-dc"];
        assert_eq!(circuit.device.at, DeviceAt::InLine, "{from}");
        assert!(circuit.device.rating.is_some_and(|r| r >= circuit.design), "{from}: {:?}", circuit.device);
        assert!(circuit.conductor().is_some(), "{from}");
        assert_eq!(all.circuits["alternator.out"].device.at, DeviceAt::Vehicle);
    }
}

/// What hangs on a charger's output is fused there, and nothing hangs on a shunt.
#[test]
fn loads_on_a_charger_are_fused_and_none_hangs_on_a_shunt() {
    let text = r#"
[component]
bank    = { kind = "battery-bank", capacity = "100 Ah" }
monitor = { kind = "battery-monitor", fed_from = "bank", run = "0.3 m" }
starter = { kind = "starter-battery" }
dc-dc   = { kind = "dc-dc-charger", fed_from = "starter", run = "4 m", output_current = "30 A", feeds = "bank", output_run = "0.5 m" }
fan     = { kind = "roof-fan", fed_from = "dc-dc", run = "2 m" }
fridge  = { kind = "fridge", fed_from = "monitor", run = "2 m" }
"#;
    let all = electrical(text);
    assert_eq!(all.circuits["fan"].device.at, DeviceAt::InLine);
    assert!(names(text, "fridge").contains(&"feeder-cannot-feed"));
}

/// Cells make 12 V, 24 V and 48 V; a bank of anything between is an error that nobody can accept.
#[test]
fn a_bank_of_no_system_is_an_error_that_cannot_be_accepted() {
    let accepted = "\n[[accepted]]\nfinding = \"bank-of-no-system\"\nabout = \"bank\"\nreason = \"as ordered\"\nby = \"A. Builder\"\n";
    let fit = ["12 V", "12.8 V", "13.3 V", "24 V", "25.6 V", "26.6 V", "48 V", "51.2 V", "53.2 V"];
    for volts in fit.into_iter().chain(["11 V", "14 V", "22 V", "32 V", "38.4 V", "60 V"]) {
        let text = format!(
            "[component]\nbank = {{ kind = \"battery-bank\", capacity = \"100 Ah\", voltage = \"{volts}\" }}\n"
        );
        for text in [text.clone(), format!("{text}{accepted}")] {
            let found = findings(&text);
            let error = found.iter().any(|f| f.name == "bank-of-no-system" && f.severity == Severity::Error);
            assert_eq!(error, !fit.contains(&volts), "{volts}");
        }
    }
}

/// The negative bar's cable carries what comes back, is as large as the positive, and is fused in it.
#[test]
fn the_main_negative_is_a_cable_like_the_others() {
    let text = r#"
[component]
bank     = { kind = "battery-bank", capacity = "400 Ah" }
fuse     = { kind = "main-fuse", fed_from = "bank", run = "15 cm", rating = "200 A" }
switch   = { kind = "battery-disconnect", fed_from = "fuse", run = "20 cm" }
bus      = { kind = "busbar", fed_from = "switch", run = "20 cm" }
monitor  = { kind = "battery-monitor", fed_from = "bank", run = "30 cm" }
negative = { kind = "negative-busbar", mirrors = "bus", returns_to = "monitor", run = "25 cm" }
fridge   = { kind = "fridge", draw = "60 W", fed_from = "bus", run = "1 m" }
"#;
    let all = electrical(text);
    let [main, shunt, bar] = ["fuse", "monitor", "negative"].map(|id| &all.circuits[id]);
    assert_eq!((bar.design, shunt.design), (main.design, main.design));
    let size = |f: &CircuitFigures| f.conductor().expect("sized").size.to_string();
    assert_eq!([size(main), size(shunt), size(bar)], ["2 AWG", "2 AWG", "2 AWG"]);
    assert_eq!(bar.conductor().expect("sized").governed_by, Criterion::Positive);
    assert_eq!(bar.device.at, DeviceAt::Return);
    assert!(names(text, "negative").is_empty());
    let bare = text.replace(" returns_to = \"monitor\", run = \"25 cm\"", "");
    assert_eq!(names(&bare, "negative"), ["main-negative-unknown"]);
    let thin = text.replace("run = \"25 cm\"", "run = \"25 cm\", conductor = \"6 AWG\"");
    assert_eq!(names(&thin, "negative"), ["return-below-positive"]);
}

/// An overloaded conductor is told at what its insulation stands, not at a temperature at which it has burnt.
#[test]
fn no_finding_tells_a_temperature_above_the_insulations() {
    let text = r#"
[component]
bank   = { kind = "battery-bank", capacity = "400 Ah" }
fuse   = { kind = "main-fuse", fed_from = "bank", run = "15 cm" }
switch = { kind = "battery-disconnect", fed_from = "fuse", run = "20 cm" }
heater = { kind = "water-heater", draw = "800 W", fed_from = "switch", run = "4 m", conductor = "12 AWG" }
"#;
    let found = findings(text);
    let drop = found.iter().find(|f| f.name == "voltage-drop-over-limit").expect("too much is lost");
    assert!(drop.basis.iter().any(|b| b.contains("at 105 °C")), "{:?}", drop.basis);
    assert!(names(text, "heater").contains(&"conductor-below-load"));
}
