//! Reference data: one table a file, each with its citation and how well that citation was checked.

pub mod ac_minimum;
pub mod ampacity;
pub mod awg;
pub mod bolts;
pub mod bundling;
pub mod chemistries;
pub mod citation;
pub mod conductor_series;
pub mod copper;
pub mod engine_space;
pub mod fuse_colours;
pub mod fuse_ratings;
pub mod fuse_series;
pub mod iec60228;
pub mod insulation;
pub mod profile;
mod profile_read;
#[cfg(test)]
pub(crate) mod reference;
pub mod sources;
pub mod terminal_torque;
pub mod usual_van;
