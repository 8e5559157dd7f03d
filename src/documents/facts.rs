//! Facts of one part, as strings, for the texts of its kind: `{{ fuse }}`, `{{ place }}`, `{{ drop_most }}`.
//!
//! Every fact is always defined; one that does not apply is "".

use super::dc_facts::{shown, source_volts};
use super::shared::ranges;
use super::ways::{self, TOO_LARGE};
use super::{aboard, reach};
use crate::build::{Build, Circuit, ONE_LIFTS, Part};
use crate::compute::electrical::size::Sized;
use crate::compute::heat::{lows, parts_of};
use crate::compute::isolation::{self, cut_by, listed, names, past_the_mains, switches_above, switches_of};
use crate::compute::ledger::{Amount, Figure, Ledger};
use crate::compute::network::{CircuitFigures, DeviceAt, Electrical, earth_most, waits_for_its_test};
use crate::compute::sources::{Sources, isolators_of};
use crate::compute::switching::{Switching, word_of_way};
pub use crate::compute::wording::places;
use crate::fields::{Entry, Record, Value};
use crate::kinds::{Network, PlumbingRole, Role, SafetyRole, ThermalRole};
use crate::units::{
    Bound, Dimension, Quantity, System as UnitSystem, Volts, in_words, is_measure, print_bound, significant,
};
use std::collections::BTreeMap;

/// Facts by name.
pub type Facts = BTreeMap<String, String>;

/// Whom facts are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Voice {
    /// Who builds and tests: figures as calculated.
    Shop,
    /// Who uses the van: figures as a person would say them.
    Owner,
}

/// Behind the name of a fact that tells how a part is switched: the same with "way N in its panel".
pub const BY_NUMBER: &str = "_n";

/// Facts that tell how a part is switched.
pub const SWITCHED: [&str; 5] = ["off", "on", "goes_on", "switch_off", "switch_on"];

/// What a text names where the van has no main switch.
const NO_SWITCH: &str = "the bank's main switch or fuse";

/// Places of a part as the owner reads them.
fn places_for_owner(build: &Build<'_>, part: &Part<'_>) -> String {
    part.places.iter().map(|p| build.place_name(p)).collect::<Vec<_>>().join("; ")
}

