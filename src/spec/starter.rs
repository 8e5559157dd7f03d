//! The spec to begin with.

use crate::catalogue::{Catalogue, Fault};

/// Text of a commented spec that compiles, for `rigbinder new`.
///
/// # Errors
/// Where the catalogue has none.
pub fn starter(catalogue: &Catalogue) -> Result<&str, Fault> {
    named(catalogue, "spec/starter.toml")
}

/// Text of a commented page of a shop, for `rigbinder new --shop`.
///
/// # Errors
/// Where the catalogue has none.
pub fn starter_shop(catalogue: &Catalogue) -> Result<&str, Fault> {
    named(catalogue, "spec/starter-shop.toml")
}

/// Text of a commented kind, for `rigbinder new --kind`.
///
/// # Errors
/// Where the catalogue has none.
pub fn starter_kind(catalogue: &Catalogue) -> Result<&str, Fault> {
    named(catalogue, "spec/starter-kind.toml")
}

fn named<'c>(catalogue: &'c Catalogue, path: &str) -> Result<&'c str, Fault> {
    catalogue.text(path).ok_or_else(|| Fault::of(path, &"there is no such file"))
}
