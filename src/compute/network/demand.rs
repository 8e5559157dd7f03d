//! Current each circuit carries, from the loads up.

use super::plugged_in::{devices_on, in_turn};
use super::{converter, count, nominal, returns};
use crate::build::{Build, Circuit, Feeding, Part, system};
use crate::compute::electrical::inverter;
use crate::kinds::{Network, Role};
use crate::tables::profile::Profile;
use crate::units::{Amps, Ratio, Volts, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// Voltage a charger works at, per 12 V of the system: absorption of lithium iron phosphate and AGM banks.
/// Common practice, no source.
const CHARGING_VOLTS: f64 = 14.4;

/// Lowest voltage per 12 V at a DC-DC charger's input while the engine runs, allowing for a varied alternator voltage and
/// the drop of the cable. Common practice, no source.
const ENGINE_RUNNING_LOW: Volts = Volts(12.5);

/// What an outlet is counted with where several stand behind one device; its own way is laid out for its rating.
/// NEC 220.14(I), from memory: it sizes, it is no error.
const OUTLET: Watts = Watts(180.0);

/// Current of a circuit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Demand {
    /// Highest current that lasts: everything behind the circuit that runs together.
    pub load: Amps,
    /// Part of it that runs three hours or more at a stretch.
    pub continuous: Amps,
    /// What is drawn in steady running, once a glow pin or igniter is off: the current that a test reads.
    pub running: Amps,
    /// Highest short current above `load`: the largest motor start behind the circuit.
    pub surge: Amps,
}

impl Demand {
    /// 100 % of the short and `factor` of the continuous part.
    #[must_use]
    pub fn design(self, factor: f64) -> Amps {
        self.load + self.continuous * (factor - 1.0)
    }

    fn of(load: Amps, continuous: bool) -> Self {
        Self { load, continuous: if continuous { load } else { Amps(0.0) }, running: load, surge: Amps(0.0) }
    }

    fn scaled(self, share: Ratio) -> Self {
        Self {
            load: self.load * share.0,
            continuous: self.continuous * share.0,
            running: self.running * share.0,
            surge: self.surge,
        }
    }

    fn and(self, other: Self) -> Self {
        Self {
            load: self.load + other.load,
            continuous: self.continuous + other.continuous,
            running: self.running + other.running,
            surge: self.surge.max(other.surge),
        }
    }

    fn or(self, other: Self) -> Self {
        if other.load > self.load { other } else { self }
    }

    /// What carries the one or the other: the most of each, so that the design current covers both.
    fn either(self, other: Self) -> Self {
        Self {
            load: self.load.max(other.load),
            continuous: self.continuous.max(other.continuous),
            running: self.running.max(other.running),
            surge: self.surge.max(other.surge),
        }
    }

    fn at_most(self, cap: Option<Amps>) -> Self {
        match cap {
            Some(cap) if self.load > cap => self.scaled(Ratio(cap / self.load)),
            _ => self,
        }
    }
}

/// Demand of every circuit, by id.
pub(super) fn demands(build: &Build<'_>, profile: &Profile) -> IndexMap<String, Demand> {
    let mut drawn = IndexMap::new();
    // Circuits stand feeders first, so the far end of each is known when they are taken backwards. A shunt comes last:
    // it carries what all others at its bank do.
    let is_return = |c: &&Circuit| returns::is_return(build, c);
    let shunts = build.circuits.values().filter(|c| is_return(c) && c.feeding != Feeding::Return);
    for circuit in build.circuits.values().rev().filter(|c| !is_return(c)).chain(shunts) {
        let demand = of_circuit(build, profile, circuit, &drawn);
        drawn.insert(circuit.id.clone(), demand);
    }
    // Charge current goes the other way through the same circuits: they carry the one or the other, not the sum.
    for circuit in build.circuits.values().filter(|c| c.network == Network::Dc && c.feeding == Feeding::Supply) {
        if let (Some(demand), Some(to)) = (drawn.get_mut(&circuit.id), build.parts.get(&circuit.to)) {
            *demand = demand.either(charged(build, to));
        }
    }
    // The cable of a negative bar carries what the positives that it answers do, the one to a shunt what the shunt does.
    for circuit in build.circuits.values().filter(|c| c.feeding == Feeding::Return) {
        let beyond =
            build.arriving(&circuit.from).find(|c| returns::is_return(build, c) && c.feeding != Feeding::Return);
        let all = match beyond {
            Some(shunt) => vec![shunt],
            None => returns::answered(build, circuit),
        };
        let demand = all.iter().filter_map(|c| drawn.get(&c.id)).copied().fold(Demand::default(), Demand::and);
        drawn.insert(circuit.id.clone(), demand);
    }
    drawn
}

