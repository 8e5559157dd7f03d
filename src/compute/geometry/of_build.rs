//! Applies the geometry to a build and enters the figures in the ledger.

use super::outline::{self, Extent};
use super::{Angle, Geometry, Point, angles, room};
use crate::build::Build;
use crate::compute::formulas::geometry as f;
use crate::compute::ledger::{Amount, Formula, Ledger, at_least, at_most};
use crate::fields::Field;
use crate::units::{Dimension, Metres};

/// Formula, subject, measure, that of the vehicle alone, field of its limit.
type Measure<'a> = (&'static Formula, &'a str, &'a Option<Extent>, Option<Metres>, &'a Field<Metres>);

impl Geometry {
    /// The geometry of `build`. What the spec leaves out gives no figure.
    pub fn compute(build: &Build<'_>, ledger: &mut Ledger) -> Self {
        let points = outline::low_points(build);
        let v = &build.vehicle;
        let rooms = room::rooms(build);
        let mut geometry = Self {
            card: outline::card(build),
            overlaps: room::overlaps(&rooms),
            aisle: room::passage(&rooms),
            too_large: room::too_large(build, &rooms),
            unmeasured: room::unmeasured(build, &rooms),
            blocked: room::blocked(build, &rooms),
            rooms,
            ..Self::default()
        };
        if let (Some(wheelbase), Some(radius)) = (v.wheelbase.get(), v.tyre_radius.get()) {
            let least = |angle: &dyn Fn(&Point) -> Option<f64>| {
                let all = points.iter().filter_map(|p| Some(Angle { degrees: angle(p)?, point: p.clone() }));
                all.min_by(|a, b| a.degrees.total_cmp(&b.degrees))
            };
            geometry.approach = least(&|p| angles::tangent(Metres(-p.x.0), p.height, radius));
            geometry.departure = least(&|p| angles::tangent(p.x - wheelbase, p.height, radius));
            geometry.breakover = least(&|p| angles::breakover(wheelbase, p.x, p.height, radius));
        }
        geometry.points = points;
        geometry.enter(build, ledger);
        geometry
    }

    fn enter(&self, build: &Build<'_>, ledger: &mut Ledger) {
        let (v, wanted) = (&build.vehicle, &build.usage);
        let card = &self.card;
        let measures: [Measure<'_>; 5] = [
            (&f::OVERALL_HEIGHT, "loaded", &card.height, v.height.get(), &wanted.height_limit),
            (&f::OVERALL_HEIGHT, "carriers-empty", &card.height_empty, v.height.get(), &wanted.height_limit),
            (&f::OVERALL_LENGTH, "loaded", &card.length, v.length.get(), &wanted.length_limit),
            (&f::OVERALL_LENGTH, "carriers-folded", &card.length_empty, v.length.get(), &wanted.length_limit),
            (&f::OVERALL_WIDTH, "vehicle", &card.width, v.width.get(), &wanted.width_limit),
        ];
        for (formula, subject, extent, own, limit) in measures {
            let (Some(extent), Some(own)) = (extent, own) else { continue };
            let limit = limit.get().map(at_most);
            ledger.enter(formula, subject, extent.value, vec![own.into(), name(build, &extent.by)], limit);
        }
        for (formula, angle, field) in [
            (&f::APPROACH, &self.approach, &wanted.approach_angle),
            (&f::DEPARTURE, &self.departure, &wanted.departure_angle),
            (&f::BREAKOVER, &self.breakover, &wanted.breakover_angle),
        ] {
            let (Some(angle), Some(radius)) = (angle, v.tyre_radius.get()) else { continue };
            let bound = field.get().map(|a| a.0);
            let degrees = |value: f64| Amount::Of(Dimension::Angle, value);
            let limit = bound.map(|b| at_least(degrees(b)));
            let p = &angle.point;
            let inputs = vec![p.x.into(), p.height.into(), radius.into(), name(build, &p.part)];
            ledger.enter(formula, "vehicle", degrees(angle.degrees), inputs, limit);
        }
        if let Some(aisle) = &self.aisle {
            let inputs = vec![build.place_name(&aisle.left).into(), build.place_name(&aisle.right).into()];
            let limit = wanted.aisle.get().map(at_least);
            ledger.enter(&f::AISLE, "vehicle", Metres(aisle.width), inputs, limit);
        }
    }
}

fn name(build: &Build<'_>, part: &str) -> Amount {
    if part.is_empty() { "the vehicle itself".to_owned().into() } else { build.name(part).to_owned().into() }
}
