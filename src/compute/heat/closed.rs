//! Whether the surfaces of a build close its body: their area against the measures of the vehicle.

use super::figures::{Closed, Heat};
use crate::build::Build;
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::units::Dimension;

/// Off the outer measures for walls, linings, floor and roof, m. Common practice, no source.
const LINED: f64 = 0.10;
/// From the hips of those in front to the foremost surface that heat passes, m. Common practice, no source.
const BEFORE_HIPS: f64 = 0.5;
/// Share of the area of the box about a body that its rounded and slanting surfaces still have. Common practice, no source.
const ROUNDED: f64 = 0.9;

/// Least area that closes a body of these inside measures in m, m².
fn least([length, width, height]: [f64; 3]) -> f64 {
    ROUNDED * 2.0 * (length * width + length * height + width * height)
}

/// Inside measures of the heated body: as told, else from those of the vehicle.
fn measures(build: &Build<'_>) -> Option<[f64; 3]> {
    let v = &build.vehicle;
    let length = v.inside_length.get().map(|m| m.0).or_else(|| {
        let rear = v.wheelbase.get()?.0 + v.rear_overhang.get()?.0;
        Some(rear - (v.front_seats.get()?.0 - BEFORE_HIPS))
    });
    let width = v.inside_width.get().map(|m| m.0).or_else(|| Some(v.width.get()?.0 - LINED));
    let height = v.inside_height.get().map(|m| m.0);
    let height = height.or_else(|| Some(v.height.get()?.0 - v.floor_height.get()?.0 - LINED));
    let all = [length?, width?, height?];
    all.iter().all(|m| *m > 0.0).then_some(all)
}

/// The surfaces of `heat` against the vehicle. `None` where its measures or a surface are not told.
pub(super) fn judge(heat: &Heat, build: &Build<'_>, ledger: &mut Ledger) -> Option<Closed> {
    if build.shell.is_empty() || !heat.unknown.is_empty() {
        return None;
    }
    let measures = measures(build)?;
    let closed = Closed { area: heat.surfaces.iter().map(|s| s.area).sum(), needed: least(measures) };
    let inputs = measures.map(|m| Amount::Of(Dimension::Length, m)).to_vec();
    let limit = Some(at_least(Amount::Of(Dimension::Area, closed.needed)));
    ledger.enter(&f::SHELL_AREA, "heat", Amount::Of(Dimension::Area, closed.area), inputs, limit);
    Some(closed)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Geometry: of all bodies that fill a share of a box as an ellipsoid does, none has less than its own surface. An
    /// ellipsoid in a box of 4.2 × 1.8 × 1.9 m has 18.6 m² (Thomsen's formula, within 1.1 %), the box 37.9 m²; a van is
    /// nearer the box. A cube of 1 m has 6 m².
    #[test]
    fn a_body_has_the_area_of_its_box_less_its_rounding() {
        assert!((least([1.0, 1.0, 1.0]) - 5.4).abs() < 1e-12);
        let (a, b, c) = (2.1_f64, 0.9_f64, 0.95_f64);
        let p = 1.6075;
        let mean = ((a * b).powf(p) + (a * c).powf(p) + (b * c).powf(p)) / 3.0;
        let ellipsoid = 4.0 * std::f64::consts::PI * mean.powf(1.0 / p);
        let van = least([4.2, 1.8, 1.9]);
        assert!(van > ellipsoid && van < 37.93, "{van} {ellipsoid}");
    }
}
