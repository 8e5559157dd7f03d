//! What a module makes of the light on it: cell temperature and power.

use crate::units::{Celsius, Ratio, Watts};

/// Cell temperature at `irradiance` W/m² (Ross 1976: `T = Ta + (NOCT − 20 °C)·G/800`; Duffie & Beckman 23.3).
#[must_use]
pub fn cell_temperature(air: Celsius, irradiance: f64, noct: Celsius) -> Celsius {
    Celsius(air.0 + (noct.0 - 20.0) * irradiance / 800.0)
}

/// Power of a module of `peak` power at a cell temperature: `P = P0·G/1000·(1 + γ·(T − 25 °C))`, never below zero.
#[must_use]
pub fn power(peak: Watts, irradiance: f64, per_kelvin: Ratio, cell: Celsius) -> Watts {
    (peak * (irradiance / 1000.0 * (1.0 + per_kelvin.0 * (cell.0 - 25.0)))).max(Watts(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// pvlib 0.16.1 `temperature.ross` and `pvsystem.pvwatts_dc`.
    #[test]
    fn temperature_and_power_agree_with_pvlib() {
        for row in rows("pv-temperature") {
            let (light, air) = (num(&row, "G_W_m2"), Celsius(num(&row, "T_air_C")));
            let cell = cell_temperature(air, light, Celsius(num(&row, "noct_C")));
            assert!((cell.0 - num(&row, "Tcell_ross_C")).abs() < 6e-5, "{row:?}");
            let watts = power(Watts(num(&row, "pdc0_W")), light, Ratio(num(&row, "gamma_per_C")), cell);
            assert!((watts.0 - num(&row, "pdc_ross_W")).abs() < 6e-5, "{row:?}");
        }
    }

    #[test]
    fn a_module_never_draws() {
        assert!(power(Watts(100.0), 1000.0, Ratio(-0.01), Celsius(200.0)).0.abs() < 1e-12);
    }
}
