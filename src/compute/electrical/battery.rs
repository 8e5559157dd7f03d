//! Energy and run time of batteries.

use super::positive;
use crate::units::{AmpHours, Ratio, Seconds, Volts, WattHours, Watts};

const SECONDS_PER_HOUR: f64 = 3600.0;

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
                    if ac { energy / efficiency.0 } else { energy }
                })
                .sum();
            assert!((day.0 - num(row, "daily_Wh_at_battery")).abs() < 0.001);
            assert!((use_of / day - num(row, "autonomy_days")).abs() < 1e-4);
        }
    }

    /// A claim of the trade (common practice, no source): a 12 V bank of 1000 Ah feeds an air conditioner for over
    /// 60 h. Flat out it is 21 h with a compressor of 600 W: the claim holds for a duty cycle only.
    #[test]
    fn a_thousand_amp_hours_feed_600_watts_for_21_hours() {
        let flat_out = run_time(energy(AmpHours(1000.0), Volts(12.8)), Watts(600.0)).expect("time");
        assert!((flat_out.0 / SECONDS_PER_HOUR - 21.33).abs() < 0.01);
    }

    #[test]
    fn inputs_without_an_answer_have_none() {
        assert_eq!(run_time(WattHours(100.0), Watts(0.0)), None);
    }
}
