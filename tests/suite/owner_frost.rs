//! What the owner is told of frost: which temperature a figure is for, and down to which one protection keeps up.

use crate::harness::{demo_specs, load, root, sheets};
use rigbinder::documents::fact_book::FactBook;
use rigbinder::documents::facts::Voice;
use rigbinder::kinds::PlumbingRole;
use rigbinder::pipeline::{self, Worked};
use rigbinder::units::Dimension;
use std::f64::consts::PI;

/// Film outside in the wind and inside the body, W/(m²K): the figures of the calculation sheet, common practice.
const OUTSIDE: f64 = 25.0;
const INSIDE: f64 = 10.0;
const CONDUCTIVITY: f64 = 0.037;

fn si(worked: &Worked<'_>, part: &str, field: &str, dimension: Dimension) -> Option<f64> {
    worked.build.parts[part].record.quantity(field, dimension).map(|q| q.value)
}

/// Heat that one metre of the pipe loses for each kelvin, with a tenth on top: a cylinder of insulation and its film.
/// Source: steady conduction through a hollow cylinder (any handbook of heat transfer, for example VDI Heat Atlas, E1).
fn lost_per_kelvin(worked: &Worked<'_>, pipe: &str, insulation: f64) -> f64 {
    let outside = si(worked, pipe, "outside_diameter", Dimension::Length).expect("outside");
    let k = si(worked, pipe, "insulation_conductivity", Dimension::Conductivity).unwrap_or(CONDUCTIVITY);
    let part = &worked.build.parts[pipe];
    let film = if rigbinder::compute::heat::is_outside(&worked.build, part) { OUTSIDE } else { INSIDE };
    let outer = outside + 2.0 * insulation;
    let resistance = (outer / outside).ln() / (2.0 * PI * k) + 1.0 / (film * PI * outer);
    1.1 / resistance
}

/// The temperature in °C outside at which the power of a trace or pad is what is lost.
fn holds_to(worked: &Worked<'_>, id: &str) -> Option<f64> {
    let part = &worked.build.parts[id];
    let warm = part.record.celsius("on_below").map_or(5.0, |t| t.0);
    let power = part.record.watts("draw")?.0;
    let role = part.kind.plumbing.as_ref()?.role;
    if role == PlumbingRole::Trace {
        let insulation = si(worked, id, "insulation_thickness", Dimension::Length).unwrap_or(0.0);
        let length = si(worked, id, "length", Dimension::Length)?;
        let pipes = part.record.list("protects");
        let pipes = pipes.iter().filter(|p| worked.build.parts[&p.value].kind.id == "pipe-run");
        let worst = pipes.map(|p| lost_per_kelvin(worked, &p.value, insulation)).reduce(f64::max)?;
        return Some(warm - power / (worst * length));
    }
    let tank = &part.record.list("tank").first()?.value;
    if !rigbinder::compute::heat::is_outside(&worked.build, &worked.build.parts[tank]) {
        return None;
    }
    let litres = si(worked, tank, "capacity", Dimension::Volume)?;
    let edge = (litres / 1000.0).cbrt();
    let [a, b, c] = ["length", "width", "height"].map(|f| si(worked, tank, f, Dimension::Length).unwrap_or(edge));
    let insulation = si(worked, id, "tank_insulation", Dimension::Length).unwrap_or(0.0);
    let per_kelvin = 2.0 * (a * b + b * c + a * c) / (insulation / CONDUCTIVITY + 1.0 / OUTSIDE);
    Some(warm - power / per_kelvin)
}

/// The figure that people are told: the next full degree that it holds at.
fn told(celsius: f64, us: bool) -> String {
    let (value, unit) = if us { ((celsius * 1.8 + 32.0).ceil(), "°F") } else { (celsius.ceil(), "°C") };
    let value = if value == 0.0 { 0.0 } else { value };
    if value < 0.0 { format!("−{} {unit}", -value) } else { format!("{value} {unit}") }
}

#[test]
fn the_temperature_to_which_frost_protection_holds_is_told_and_right() {
    let mut seen = 0;
    for spec in demo_specs() {
        let loaded = load(&spec);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let us = worked.build.about.prints.text().unwrap_or("") == "us";
        let facts = FactBook::of(&worked.build, &worked.electrical, &worked.ledger, Voice::Owner);
        let record =
            worked.build.spec.climates.values().filter_map(|c| c.celsius("record_low")).map(|t| t.0).reduce(f64::min);
        let usual = worked.build.spec.climates.values().filter_map(|c| c.celsius("low")).map(|t| t.0).reduce(f64::min);
        let all = sheets(&loaded);
        let manual = &all.iter().find(|s| s.stem.contains("owners-manual")).expect("manual").markdown;
        for role in [PlumbingRole::Trace, PlumbingRole::Pad] {
            let parts =
                worked.build.parts.values().filter(|p| p.kind.plumbing.as_ref().is_some_and(|w| w.role == role));
            for part in parts {
                let Some(to) = holds_to(&worked, &part.id) else { continue };
                let figure = told(to, us);
                assert_eq!(facts.part(&part.id)["holds_to"], figure, "{}: {}", spec.display(), part.id);
                let keeps = format!("keeps up down to about {figure} outside").replace(' ', "\u{a0}");
                let plain = manual.replace(' ', "\u{a0}");
                assert!(plain.contains(&keeps), "{}: {} is not told of: {figure}", spec.display(), part.id);
                let fails = record.is_some_and(|r| r < usual.unwrap_or(r + 1.0) && to > r);
                let drain = format!("before a night below {figure}, drain").replace(' ', "\u{a0}");
                assert_eq!(plain.contains(&drain), fails, "{}: {} holds to {to}", spec.display(), part.id);
                seen += 1;
            }
        }
        for sheet in &all {
            for wrong in ["hardest frost", "coldest night planned"] {
                assert!(!sheet.markdown.contains(wrong), "{}: {wrong}", sheet.stem);
            }
        }
    }
    assert!(seen >= 2, "only {seen} traces and pads with a figure");
}

/// A run that nothing protects: both temperatures stand there, each with its times.
#[test]
fn times_to_ice_name_the_temperature_they_are_for() {
    let small = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    let cold = small
        .replace("low         = \"11 °C\"", "low         = \"-4 °C\"")
        .replace("record_low  = \"-8 °C\"", "record_low  = \"-20 °C\"");
    assert_ne!(cold, small);
    let pipe = "[component.outside-pipe]\nkind = \"pipe-run\"\nmedium = \"cold\"\nfrom = \"pump\"\nto = \"sink\"\nlength = \"2 m\"\nposition = \"under-floor\"\nprotected = false\nplace = \"galley\"\n";
    let loaded =
        pipeline::load(crate::harness::house(), "test.toml", format!("{cold}\n{pipe}").as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let run = &worked.heat.runs["outside-pipe"];
    let (zero, ice) = run.on_record.expect("times at the record low");
    // Both times grow as the frost grows milder: standing water loses heat in proportion to the difference.
    assert!(zero < run.to_zero.expect("time") && ice < run.to_ice.expect("time"));
    // 334 kJ/kg at a fifth of the difference take five times as long.
    assert!((run.to_ice.expect("time") / ice - 5.0).abs() < 1e-9);
    let manual = sheets(&loaded).into_iter().find(|s| s.stem.contains("owners-manual")).expect("manual").markdown;
    let manual = manual.replace('\u{a0}', " ");
    assert!(
        manual.contains("At −4 °C, unheated and full") && manual.contains("At −20 °C, the lowest on record"),
        "both"
    );
}