/// The facts of `part` but for what tells how it is switched.
pub(super) fn facts(
    build: &Build<'_>,
    electrical: &Electrical,
    ledger: &Ledger,
    part: &Part<'_>,
    voice: Voice,
) -> Facts {
    let amount = |amount: Amount| match voice {
        Voice::Shop => amount.show(build.prints()),
        Voice::Owner => amount.said(build.prints()),
    };
    let mut facts = Facts::new();
    let mut put = |name: &str, value: String| {
        facts.insert(name.to_owned(), value);
    };
    for (name, decl) in &part.kind.fields {
        put(name, part.record.get(name).map_or_else(String::new, |e| field(build, e, voice)));
        debug_assert!(!decl.about.is_empty(), "every field says what it is");
    }
    let circuit = build.circuits.get(&part.id);
    let figures = circuit.and_then(|c| electrical.circuits.get(&c.id));
    for (name, text) in &part.kind.said {
        put(name, if part.confidential { String::new() } else { text.clone() });
    }
    put("name", part.name.clone());
    put("id", part.id.clone());
    put("kind_name", part.kind.name.clone());
    put("system", part.kind.system.title().to_owned());
    put("place", if voice == Voice::Owner { places_for_owner(build, part) } else { places(build, part) });
    let control = part.common.control_at.all().iter().map(|p| build.place_name(&p.value));
    put("control", control.collect::<Vec<_>>().join("; "));
    put("count", part.count.to_string());
    put("was_there", if part.is_worked_on() { "" } else { "yes" }.to_owned());
    put("fed_from", circuit.map_or_else(String::new, |c| build.name(&c.from).to_owned()));
    put("panel", panel(build, circuit).map_or_else(String::new, |c| build.name(&c.from).to_owned()));
    put("way", panel(build, circuit).and_then(|c| c.way).map_or_else(String::new, |w| w.to_string()));
    put("label", circuit.map_or_else(String::new, |c| c.id.clone()));
    let wrong = voice == Voice::Owner && figures.is_some_and(CircuitFigures::lets_too_much_through);
    let wrong = if wrong { TOO_LARGE } else { "" };
    put("fuse", figures.map_or_else(String::new, |f| format!("{}{wrong}", f.device.show())));
    let rating = figures.and_then(|f| f.device.rating);
    put("fuse_rating", rating.map_or_else(String::new, |r| r.show(build.prints())));
    put("conductor", figures.and_then(|f| f.conductor()).map_or_else(String::new, Sized::show));
    put("run", circuit.and_then(|c| c.run).map_or_else(String::new, |r| r.show(build.prints())));
    // What it draws in steady running: a glow pin's current is its `start_current`.
    put("load_current", figures.map_or_else(String::new, |f| amount(f.demand.running.into())));
    put("design_current", figures.map_or_else(String::new, |f| amount(f.design.into())));
    let nominal = circuit.and_then(|c| source_volts(build, electrical, c));
    put("volts_nominal", nominal.map_or_else(String::new, |v| v.show(build.prints())));
    let volts = |most: Volts| print_bound(Dimension::Voltage, most.0, build.prints(), Bound::Most);
    let drop_most = figures.and_then(|f| f.acceptance?.below_most(f.demand.running));
    put("drop_most", drop_most.map_or_else(String::new, volts));
    put("source", ways::source(build, circuit));
    let feeder = circuit.and_then(|c| build.parts.get(&c.from));
    put("source_stays", if feeder.is_some_and(|p| !p.is_worked_on()) { "yes" } else { "" }.to_owned());
    put("tapped_by", ways::tapped_by(build, part));
    put("ways_wrong", ways::wrong(build, electrical, part));
    put(
        "earth_most",
        earth_most(build, electrical, part)
            .map_or_else(String::new, |r| print_bound(Dimension::Resistance, r.0, build.prints(), Bound::Most)),
    );
    let together = electrical.together.get(&part.id);
    let on = together.map_or(&[][..], |t| t.circuits.as_slice());
    let ways = on.iter().filter_map(|id| usize::try_from(build.circuits.get(id)?.way?).ok()).collect();
    put("test_ways", ranges(&ways));
    let later = |c: &&Circuit| waits_for_its_test(build, c);
    let later_ways = build.leaving(&part.id).filter(later).filter_map(|c| usize::try_from(c.way?).ok()).collect();
    put("later_ways", ranges(&later_ways));
    put("way_later", circuit.filter(later).map_or_else(String::new, |c| opens_way(build, c).to_owned()));
    put("test_current", together.map_or_else(String::new, |t| amount(t.running.into())));
    put("test_drop", together.and_then(|t| t.most).map_or_else(String::new, volts));
    let drop = figures.filter(|f| f.run_known).and_then(|f| f.conductor()).map(|s| s.drop.share);
    put("drop_percent", drop.map_or_else(String::new, |d| format!("{} %", significant(d.0 * 100.0, 2))));
    put("chooses", chooses(build, part));
    put("inverters_reach", aboard::inverters_reach(build, part));
    let makes = part.role().is_some_and(Role::gives_ac);
    put("mains_in", if makes { names(&build.mains_in(&part.id)) } else { String::new() });
    put("mains_beside", if makes { names(&build.mains_beside(&part.id)) } else { String::new() });
    put("mains_switch", if makes { names(&build.mains_switches(&part.id)) } else { String::new() });
    put("live_past", aboard::live_past(build, part));
    put("shore_reaches", if shore_reaches(build, part) { "yes" } else { "" }.to_owned());
    put("dimmed_by", dimmer(build, circuit).unwrap_or_default().to_owned());
    let panel = circuit.and_then(|c| build.parts.get(&c.from)).filter(|p| p.role() == Some(Role::SwitchPanel));
    put("switch_word", panel.and_then(|p| word_of_way(p, circuit?.way?)).unwrap_or_default().to_owned());
    let masters = panel.map_or(&[][..], |p| p.roles.master_switch().all());
    put("panel_master", masters.iter().map(|m| build.name(&m.value)).collect::<Vec<_>>().join(", "));
    for (name, value) in reach::facts(build, part) {
        put(name, value);
    }
    for (name, strength) in [("bleach_5", 5.25), ("bleach_6", 6.0), ("bleach_8", 8.25)] {
        let litres = part.roles.capacity_litres().get();
        put(name, litres.map_or_else(String::new, |q| bleach(q.0, strength, build.prints())));
    }
    let held = ledger.get(&format!("{}.holds-to", part.id)).map(|f| &f.value);
    let holds = |low: f64| held.map(|to| matches!(to, Amount::Of(_, to) if *to <= low));
    let on_record = lows(build).1.and_then(holds).map_or("", |holds| if holds { "yes" } else { "no" });
    put("holds_on_record", on_record.to_owned());
    put("holds_to", held.map_or_else(String::new, |to| amount(on_the_warm_side(to, build.prints()))));
    for (name, formula) in OWN_FIGURES {
        let own = ledger.get(&format!("{}.{formula}", part.id));
        put(name, own.map_or_else(String::new, |f| told(f, build.prints(), voice)));
    }
    facts
}

