//! Water: how long it lasts, what reaches each outlet, hot water, sanitising, winterising, weight.
//!
//! Pure functions in the files beside this one; `of_build` applies them to a build.

pub mod both;
pub mod dose;
pub mod friction;
pub mod hot;
mod of_build;
mod of_two;
mod paths;
pub mod properties;
pub mod pump;
pub mod supply;

pub(crate) use of_build::drained_by;
pub use of_build::{Heated, Outlet, Tank, Water};
pub(crate) use paths::of_role;
pub use paths::{Line, lines_to};
