//! Which letters the typefaces of the PDFs have.

use super::coverage::COVERED;
use super::typeface::Typeface;
use std::borrow::Cow;
use std::cmp::Ordering;
use std::collections::BTreeSet;
use std::sync::LazyLock;
use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;

/// `text` with every letter and the accents behind it as one letter, where there is such a letter. A glyph that is laid
/// over another one has no text of its own, which no archival PDF may hold.
#[must_use]
pub fn composed(text: &str) -> Cow<'_, str> {
    if text.is_ascii() || !text.contains(is_combining_mark) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(mark) = rest.find(is_combining_mark) {
        let behind = &rest[mark..];
        let marks = behind.find(|c| !is_combining_mark(c)).unwrap_or(behind.len());
        // Of letters alone: marks of XML stay what they are.
        let letter = rest[..mark].char_indices().next_back().filter(|(_, c)| c.is_alphabetic());
        let from = letter.map_or(mark, |(at, _)| at);
        out.push_str(&rest[..from]);
        out.extend(rest[from..mark + marks].nfc());
        rest = &behind[marks..];
    }
    out.push_str(rest);
    Cow::Owned(out)
}

/// Whether a typeface of the PDFs has a glyph for `c` that can stand by itself: an accent that is part of no letter
/// cannot.
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
    COVERED.binary_search_by(place).is_ok() && !is_combining_mark(c)
}

/// The typeface of drawings; its bold face has the same letters.
static DRAWN: LazyLock<Option<Typeface>> = LazyLock::new(|| Typeface::embedded("fonts/SourceSansPro-Regular.otf"));

/// Whether the typeface of drawings has a letter of its own for `c`.
///
/// What it lacks Typst takes from another typeface, and then all of that line: there, some letters are made of two
/// glyphs, the second of which has no text, and no archival PDF may hold such a one. So nothing is left to that.
#[must_use]
pub fn is_drawn(c: char) -> bool {
    c.is_ascii() || has_glyph(c) && DRAWN.as_ref().is_some_and(|face| face.has(c))
}

/// Letters that PDFs show in texts, but not in drawings, each once.
#[must_use]
pub fn undrawn(text: &str) -> Vec<char> {
    if text.is_ascii() {
        return Vec::new();
    }
    let only_in_texts = |c: &char| !c.is_control() && has_glyph(*c) && !is_drawn(*c);
    let found: BTreeSet<char> = composed(text).chars().filter(only_in_texts).collect();
    found.into_iter().collect()
}

/// Whether a character is laid over the one before it.
#[must_use]
pub fn is_accent(c: char) -> bool {
    is_combining_mark(c)
}

/// Letters that the PDFs cannot show, each once, by code number. Controls are none: they are left out everywhere.
#[must_use]
pub fn uncovered(text: &str) -> Vec<char> {
    if text.is_ascii() {
        return Vec::new();
    }
    let found: BTreeSet<char> = composed(text).chars().filter(|c| !c.is_control() && !has_glyph(*c)).collect();
    found.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everyday_signs_are_covered() {
        assert_eq!(uncovered("→≤≥≈−×±²₂☐☑⚠Ωµ°·–—…“”½⌀√Δη"), Vec::<char>::new());
        assert_eq!(uncovered("a⏚b⏚"), vec!['⏚']);
        assert_eq!(uncovered("\t\u{1b}"), Vec::<char>::new());
    }

    /// The table agrees with the typeface that is embedded here, as an independent reader finds it.
    #[test]
    fn every_letter_of_the_typeface_is_in_the_table() {
        let face = Typeface::embedded("fonts/SourceSansPro-Regular.otf").expect("typeface");
        let mut letters = 0;
        for code in face.codes() {
            let Some(c) = char::from_u32(code).filter(|c| !c.is_control()) else { continue };
            let hidden = matches!(c, '\u{e000}'..='\u{f8ff}' | '\u{ad}' | '\u{200c}'..='\u{200f}' | '\u{feff}');
            letters += 1;
            assert!(hidden || is_combining_mark(c) || has_glyph(c), "U+{code:04X}");
        }
        assert!(letters > 1000, "{letters}");
    }

    #[test]
    fn an_accent_is_covered_as_part_of_a_letter_alone() {
        assert_eq!(composed("Mo\u{308}bel, Vie\u{323}\u{302}t, vie\u{302}\u{323}t, Й"), "Möbel, Việt, việt, Й");
        assert_eq!(uncovered("Mo\u{308}bel И\u{306}"), Vec::<char>::new());
        assert_eq!(uncovered("Шка\u{301}ф x\u{301}"), ['\u{301}']);
        // Nothing of a picture's own marks is taken for a letter.
        assert_eq!(composed("<b>\u{338}</b>"), "<b>\u{338}</b>");
        assert_eq!(uncovered("=\u{338}"), ['\u{338}']);
    }

    #[test]
    fn drawings_have_the_letters_of_their_own_typeface() {
        assert_eq!(undrawn("Küche 12 V → Ωμέγα, Шкаф, ế ½ ☐"), Vec::<char>::new());
        // Ǟ would be laid together of two glyphs.
        assert_eq!(undrawn("⚠ Ǟ A\u{308}\u{304}"), ['Ǟ', '⚠']);
        let bold = Typeface::embedded("fonts/SourceSansPro-Semibold.otf").expect("typeface");
        assert!(('\u{80}'..=char::MAX).filter(|c| is_drawn(*c)).all(|c| bold.has(c)));
    }

    #[test]
    fn the_ranges_rise_and_do_not_touch() {
        assert!(COVERED.iter().all(|(first, last)| first <= last));
        assert!(COVERED.windows(2).all(|pair| pair[0].1 + 1 < pair[1].0));
    }
}
