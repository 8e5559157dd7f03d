//! The measures a van is drawn from: those of the spec, usual ones where it gives none.

use super::boxes::Box3;
use super::outline;
use crate::build::Build;
use crate::fields::Field;
use crate::tables::usual_van::USUAL_VAN;
use crate::units::Metres;

/// Measures of a van, metres.
#[derive(Clone, Debug)]
pub struct Van {
    /// Between the axles.
    pub wheelbase: f64,
    /// Front end before the front axle.
    pub front: f64,
    /// Rear end behind the front axle.
    pub rear: f64,
    /// Width without mirrors.
    pub width: f64,
    /// Roof above the ground.
    pub height: f64,
    /// Between the wheels of an axle.
    pub track: f64,
    /// Radius of a tyre.
    pub tyre: f64,
    /// Load floor above the ground.
    pub floor: f64,
    /// Underside above the ground between the axles, at the front end and at the rear end.
    pub under: [f64; 3],
    /// Measures that the spec does not give, in words.
    pub usual: Vec<&'static str>,
}

impl Van {
    /// The van of a build; `None` without a wheelbase, since nothing else tells how large it is.
    #[must_use]
    pub fn of(build: &Build<'_>) -> Option<Self> {
        let vehicle = &build.vehicle;
        let wheelbase = vehicle.wheelbase.get().filter(|w| w.0 > 0.0)?.0;
        let mut usual = Vec::new();
        let mut take = |field: &Field<Metres>, word: &'static str, otherwise: Metres| {
            field.get().map_or_else(
                || {
                    usual.push(word);
                    otherwise.0
                },
                |m| m.0,
            )
        };
        let lift = outline::lift(build).0;
        let front = take(&vehicle.front_overhang, "front overhang", USUAL_VAN.front_overhang);
        let length = vehicle.length.get().map(|l| l.0 - wheelbase - front).filter(|o| *o > 0.0);
        let rear = match (vehicle.rear_overhang.get(), length) {
            (None, Some(rest)) => rest,
            _ => take(&vehicle.rear_overhang, "rear overhang", Metres(USUAL_VAN.rear_overhang.0 * wheelbase)),
        };
        let tyre = take(&vehicle.tyre_radius, "tyre radius", USUAL_VAN.tyre_radius);
        let van = Self {
            wheelbase,
            front,
            rear: wheelbase + rear,
            width: take(&vehicle.width, "width", USUAL_VAN.width),
            height: take(&vehicle.height, "height", USUAL_VAN.height) + lift,
            track: take(&vehicle.track, "track", USUAL_VAN.track),
            tyre,
            floor: take(&vehicle.floor_height, "floor height", USUAL_VAN.floor_height) + lift,
            under: [
                take(&vehicle.ground_clearance, "ground clearance", USUAL_VAN.ground_clearance) + lift,
                vehicle.front_clearance.get().unwrap_or(USUAL_VAN.front_clearance).0 + lift,
                vehicle.rear_clearance.get().unwrap_or(USUAL_VAN.rear_clearance).0 + lift,
            ],
            usual,
        };
        Some(van)
    }

    /// The box of the van itself, from the ground to its roof.
    #[must_use]
    pub fn body(&self) -> Box3 {
        let side = self.width / 2.0;
        Box3 { min: [-self.front, -side, -self.floor], max: [self.rear, side, self.height - self.floor] }
    }
}
