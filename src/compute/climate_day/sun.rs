//! Sun on a body: the temperature that lit sheet acts as if it had.

/// Outside film of a lit surface, W/(m²K). Source: [`crate::tables::sources::SOL_AIR`].
const FILM: f64 = 17.0;

/// Heat that a level surface throws at a clear sky as a temperature, K. Source: [`crate::tables::sources::SOL_AIR`].
pub const TO_SKY: f64 = 4.0;

/// Sol-air temperature in °C of a surface that takes up the share `absorbed` of `light` W/m², with air of `celsius`
/// around it and `to_sky` K lost to the sky.
#[must_use]
pub fn sol_air(celsius: f64, light: f64, absorbed: f64, to_sky: f64) -> f64 {
    celsius + absorbed * light / FILM - to_sky
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn sheet_in_the_sun_as_computed_outside() {
        for row in rows("sol-air") {
            let got = sol_air(num(&row, "t_o_C"), num(&row, "I_W_m2"), num(&row, "alpha"), num(&row, "longwave_K"));
            assert!((got - num(&row, "t_e_C")).abs() < 0.01, "{row:?}: {got}");
        }
    }
}
