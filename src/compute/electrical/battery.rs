//! Energy, run time and strings of batteries.

use super::positive;
use crate::units::{AmpHours, Amps, Ratio, Seconds, Volts, WattHours, Watts};
use serde::{Deserialize, Serialize};

const SECONDS_PER_HOUR: f64 = 3600.0;

/// Chemistry of a bank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Chemistry {
    /// Lithium iron phosphate.
    Lfp,
    /// Absorbed glass mat (lead-acid).
    Agm,
}

impl Chemistry {
    /// The chemistry of a spec's word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        match word {
            "lfp" => Some(Self::Lfp),
            "agm" => Some(Self::Agm),
            _ => None,
        }
    }
}

/// One battery, or several as one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Battery {
    /// Rated capacity.
    pub capacity: AmpHours,
    /// Nominal voltage.
    pub volts: Volts,
    /// Short-circuit current, if known.
    pub fault: Option<Amps>,
}

/// Nominal energy: capacity times voltage. Source: [`crate::tables::sources::ENERGY`].
#[must_use]
pub fn energy(capacity: AmpHours, volts: Volts) -> WattHours {
    volts * capacity
}

/// Share of an energy planned for use.
#[must_use]
pub fn usable(energy: WattHours, share: Ratio) -> WattHours {
    energy * share.0
}

/// How long an energy feeds a load. `None` where the load is not above zero. Source: [`crate::tables::sources::ENERGY`].
#[must_use]
pub fn run_time(energy: WattHours, load: Watts) -> Option<Seconds> {
    let hours = energy.0 / positive(load.0)?;
    hours.is_finite().then_some(Seconds(hours * SECONDS_PER_HOUR))
}

/// The load an energy feeds for a time. `None` where the time is not above zero. Source: [`crate::tables::sources::ENERGY`].
#[must_use]
pub fn average_load(energy: WattHours, time: Seconds) -> Option<Watts> {
    let watts = energy.0 / (positive(time.0)? / SECONDS_PER_HOUR);
    watts.is_finite().then_some(Watts(watts))
}

/// Energy an AC load takes from the bank through an inverter of this efficiency (above 0, at most 1).
#[must_use]
pub fn ac_energy_at_battery(ac: WattHours, inverter_efficiency: Ratio) -> Option<WattHours> {
    let share = positive(inverter_efficiency.0).filter(|share| *share <= 1.0)?;
    ac.0.is_finite().then(|| ac / share)
}

/// Run time of a lead-acid battery of `capacity` at the `rated` time, with exponent `k` (1.05 to 1.15 for absorbed
/// glass mat; 1 is no effect): `t = H·(C/(I·H))^k`. `None` where an input is not above zero or `k` is below 1.
/// Source: [`crate::tables::sources::PEUKERT`], the form with a rated hour.
#[must_use]
pub fn peukert_rated(capacity: AmpHours, rated: Seconds, k: f64, current: Amps) -> Option<Seconds> {
    let hours = positive(rated.0)? / SECONDS_PER_HOUR;
    let share = positive(capacity.0)? / (positive(current.0)? * hours);
    let k = positive(k).filter(|k| *k >= 1.0)?;
    positive(hours * share.powf(k) * SECONDS_PER_HOUR).map(Seconds)
}

/// Run time by the older form `t = Cp / I^k`, in which `cp` is not the capacity on the label: the two forms give
/// different times for the same numbers. `None` as for [`peukert_rated`]. Source: [`crate::tables::sources::PEUKERT`].
#[must_use]
pub fn peukert_constant(cp: f64, k: f64, current: Amps) -> Option<Seconds> {
    let k = positive(k).filter(|k| *k >= 1.0)?;
    positive(positive(cp)? / positive(current.0)?.powf(k) * SECONDS_PER_HOUR).map(Seconds)
}