fn of_circuit(build: &Build<'_>, profile: &Profile, circuit: &Circuit, known: &IndexMap<String, Demand>) -> Demand {
    let (Some(from), Some(to)) = (build.parts.get(&circuit.from), build.parts.get(&circuit.to)) else {
        return Demand::default();
    };
    let volts = nominal(build, circuit, profile);
    let continuous = |p: &Part<'_>| p.electric().is_some_and(|e| e.continuous);
    let demand = match circuit.feeding {
        Feeding::Output => output(from, volts).map_or_else(Demand::default, |amps| Demand::of(amps, continuous(from))),
        Feeding::Shore => {
            let relay = to.roles.transfer_rating().get();
            let Some(load) = to.roles.shore_limit().get().or(relay) else { return Demand::default() };
            let main = from.roles.rating().get().filter(|_| from.role() == Some(Role::AcPanel));
            let most = [relay, main]
                .into_iter()
                .flatten()
                .fold(None, |least: Option<Amps>, a| Some(least.map_or(a, |l| if a < l { a } else { l })));
            shore(load, most, profile.continuous_factor)
        }
        Feeding::Supply if circuit.network == Network::Pv => Demand::of(arrays(build, from), true),
        Feeding::Supply if circuit.end.is_second() => match to.roles.second_draw().get() {
            Some(watts) => Demand::of(watts * to.times() / volts, continuous(to)),
            None => Demand::default(),
        },
        Feeding::Supply => supply(build, to, volts, &|id| known.get(id).copied()),
        // Known when all positives are.
        Feeding::Return => Demand::default(),
    };
    let cap = match from.role() {
        Some(Role::Inlet | Role::Generator) => from.roles.rating().get(),
        // Of several that feed one part each gives its share.
        Some(Role::Converter) if to.supply.fed_from.all().len() > 1 => converter::rating(from),
        _ => None,
    };
    demand.at_most(cap)
}

/// What an inverter-charger takes from shore: lasting, but laid out for no more than its relay and the main breaker
/// before it let through.
fn shore(load: Amps, most: Option<Amps>, factor: f64) -> Demand {
    let demand = Demand::of(load, true).at_most(most);
    match most {
        Some(most) if factor > 1.0 && demand.design(factor) > most => {
            Demand { continuous: (most - demand.load) * (1.0 / (factor - 1.0)), ..demand }
        }
        _ => demand,
    }
}

/// Current a part puts out.
fn output(part: &Part<'_>, volts: Volts) -> Option<Amps> {
    Some(match part.role() {
        Some(Role::Inverter | Role::InverterCharger) => part.roles.power().get()? * part.times() / volts,
        // Its breaker opens before more can flow.
        Some(Role::Generator) => part.roles.rating().get()?.min(part.roles.power().get()? / volts),
        _ => return put_out(part),
    })
}

/// Current that a charger or an alternator puts out.
fn put_out(part: &Part<'_>) -> Option<Amps> {
    Some(match part.role() {
        Some(Role::Alternator) => part.roles.rating().get()?,
        _ => part.roles.output_current().get()? * part.times(),
    })
}

/// Short-circuit current of the arrays whose cable arrives at `part`, through isolators: what the cables up to the
/// controller may have to carry in bright sun, whatever the controller takes.
fn arrays(build: &Build<'_>, part: &Part<'_>) -> Amps {
    let is_array = |p: &Part<'_>| p.role() == Some(Role::Array);
    let short = |p: &Part<'_>| {
        let strings = count(p.roles.parallel().get()?) * p.times();
        Some(p.roles.isc().get()? * strings)
    };
    if is_array(part) {
        return short(part).into_iter().sum();
    }
    let ends = |c: &Circuit| build.parts.get(&c.from).is_some_and(is_array);
    let above = build.upstream(&part.id).along(|c| c.network == Network::Pv).until(ends).parts();
    above.filter(|p| is_array(p)).filter_map(short).sum()
}

