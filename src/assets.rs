//! Everything under `templates/`, embedded in the program; texts are looked up through the catalogue.

mod coverage;
mod glyphs;
mod typeface;

pub use glyphs::{composed, has_glyph, is_accent, is_drawn, uncovered, undrawn};
pub use typeface::Typeface;

use include_dir::{Dir, include_dir};

/// The embedded `templates/` folder.
pub static TEMPLATES: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/templates");