/// Equal batteries as one: `series` in a string, `parallel` strings. Voltages add in a string, capacities and
/// short-circuit currents across strings ([`crate::tables::sources::ABYC_LARGE_BANK`]). `None` for none.
#[must_use]
pub fn strings(one: Battery, series: u32, parallel: u32) -> Option<Battery> {
    let (s, p) = (f64::from(series), f64::from(parallel));
    (series > 0 && parallel > 0).then(|| Battery {
        capacity: one.capacity * p,
        volts: one.volts * s,
        fault: one.fault.map(|fault| fault * p),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// Loads of `battery-energy.csv`, as its column `daily_loads` words them: (W, h, AC).
    const LOADS: [&[(f64, f64, bool)]; 3] = [
        &[(213.33, 60.0, false)],
        &[(60.0, 10.0, false), (800.0, 0.5, true), (15.0, 24.0, false)],
        &[(45.0, 8.0, false), (100.0, 2.0, true)],
    ];

    #[test]
    fn energy_balance_agrees_with_the_reference() {
        let table = rows("battery-energy");
        assert_eq!(table.len(), LOADS.len());
        for (row, loads) in table.iter().zip(LOADS) {
            let nominal = energy(AmpHours(num(row, "Ah")), Volts(num(row, "V_nominal")));
            assert!((nominal.0 - num(row, "E_nominal_Wh")).abs() < 0.005);
            let use_of = usable(nominal, Ratio(num(row, "usable_fraction")));
            assert!((use_of.0 - num(row, "E_usable_Wh")).abs() < 0.005);
            let efficiency = Ratio(num(row, "inverter_eff"));
            let day: WattHours = loads
                .iter()
                .map(|&(watts, hours, ac)| {
                    let energy = WattHours(watts * hours);
                    if ac { ac_energy_at_battery(energy, efficiency).expect("efficiency") } else { energy }
                })
                .sum();
            assert!((day.0 - num(row, "daily_Wh_at_battery")).abs() < 0.001);
            assert!((use_of / day - num(row, "autonomy_days")).abs() < 1e-4);
        }
    }

    /// Peukert with a rated hour; the first row is a published worked case (120 Ah at 20 h, 120 A, k 1.4: 0.30 h).
    #[test]
    fn peukert_agrees_with_the_reference() {
        for row in rows("peukert") {
            let (capacity, current) = (AmpHours(num(&row, "C_Ah")), Amps(num(&row, "I_A")));
            let rated = Seconds(num(&row, "H_h") * SECONDS_PER_HOUR);
            let got = peukert_rated(capacity, rated, num(&row, "k"), current).expect("time").0 / SECONDS_PER_HOUR;
            assert!((got - num(&row, "t_h")).abs() < 5e-5, "{got}");
            assert!((got * current.0 / num(&row, "delivered_Ah") - 1.0).abs() < 5e-5);
        }
    }

    /// The older form's published case (100, k 1.2, 5 A: 14.5 h), where the form with a rated hour gives 20 h.
    #[test]
    fn the_two_peukert_forms_disagree() {
        let old = peukert_constant(100.0, 1.2, Amps(5.0)).expect("time").0 / SECONDS_PER_HOUR;
        assert!((old - 14.5).abs() < 0.05, "{old}");
        let rated = peukert_rated(AmpHours(100.0), Seconds(72_000.0), 1.2, Amps(5.0)).expect("time").0;
        assert!((rated / SECONDS_PER_HOUR - 20.0).abs() < 1e-9);
    }

    /// A claim of the trade (common practice, no source): a 12 V bank of 1000 Ah feeds an air conditioner for over
    /// 60 h. That is an average of 213 W, a third of what its compressor draws: it holds for a duty cycle only.
    #[test]
    fn a_thousand_amp_hours_over_60_hours_is_213_watts() {
        let bank = energy(AmpHours(1000.0), Volts(12.8));
        let average = average_load(bank, Seconds(60.0 * SECONDS_PER_HOUR)).expect("load");
        assert!((average.0 - 213.33).abs() < 0.01);
        let flat_out = run_time(bank, Watts(600.0)).expect("time");
        assert!((flat_out.0 / SECONDS_PER_HOUR - 21.33).abs() < 0.01);
    }

    /// ABYC E-11 as quoted: 6 V batteries, two in a string, three strings, 2400 A each: 7200 A.
    #[test]
    fn strings_add_volts_and_parallel_adds_the_rest() {
        let one = Battery { capacity: AmpHours(220.0), volts: Volts(6.0), fault: Some(Amps(2400.0)) };
        let bank = strings(one, 2, 3).expect("bank");
        assert_eq!(bank, Battery { capacity: AmpHours(660.0), volts: Volts(12.0), fault: Some(Amps(7200.0)) });
        assert_eq!(strings(one, 0, 3), None);
    }

    #[test]
    fn inputs_without_an_answer_have_none() {
        assert_eq!(run_time(WattHours(100.0), Watts(0.0)), None);
        assert_eq!(average_load(WattHours(100.0), Seconds(0.0)), None);
        assert_eq!(ac_energy_at_battery(WattHours(100.0), Ratio(0.0)), None);
        assert_eq!(peukert_rated(AmpHours(100.0), Seconds(72_000.0), 0.9, Amps(5.0)), None);
        assert_eq!(peukert_constant(100.0, 1.2, Amps(0.0)), None);
        assert_eq!(Chemistry::parse("lfp"), Some(Chemistry::Lfp));
        assert_eq!(Chemistry::parse("nicd"), None);
    }
}
