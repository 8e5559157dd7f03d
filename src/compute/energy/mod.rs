//! Energy hour by hour: what the loads need, what comes in, and what that does to the bank.
//!
//! The models of use are common practice and say so; what they feed is a plain account in which no energy is lost.

pub mod follow;
pub mod pattern;
pub mod store;

mod account;
mod enter;
mod feed;
mod need;
mod of_build;
mod single;
mod supply;

pub use account::{Energy, Season, Stay, Uncooled};
pub use need::{Load, LoadKind, Need, cools_the_air};
pub use single::{Filling, RunTime, run_goal};
pub use supply::{ArrayDay, Solar, Steady};

pub use super::climate_day::Hours;

/// Hours entry by entry.
pub(crate) fn add(to: &mut Hours, more: &Hours) {
    to.iter_mut().zip(more).for_each(|(a, b)| *a += b);
}