pub(super) fn supply(build: &Build<'_>, part: &Part<'_>, volts: Volts, known: Known<'_>) -> Demand {
    let Some(electric) = part.electric() else { return Demand::default() };
    let network = electric.network;
    let of = |amps: Amps| Demand::of(amps, electric.continuous);
    match electric.role {
        Role::Inverter | Role::InverterCharger => {
            let Some((steady, peak)) = inverter_draw(part) else { return Demand::default() };
            Demand { surge: (peak - steady).max(Amps(0.0)), ..Demand::of(steady, electric.continuous) }
        }
        Role::Converter => converter::input(part).map_or_else(Demand::default, of),
        Role::Charger => charger_input(build, part, network, volts).map_or_else(Demand::default, of),
        Role::Outlet => part.roles.rating().get().map_or_else(Demand::default, of),
        Role::Shunt => build
            .leaving(beside(part))
            .filter(|c| c.to != part.id && c.network == network)
            .filter_map(|c| known(&c.id))
            .chain(each_behind(build, part, network, volts, known).map(|(_, demand)| demand))
            .fold(Demand::default(), Demand::and),
        role if role.passes_through() => {
            let sum = behind(build, part, network, volts, known);
            // The main breaker of a consumer unit opens before more can flow.
            if role == Role::AcPanel { sum.at_most(part.roles.rating().get()) } else { sum }
        }
        _ => {
            // Where `draw` is a mean over hours, `full_draw` is what it takes at full output.
            let watts = [part.roles.draw().get(), part.roles.full_draw().get()]
                .into_iter()
                .flatten()
                .fold(Watts(0.0), Watts::max);
            let one = part.roles.current().get().unwrap_or(watts / volts);
            let steady = Demand::of(one * part.times(), electric.continuous);
            match part.roles.start_current().get() {
                // A glow pin draws for a minute or more: fuse and cable see a load.
                Some(start) if electric.long_start => {
                    Demand { load: (start * part.times()).max(steady.load), ..steady }
                }
                Some(start) => Demand { surge: (start - one).max(Amps(0.0)), ..steady },
                None => steady,
            }
        }
    }
}

/// The demand of a circuit by its id.
pub(super) type Known<'a> = &'a dyn Fn(&str) -> Option<Demand>;

/// What all that `part` feeds takes together: the share of it that runs at one time, and at least the largest.
pub(super) fn behind(build: &Build<'_>, part: &Part<'_>, network: Network, volts: Volts, known: Known<'_>) -> Demand {
    if network == Network::Ac && build.has_two_lines(&part.id) {
        let [first, second] = lines_behind(build, part, volts, known);
        return first.either(second);
    }
    together(part, each_behind(build, part, network, volts, known))
}

/// The same, line by line of a split-phase supply.
pub(super) fn lines_behind(build: &Build<'_>, part: &Part<'_>, volts: Volts, known: Known<'_>) -> [Demand; 2] {
    [0, 1].map(|line| {
        let on_it = build.leaving(&part.id).filter(|c| build.line_of(c).holds(line));
        together(part, on_it.flat_map(|c| drawn_by(build, c, Network::Ac, volts, known)))
    })
}

/// What some circuits take together: the share of it that runs at one time.
fn together<'a>(part: &Part<'_>, all: impl Iterator<Item = (Option<&'a str>, Demand)>) -> Demand {
    let each = in_turn(all, Demand::or);
    let all = each.iter().copied().fold(Demand::default(), Demand::and);
    let shared = all.scaled(diversity(part));
    // Whatever share runs together, the largest load runs whole.
    shared.or(each.into_iter().fold(Demand::default(), Demand::or))
}

/// The same of each circuit that leaves a part.
fn each_behind<'a>(
    build: &'a Build<'_>,
    part: &'a Part<'_>,
    network: Network,
    volts: Volts,
    known: Known<'a>,
) -> impl Iterator<Item = (Option<&'a str>, Demand)> {
    build.leaving(&part.id).flat_map(move |c| drawn_by(build, c, network, volts, known))
}

/// What a circuit adds to the part that it leaves, with the word for those of which one runs at a time: an overload of what
/// the spec says in vain opens the breaker.
fn drawn_by<'a>(
    build: &'a Build<'_>,
    c: &Circuit,
    network: Network,
    volts: Volts,
    known: Known<'_>,
) -> Vec<(Option<&'a str>, Demand)> {
    let drawing = c.network == network && c.feeding != Feeding::Return;
    let Some((to, demand)) = build.parts.get(&c.to).filter(|_| drawing).zip(known(&c.id)) else { return Vec::new() };
    if to.role() != Some(Role::Outlet) {
        let one_of = to.roles.load.as_ref().and_then(|load| load.one_of.text());
        return vec![(one_of, demand)];
    }
    let plugged_in: Vec<_> = devices_on(build, |outlet| outlet == to.id).collect();
    let (by_turns, beside): (Vec<_>, Vec<_>) = plugged_in.into_iter().partition(|(one_of, _)| one_of.is_some());
    let beside: Watts = beside.into_iter().map(|(_, watts)| watts).sum();
    let most = (OUTLET * to.times()).max(beside) / volts;
    let by_turns = by_turns.into_iter().map(|(one_of, watts)| (one_of, Demand::of(watts / volts, false)));
    std::iter::once((None, demand.at_most(Some(most)))).chain(by_turns).collect()
}

