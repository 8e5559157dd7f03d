//! What an embedded typeface says of its letters: which it has, and how wide they are.

use read_fonts::tables::cmap::{CmapSubtable, PlatformId};
use read_fonts::tables::hmtx::Hmtx;
use read_fonts::types::GlyphId;
use read_fonts::{FontRef, ReadError, TableProvider as _};

/// A typeface that is embedded in the program.
pub struct Typeface {
    /// By code numbers of Unicode; a typeface may have tables by older numbers beside it.
    letters: CmapSubtable<'static>,
    widths: Hmtx<'static>,
    units_per_em: f64,
}

impl Typeface {
    /// The typeface in the embedded `file` (below `templates/`), if there is one and it can be read.
    #[must_use]
    pub fn embedded(file: &str) -> Option<Self> {
        Self::read(super::TEMPLATES.get_file(file)?.contents()).ok()
    }

    fn read(data: &'static [u8]) -> Result<Self, ReadError> {
        let font = FontRef::new(data)?;
        let units_per_em = f64::from(font.head()?.units_per_em());
        let best = font.cmap()?.best_subtable().filter(|(_, record, _)| record.platform_id() != PlatformId::Macintosh);
        let (_, _, letters) = best.ok_or(ReadError::ValidationError)?;
        Ok(Self { letters, widths: font.hmtx()?, units_per_em })
    }

    /// The glyph of `c`; the first of a typeface is the sign for a letter that it lacks.
    fn glyph(&self, c: char) -> Option<GlyphId> {
        self.letters.map_codepoint(c).filter(|glyph| *glyph != GlyphId::NOTDEF)
    }

    /// Whether it has a letter of its own for `c`.
    #[must_use]
    pub fn has(&self, c: char) -> bool {
        self.glyph(c).is_some()
    }

    /// Advance width of `c` in shares of the size, where it has that letter.
    #[must_use]
    pub fn advance(&self, c: char) -> Option<f64> {
        Some(f64::from(self.widths.advance(self.glyph(c)?)?) / self.units_per_em)
    }

    /// Code numbers of all its letters.
    #[cfg(test)]
    pub(super) fn codes(&self) -> impl Iterator<Item = u32> {
        self.letters.iter().map(|(code, _)| code)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_told_by_unicode_alone() {
        let face = Typeface::embedded("fonts/SourceSansPro-Regular.otf").expect("typeface");
        assert!(face.has('Ä') && face.has('→') && face.advance('0') == Some(0.497));
        // 0x80 is Ä by the old numbers of one maker, and no letter in Unicode.
        assert!(!face.has('\u{80}') && !face.has('\u{10ffff}') && face.advance('\u{80}').is_none());
        assert!(Typeface::embedded("fonts/nope.otf").is_none());
    }
}
