//! Component kinds: what each brings to a build (fields, tasks, tests, upkeep, owner texts).
//!
//! All knowledge about a kind is its one file `templates/kinds/<kind>.toml`; nothing in the code matches on a kind.

mod electric;
mod geometry;
mod library;
mod mechanics;
mod template;
mod weight;

pub use electric::{Electric, Network, Role};
pub use geometry::{Envelope, Sweep};
pub use library::{KindError, Library};
pub use mechanics::{Air, AirBlock, Mechanics, MechanicsBlock};
pub use template::{
    Caution, CutOut, Kind, OwnerTexts, Reading, Signal, Stage, System, TaskTemplate, Torque, Trouble, UpkeepTemplate,
};
pub use weight::{Content, Held, Load, Rated, Rating};
