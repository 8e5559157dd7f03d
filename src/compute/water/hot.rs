//! Hot water: energy, recovery time, how much of it a shower sees.

use super::properties::{HEAT_CAPACITY, mass};
use crate::units::Seconds;

/// Energy in Wh that heats `litres` from `cold` to `hot` °C. Zero where it is not warmer.
///
/// Source: [`crate::tables::sources::WATER_HEAT`].
#[must_use]
pub fn energy(litres: f64, cold: f64, hot: f64) -> f64 {
    mass(litres.max(0.0), cold) * HEAT_CAPACITY * (hot - cold).max(0.0) / 3600.0
}

/// Seconds that `watts` take for it, after what the tank loses meanwhile. `None` where the heater never gets there.
#[must_use]
pub fn recovery(energy_wh: f64, watts: f64, loss: f64) -> Option<f64> {
    let net = watts - loss.max(0.0);
    (net > 0.0 && energy_wh >= 0.0).then(|| energy_wh * 3600.0 / net)
}

/// Litres of mixed water at `use_at` °C that a full tank gives; `None` where it is not hot enough.
#[must_use]
pub fn mixed(litres: f64, hot: f64, cold: f64, use_at: f64) -> Option<f64> {
    (use_at > cold && hot >= use_at).then(|| litres * (hot - cold) / (use_at - cold))
}

/// Litres a minute at `use_at` °C that `watts` heat without end; `None` where cold water is as warm.
#[must_use]
pub fn without_end(watts: f64, cold: f64, use_at: f64) -> Option<f64> {
    let one = energy(1.0, cold, use_at);
    (one > 0.0).then(|| watts.max(0.0) / one / 60.0)
}

/// Seconds that a full tank gives `flow` L/min at `use_at` °C while `watts` go on heating it: what runs off holds the heat
/// of the tank and what the heater adds meanwhile. `None` where it is not hot enough, or never ends.
#[must_use]
pub fn lasts(litres: f64, (hot, cold, use_at): (f64, f64, f64), flow: f64, watts: f64) -> Option<f64> {
    mixed(litres, hot, cold, use_at)?;
    let less = flow - without_end(watts, cold, use_at)?;
    (less > 0.0).then(|| energy(litres, cold, hot) / energy(1.0, cold, use_at) / less * 60.0)
}

/// Whether warm water runs as long as is wanted: what never runs cold, or of which nothing tells, does.
#[must_use]
pub fn reaches(lasts: Option<f64>, goal: Seconds) -> bool {
    lasts.is_none_or(|seconds| seconds >= goal.0 * (1.0 - 1e-9))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn energy_and_time_as_the_library_has_them() {
        for row in rows("tank-heating") {
            let (litres, cold, hot) = (num(&row, "volume_L"), num(&row, "T1_C"), num(&row, "T2_C"));
            let wh = energy(litres, cold, hot);
            assert!((wh / 1000.0 / num(&row, "energy_kWh") - 1.0).abs() < 5e-3, "{litres} L");
            let minutes = recovery(wh, num(&row, "heater_W"), 0.0).expect("heats") / 60.0;
            assert!((minutes / num(&row, "time_min_no_loss") - 1.0).abs() < 5e-3, "{litres} L: {minutes} min");
        }
    }

    /// Enthalpy of the tank by the library of `tank-heating.csv`, and what the heater adds until the water runs cold, are
    /// what has run off; from cold to the set temperature, as that is what a row heats.
    #[test]
    fn what_runs_off_warm_holds_the_heat_of_the_tank_and_of_the_heater() {
        for row in rows("tank-heating") {
            let (litres, cold, hot) = (num(&row, "volume_L"), num(&row, "T1_C"), num(&row, "T2_C"));
            let use_at = f64::midpoint(cold, hot);
            let watts = num(&row, "heater_W");
            let flow = 2.0 * without_end(watts, cold, use_at).expect("warmer") + 3.0;
            let seconds = lasts(litres, (hot, cold, use_at), flow, watts).expect("ends");
            let ran_off = energy(flow * seconds / 60.0, cold, use_at) / 1000.0;
            let put_in = num(&row, "energy_kWh") + watts / 1000.0 * seconds / 3600.0;
            assert!((ran_off / put_in - 1.0).abs() < 5e-3, "{litres} L: {ran_off} of {put_in} kWh");
        }
    }

    /// 10 L at 60 °C are 16.7 L at 40 °C from water of 10 °C: 3.3 min at 5 L/min. A burner of 5 kW heats 2.4 L/min by 30 K
    /// beside that (5000 / (4186 · 30) · 60), so it lasts 5000/2614 times as long; one of 11 kW never runs cold.
    #[test]
    fn a_heater_that_keeps_up_never_runs_cold() {
        let of = |watts| lasts(10.0, (60.0, 10.0, 40.0), 5.0, watts);
        assert!((of(0.0).expect("ends") - 200.0).abs() < 0.5, "{:?}", of(0.0));
        let share = 5.0 / (5.0 - without_end(5000.0, 10.0, 40.0).expect("warmer"));
        assert!((of(5000.0).expect("ends") / of(0.0).expect("ends") - share).abs() < 1e-9);
        assert!((without_end(5000.0, 10.0, 40.0).expect("warmer") - 2.389).abs() < 0.01);
        assert_eq!((of(11_000.0), lasts(10.0, (35.0, 10.0, 40.0), 5.0, 0.0)), (None, None));
    }

    #[test]
    fn mixing_keeps_the_heat() {
        // 10 L at 60 °C with water of 10 °C give 16.7 L at 40 °C: the heat above 10 °C is the same.
        let litres = mixed(10.0, 60.0, 10.0, 40.0).expect("hot enough");
        assert!((litres * 30.0 - 10.0 * 50.0).abs() < 1e-9);
        assert_eq!(mixed(10.0, 35.0, 10.0, 40.0), None);
        assert_eq!(recovery(500.0, 25.0, 25.0), None);
    }
}
