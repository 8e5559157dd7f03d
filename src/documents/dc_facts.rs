//! Facts of a part that follow from the DC network it stands in, and from the battery it is.

use crate::build::{Build, Circuit, DcNetwork, Feeding, Part};
use crate::compute::geometry::board::{Board, boards};
use crate::compute::network::{DeviceAt, Electrical, converter_rating, reach_at, stud_of};
use crate::compute::{bank_paths, isolation};
use crate::kinds::{Network, Role};
use crate::tables::chemistries::{self, STARTER, StandingVolts};
use crate::tables::fuse_series::Family;
use crate::units::{Bound, Dimension, Volts, number, print_bound};

/// Lowest and highest voltage that what is sold for 12 V is commonly marked for. Common practice, no source.
const MARKED: [f64; 2] = [10.0, 15.0];

/// Highest voltage of a 12 V bank as its charger ends, whatever its make. Common practice, no source.
const CHARGING: f64 = 14.6;

/// Voltage of a 12 V bank above which a charger is at work. Common practice, no source.
const CHARGED: f64 = 13.5;

/// Voltage of a 12 V bank under load that is empty, and that a heater needs to ignite. Common practice, no source.
const LOW: f64 = 11.5;

/// What an inverter delivers of an ampere at 12 V, in W. Common practice, no source.
const WATTS_PER_AMP: f64 = 10.0;

/// The section of a packet that tells how a bolted fuse goes in.
pub(super) const BOLTED: &str = "“Bolted fuses”";

/// The facts, each with its name.
pub(super) fn dc_facts(
    build: &Build<'_>,
    electrical: &Electrical,
    part: &Part<'_>,
) -> impl Iterator<Item = (String, String)> {
    let network = build.dc_network_of(&part.id);
    let twelves = network.twelves();
    let battery = battery(electrical, part);
    let of_battery = |of: fn(&StandingVolts) -> Volts| battery.map_or_else(String::new, |b| tenths(of(&b) * twelves));
    let rounded = |volts: f64| format!("{} V", number(volts * twelves));
    let prints = build.prints();
    let reach = reach_at(build, electrical, part);
    let in_sheath = if reach.is_some_and(|(_, circuit)| circuit.sheathed) { "yes" } else { "" };
    let holders = holders(build, electrical, part);
    let facts = [
        (
            "reach",
            reach.map_or_else(String::new, |(reach, _)| print_bound(Dimension::Length, reach.0, prints, Bound::Most)),
        ),
        ("in_sheath", in_sheath.to_owned()),
        ("unfused", print_bound(Dimension::Length, electrical.profile.reach.open.0, prints, Bound::Most)),
        ("battery_fuses", battery_fuses(build, part)),
        ("on_elevation", if !holders.is_empty() && is_drawn(build, part) { "yes" } else { "" }.to_owned()),
        ("holders", holders),
        ("own_fuses", own_fuses(build, electrical, part, |_| true)),
        ("own_fuses_fed", own_fuses(build, electrical, part, |c| c.id == part.id)),
        ("own_fuses_out", own_fuses(build, electrical, part, |c| c.id != part.id)),
        ("out_current", out_current(build, electrical, part)),
        ("ac_from", ac_from(build, part)),
        ("dc_volts", shown(network)),
        ("dc_least", rounded(MARKED[0])),
        ("dc_most", rounded(MARKED[1])),
        ("dc_charging", rounded(CHARGING)),
        ("dc_charged", rounded(CHARGED)),
        ("dc_low", rounded(LOW)),
        ("watts_per_amp", format!("{} W", number(WATTS_PER_AMP * twelves))),
        ("rest_low", of_battery(|b| b.rest_low)),
        ("rest_full", of_battery(|b| b.rest_full)),
        ("rest_within", of_battery(|b| b.rest_within)),
        ("loaded_volts", of_battery(|b| b.loaded)),
        ("loaded_within", of_battery(|b| b.loaded_within)),
        ("engine_volts", rounded(14.0)),
        ("path_parts", bank_paths::stops(build, part)),
        ("converter_rating", converter_rating(part).map_or_else(String::new, |amps| amps.show(prints))),
    ];
    facts.into_iter().map(|(name, value)| (name.to_owned(), value))
}

/// The fuses of the batteries of the bank that a part hangs on, where each has one.
fn battery_fuses(build: &Build<'_>, part: &Part<'_>) -> String {
    let banks = isolation::nearest(build, &part.id, |p| p.role() == Some(Role::Bank));
    let fuse = banks.iter().find_map(|p| p.roles.bank.as_deref()?.battery_fuse.get());
    fuse.map_or_else(String::new, |fuse| format!("the {} fuse of each battery", fuse.show(build.prints())))
}

