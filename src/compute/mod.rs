//! Figures: pure functions from the expanded build to numbers, each entered in the ledger.

pub mod air;
pub mod electrical;
pub mod formulas;
pub mod geometry;
pub mod ledger;
pub mod mechanics;
pub mod network;
pub mod time;
pub mod upkeep_plan;
pub mod weight;
pub mod work_plan;
