//! Which letters the typefaces of the PDFs have.

use super::coverage::COVERED;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// Whether a typeface of the PDFs has a glyph for `c`.
#[must_use]
pub fn has_glyph(c: char) -> bool {
    if matches!(c, ' '..='~') {
        return true;
    }
    let code = u32::from(c);
    let place = |(first, last): &(u32, u32)| {
        if code < *first {
            Ordering::Greater
        } else if code > *last {
            Ordering::Less
        } else {
            Ordering::Equal
        }
    };
    COVERED.binary_search_by(place).is_ok()
}

/// Letters that the PDFs cannot show, each once, by code number. Controls are none: they are left out everywhere.
#[must_use]
pub fn uncovered(text: &str) -> Vec<char> {
    if text.is_ascii() {
        return Vec::new();
    }
    let found: BTreeSet<char> = text.chars().filter(|c| !c.is_control() && !has_glyph(*c)).collect();
    found.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use ttf_parser::{Face, PlatformId};

    #[test]
    fn everyday_signs_are_covered() {
        assert_eq!(uncovered("→≤≥≈−×±²₂☐☑⚠Ωµ°·–—…“”½⌀√Δη"), Vec::<char>::new());
        assert_eq!(uncovered("a⏚b⏚"), vec!['⏚']);
        assert_eq!(uncovered("\t\u{1b}"), Vec::<char>::new());
    }

    /// The table agrees with the typeface that is embedded here, as an independent reader finds it.
    #[test]
    fn every_letter_of_the_typeface_is_in_the_table() {
        let file = crate::assets::TEMPLATES.get_file("fonts/SourceSansPro-Regular.otf").expect("embedded");
        let face = Face::parse(file.contents(), 0).expect("typeface");
        let mut letters = 0;
        for table in
            face.tables().cmap.expect("cmap").subtables.into_iter().filter(ttf_parser::cmap::Subtable::is_unicode)
        {
            assert_ne!(table.platform_id, PlatformId::Macintosh);
            table.codepoints(|code| {
                let Some(c) = char::from_u32(code).filter(|c| !c.is_control()) else { return };
                let hidden = matches!(c, '\u{e000}'..='\u{f8ff}' | '\u{ad}' | '\u{200c}'..='\u{200f}' | '\u{feff}');
                letters += 1;
                assert!(hidden || has_glyph(c), "U+{code:04X}");
            });
        }
        assert!(letters > 1000, "{letters}");
    }

    #[test]
    fn the_ranges_rise_and_do_not_touch() {
        assert!(COVERED.iter().all(|(first, last)| first <= last));
        assert!(COVERED.windows(2).all(|pair| pair[0].1 + 1 < pair[1].0));
    }
}
