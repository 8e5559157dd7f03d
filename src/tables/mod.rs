//! Reference data: one table a file, each with its citation and how well that citation was checked.

pub(crate) mod ac_minimum;
pub(crate) mod ampacity;
pub mod ampacity_rule;
pub(crate) mod awg;
pub mod bolts;
pub mod breaker_curve;
pub(crate) mod bundling;
pub(crate) mod chemistries;
pub mod citation;
pub(crate) mod conductor_series;
pub(crate) mod copper;
pub(crate) mod crimp_pull;
pub(crate) mod engine_space;
pub mod fill;
pub(crate) mod fuse_colours;
pub(crate) mod fuse_holder;
pub(crate) mod fuse_ratings;
pub mod fuse_series;
pub(crate) mod iec60228;
pub mod iec60364;
pub(crate) mod iec60364_factors;
pub(crate) mod insulation;
pub(crate) mod lug_width;
pub mod profile;
mod profile_read;
#[cfg(test)]
pub(crate) mod reference;
pub(crate) mod rings;
pub(crate) mod rv_low_voltage;
pub(crate) mod shore_lead;
pub(crate) mod side_by_side;
pub mod sources;
pub(crate) mod terminal_torque;
pub(crate) mod usual_van;
pub mod ventilation;
