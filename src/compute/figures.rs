//! All that is computed of a build: what checks, drawings and documents look at. A new system is named here alone.

use super::air::AirFigures;
use super::climate_day::ClimateDays;
use super::energy::Energy;
use super::geometry::Geometry;
use super::heat::Heat;
use super::ledger::Ledger;
use super::mechanics::MechanicsFigures;
use super::network::Electrical;
use super::readings::Readings;
use super::water::Water;
use super::weight::Weight;
use crate::build::Build;
use crate::tables::profile::Profile;
use serde::Serialize;
use std::ops::Deref;

/// The figures of a build, by system.
#[derive(Clone, Debug, Serialize)]
pub struct Figures {
    /// Electrical figures.
    pub electrical: Electrical,
    /// Energy by the hour.
    pub energy: Energy,
    /// Water figures.
    pub water: Water,
    /// Heat figures.
    pub heat: Heat,
    /// A day of each climate, outside and inside.
    pub climate_days: ClimateDays,
    /// Weight figures.
    pub weight: Weight,
    /// Geometry figures.
    pub geometry: Geometry,
    /// Restraint, lashing, struts.
    pub mechanics: MechanicsFigures,
    /// Compressed air.
    pub air: AirFigures,
    /// Tests and what was recorded of them; none until the caller has judged them.
    pub readings: Readings,
    /// All figures.
    pub ledger: Ledger,
}

impl Figures {
    /// Computes every system. The readings come after, since their texts tell figures.
    #[must_use]
    pub fn compute(build: &Build<'_>, profile: Profile) -> Self {
        let mut ledger = Ledger::default();
        let electrical = Electrical::compute(build, profile, &mut ledger);
        let heat = Heat::compute(build, &mut ledger);
        let climate_days = ClimateDays::compute(build, &heat, &mut ledger);
        let energy = Energy::compute(build, &electrical, &heat, &climate_days, &mut ledger);
        let water = Water::compute(build, &mut ledger);
        let weight = Weight::compute(build, &mut ledger);
        let geometry = Geometry::compute(build, &mut ledger);
        let mechanics = MechanicsFigures::compute(build, &weight, &mut ledger);
        let air = AirFigures::compute(build, &mut ledger);
        let readings = Readings::default();
        Self { electrical, energy, water, heat, climate_days, weight, geometry, mechanics, air, readings, ledger }
    }

    /// The same without lengths where the subject is one of those that `secret` names; the readings are to be judged
    /// anew, since their texts tell figures.
    #[must_use]
    pub fn without_lengths(&self, secret: &dyn Fn(&str) -> bool) -> Self {
        Self { ledger: self.ledger.without_lengths(secret), ..self.clone() }
    }
}

/// A build with its figures.
#[derive(Clone, Copy, Debug)]
pub struct Computed<'a> {
    /// The build.
    pub build: &'a Build<'a>,
    /// Its figures.
    pub figures: &'a Figures,
}

impl Deref for Computed<'_> {
    type Target = Figures;

    fn deref(&self) -> &Figures {
        self.figures
    }
}
