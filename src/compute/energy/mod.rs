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

pub use account::{Energy, Season, Stay};
pub use need::{Load, LoadKind, Need};
pub use single::{Filling, RunTime};
pub use supply::{ArrayDay, Solar, Steady};

/// A value for each hour of a day: entry 0 is midnight to one o'clock.
pub type Hours = [f64; 24];

/// Hours entry by entry.
pub(crate) fn add(to: &mut Hours, more: &Hours) {
    to.iter_mut().zip(more).for_each(|(a, b)| *a += b);
}
