//! How a fuse that is bolted into its holder goes in beside a bar that the bank feeds: told once, in the packet whose tasks
//! name it.

use super::task::TaskView;
use crate::compute::isolation::{main_switches, names};
use crate::compute::sources::Sources;
use crate::documents::Context;
use crate::documents::dc_facts::BOLTED;
use crate::kinds::Role;
use serde::Serialize;

/// What is switched off while one is fitted.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Bolted {
    /// The switches that cut the bank off; "" where it has none.
    pub switch: String,
    /// How the sources are cut off, a clause; "" where there are none.
    pub sources: String,
    /// Whether an inverter's empty capacitors may lie behind one.
    pub inverter: bool,
}

/// The section, where a task of the packet says that a fuse goes in by it.
pub(super) fn of(context: &Context<'_>, tasks: &[TaskView]) -> Option<Bolted> {
    let named = tasks.iter().flat_map(|t| &t.steps).any(|step| step.contains(BOLTED));
    let build = context.build;
    let inverts = |role: Role| matches!(role, Role::Inverter | Role::InverterCharger);
    named.then(|| Bolted {
        switch: names(&main_switches(build)),
        sources: Sources::of(build).off(),
        inverter: build.parts.values().any(|p| p.role().is_some_and(inverts)),
    })
}
