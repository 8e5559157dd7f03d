//! Pressure lost in a pipe: Darcy–Weisbach with Colebrook–White, laminar below Reynolds number 2040.

use super::properties;
use std::f64::consts::{FRAC_PI_4, PI};

/// Reynolds number below which the flow is laminar.
pub const LAMINAR_BELOW: f64 = 2040.0;

/// Roughness in m of drawn plastic and copper. Source: [`crate::tables::sources::PIPE_ROUGHNESS`].
pub const SMOOTH: f64 = 1.5e-6;

/// Roughness in m of hose. Source: [`crate::tables::sources::PIPE_ROUGHNESS`].
pub const HOSE: f64 = 1e-5;

/// Darcy friction factor. `relative` is roughness over diameter. `None` where there is no flow.
///
/// Source: [`crate::tables::sources::DARCY_WEISBACH`]; Colebrook–White solved by Newton's method to rounding.
#[must_use]
pub fn friction_factor(reynolds: f64, relative: f64) -> Option<f64> {
    if !(reynolds > 0.0 && reynolds.is_finite() && (0.0..0.2).contains(&relative)) {
        return None;
    }
    if reynolds < LAMINAR_BELOW {
        return Some(64.0 / reynolds);
    }
    // x = 1/√f; x + 2 log10(a + b x) = 0 rises with x, so that Newton's method runs into its one root.
    let (a, b) = (relative / 3.7, 2.51 / reynolds);
    let mut x = 6.0_f64;
    for _ in 0..50 {
        let inside = b.mul_add(x, a);
        let value = 2.0_f64.mul_add(inside.log10(), x);
        let slope = 1.0 + 2.0 * b / (inside * std::f64::consts::LN_10);
        let next = x - value / slope;
        if (next - x).abs() <= 1e-13 * x.abs() {
            x = next;
            break;
        }
        x = next;
    }
    Some(1.0 / (x * x)).filter(|f| f.is_finite())
}

/// Loss coefficient of a rounded 90° bend with a centre line of `radius` diameters.
///
/// Source: [`crate::tables::sources::RENNELS_BEND`].
#[must_use]
pub fn bend_90(factor: f64, radius: f64) -> f64 {
    let radius = radius.max(0.5);
    let sine = std::f64::consts::FRAC_PI_4.sin();
    let round = factor * PI / 2.0 * radius;
    let turn = 2.4_f64.mul_add(factor, 0.10) * sine;
    round + turn + 6.6 * factor * (sine.sqrt() + sine) / (radius * radius)
}

/// A pipe of one diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    /// Inside diameter, m.
    pub diameter: f64,
    /// Length, m.
    pub length: f64,
    /// Fittings that turn the flow.
    pub bends: f64,
    /// Radius of such a turn, in diameters.
    pub bend_radius: f64,
    /// Roughness, m.
    pub roughness: f64,
    /// Height of the far end above the near one, m.
    pub rise: f64,
}

/// What a flow does in a pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flow {
    /// Mean speed, m/s.
    pub speed: f64,
    /// Reynolds number.
    pub reynolds: f64,
    /// Darcy friction factor.
    pub factor: f64,
    /// Pressure lost to friction along the pipe, kPa.
    pub along: f64,
    /// Pressure lost in the bends, kPa.
    pub bends: f64,
    /// Pressure the rise takes, kPa; negative where the pipe falls.
    pub lift: f64,
}

/// Flow of `litres_per_minute` of water at `celsius` through `pipe`. `None` without a flow or a diameter.
#[must_use]
pub fn flow(pipe: &Pipe, litres_per_minute: f64, celsius: f64) -> Option<Flow> {
    if !(pipe.diameter > 0.0 && litres_per_minute > 0.0 && pipe.length >= 0.0) {
        return None;
    }
    let (density, viscosity) = (properties::density(celsius), properties::viscosity(celsius));
    let speed = litres_per_minute / 60_000.0 / (FRAC_PI_4 * pipe.diameter * pipe.diameter);
    let reynolds = density * speed * pipe.diameter / viscosity;
    let factor = friction_factor(reynolds, pipe.roughness / pipe.diameter)?;
    let dynamic = density * speed * speed / 2.0 / 1000.0;
    Some(Flow {
        speed,
        reynolds,
        factor,
        along: factor * pipe.length / pipe.diameter * dynamic,
        bends: pipe.bends.max(0.0) * bend_90(factor, pipe.bend_radius) * dynamic,
        lift: density * properties::GRAVITY * pipe.rise / 1000.0,
    })
}

/// Litres in `length` m of round pipe. Source: [`crate::tables::sources::PIPE_VOLUME`].
#[must_use]
pub fn litres(diameter: f64, length: f64) -> f64 {
    FRAC_PI_4 * diameter * diameter * length * 1000.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn pressure_drops_as_the_library_has_them() {
        for row in rows("pipe-pressure-drop") {
            let pipe = Pipe {
                diameter: num(&row, "id_mm") / 1000.0,
                length: num(&row, "L_m"),
                bends: 1.0,
                bend_radius: 5.0,
                roughness: SMOOTH,
                rise: 0.0,
            };
            let got = flow(&pipe, num(&row, "flow_L_min"), num(&row, "T_C")).expect("flows");
            for (value, column, tolerance) in [
                (got.along, "dP_darcy_kPa", 5e-4),
                (got.factor, "f_colebrook", 2e-4),
                (got.reynolds, "Re", 1e-3),
                (got.speed, "v_m_s", 1e-4),
                (bend_90(got.factor, 5.0), "K_bend90", 2e-4),
            ] {
                assert!((value / num(&row, column) - 1.0).abs() < tolerance, "{} {column}: {value}", row["case"]);
            }
        }
    }

    /// Crane TP-410 example 7.1 as quoted: f 0.0179 at Re 100 600 (smooth plastic, 50 mm).
    #[test]
    fn a_handbook_example() {
        let f = friction_factor(100_600.0, SMOOTH / 0.0528).expect("flows");
        assert!((f - 0.0179).abs() < 0.0003, "{f}");
        assert_eq!(friction_factor(1000.0, 0.0), Some(0.064));
    }

    #[test]
    fn no_flow_and_no_pipe_give_no_figure() {
        let pipe = Pipe { diameter: 0.0095, length: 5.0, bends: 0.0, bend_radius: 1.0, roughness: SMOOTH, rise: 0.0 };
        assert!(flow(&pipe, 0.0, 20.0).is_none() && flow(&pipe, -3.0, 20.0).is_none());
        assert!(flow(&Pipe { diameter: 0.0, ..pipe }, 5.0, 20.0).is_none());
        assert!(friction_factor(f64::NAN, 0.0).is_none());
        assert!(friction_factor(1e5, 0.5).is_none());
    }
}