/// Charge current that goes back towards the bank through the circuit that feeds `part`. It comes from the chargers
/// themselves: their own circuits may stand anywhere in the order.
fn charged(build: &Build<'_>, part: &Part<'_>) -> Demand {
    let sum = |sum: Demand, p: &Part<'_>| sum.and(charged(build, p));
    match part.role() {
        Some(Role::InverterCharger) => {
            let current = part.roles.output_current().get();
            current.map_or_else(Demand::default, |amps| Demand::of(amps * part.times(), true))
        }
        Some(Role::Shunt) => {
            let beside =
                build.leaving(beside(part)).filter(|c| c.network == Network::Dc).filter_map(|c| build.parts.get(&c.to));
            beside.filter(|p| p.role() != Some(Role::Shunt)).fold(Demand::default(), sum)
        }
        Some(role) if role.passes_through() => {
            let arriving =
                build.arriving(&part.id).filter(|c| c.network == Network::Dc && c.feeding == Feeding::Output);
            let chargers = arriving.filter_map(|c| build.parts.get(&c.from));
            let one = |p: &Part<'_>| Some(Demand::of(put_out(p)?, p.electric().is_some_and(|e| e.continuous)));
            let here = chargers.filter_map(one).fold(Demand::default(), Demand::and);
            let further = build.leaving(&part.id).filter(|c| c.network == Network::Dc && c.feeding == Feeding::Supply);
            further.filter_map(|c| build.parts.get(&c.to)).filter(|p| p.role() != Some(Role::Shunt)).fold(here, sum)
        }
        _ => Demand::default(),
    }
}

/// The bank in whose return a shunt stands: what feeds it, or what it returns to.
fn beside<'a>(shunt: &'a Part<'_>) -> &'a str {
    shunt.roles.returns_to().first().or(shunt.supply.fed_from.first()).unwrap_or_default()
}

/// Continuous and surge current an inverter takes at the voltage just above its cut-off.
pub(super) fn inverter_draw(part: &Part<'_>) -> Option<(Amps, Amps)> {
    let (power, low, efficiency) =
        (part.roles.power().get()?, part.roles.low_cutoff().get()?, part.roles.efficiency().get()?);
    let draw = inverter::draw(power, part.roles.surge_power().get(), efficiency, low)?;
    Some((draw.continuous * part.times(), draw.surge * part.times()))
}

fn charger_input(build: &Build<'_>, part: &Part<'_>, network: Network, volts: Volts) -> Option<Amps> {
    if let Some(input) = part.roles.input_current().get() {
        return Some(input * part.times());
    }
    let charged = build.dc_given_by(&part.id).map(|network| network.nominal);
    let twelves = charged.or_else(|| part.roles.output_voltage().get().map(system))? / Volts(12.0);
    let out = part.roles.output_current().get()? * part.times();
    // What loses nothing converts nothing: a relay passes the current on as it comes.
    let efficiency = part.roles.efficiency().get()?;
    if efficiency.0 >= 1.0 && network != Network::Ac && (volts.0 - twelves * 12.0).abs() < 1e-9 {
        return Some(out);
    }
    // Current that does no work flows all the same, and warms breaker and cable as the rest does.
    let power = out * (CHARGING_VOLTS * twelves) / efficiency.0.max(0.1);
    let power = match part.roles.power_factor().get().filter(|_| network == Network::Ac) {
        Some(factor) => power / factor.0.max(0.1),
        None => power,
    };
    let at = if network == Network::Start { ENGINE_RUNNING_LOW * (volts / Volts(12.0)) } else { volts };
    Some(Watts(power.0) / at)
}

/// Share of what hangs behind a part that runs at one time; all of it behind a part that knows no such share.
pub(super) fn diversity(part: &Part<'_>) -> Ratio {
    match part.roles.diversity().get() {
        Some(share) => share,
        None => Ratio(1.0),
    }
}
