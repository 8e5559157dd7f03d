//! The spec: TOML → typed values with their places; many faults in one run.

mod model;

pub use model::{Accepted, Component, Recorded, Signature, Spec};
