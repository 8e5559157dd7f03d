//! The bank: energy, limits, fault current.

use super::demand::{diversity, inverter_draw};
use super::returns::stands_in_return;
use super::{Batteries, CircuitFigures, Electrical, batteries};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::compute::electrical::{battery, fault};
use crate::kinds::{Network, Role};
use crate::tables::chemistries::{self, Chemistry};
use crate::units::{AmpHours, Amps, Celsius, Ohms, Ratio, Volts, WattHours};
use indexmap::IndexMap;
use serde::Serialize;

/// Figures of a bank.
#[derive(Clone, Debug, Serialize)]
pub struct Bank {
    /// Capacity of all together.
    pub capacity: AmpHours,
    /// Nominal voltage.
    pub volts: Volts,
    /// Energy at nominal voltage.
    pub energy: WattHours,
    /// Share planned for use.
    pub usable_share: Ratio,
    /// Energy planned for use.
    pub usable: WattHours,
    /// Share of the energy put in that comes out again.
    #[serde(skip)]
    pub charge_efficiency: Ratio,
    /// Resistance inside.
    pub resistance: Ohms,
    /// Fault current at its posts.
    pub fault: Option<Amps>,
    /// The spec gives it, or the resistance; otherwise it is the usual one.
    pub fault_given: bool,
    /// Where the spec read it, if it says so.
    pub fault_from: Option<String>,
    /// What is usual for a bank of its chemistry and capacity.
    pub usual_fault: Option<Amps>,
    /// Between which figures that of a real one lies.
    pub plausible_fault: Option<[Amps; 2]>,
    /// Largest current drawn from it.
    pub discharge: Amps,
    /// Limit of that, if the spec gives one.
    pub max_discharge: Option<Amps>,
    /// Sum of all charge currents.
    pub charge: Amps,
    /// Limit of that, if the spec gives one.
    pub max_charge: Option<Amps>,
    /// What each battery has, where several are in parallel.
    pub batteries: Option<Batteries>,
}

/// Why a fault current that the spec gives for a bank is doubted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// Less than a real bank of its size gives without electronics, or more.
    Unusual,
    /// Less than what the bank is said or has to give in use.
    BelowUse,
    /// So far off that a unit or a figure must have slipped.
    Slip,
}

/// How far beyond what is usual no data sheet goes: a battery's electronics let through several times its largest load.
const SLIP: [f64; 2] = [1.0 / 20.0, 10.0];

impl Bank {
    /// What speaks against the fault current that the spec gives; `None` where it gives none, or nothing does.
    #[must_use]
    pub fn doubt(&self) -> Option<Doubt> {
        let (fault, usual) = (self.fault.filter(|_| self.fault_given)?, self.usual_fault?);
        // A figure that equals its limit keeps it.
        let below = |a: Amps, b: Amps| a.0 < b.0 * (1.0 - 1e-9);
        let outside = |low: Amps, high: Amps| below(fault, low) || below(high, fault);
        let used = self.max_discharge.map_or(self.discharge, |most| most.max(self.discharge));
        if outside(usual * SLIP[0], usual * SLIP[1]) {
            Some(Doubt::Slip)
        } else if !below(used, fault) {
            Some(Doubt::BelowUse)
        } else {
            let [low, high] = self.plausible_fault?;
            outside(low, high).then_some(Doubt::Unusual)
        }
    }
}

pub(super) fn banks(build: &Build<'_>, all: &Electrical) -> IndexMap<String, Bank> {
    let banks = build.parts.values().filter(|p| p.role() == Some(Role::Bank));
    banks.filter_map(|p| Some((p.id.clone(), bank(build, all, p)?))).collect()
}

/// `None` where what every kind of bank tells cannot be read in the spec.
fn bank(build: &Build<'_>, all: &Electrical, part: &Part<'_>) -> Option<Bank> {
    let times = part.times();
    let capacity = part.roles.capacity_charge().get()? * times;
    let volts = voltage(part)?;
    let energy = battery::energy(capacity, volts);
    let bank = part.roles.bank.as_ref()?;
    let usual = chemistry(part)?;
    let usable_share = part.roles.usable().get().unwrap_or(usual.usable);
    let resistance = resistance(part)?;
    let outputs = build.circuits.values().filter(|c| c.feeding == Feeding::Output && c.network == Network::Dc);
    let own = outputs.filter(|c| is_fed_by(build, &c.to, &part.id));
    let charge: Amps = own.filter_map(|c| all.circuits.get(&c.id)).map(|c: &CircuitFigures| c.demand.load).sum();
    let combined = build.parts.values().filter(|p| p.role() == Some(Role::InverterCharger));
    let combined = combined.filter(|p| is_fed_by(build, &p.id, &part.id));
    let charge = charge + combined.filter_map(|p| Some(p.roles.output_current().get()? * p.times())).sum();
    let usual_fault = usual_resistance(part).and_then(|r| fault::prospective(volts, r, Ohms(0.0)));
    Some(Bank {
        capacity,
        volts,
        energy,
        usable_share,
        charge_efficiency: bank.charge_efficiency.get().unwrap_or(usual.charge_efficiency),
        usable: battery::usable(energy, usable_share),
        resistance,
        fault: fault::prospective(volts, resistance, Ohms(0.0)),
        fault_given: given_resistance(part).is_some(),
        fault_from: part.roles.fault_current_from().text().map(|t| t.trim().to_owned()).filter(|t| !t.is_empty()),
        usual_fault,
        plausible_fault: usual_fault.map(|fault| usual.plausible.map(|share| fault * share.0)),
        discharge: drawn(build, all, &part.id),
        max_discharge: part.roles.max_discharge().get().map(|a| a * times),
        charge,
        max_charge: part.roles.max_charge().get().map(|a| a * times),
        batteries: batteries::of(build, all, part, fault::prospective(volts, resistance, Ohms(0.0))),
    })
}

