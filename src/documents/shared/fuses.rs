//! Fuses and breakers to buy: what is fitted, and one spare of each fuse.

pub use crate::compute::fuse_tally::{FuseRow, colour, tally};

use crate::documents::Context;

/// The fuse list of the build.
#[must_use]
pub fn fuse_list(context: &Context<'_>) -> Vec<FuseRow> {
    tally(super::wired(context).map(|(c, f)| (c.id.as_str(), &f.device)))
}