/// What lets current into the way of a circuit.
fn opens_way(build: &Build<'_>, circuit: &Circuit) -> &'static str {
    let family = build.parts.get(&circuit.from).and_then(|panel| panel.roles.family().text());
    if circuit.network == Network::Ac || family == Some("breaker") { "close the breaker" } else { "put in the fuse" }
}

/// The sources that a transfer chooses between: "Shore inlet or Inverter"; "" for all other parts.
fn chooses(build: &Build<'_>, part: &Part<'_>) -> String {
    if part.role() != Some(Role::Transfer) {
        return String::new();
    }
    let sources = isolation::nearest(build, &part.id, |p| p.role().is_some_and(Role::gives_ac));
    sources.iter().map(|p| p.name.as_str()).collect::<Vec<_>>().join(" or ")
}

/// Whether shore power comes to a part by AC cables.
fn shore_reaches(build: &Build<'_>, part: &Part<'_>) -> bool {
    let inlet = |c: &Circuit| build.parts.get(&c.from).and_then(Part::role) == Some(Role::Inlet);
    build.upstream(&part.id).along(|c| c.network == Network::Ac).any(inlet)
}

/// A temperature down to which something holds, to the next full degree that it holds at.
fn on_the_warm_side(amount: &Amount, prints: UnitSystem) -> Amount {
    match amount {
        // A figure that is full but for the last bits of its reckoning stays what it is.
        Amount::Of(Dimension::Temperature, celsius) if prints == UnitSystem::Us => {
            let fahrenheit = (celsius * 1.8 + 32.0 - 1e-9).ceil();
            Amount::Of(Dimension::Temperature, (fahrenheit - 32.0) / 1.8)
        }
        Amount::Of(Dimension::Temperature, celsius) => Amount::Of(Dimension::Temperature, (celsius - 1e-9).ceil()),
        other => other.clone(),
    }
}

/// Names of the parts that are so, in a sentence.
fn named(build: &Build<'_>, is: impl Fn(&Part<'_>) -> bool) -> String {
    names(&build.parts.values().filter(|p| is(p)).collect::<Vec<_>>())
}

/// The facts that are the same for every part. They win over a field of the same name.
pub(super) fn of_all(build: &Build<'_>, electrical: &Electrical, ledger: &Ledger, voice: Voice) -> Facts {
    let mut facts = of_the_van(build, ledger, voice);
    let mut put = |name: &str, value: String| {
        facts.insert(name.to_owned(), value);
    };
    put("one_lifts", ONE_LIFTS.show(build.prints()));
    put("equipment_bond", electrical.profile.equipment_bond.to_string());
    put("ac_volts", electrical.profile.ac.volts.show(build.prints()));
    let panels = build.parts.values().filter(|p| p.role() == Some(Role::Panel));
    let panels: Vec<&str> = panels.map(|p| p.name.as_str()).collect();
    put("house_panel", if panels.is_empty() { "the fuse panel".to_owned() } else { listed(&panels) });
    put("lpg", named(build, |p| p.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::LpgLocker)));
    let electrical_parts = |role: Role| named(build, |p| p.role() == Some(role));
    let water = |role: PlumbingRole| named(build, |p| p.kind.plumbing.as_ref().is_some_and(|w| w.role == role));
    put("shore", if electrical_parts(Role::Inlet).is_empty() { "" } else { "yes" }.to_owned());
    put("inverters", named(build, |p| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger))));
    put("generators", electrical_parts(Role::Generator));
    put("monitor", electrical_parts(Role::Shunt));
    put("rcds", electrical_parts(Role::Rcd));
    put("hose", water(PlumbingRole::CityInlet));
    let sources = Sources::of(build);
    put("engine", listed(&sources.engine));
    put("sources_off", sources.off());
    put("sources_on", sources.on());
    let largest =
        electrical.largest.as_ref().and_then(|id| Some((build.circuits.get(id)?, electrical.circuits.get(id)?)));
    put(
        "largest_load",
        largest.map_or_else(
            || "its largest steady load".to_owned(),
            |(c, f)| format!("{} ({})", build.name(&c.to), f.demand.running.show(build.prints())),
        ),
    );
    put("build_title", build.about.title.or_empty().to_owned());
    put("handover_date", build.about.handover.get().map_or_else(String::new, |d| d.to_string()));
    facts.extend(aboard::facts(build).into_iter().map(|(name, value)| (name.to_owned(), value)));
    facts
}

