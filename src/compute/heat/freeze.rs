//! Pipes and tanks in the cold: heat they lose, time until they freeze.

use std::f64::consts::{FRAC_PI_4, PI};

/// Water, kg/m³, as the published times reckon it.
const DENSITY: f64 = 1000.0;
/// Heat capacity of water, J/(kg K), as the published times reckon it.
const HEAT_CAPACITY: f64 = 4200.0;
/// Heat of fusion of ice, J/kg.
const FUSION: f64 = 334_000.0;

/// Outside film inside the body, W/(m²K). Source: [`crate::tables::sources::PIPE_FILM`].
pub const FILM_INSIDE: f64 = 10.0;
/// Outside film in the wind, W/(m²K). Source: [`crate::tables::sources::PIPE_FILM`].
pub const FILM_OUTSIDE: f64 = 25.0;
/// Added to the loss of a pipe that is to be heated. Source: [`crate::tables::sources::CYLINDER_LOSS`].
pub const DESIGN_FACTOR: f64 = 1.1;

/// A round pipe with insulation round it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sleeved {
    /// Inside diameter of the pipe, m.
    pub bore: f64,
    /// Outside diameter of the pipe, m.
    pub outside: f64,
    /// Thickness of the insulation, m.
    pub insulation: f64,
    /// Its conductivity, W/(mK).
    pub conductivity: f64,
    /// Film outside, W/(m²K).
    pub film: f64,
}

impl Sleeved {
    /// Resistance to heat of one metre, m K/W. `None` where a figure is not possible.
    ///
    /// Source: [`crate::tables::sources::CYLINDER_LOSS`]. The pipe wall is not counted.
    #[must_use]
    pub fn resistance(&self) -> Option<f64> {
        let possible = self.outside > 0.0 && self.insulation >= 0.0 && self.conductivity > 0.0 && self.film > 0.0;
        possible.then(|| {
            let outer = self.outside + 2.0 * self.insulation;
            (outer / self.outside).ln() / (2.0 * PI * self.conductivity) + 1.0 / (self.film * PI * outer)
        })
    }

    /// Heat lost by one metre in W, held at `inside` °C, without the design factor. Zero where it is not colder outside.
    #[must_use]
    pub fn loss(&self, inside: f64, outside: f64) -> Option<f64> {
        Some((inside - outside).max(0.0) / self.resistance()?)
    }

    /// Water in one metre, kg.
    #[must_use]
    pub fn water(&self) -> f64 {
        DENSITY * FRAC_PI_4 * self.bore * self.bore
    }

    /// Seconds until standing water of `from` °C is at 0 °C in air of `air` °C; `None` where it never is.
    ///
    /// Source: [`crate::tables::sources::FREEZING`].
    #[must_use]
    pub fn to_zero(&self, from: f64, air: f64) -> Option<f64> {
        (air < 0.0 && from >= 0.0)
            .then(|| Some(self.water() * HEAT_CAPACITY * self.resistance()? * ((from - air) / -air).ln()))?
    }

    /// Seconds from 0 °C until all of it is ice; `None` where it never is.
    ///
    /// Source: [`crate::tables::sources::FREEZING`].
    #[must_use]
    pub fn to_ice(&self, air: f64) -> Option<f64> {
        (air < 0.0).then(|| Some(self.water() * FUSION * self.resistance()? / -air))?
    }
}

/// Heat lost in W by a box of these outside lengths in m, insulated all round and in the wind, held at `inside` °C.
///
/// Source: [`crate::tables::sources::TANK_LOSS`].
#[must_use]
pub fn tank_loss(size: [f64; 3], insulation: f64, conductivity: f64, inside: f64, outside: f64) -> Option<f64> {
    let [a, b, c] = size;
    if !(a > 0.0 && b > 0.0 && c > 0.0 && insulation >= 0.0 && conductivity > 0.0) {
        return None;
    }
    let area = 2.0 * (a * b + b * c + a * c);
    Some(area * (inside - outside).max(0.0) / (insulation / conductivity + 1.0 / FILM_OUTSIDE))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn losses_and_times_as_computed_outside() {
        for row in rows("pipe-heat-loss") {
            let pipe = Sleeved {
                bore: num(&row, "pipe_id_mm") / 1000.0,
                outside: num(&row, "pipe_od_mm") / 1000.0,
                insulation: num(&row, "insulation_mm") / 1000.0,
                conductivity: num(&row, "k_W_mK"),
                film: num(&row, "h_out_W_m2K"),
            };
            let (warm, air) = (num(&row, "T_maintain_C"), num(&row, "T_ambient_C"));
            let loss = pipe.loss(warm, air).expect("loss");
            for (got, column) in [
                (loss, "q_with_film_W_m"),
                (loss * DESIGN_FACTOR, "q_film_plus_10pct_W_m"),
                (pipe.water(), "water_kg_m"),
                (pipe.to_zero(warm, air).expect("cools") / 3600.0, "time_to_0C_h"),
                (pipe.to_ice(air).expect("freezes") / 3600.0, "time_to_freeze_solid_h"),
            ] {
                assert!((got / num(&row, column) - 1.0).abs() < 5e-4, "{column}: {got}");
            }
        }
    }

    #[test]
    fn nothing_freezes_above_zero() {
        let pipe = Sleeved { bore: 0.01, outside: 0.015, insulation: 0.009, conductivity: 0.037, film: 10.0 };
        assert_eq!((pipe.to_zero(5.0, 0.0), pipe.to_ice(1.0)), (None, None));
        assert_eq!(pipe.loss(5.0, 8.0), Some(0.0));
        assert_eq!(Sleeved { outside: 0.0, ..pipe }.resistance(), None);
        assert_eq!(tank_loss([1.0, 0.0, 1.0], 0.02, 0.037, 5.0, -10.0), None);
    }

    /// A cube of 1 m with 40 mm of 0.04 W/mK: 6 m² · 20 K / (1 + 0.04) m²K/W.
    #[test]
    fn a_tank_by_hand() {
        let loss = tank_loss([1.0, 1.0, 1.0], 0.04, 0.04, 5.0, -15.0).expect("loss");
        assert!((loss - 115.384_615).abs() < 1e-5, "{loss}");
    }
}
