//! Hot water: energy, recovery time, how much of it a shower sees.

use super::properties::{HEAT_CAPACITY, mass};

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

    #[test]
    fn mixing_keeps_the_heat() {
        // 10 L at 60 °C with water of 10 °C give 16.7 L at 40 °C: the heat above 10 °C is the same.
        let litres = mixed(10.0, 60.0, 10.0, 40.0).expect("hot enough");
        assert!((litres * 30.0 - 10.0 * 50.0).abs() < 1e-9);
        assert_eq!(mixed(10.0, 35.0, 10.0, 40.0), None);
        assert_eq!(recovery(500.0, 25.0, 25.0), None);
    }
}