/// Nominal voltage of a bank.
pub(super) fn voltage(part: &Part<'_>) -> Option<Volts> {
    part.roles.voltage().get()
}

/// Resistance inside a bank: what the spec gives, else the usual one.
pub(super) fn resistance(part: &Part<'_>) -> Option<Ohms> {
    given_resistance(part).or_else(|| usual_resistance(part))
}

/// From the maker's fault current or resistance.
fn given_resistance(part: &Part<'_>) -> Option<Ohms> {
    let maker = part.roles.fault_current().get().map(|f| f * part.times());
    let of_fault = maker.and_then(|f| fault::internal_from_fault(voltage(part)?, f));
    of_fault.or_else(|| part.roles.internal_resistance().get().map(|r| r / part.times()))
}

fn usual_resistance(part: &Part<'_>) -> Option<Ohms> {
    let capacity = part.roles.capacity_charge().get()? * part.times();
    fault::usual_internal_resistance(chemistry(part)?, capacity, voltage(part)?)
}

/// The temperature below which charging harms a bank; `None` where cold does not.
pub(crate) fn charge_harms_below(part: &Part<'_>) -> Option<Celsius> {
    chemistry(part).filter(|chemistry| chemistry.charge_harms_in_cold).and(part.roles.charge_above().get())
}

/// Whether a bank is kept warm: by its own heater, or by a pad.
pub(crate) fn is_warmed(build: &Build<'_>, bank: &Part<'_>) -> bool {
    bank.roles.heated().is_set() || build.parts.values().any(|p| p.roles.warms().names(&bank.id))
}

fn chemistry(part: &Part<'_>) -> Option<&'static Chemistry> {
    part.roles.chemistry().text().and_then(chemistries::of)
}

/// Current that everything behind `part` draws at one time. What the circuits carry may be more: charge current
/// flows through the same ones.
fn drawn(build: &Build<'_>, all: &Electrical, part: &str) -> Amps {
    each_drawn(build, all, part).sum()
}

/// What each circuit that leaves `part` draws. Of a panel's circuits a share runs together, but at least the largest.
fn each_drawn<'a>(build: &'a Build<'_>, all: &'a Electrical, part: &'a str) -> impl Iterator<Item = Amps> + use<'a> {
    let leaving = build.leaving(part).filter(|c| c.network == Network::Dc && !stands_in_return(build, &c.to));
    leaving.filter(|c| c.feeding == Feeding::Supply).filter_map(|c| {
        let to = build.parts.get(&c.to)?;
        Some(match to.role() {
            Some(role) if role.passes_through() => {
                let behind: Vec<Amps> = each_drawn(build, all, &to.id).collect();
                let shared = behind.iter().copied().sum::<Amps>() * diversity(to).0;
                behind.into_iter().fold(shared, Amps::max)
            }
            Some(Role::InverterCharger) => inverter_draw(to)?.0,
            _ => all.circuits.get(&c.id)?.demand.load,
        })
    })
}

/// Whether `part` is the bank `bank` or hangs on it.
fn is_fed_by(build: &Build<'_>, part: &str, bank: &str) -> bool {
    // What charges behind a converter charges no bank before it.
    let converts = |c: &Circuit| build.parts.get(&c.from).and_then(Part::role) == Some(Role::Converter);
    let supplies = |c: &&Circuit| c.network == Network::Dc && c.feeding == Feeding::Supply && !converts(c);
    let mut above = build.arriving(part).filter(supplies);
    part == bank || above.any(|c| is_fed_by(build, &c.from, bank))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::roles;

    /// Every chemistry that a spec may name has its usual values, and the fields tell them as they are.
    #[test]
    fn what_is_usual_stands_in_the_table_for_every_chemistry() {
        let field = |name: &str| roles::Bank::CONTRACT.field(name).expect("field");
        let chosen = field("chemistry").declare(&toml::Table::new()).expect("declaration").choices;
        assert_eq!(chosen.len(), chemistries::ALL.len());
        for word in chosen {
            let usual = chemistries::of(&word).expect("usual values");
            for (name, share) in [("usable", usual.usable), ("charge_efficiency", usual.charge_efficiency)] {
                let told = format!("{:.0} % for {word}", share.0 * 100.0);
                assert!(field(name).about.contains(&told), "{name}: {told}");
            }
        }
    }
}
