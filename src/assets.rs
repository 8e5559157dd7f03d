//! Everything under `templates/`, embedded in the program.

mod coverage;
mod glyphs;

pub use glyphs::{composed, has_glyph, is_accent, is_drawn, uncovered, undrawn};

use include_dir::{Dir, include_dir};

/// The embedded `templates/` folder.
pub static TEMPLATES: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/templates");

/// Text of the template at `path` (below `templates/`), if there is one and it is UTF-8.
#[must_use]
pub fn text(path: &str) -> Option<&'static str> {
    TEMPLATES.get_file(path)?.contents_utf8()
}

/// Stems and texts of the files with `extension` in `folder`, sorted by stem.
#[must_use]
pub fn folder(folder: &str, extension: &str) -> Vec<(&'static str, &'static str)> {
    let Some(dir) = TEMPLATES.get_dir(folder) else { return Vec::new() };
    let mut files: Vec<_> = dir
        .files()
        .filter(|f| f.path().extension().is_some_and(|e| e == extension))
        .filter_map(|f| Some((f.path().file_stem()?.to_str()?, f.contents_utf8()?)))
        .collect();
    files.sort_unstable();
    files
}
