//! A build with all that was computed of it: what checks, drawings and documents look at.

use super::air::AirFigures;
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

/// A build and its figures.
#[derive(Clone, Copy)]
pub struct Figures<'a> {
    /// The build.
    pub build: &'a Build<'a>,
    /// Electrical figures.
    pub electrical: &'a Electrical,
    /// Energy by the hour.
    pub energy: &'a Energy,
    /// Water figures.
    pub water: &'a Water,
    /// Heat figures.
    pub heat: &'a Heat,
    /// Weight figures.
    pub weight: &'a Weight,
    /// Geometry figures.
    pub geometry: &'a Geometry,
    /// Restraint, lashing, struts.
    pub mechanics: &'a MechanicsFigures,
    /// Compressed air.
    pub air: &'a AirFigures,
    /// Tests and what was recorded of them.
    pub readings: &'a Readings,
    /// All figures.
    pub ledger: &'a Ledger,
}