/// Facts that are figures of the whole van.
#[must_use]
pub fn of_the_van(build: &Build<'_>, ledger: &Ledger, voice: Voice) -> Facts {
    let value = |id: &str| ledger.get(id).map_or_else(String::new, |f| told(f, build.prints(), voice));
    let mut facts: Facts = FIGURES.iter().map(|(name, figure)| ((*name).to_owned(), value(figure))).collect();
    // One figure: that of the energy account.
    let cooler = parts_of(build, ThermalRole::Cooler).next();
    facts.insert("cooling_time".to_owned(), cooler.map_or_else(String::new, |p| value(&format!("{}.run-time", p.id))));
    facts.insert("barred_exits".to_owned(), reach::barred_exits(build));
    let (usual, record) = lows(build);
    for (name, low) in [("design_low", usual), ("record_low", record)] {
        let low = low.map(|celsius| Amount::Of(Dimension::Temperature, celsius));
        let shown = low.map_or_else(String::new, |low| match voice {
            Voice::Shop => low.show(build.prints()),
            Voice::Owner => low.said(build.prints()),
        });
        facts.insert(name.to_owned(), shown);
    }
    facts
}

/// A figure as the voice tells it; one that is a limit on its safe side.
fn told(figure: &Figure, system: UnitSystem, voice: Voice) -> String {
    match voice {
        Voice::Shop => figure.show(system),
        Voice::Owner => figure.said(system),
    }
}

/// Names of the other valves on the same outlet: the one worked by hand beside a motorised one, and the reverse; for a
/// tank, those worked by hand.
fn valves_beside(build: &Build<'_>, part: &Part<'_>) -> String {
    let role = |p: &Part<'_>| p.kind.plumbing.as_ref().map(|w| w.role);
    let tank_of = |p: &Part<'_>| p.roles.tank().first().map(str::to_owned);
    let bypassed = |p: &Part<'_>| p.roles.bypass_of().first().map(str::to_owned);
    let beside = |hand: &Part<'_>, motor: &Part<'_>| {
        bypassed(hand).as_deref() == Some(motor.id.as_str())
            || tank_of(hand).is_some() && tank_of(hand) == tank_of(motor)
    };
    let is = |p: &Part<'_>, wanted: PlumbingRole| role(p) == Some(wanted);
    named(build, |p| match role(part) {
        Some(PlumbingRole::MotorValve) => is(p, PlumbingRole::HandValve) && beside(p, part),
        Some(PlumbingRole::HandValve) => is(p, PlumbingRole::MotorValve) && beside(part, p),
        Some(PlumbingRole::FreshTank | PlumbingRole::GreyTank) => {
            let motor = bypassed(p).and_then(|id| build.parts.get(&id).and_then(tank_of));
            let drains = tank_of(p).or(motor);
            is(p, PlumbingRole::HandValve) && drains.as_deref() == Some(part.id.as_str())
        }
        _ => false,
    })
}

/// Names of the valves in the fuel line of a burner: those that shut it and fit a shut-off.
fn fuel_valve(build: &Build<'_>, burner: &Part<'_>) -> String {
    let fits = |k: &crate::kinds::Kind| k.tasks.iter().any(|t| t.brings.iter().any(|s| s == "fuel-shut-off-fitted"));
    named(build, |p| p.record.list("shuts").iter().any(|id| id.value == burner.id) && fits(p.kind))
}

