//! Constants of annealed copper. Source: [`super::sources::COPPER`].

/// Resistivity at 20 °C in ohm metre (100 % IACS).
pub(crate) const RHO_20: f64 = 1.7241e-8;

/// Temperature coefficient at 20 °C, per kelvin.
pub(crate) const ALPHA_20: f64 = 0.003_93;

/// Length of the strands over the length of the conductor; reproduces NEC Chapter 9 Table 8 within 0.5 %.
pub(crate) const LAY: f64 = 1.02;

/// Resistivity at 20 °C in ohm circular mil per foot: [`RHO_20`] in other units.
#[cfg(test)]
pub(crate) const RHO_20_CIRCULAR_MIL: f64 = 10.371;

/// Resistance at `celsius` over that at 20 °C. Never below zero.
#[must_use]
pub(crate) fn temperature_factor(celsius: f64) -> f64 {
    ALPHA_20.mul_add(celsius - 20.0, 1.0).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_spellings_of_the_resistivity_agree() {
        let circular_mil = std::f64::consts::FRAC_PI_4 * 0.0254e-3 * 0.0254e-3;
        assert!((RHO_20 / circular_mil * 0.3048 - RHO_20_CIRCULAR_MIL).abs() < 5e-4);
    }
}
