//! The spec to begin with.

use crate::assets;

/// Text of a commented spec that compiles, for `rigbinder new`.
#[must_use]
pub fn starter() -> String {
    assets::text("spec/starter.toml").unwrap_or_default().to_owned()
}