/// What lets current into a part and is no way of a panel: "the 75 A terminal fuse (shore-charger.out)"; all of them, or of
/// its own circuit or its outputs alone.
fn own_fuses(build: &Build<'_>, electrical: &Electrical, part: &Part<'_>, counts: impl Fn(&Circuit) -> bool) -> String {
    let own = build.leaving(&part.id).filter(|c| c.feeding == Feeding::Output && c.owner == part.id);
    let all = build.circuits.get(&part.id).into_iter().chain(own).filter(|c| c.network != Network::Ac);
    let mut bolted = false;
    let mut in_line = |c: &Circuit| {
        let device = &electrical.circuits.get(&c.id)?.device;
        let close = if device.family == Some(Family::DcBreaker) { ", and close it" } else { "" };
        (device.at == DeviceAt::InLine && counts(c)).then(|| {
            bolted |= device.family.is_some_and(Family::is_bolted);
            format!("the {} ({}){close}", device.show(), c.id)
        })
    };
    let told = isolation::listed(&all.filter_map(&mut in_line).collect::<Vec<_>>());
    if bolted { format!("{told}, as {BOLTED} says") } else { told }
}

/// The fuses in the line that are fixed beside a part, since it can feed a fault into their conductors: "250 A class T fuse
/// (inverter) at stud 2".
fn holders(build: &Build<'_>, electrical: &Electrical, part: &Part<'_>) -> String {
    let at_it = |c: &&Circuit| (c.feeding == Feeding::Output) == (c.to == part.id);
    let one = |c: &Circuit| {
        let device = &electrical.circuits.get(&c.id).filter(|f| f.device.at == DeviceAt::InLine)?.device;
        let at = stud_of(build, electrical, c, &part.id).map_or_else(String::new, |n| format!(" at stud {n}"));
        Some(format!("{} ({}){at}", device.show(), c.id))
    };
    let all = build.leaving(&part.id).chain(build.arriving(&part.id)).filter(at_it);
    all.filter_map(one).collect::<Vec<_>>().join(", ")
}

/// Whether the part stands on a board of which there is an elevation.
fn is_drawn(build: &Build<'_>, part: &Part<'_>) -> bool {
    let all = boards(build);
    let own = all.iter().find(|board| board.devices.iter().any(|device| device.part == part.id));
    own.is_some_and(Board::is_drawn)
}

/// The sources of AC that reach a part.
fn ac_from(build: &Build<'_>, part: &Part<'_>) -> String {
    let is_ac = part.electric().is_some_and(|e| e.network == Network::Ac);
    let sources = || isolation::nearest(build, &part.id, |p| p.role().is_some_and(Role::gives_ac));
    if is_ac { isolation::names(&sources()) } else { String::new() }
}

/// What an inverter holds its AC output to by itself, where no device guards that cable.
fn out_current(build: &Build<'_>, electrical: &Electrical, part: &Part<'_>) -> String {
    let output = |c: &&Circuit| c.feeding == Feeding::Output && c.owner == part.id && c.network == Network::Ac;
    let figures = build.leaving(&part.id).find(output).and_then(|c| electrical.circuits.get(&c.id));
    let unguarded = figures.filter(|f| !f.device.is_own());
    unguarded.map_or_else(String::new, |f| f.demand.load.show(build.prints()))
}

/// Nominal voltage of a network, as people say it.
pub(super) fn shown(network: DcNetwork) -> String {
    format!("{} V", number(network.nominal.0))
}

/// How a battery stands at 12 V nominal.
fn battery(electrical: &Electrical, part: &Part<'_>) -> Option<StandingVolts> {
    match part.role()? {
        Role::Bank => {
            let word = part.roles.chemistry().text().filter(|_| electrical.banks.contains_key(&part.id))?;
            chemistries::of(word).map(|c| c.standing)
        }
        Role::StartBattery => Some(STARTER),
        _ => None,
    }
}

/// "13.0 V": a voltage that is read on a meter.
fn tenths(volts: Volts) -> String {
    format!("{:.1} V", volts.0)
}

/// Voltage to expect at the source of a circuit: that of its bank, or the rules' AC voltage.
pub(super) fn source_volts(build: &Build<'_>, electrical: &Electrical, circuit: &Circuit) -> Option<Volts> {
    Some(match circuit.network {
        Network::Ac => electrical.profile.ac.volts,
        Network::Dc => {
            let is_source = |p: &Part<'_>| matches!(p.role(), Some(Role::Bank | Role::Converter));
            let of = |part: &Part<'_>| {
                let bank = electrical.banks.get(&part.id).map(|b| b.volts);
                bank.or_else(|| part.roles.output_voltage().get().filter(|_| part.role() == Some(Role::Converter)))
            };
            let own = build.parts.get(&circuit.from).and_then(of);
            let above = || isolation::nearest(build, &circuit.from, is_source);
            let source = own.or_else(|| above().into_iter().find_map(of));
            source.or_else(|| electrical.banks.values().next().map(|b| b.volts))?
        }
        // A lead-acid battery at rest.
        Network::Start => Volts(12.6) * build.dc_network(circuit).twelves(),
        Network::Pv => Volts(12.6),
    })
}