/// How a part is switched, and by which switches it is cut off from the bank.
pub(super) fn switches(build: &Build<'_>, electrical: &Electrical, mains: &[&Part<'_>], part: &Part<'_>) -> Facts {
    let mut facts = Facts::new();
    let mut put = |name: &str, value: String| {
        facts.insert(name.to_owned(), value);
    };
    let own = Switching::of(build, electrical, part);
    let waits = build.circuits.get(&part.id).is_some_and(|c| waits_for_its_test(build, c));
    for (suffix, one) in [("", &own), (BY_NUMBER, &own.by_number())] {
        put(&format!("off{suffix}"), one.off());
        put(&format!("on{suffix}"), one.on());
        put(&format!("goes_on{suffix}"), one.goes_on(waits));
        put(&format!("switch_off{suffix}"), one.used(false));
        put(&format!("switch_on{suffix}"), one.used(true));
    }
    put("switch", own.switch);
    let main = switches_of(build, mains, part);
    put("main_disconnect", if main.is_empty() { NO_SWITCH.to_owned() } else { names(&main) });
    put("disconnects", names(&switches_above(build, &part.id)));
    put("other_valve", valves_beside(build, part));
    put("fuel_valve", fuel_valve(build, part));
    for (name, value) in aboard::pipework(build, part) {
        put(name, value);
    }
    put("isolator", names(&isolators_of(build, &part.id)));
    let switch = isolation::is_switch(part).then(|| cut_by(build, mains, part));
    let is_main = mains.iter().any(|m| m.id == part.id);
    put("is_main", if is_main { "yes" } else { "no" }.to_owned());
    put("cuts_all", if switch.as_ref().is_some_and(|c| c.all) { "yes" } else { "no" }.to_owned());
    put("cuts", switch.map_or_else(String::new, |c| said(&c, &shown(build.dc_network_of(&part.id)))));
    put("stays", if is_main { names(&past_the_mains(build, mains)) } else { String::new() });
    facts
}

/// What a switch turns off, in words.
fn said(cut: &isolation::Cut, volts: &str) -> String {
    match cut.what.as_slice() {
        _ if cut.all => format!("everything at {volts}"),
        [] => "nothing by itself".to_owned(),
        what => listed(what),
    }
}

/// The dimmer that a circuit hangs on: a control that can be turned down.
fn dimmer<'a>(build: &'a Build<'_>, circuit: Option<&Circuit>) -> Option<&'a str> {
    let dims = |p: &&Part<'_>| p.roles.control.as_ref().is_some_and(|c| c.lowest.get().is_some());
    build.parts.get(&circuit?.from).filter(dims).map(|p| p.name.as_str())
}

/// Bleach of `strength` (in percent, which is 10 g/L each) that brings `litres` to 50 mg/L, to two digits.
fn bleach(litres: f64, strength: f64, prints: UnitSystem) -> String {
    let millilitres = litres * 50.0 / (strength * 10.0);
    match prints {
        UnitSystem::Metric => format!("{} mL", significant(millilitres, 2)),
        UnitSystem::Us => format!("{} fl oz", significant(millilitres / 29.573_529_562_5, 2)),
    }
}

/// Facts that are figures of the whole van.
const FIGURES: &[(&str, &str)] = &[
    ("weight_front", "as-built.front-axle"),
    ("weight_rear", "as-built.rear-axle"),
    ("weight_total", "as-built.total-mass"),
    ("weight_left", "as-built.left-side"),
    ("weight_right", "as-built.right-side"),
    ("weight_front_full", "water-full.front-axle"),
    ("weight_rear_full", "water-full.rear-axle"),
    ("weight_total_full", "water-full.total-mass"),
    ("overall_height", "loaded.overall-height"),
    ("overall_length", "loaded.overall-length"),
    ("overall_width", "vehicle.overall-width"),
    ("water_days", "water.water-days"),
    ("grey_days", "water.grey-days"),
    ("winter_volume", "water.winterising-volume"),
    ("heat_loss", "heat.heat-loss"),
    ("heater_output", "heat.heater-output"),
    ("cooling_load", "heat.cooling-load"),
];

