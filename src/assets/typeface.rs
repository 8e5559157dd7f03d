//! What an embedded typeface says of its letters: which it has, and how wide they are.

use read_fonts::tables::cmap::Cmap;
use read_fonts::tables::hmtx::Hmtx;
use read_fonts::types::GlyphId;
use read_fonts::{FontRef, ReadError, TableProvider as _};

/// A typeface that is embedded in the program.
pub struct Typeface {
    letters: Cmap<'static>,
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
        Ok(Self { letters: font.cmap()?, widths: font.hmtx()?, units_per_em })
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

    /// Code numbers of all letters in its tables.
    #[cfg(test)]
    pub(super) fn codes(&self) -> Vec<u32> {
        use read_fonts::tables::cmap::PlatformId;
        let of_unicode = self.letters.encoding_records().iter().filter(|record| {
            assert_ne!(record.platform_id(), PlatformId::Macintosh);
            true
        });
        let tables = of_unicode.filter_map(|record| record.subtable(self.letters.offset_data()).ok());
        tables.flat_map(|table| table.iter().map(|(code, _)| code).collect::<Vec<_>>()).collect()
    }
}
