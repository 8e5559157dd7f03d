//! The spec to begin with.

use crate::catalogue::{Catalogue, Fault};

/// Text of a commented spec that compiles, for `rigbinder new`.
///
/// # Errors
/// Where the catalogue has none.
pub fn starter(catalogue: &Catalogue) -> Result<&str, Fault> {
    let path = "spec/starter.toml";
    catalogue.text(path).ok_or_else(|| Fault::of(path, &"there is no such file"))
}
