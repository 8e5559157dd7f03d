//! Vans and weather at the edge of what can be: each gives the figures that follow, or a finding that says why not; never
//! a number that is none, and no limit that counts as kept because nothing was reckoned.

use crate::harness::house;
use rigbinder::compute::ledger::{Amount, Figure, Ledger};
use rigbinder::diag::Finding;
use rigbinder::pipeline::{self, Worked};
use rigbinder::units::System;

const VAN: &str = r#"
spec = 2
build = { title = "Edge", handover = 2027-05-14 }
vehicle = { gross_mass = "3500 kg", fuel = "diesel", fuel_tank = "60 L", inside_length = "4 m", inside_width = "1.8 m", inside_height = "1.9 m", seats = 2 }
contact.shop = { role = "Workshop" }
use = { people = 2, goals.nights = 2 }
[place]
van = { about = "Inside the van", at = ["2 m", "0 m", "0 m"] }
[climate]
day = { month = 1, latitude = "45 °", irradiation = "1.2 kWh/m2", low = "-5 °C", high = "4 °C", record_low = "-20 °C" }
[shell]
walls = { area = "22.04 m2", u_value = "1 W/m2K" }
roof  = { area = "7.2 m2", u_value = "1 W/m2K", faces = "up" }
floor = { area = "7.2 m2", u_value = "1 W/m2K", faces = "down" }
[component]
bank = { kind = "battery-bank", place = "van", capacity = "200 Ah", max_discharge = "100 A", max_charge = "50 A", heated = true }
fuse = { kind = "main-fuse", place = "van", fed_from = "bank", run = "0.15 m" }
switch = { kind = "battery-disconnect", place = "van", fed_from = "fuse", run = "0.2 m" }
panel = { kind = "fuse-panel", place = "van", fed_from = "switch", run = "0.3 m" }
heater = { kind = "air-heater", place = "van", fed_from = "panel", run = "2 m", heat_output = "2000 W", fuel_per_hour = "0.25 L", altitude_limit = "1500 m" }
cooler = { kind = "air-conditioner", place = "van", fed_from = "switch", run = "2 m", draw = "480 W", cooling = "1600 W" }
fridge = { kind = "fridge", place = "van", fed_from = "panel", run = "2 m" }
tank = { kind = "fresh-tank", place = "van", capacity = "90 L" }
"#;

/// The words that may stand in the place of a figure whose limit is kept: more than any limit asks for.
const BEYOND: [&str; 3] = ["more than 60 days", "as long as there is water", "lasts in usual weather"];

fn look<T>(text: &str, at: impl FnOnce(&Worked<'_>) -> T) -> T {
    let loaded = pipeline::load(house(), "edge.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    lawful(&worked);
    at(&worked)
}

/// What holds of every van: numbers are numbers, hours of a day too, and nothing is kept that nobody reckoned.
fn lawful(worked: &Worked<'_>) {
    for figure in worked.ledger.figures() {
        let bound = figure.limit.as_ref().map(|limit| &limit.bound);
        for amount in figure.inputs.iter().chain([&figure.value]).chain(bound) {
            match amount {
                Amount::Of(_, value) => assert!(value.is_finite(), "{}: {value}", figure.id),
                Amount::Word(word) => assert!(!word.contains("NaN") && !word.contains("inf"), "{}: {word}", figure.id),
            }
        }
        assert!(!figure.said(System::Us).contains("NaN"), "{}", figure.id);
        if let (Amount::Word(word), Some(true)) = (&figure.value, figure.limit.as_ref().map(|limit| limit.kept)) {
            assert!(BEYOND.iter().any(|b| word.contains(b)), "{} is kept by “{word}”", figure.id);
        }
    }
    for (id, day) in &worked.climate_days.days {
        let Some(inside) = &day.inside else { continue };
        let all = [&inside.celsius, &inside.heated, &inside.cooled, &inside.humidity, &inside.carbon_dioxide];
        assert!(all.into_iter().flatten().all(|hour| hour.is_finite()), "{id}");
        assert!(inside.humidity.iter().all(|h| (0.0..=1.0 + 1e-9).contains(h)), "{id}: {:?}", inside.humidity);
    }
    for (id, season) in &worked.energy.seasons {
        assert!(season.need.total().iter().chain(&season.solar.hours).all(|w| w.is_finite() && *w >= 0.0), "{id}");
    }
}

fn found<'w>(worked: &'w Worked<'_>, name: &str) -> &'w Finding {
    let all = || worked.findings.iter().map(|f| f.headline.as_str()).collect::<Vec<_>>();
    worked.findings.iter().find(|f| f.name == name).unwrap_or_else(|| panic!("no {name}: {:?}", all()))
}

fn get<'l>(ledger: &'l Ledger, id: &str) -> &'l Figure {
    ledger.get(id).unwrap_or_else(|| panic!("no figure {id}"))
}

