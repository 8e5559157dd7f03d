//! Figures: pure functions from the expanded build to numbers, each entered in the ledger.

pub mod electrical;
pub mod energy;
pub mod formulas;
pub mod heat;
pub mod ledger;
pub mod network;
pub mod solar;
mod read;
pub mod time;
pub mod upkeep_plan;
pub mod water;
pub mod work_plan;