/// Facts that are figures of the part itself.
const OWN_FIGURES: &[(&str, &str)] = &[
    ("closing_force", "closing-force"),
    ("strut_force", "strut-force"),
    ("driving_load", "driving-limit"),
    ("fill_time_track", "track.fill-time-with-pauses"),
    ("fill_time_sand", "sand.fill-time-with-pauses"),
    ("cold_pressure", "cold-pressure"),
    ("cold_flow", "cold-flow"),
    ("hot_flow", "hot-flow"),
    ("heat_up", "hot-water-recovery"),
    ("mixed_water", "mixed-water"),
    ("warm_water_time", "warm-water-time"),
    ("day_fuel", "day-fuel"),
    ("to_zero", "pipe-to-zero"),
    ("to_ice", "pipe-to-ice"),
    ("to_zero_record", "pipe-to-zero-record"),
    ("to_ice_record", "pipe-to-ice-record"),
    ("bleach_dose", "bleach-dose"),
    ("fill_time", "hours-to-full"),
    ("run_time", "run-time"),
    ("tank_time", "tank-time"),
];

/// The circuit whose way protects this one: its own, or that of the panel behind a dimmer or switch.
fn panel<'a>(build: &'a Build<'_>, circuit: Option<&'a Circuit>) -> Option<&'a Circuit> {
    let own = circuit?;
    let control = |id: &str| build.parts.get(id).and_then(Part::role) == Some(Role::Control);
    let above = build.upstream(&own.from).along(|c| c.id == c.to && control(&c.to));
    std::iter::once(own).chain(above).find(|c| c.way.is_some())
}

/// A field of a part as documents print it. Words of its kind are in the units of the documents; what a spec gives stays
/// as it is written, but for a size: "356 × 356 mm" is a quantity, whatever the type of its field.
fn field(build: &Build<'_>, entry: &Entry, voice: Voice) -> String {
    let shown = show(build, &entry.value, voice);
    match &entry.value {
        Value::Text(text) | Value::Prose(text) if !entry.given || is_measure(text) => {
            in_words(text, build.prints()).into_owned()
        }
        _ => shown,
    }
}

/// A field's value as documents print it.
#[must_use]
pub fn show(build: &Build<'_>, value: &Value, voice: Voice) -> String {
    let names = |ids: &[crate::source::Spanned<String>]| {
        ids.iter().map(|i| build.name(&i.value).to_owned()).collect::<Vec<_>>().join(", ")
    };
    let system = build.prints();
    let quantity = |q: &Quantity| if voice == Voice::Owner { q.said(system) } else { q.show(system) };
    match value {
        Value::Quantity(q) => quantity(q),
        Value::Quantities(l) => l.iter().map(|q| quantity(&q.value)).collect::<Vec<_>>().join(" × "),
        Value::Points(points) => {
            let point = |p: &[Quantity]| p.iter().map(quantity).collect::<Vec<_>>().join(" × ");
            points.iter().map(|p| point(&p.value)).collect::<Vec<_>>().join("; ")
        }
        Value::Text(t) | Value::Prose(t) | Value::Choice(t) => t.clone(),
        Value::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
        Value::Count(n) => n.to_string(),
        Value::Date(d) => d.to_string(),
        Value::Components(ids) => names(ids),
        Value::Places(ids) => ids.iter().map(|i| build.place_name(&i.value)).collect::<Vec<_>>().join(", "),
        Value::Texts(texts) => texts.iter().map(|t| t.value.clone()).collect::<Vec<_>>().join(", "),
        Value::Conductor(size) => size.to_string(),
        Value::Price { currency, amount } => format!("{currency} {amount:.2}"),
        Value::Rows(rows) => {
            let texts = |row: &Record| row.fields.values().map(|e| show(build, &e.value, voice)).collect::<Vec<_>>();
            rows.iter().map(|row| texts(row).join(": ")).collect::<Vec<_>>().join("; ")
        }
        Value::Parts(parts) => {
            let texts = |own: &Record| own.fields.values().map(|e| show(build, &e.value, voice)).collect::<Vec<_>>();
            parts
                .iter()
                .map(|(id, own)| format!("{}: {}", id.value, texts(own).join(", ")))
                .collect::<Vec<_>>()
                .join("; ")
        }
        Value::Choices(words) => {
            let word = |(field, word): &(crate::source::Spanned<String>, crate::source::Spanned<String>)| {
                format!("{} {}", field.value.replace('_', " "), word.value)
            };
            words.iter().map(word).collect::<Vec<_>>().join(", ")
        }
    }
}

/// Whether a device is one a technician fits for this circuit.
#[must_use]
pub fn fitted_here(at: &DeviceAt) -> bool {
    matches!(at, DeviceAt::Way | DeviceAt::InLine)
}
