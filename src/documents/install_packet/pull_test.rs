//! What a crimped end must hold, by conductor, for the sizes that are terminated here.

use crate::compute::network;
use crate::documents::Context;
use crate::tables::crimp_pull;
use crate::units::{Bound, ConductorSize};
use serde::Serialize;

/// A size and its force.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PullTest {
    /// Conductor.
    pub size: String,
    /// The least force.
    pub force: String,
    /// The figure is from memory.
    pub remembered: bool,
}

/// The sizes of all conductors that this job terminates, thin before thick.
#[must_use]
pub(super) fn rows(context: &Context<'_>) -> Vec<PullTest> {
    let build = context.build;
    let mut sizes: Vec<ConductorSize> = Vec::new();
    let worked = build.wiring.conductors.values().filter(|c| network::is_worked_on(build, c));
    for size in worked.filter_map(|c| context.electrical.conductors.get(&c.id)?.size) {
        if !sizes.contains(&size) {
            sizes.push(size);
        }
    }
    sizes.sort_by(|a, b| a.area().0.total_cmp(&b.area().0));
    let row = |size: ConductorSize| {
        let hold = crimp_pull::pull_out(size)?;
        Some(PullTest {
            size: size.to_string(),
            force: hold.force.bound(Bound::Least, context.build.prints()),
            remembered: !hold.status.may_carry_error(),
        })
    };
    sizes.into_iter().filter_map(row).collect()
}
