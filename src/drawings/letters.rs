//! How wide a text is in the typeface of the documents.

use crate::assets::Typeface;
use std::sync::OnceLock;
use textwrap::core::{Fragment, Word};
use textwrap::word_splitters::split_words;
use textwrap::wrap_algorithms::wrap_first_fit;
use textwrap::{WordSeparator, WordSplitter};

/// Weight of a text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Weight {
    /// Plain.
    #[default]
    Regular,
    /// For names and heads.
    Semibold,
}

impl Weight {
    const fn file(self) -> &'static str {
        match self {
            Self::Regular => "fonts/SourceSansPro-Regular.otf",
            Self::Semibold => "fonts/SourceSansPro-Semibold.otf",
        }
    }
}

/// Width of an unknown character, in shares of the size.
const UNKNOWN: f64 = 0.6;

/// Width of `text` set in `size`, in the unit of `size`: the sum of the advance widths, without kerning.
#[must_use]
pub(crate) fn width(text: &str, size: f64, weight: Weight) -> f64 {
    static FACES: OnceLock<[Measured; 2]> = OnceLock::new();
    let faces = FACES.get_or_init(|| [Weight::Regular, Weight::Semibold].map(Measured::of));
    let face = &faces[usize::from(weight == Weight::Semibold)];
    text.chars().map(|c| face.advance(c)).sum::<f64>() * size
}

/// A typeface with the advance widths of the first letters of Unicode, by their numbers: nearly all that is ever drawn.
struct Measured {
    face: Option<Typeface>,
    common: Vec<f64>,
}

impl Measured {
    fn of(weight: Weight) -> Self {
        let mut face = Self { face: Typeface::embedded(weight.file()), common: Vec::new() };
        face.common = ('\0'..'\u{180}').map(|c| face.advance(c)).collect();
        face
    }

    /// Advance width of a letter, in shares of the size.
    fn advance(&self, c: char) -> f64 {
        let common = self.common.get(c as usize).copied();
        common.or_else(|| self.face.as_ref()?.advance(c)).unwrap_or(UNKNOWN)
    }
}

/// `text`, or as much of it as fits into `room` with an ellipsis at its end.
#[must_use]
pub(crate) fn fitted(text: &str, size: f64, weight: Weight, room: f64) -> String {
    if width(text, size, weight) <= room {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    while kept.pop().is_some() {
        let short: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if width(&short, size, weight) <= room {
            return short;
        }
    }
    String::new()
}

/// `text` broken between words into lines of at most `room`; a longer word stands alone and is cut.
#[must_use]
pub(crate) fn lines(text: &str, size: f64, weight: Weight, room: f64) -> Vec<String> {
    broken(text, &WordSplitter::NoHyphenation, (size, weight), room, usize::MAX)
}

/// `text` broken between words and behind hyphens into at most `most` lines of `room`; a longer word stands alone, and
/// it and what is left for the last line are cut.
#[must_use]
pub(crate) fn wrapped(text: &str, size: f64, weight: Weight, room: f64, most: usize) -> Vec<String> {
    broken(text, &WordSplitter::HyphenSplitter, (size, weight), room, most)
}

/// A word or a part of one, as wide as it is drawn.
#[derive(Debug)]
struct Drawn<'a> {
    word: Word<'a>,
    width: f64,
    space: f64,
}

impl Fragment for Drawn<'_> {
    fn width(&self) -> f64 {
        self.width
    }

    fn whitespace_width(&self) -> f64 {
        self.space
    }

    /// A word is parted behind a hyphen of its own, so none is added.
    fn penalty_width(&self) -> f64 {
        0.0
    }
}

fn broken(text: &str, at: &WordSplitter, (size, weight): (f64, Weight), room: f64, most: usize) -> Vec<String> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = split_words(WordSeparator::AsciiSpace.find_words(&text), at);
    let wide = |text: &str| width(text, size, weight);
    let drawn: Vec<_> =
        words.map(|word| Drawn { width: wide(word.word), space: wide(word.whitespace), word }).collect();
    let mut lines = Vec::new();
    let mut rest = drawn.as_slice();
    for line in wrap_first_fit(&drawn, &[room]) {
        // The last line takes all that is left, and is cut.
        let line = if lines.len() + 1 < most { line } else { rest };
        rest = &rest[line.len()..];
        if line.is_empty() {
            break;
        }
        let line: String = line.iter().flat_map(|drawn| [drawn.word.word, drawn.word.whitespace]).collect();
        lines.push(fitted(line.trim_end(), size, weight, room));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_as_wide_as_the_typeface_says() {
        // Source Sans Pro has tabular figures of 497/1000 em (its own hmtx table).
        assert!((width("0123456789", 10.0, Weight::Regular) - 49.7).abs() < 1e-9);
        assert!(width("MMM", 3.0, Weight::Semibold) > width("iii", 3.0, Weight::Semibold));
        assert_eq!(width("", 3.0, Weight::Regular), 0.0);
    }

    #[test]
    fn a_text_is_cut_or_broken_to_its_room() {
        assert_eq!(fitted("Fridge", 3.0, Weight::Regular, 100.0), "Fridge");
        let cut = fitted("Refrigerator in the galley", 3.0, Weight::Regular, 15.0);
        assert!(cut.ends_with('…') && width(&cut, 3.0, Weight::Regular) <= 15.0, "{cut}");
        assert_eq!(fitted("Fridge", 3.0, Weight::Regular, 0.5), "");
        let broken = lines("Diesel heater with its pump", 3.0, Weight::Regular, 16.0);
        assert!(broken.len() > 1 && broken.iter().all(|l| width(l, 3.0, Weight::Regular) <= 16.0), "{broken:?}");
        assert_eq!(broken.join(" "), "Diesel heater with its pump");
    }
    #[test]
    fn words_break_behind_their_hyphens_and_the_last_line_is_cut() {
        let wrapped = |text, room, most| wrapped(text, 3.0, Weight::Regular, room, most);
        assert_eq!(wrapped("Diesel-heater pump", 12.0, 9), ["Diesel-", "heater", "pump"]);
        assert_eq!(lines("Diesel-heater pump", 3.0, Weight::Regular, 20.0), ["Diesel-heater", "pump"]);
        let two = wrapped("Diesel-heater pump below the bed", 12.0, 2);
        assert!(two.len() == 2 && two[0] == "Diesel-" && two[1].starts_with("heater") && two[1].ends_with('…'));
        // A minus, a rating and a run of hyphens are no words in two parts.
        assert_eq!(wrapped("-20 12-", 4.0, 9).concat().matches('-').count(), 2);
        assert_eq!(wrapped("", 12.0, 2), Vec::<String>::new());
        assert_eq!(wrapped("  Fridge \n and\ttap ", 100.0, 1), ["Fridge and tap"]);
    }
}