fn number(worked: &Worked<'_>, id: &str) -> f64 {
    let Amount::Of(_, value) = get(&worked.ledger, id).value else { panic!("{id} is a word") };
    value
}

/// The van in other weather, and as told.
fn van(weather: &[(&str, &str)]) -> String {
    let mut text = VAN.to_owned();
    for (own, other) in weather {
        assert!(text.contains(own), "{own}");
        text = text.replace(own, other);
    }
    text
}

/// North of the polar circle in December the sun stays down: nothing comes in, and the account goes on without it.
#[test]
fn a_polar_night_brings_nothing() {
    let text = van(&[
        (
            "month = 1, latitude = \"45 °\", irradiation = \"1.2 kWh/m2\"",
            "month = 12, latitude = \"75 °\", irradiation = \"0 kWh/m2\"",
        ),
        ("[component]", "[component]\narray = { kind = \"solar-array\", place = \"van\", power = \"200 W\" }"),
    ]);
    look(&text, |w| {
        let season = &w.energy.seasons["day"];
        assert_eq!((season.sun.day_length, season.solar.hours.iter().sum::<f64>()), (0.0, 0.0));
        let parked = season.parked.as_ref().expect("a stay");
        assert!(parked.lowest.0 < 0.9 && parked.lasts.is_some(), "{:?}", parked.lowest);
        assert!((number(w, "heat.heat-loss") - 25.0 * number_per_kelvin(w)).abs() < 1.0);
    });
}

/// Loss of the shell and the air for one kelvin, W/K.
fn number_per_kelvin(worked: &Worked<'_>) -> f64 {
    worked.heat.transmission.expect("a shell") + worked.heat.infiltration.expect("air")
}

/// A month without any sun at a latitude that has some: the day is as long as ever, and dark.
#[test]
fn a_month_without_sun_is_reckoned_dark() {
    look(&van(&[("irradiation = \"1.2 kWh/m2\"", "irradiation = \"0 kWh/m2\"")]), |w| {
        let season = &w.energy.seasons["day"];
        assert!(season.sun.day_length > 8.0 && season.solar.hours.iter().all(|h| *h == 0.0));
    });
    // Told nothing of the sun, the season has no account, and a finding says why.
    let untold = van(&[("irradiation = \"1.2 kWh/m2\", ", "")]);
    let loaded = pipeline::load(house(), "edge.toml", untold.as_bytes()).expect("kinds");
    assert!(loaded.findings.iter().any(|f| f.name == "missing-field" && f.headline.contains("irradiation")));
    let worked = pipeline::work_out(&loaded).expect("profile");
    lawful(&worked);
    assert!(worked.energy.seasons.is_empty());
}

#[test]
fn forty_below_is_reckoned_and_told() {
    look(
        &van(&[("low = \"-5 °C\"", "low = \"-40 °C\""), ("record_low = \"-20 °C\"", "record_low = \"-52 °C\"")]),
        |w| {
            let loss = number(w, "heat.heat-loss");
            assert!((loss - 60.0 * number_per_kelvin(w)).abs() < 1e-6 && loss > 2000.0, "{loss}");
            let small = found(w, "heater-too-small");
            assert!(small.basis.iter().any(|note| note.contains("on record")), "{:?}", small.basis);
            assert!(!get(&w.ledger, "heat.heater-output").limit.as_ref().expect("a limit").kept);
            assert!(!get(&w.ledger, "heat.inside-at-record").limit.as_ref().expect("a limit").kept);
        },
    );
}

#[test]
fn a_hot_damp_day_is_more_than_the_cooler_takes() {
    let hot = "month = 7, latitude = \"20 °\", irradiation = \"6 kWh/m2\", low = \"33 °C\", high = \"45 °C\", humidity = \"90 %\"";
    let own = "month = 1, latitude = \"45 °\", irradiation = \"1.2 kWh/m2\", low = \"-5 °C\", high = \"4 °C\"";
    look(&van(&[(own, hot), ("cooling = \"1600 W\"", "cooling = \"600 W\"")]), |w| {
        found(w, "cooler-too-small");
        let figure = get(&w.ledger, "heat.cooling-load");
        assert!(!figure.limit.as_ref().expect("a limit").kept);
        // It runs without end, and the bank is what it takes: one figure for it.
        assert!((w.energy.run_times["cooler"].duty.0 - 1.0).abs() < 1e-9, "{:?}", w.energy.run_times["cooler"]);
        let inside = w.climate_days.days["day"].inside.as_ref().expect("a shell");
        assert!(inside.humidity.iter().any(|h| *h > 0.6), "{:?}", inside.humidity);
    });
}

