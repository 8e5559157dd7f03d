//! Liquid water: density, viscosity, heat. Between 0 °C and 100 °C.

/// Heat capacity, J/(kg K). Source: [`crate::tables::sources::WATER_HEAT`]; within 0.3 % from 4 °C to 70 °C.
pub const HEAT_CAPACITY: f64 = 4182.0;

/// Acceleration of free fall, m/s² (exact by definition).
pub const GRAVITY: f64 = 9.806_65;

/// Density in kg/m³ at `celsius` (held to 0 °C to 100 °C). Source: [`crate::tables::sources::KELL_DENSITY`].
#[must_use]
pub fn density(celsius: f64) -> f64 {
    let t = celsius.clamp(0.0, 100.0);
    let above = 999.839_52
        + t * (16.945_176 + t * (-7.987_040_1e-3 + t * (-46.170_461e-6 + t * (105.563_02e-9 - 280.542_53e-12 * t))));
    above / 16.879_85e-3_f64.mul_add(t, 1.0)
}

/// Viscosity in Pa s at `celsius` (held to 0 °C to 100 °C). Source: [`crate::tables::sources::IAPWS_VISCOSITY`].
#[must_use]
pub fn viscosity(celsius: f64) -> f64 {
    let t = (celsius.clamp(0.0, 100.0) + 273.15) / 300.0;
    let terms = [(280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.459_03, -40.0)];
    terms.iter().map(|(a, b)| a * t.powf(*b)).sum::<f64>() * 1e-6
}

/// Mass in kg of `litres` at `celsius`.
#[must_use]
pub fn mass(litres: f64, celsius: f64) -> f64 {
    litres * density(celsius) / 1000.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn density_and_viscosity_as_the_library_has_them() {
        for row in rows("pipe-pressure-drop") {
            let t = num(&row, "T_C");
            assert!((density(t) / num(&row, "rho_kg_m3") - 1.0).abs() < 2e-4, "{t} °C");
            assert!((viscosity(t) * 1000.0 / num(&row, "mu_mPa_s") - 1.0).abs() < 1e-3, "{t} °C");
        }
    }

    #[test]
    fn odd_temperatures_give_plain_numbers() {
        for t in [f64::NEG_INFINITY, -40.0, 0.0, 100.0, 400.0, f64::INFINITY] {
            assert!(density(t).is_finite() && viscosity(t) > 0.0);
        }
    }
}
