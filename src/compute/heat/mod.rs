//! Heat: losses of the shell, heater and fuel, moist air, pipes and tanks in the cold.
//!
//! Pure functions in the files beside this one; `of_build` and `of_pipes` apply them to a build.

pub mod air;
mod closed;
pub mod envelope;
mod figures;
pub mod freeze;
pub mod fuel;
mod of_build;
mod of_gas;
mod of_pipes;
mod of_surfaces;
pub mod psychrometrics;
mod vents;

pub use figures::{GasDemand, Heat, Held, Outdoors, Run, Surface, fuel_word, lows};
pub(crate) use figures::{burners, gas_burners, of_role as parts_of};
pub use of_build::HEIGHT;
pub use of_pipes::is_outside;
