//! Puts the files of a build in place: only what changed is made, all is staged beside the output, one swap shows it.
//!
//! [`Output`] is the folder as it stands, held by a lock. An [`Edition`] says what it shall hold. Where that is more
//! than stands there, [`Edition::stage`] fills a [`Staging`] folder, which [`Staging::swap_in`] puts in its place.
//! [`Output::freeze`] keeps a copy as a [`Release`] that nothing writes over.

mod edition;
mod error;
mod leftovers;
mod lock;
mod others;
mod output;
mod record;
mod release;
mod seal;
mod spec;
mod staging;
mod swap;

pub use crate::digest::{digest, digest_of};
pub use edition::Edition;
pub use error::{PublishError, plainly};
pub use output::Output;
pub use record::{Entry, RECORD, Record, VERSION, unknown};
pub use release::{Frozen, Release, folder_name, release_name, releases};
pub use seal::sealed;
pub use staging::{Published, Staging};

/// Marks an output folder as rigbinder's own.
const MADE: &str = ".made-by-rigbinder";

/// What [`MADE`] says to who opens it.
const MADE_TEXT: &str = "Files of this folder that are named after a document are written anew by every compile.\n";

/// Marks a staging folder that is not complete. It goes right before the swap: what has it holds nothing of value.
const UNFINISHED: &str = ".unfinished";

/// Folder below a staging folder where PDFs are typeset; it does not stay.
const WORK: &str = ".typst";

/// Names that are rigbinder's in every output folder.
fn is_own(name: &str) -> bool {
    [record::RECORD, MADE, UNFINISHED].contains(&name)
}