#[test]
fn thin_air_is_told_of_the_burner() {
    look(&van(&[("record_low = \"-20 °C\"", "record_low = \"-20 °C\", altitude = \"4500 m\"")]), |w| {
        found(w, "heater-above-altitude");
        // 4,500 m: 0.57 of the air of the sea (standard atmosphere, ISO 2533), and of the heat that goes with it.
        let level = look(VAN, |w| w.heat.infiltration.expect("air"));
        let share = w.heat.infiltration.expect("air") / level;
        assert!((share - 0.57).abs() < 0.01, "{share}");
    });
}

#[test]
fn nobody_aboard_is_no_van_to_reckon() {
    let loaded = pipeline::load(house(), "edge.toml", van(&[("people = 2", "people = 0")]).as_bytes()).expect("kinds");
    let told = loaded.findings.iter().find(|f| f.name == "out-of-bounds").expect("told");
    assert!(told.span.is_some() && told.headline.contains("people"), "{}", told.headline);
    lawful(&pipeline::work_out(&loaded).expect("profile"));
}

#[test]
fn a_van_of_one_surface_is_told() {
    let roof = VAN.lines().find(|l| l.starts_with("roof ")).expect("a roof");
    let walls = VAN.lines().find(|l| l.starts_with("walls")).expect("walls");
    look(&van(&[(roof, ""), (walls, "")]), |w| {
        found(w, "shell-area-short");
        assert!(!get(&w.ledger, "heat.shell-area").limit.as_ref().expect("a limit").kept);
    });
}

/// Warmer outside than anyone wants it inside: nothing to heat, and the heater is not idle "by default": the loss is zero.
#[test]
fn a_thermostat_below_the_outside_heats_nothing() {
    let text = van(&[
        (
            "low = \"-5 °C\", high = \"4 °C\", record_low = \"-20 °C\"",
            "low = \"12 °C\", high = \"20 °C\", record_low = \"8 °C\"",
        ),
        ("goals.nights = 2", "goals = { nights = 2, inside_temperature = \"5 °C\" }"),
    ]);
    look(&text, |w| {
        assert_eq!(number(w, "heat.heat-loss"), 0.0);
        let inside = w.climate_days.days["day"].inside.as_ref().expect("a shell");
        assert!(inside.heated.iter().all(|watts| *watts == 0.0), "{:?}", inside.heated);
        let heater = &w.climate_days.heaters["heater"];
        assert!(heater.day.is_none_or(|litres| litres == 0.0), "{:?}", heater.day);
        // At the record low it holds what is wanted and no more.
        assert_eq!(number(w, "heat.inside-at-record"), 5.0);
    });
}

#[test]
fn a_lid_heavier_than_its_springs_falls_and_is_told() {
    let lid = "[component.struts]\nkind = \"lid-strut\"\nplace = \"van\"\nlid_mass = \"45 kg\"\nlid_length = \"1.2 m\"\n\
               arm_lid = \"220 mm\"\narm_body = \"450 mm\"\nbody_angle = \"60 °\"\nopen_angle = \"70 °\"\nforce = \"200 N\"\n";
    look(&format!("{VAN}{lid}"), |w| {
        let weak = found(w, "strut-too-weak");
        assert!(weak.span.is_some());
        let figure = get(&w.ledger, "struts.strut-force");
        assert!(figure.limit.as_ref().is_none_or(|limit| !limit.kept), "{}", figure.verdict());
    });
}

#[test]
fn a_seat_without_its_paper_is_never_kept() {
    look(&format!("{VAN}[component.seat]\nkind = \"travel-seat\"\nplace = \"van\"\nmass = \"30 kg\"\n"), |w| {
        let told = found(w, "evidence-missing");
        assert_eq!(told.subject.as_deref(), Some("seat"));
        assert!(w.ledger.figures().all(|f| f.subject != "seat" || f.limit.is_none()), "a verdict of ours");
    });
}
