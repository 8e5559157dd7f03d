//! Figures: pure functions from the expanded build to numbers, each entered in the ledger.

pub mod air;
pub(crate) mod bank_paths;
pub mod directory;
pub mod electrical;
pub mod emergency;
pub mod energy;
pub(crate) mod figures;
pub mod formulas;
pub(crate) mod fuse_tally;
pub mod geometry;
pub mod handover;
pub mod heat;
pub mod isolation;
pub mod ledger;
pub mod mechanics;
pub mod network;
pub mod readings;
pub mod solar;
pub(crate) mod sources;
pub(crate) mod switching;
pub mod time;
pub(crate) mod upkeep;
pub mod water;
pub mod weight;
pub mod wording;
pub(crate) mod work_plan;
