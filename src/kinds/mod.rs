//! Component kinds: what each brings to a build (fields, tasks, tests, upkeep, owner texts).
//!
//! All knowledge about a kind is its one file `templates/kinds/<kind>.toml`; nothing in the code matches on a kind.

mod claim;
mod coherent;
mod condition;
mod contracts;
mod cures;
mod electric;
mod energy;
mod facts;
mod fault;
mod geometry;
mod has;
mod library;
mod like;
mod measured;
mod mechanics;
mod owner;
mod plumbing;
mod post;
mod procedure;
mod proof;
mod read;
mod reading;
mod removal;
mod safety;
mod said;
mod settings;
mod shares;
mod starter;
mod state;
mod template;
mod thermal;
mod torque;
mod values;
mod variant;
mod weight;
mod words;

pub use condition::Condition;
pub use electric::{Electric, Look, Network, Role};
pub use energy::{DayPart, EnergyUse, Faces, Follows};
pub use facts::{FACTS, FIGURES};
pub use fault::KindError;
pub use geometry::{Bars, Envelope, Sweep};
pub use library::Library;
pub use measured::Measured;
pub use mechanics::{Air, AirBlock, Mechanics, MechanicsBlock};
pub use owner::{OwnerFigure, OwnerTexts, PlacedStep, Trouble};
pub use plumbing::{Plumbing, PlumbingRole};
pub use post::{Carries, Lead, LeadEnd, Post, PostForm, PostSide};
pub use procedure::{InOrder, Key, Procedure, Procedures, Registers, Share, Step};
pub use proof::{Proof, Proving};
pub(crate) use read::tagged_texts;
pub use reading::{Limits, MainsAsked, Reading};
pub use removal::Removal;
pub use safety::{Evidence, Safety, SafetyRole};
pub use said::Said;
pub use starter::starter_like;
pub use state::{Need, Of, State, States};
pub use template::{CutOut, Kind, OwnUpkeep, Tally, TaskTemplate, There, Through, UpkeepTemplate};
pub use thermal::{Thermal, ThermalRole};
pub use torque::Torque;
pub use weight::{Content, Held, HeldBy, Load, OnRoof, Rated, Rating};
pub use words::{Caution, EmergencyMark, HandoverSet, Signal, Signer, Stage, System};

/// Behind a message that a name is not known: the one that may be meant, if any is close.
fn perhaps<'n>(written: &str, known: impl Iterator<Item = &'n str>) -> String {
    nearest(written, known).map_or_else(String::new, |near| format!("; perhaps `{near}`"))
}

/// The known name that is closest to one that was written, if any is close: two slips away at most.
pub(crate) fn nearest<'n>(written: &str, known: impl Iterator<Item = &'n str>) -> Option<&'n str> {
    let slips = known.map(|name| (strsim::damerau_levenshtein(written, name), name));
    slips.filter(|(slips, _)| *slips <= 2).min_by_key(|(slips, _)| *slips).map(|(_, name)| name)
}
