//! Openings for air that can't be shut, against the floor.

use super::figures::{FixedVents, Heat, burners};
use crate::build::Build;
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::tables::ventilation::en_721;
use crate::units::{Dimension, SquareMetres};

/// The openings of `build`. `None` where no rule asks for any, or the floor is not told.
pub(super) fn judge(heat: &Heat, build: &Build<'_>, ledger: &mut Ledger) -> Option<FixedVents> {
    let floor = heat.floor().filter(|_| build.about.rules.is("eu"))?;
    let sealed = burners(build).all(|p| p.roles.room_sealed().is_set());
    let needed = en_721(floor, sealed);
    let of = |told: Option<SquareMetres>| told.map(|a| a.0);
    let (high, low) = (of(build.vehicle.vent_high.get()), of(build.vehicle.vent_low.get()));
    for (formula, told, needed) in [(&f::VENT_HIGH, high, needed.high), (&f::VENT_LOW, low, needed.low)] {
        let Some(told) = told else { continue };
        let area = |value: f64| Amount::Of(Dimension::Area, value);
        ledger.enter(formula, "heat", area(told), vec![area(floor)], Some(at_least(area(needed))));
    }
    Some(FixedVents { floor, sealed, high, low, needed })
}
