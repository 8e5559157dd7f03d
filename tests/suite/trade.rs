//! Facts of the trade as check values. Common practice, no source, where none is named.

use crate::harness::{findings, load, root};
use rigbinder::compute::electrical::battery;
use rigbinder::kinds::{Library, Network, Role, System};
use rigbinder::pipeline;
use rigbinder::units::{AmpHours, Volts};

/// Common practice, no source: a 12 V air conditioner runs over 60 hours on a bank of 1,000 Ah. By the energy of the
/// bank (12.8 V nominal) that is an average of 213 W, so it holds for a compressor that runs about a third of the time.
#[test]
fn sixty_hours_of_cooling_are_213_watts_on_average() {
    let energy = battery::energy(AmpHours(1000.0), Volts(12.8));
    let average = energy.0 / 60.0;
    assert!((average - 213.3).abs() < 0.05, "{average} W");
    let library = Library::load(crate::harness::built_in()).expect("kinds");
    let kind = library.get("air-conditioner").expect("kind");
    let draw = kind.fields["draw"].default.as_ref().and_then(|d| d.as_str()).expect("default");
    let draw: f64 = draw.split(' ').next().and_then(|n| n.parse().ok()).expect("number");
    let duty = average / draw;
    assert!((0.28..0.4).contains(&duty), "60 hours take a duty of {duty:.2} with {draw} W");
}

/// Common practice, no source: a fridge that could run from AC is wired for 12 V, because the inverter wastes energy.
#[test]
fn a_fridge_costs_less_on_direct_current() {
    let library = Library::load(crate::harness::built_in()).expect("kinds");
    let electric = library.get("fridge").and_then(|k| k.electric).expect("wired");
    assert_eq!(electric.network, Network::Dc);
    let found = findings(
        "[build]\ntitle = \"T\"\n[component]\nunit = { kind = \"consumer-unit\", rating = \"15 A\" }\n\
         fridge = { kind = \"fridge\", fed_from = \"unit\", run = \"2 m\" }\n",
    );
    assert!(found.iter().any(|f| f.name == "network-mismatch"), "a fridge on the AC side is told");
}

/// Common practice, no source: an auxiliary panel of eight ways is commonly full, and has a master so that passers-by
/// can't drain the bank.
#[test]
fn the_auxiliary_panel_of_the_demo_is_full_and_has_a_master() {
    let loaded = load(&root().join("specs/heron.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let panel = worked.build.parts.values().find(|p| p.role() == Some(Role::SwitchPanel)).expect("aux panel");
    let figures = &worked.electrical.panels[&panel.id];
    assert_eq!(figures.ways, Some(8));
    assert_eq!(worked.build.leaving(&panel.id).filter(|c| c.way.is_some()).count(), 8);
    assert_ne!(panel.record.text("master"), Some("none"));
}

/// Common practice, no source: exterior hardware is aluminium or stainless only.
#[test]
fn exterior_hardware_does_not_rust() {
    let library = Library::load(crate::harness::built_in()).expect("kinds");
    let mut looked_at = 0;
    for kind in library.iter().filter(|k| matches!(k.system, System::Body | System::ExteriorLighting)) {
        if let Some(material) = kind.fields.get("material") {
            let rusts = |m: &String| m.contains("steel") || m.contains("iron");
            assert!(!material.choices.iter().any(rusts), "{}: {:?}", kind.id, material.choices);
            looked_at += 1;
        }
    }
    assert!(looked_at >= 4, "only {looked_at} kinds have a material");
}
