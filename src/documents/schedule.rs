//! Component and fuse schedule: components, circuits, panel directories, labels, cable, fuses, purchases.

pub(crate) mod circuits;
pub(crate) mod components;
pub mod purchase;
pub(crate) mod removed;

use super::shared::cable::{self, CutRow};
use super::shared::fuses::{self, FuseRow};
use super::shared::wire::{self, WireRow};
use super::shared::{Reader, site};
use super::{BuildView, Context};
use crate::compute::directory::{self, Directory};
use crate::compute::electrical::resistance::COLD;
use crate::compute::network::slack;
use serde::Serialize;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub struct View {
    /// Head.
    pub build: BuildView,
    /// Rules in force.
    pub rules: String,
    /// Components by system.
    pub systems: Vec<components::SystemGroup>,
    /// What was done otherwise on site.
    pub(crate) deviations: Vec<site::DeviationRow>,
    /// Labels of conductors that were laid otherwise.
    pub otherwise: Vec<String>,
    /// Components that come out.
    pub removed: Vec<removed::RemovedRow>,
    /// Main path and feeders.
    pub feeders: Vec<circuits::ScheduleRow>,
    /// Final circuits by the panel or busbar they leave.
    pub panels: Vec<circuits::Group>,
    /// AC circuits by where they start.
    pub ac: Vec<circuits::Group>,
    /// Panel directories.
    pub directories: Vec<Directory>,
    /// Fault currents of the banks.
    pub banks: Vec<circuits::BankRow>,
    /// Own devices against the fault current where they sit.
    pub interrupting: Vec<circuits::InterruptingRow>,
    /// What the conductors must measure.
    pub acceptance: Vec<circuits::AcceptanceRow>,
    /// Wire labels.
    pub labels: Vec<circuits::LabelRow>,
    /// Methods of installation that stand behind conductors, in words; "" where the tables have none.
    pub methods: String,
    /// The wire that the sizes count on.
    pub wire: Vec<WireRow>,
    /// Cable cut list.
    pub cable: Vec<CutRow>,
    /// Some piece of it must be measured in the van.
    pub cable_open: bool,
    /// Length added to each piece of cable.
    pub allowance: String,
    /// Temperature at which resistances are told.
    pub cold: String,
    /// Fuses and breakers.
    pub fuses: Vec<FuseRow>,
    /// What to buy.
    pub purchase: purchase::Purchase,
}

/// The schedule of a build.
#[must_use]
pub fn view(context: &Context<'_>) -> View {
    let build = context.build;
    let cable = cable::cut_list(context);
    View {
        build: BuildView::of(build),
        rules: context.electrical.profile.name.clone(),
        systems: components::systems(context),
        deviations: site::deviations(build),
        otherwise: build.laid_otherwise().into_iter().map(str::to_owned).collect(),
        removed: removed::rows(context),
        feeders: circuits::feeders(context),
        panels: circuits::finals(context),
        ac: circuits::ac(context),
        directories: directory::directories(build, &context.electrical, Reader::Binder),
        banks: circuits::banks(context),
        interrupting: circuits::interrupting(context),
        acceptance: circuits::acceptance(context),
        labels: circuits::labels(context),
        methods: circuits::methods(context),
        wire: wire::types(context),
        cable_open: cable.iter().any(|c| !c.to_measure.is_empty()),
        cable,
        allowance: slack(build).show(build.prints()),
        cold: COLD.show(build.prints()),
        fuses: fuses::fuse_list(context),
        purchase: purchase::purchase(build),
    }
}
