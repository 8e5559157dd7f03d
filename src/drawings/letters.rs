//! How wide a text is in the typeface of the documents.

use std::sync::OnceLock;
use ttf_parser::Face;

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

fn face(weight: Weight) -> Option<&'static Face<'static>> {
    static FACES: OnceLock<[Option<Face<'static>>; 2]> = OnceLock::new();
    let read = |weight: Weight| {
        let file = crate::assets::TEMPLATES.get_file(weight.file())?;
        Face::parse(file.contents(), 0).ok()
    };
    let faces = FACES.get_or_init(|| [Weight::Regular, Weight::Semibold].map(read));
    faces[usize::from(weight == Weight::Semibold)].as_ref()
}

/// Width of `text` set in `size`, in the unit of `size`: the sum of the advance widths, without kerning.
#[must_use]
pub fn width(text: &str, size: f64, weight: Weight) -> f64 {
    let common = common(weight);
    let advance = |c: char| common.get(c as usize).copied().unwrap_or_else(|| advance(face(weight), c));
    text.chars().map(advance).sum::<f64>() * size
}

/// Advance width of a character, in shares of the size.
fn advance(face: Option<&Face<'_>>, c: char) -> f64 {
    let wide =
        face.and_then(|f| Some(f64::from(f.glyph_hor_advance(f.glyph_index(c)?)?) / f64::from(f.units_per_em())));
    wide.unwrap_or(UNKNOWN)
}

/// Advance widths of the first characters of Unicode, by their numbers: nearly all that is ever drawn.
fn common(weight: Weight) -> &'static [f64] {
    static WIDTHS: OnceLock<[Vec<f64>; 2]> = OnceLock::new();
    let of = |weight: Weight| ('\0'..'\u{180}').map(|c| advance(face(weight), c)).collect();
    let widths = WIDTHS.get_or_init(|| [Weight::Regular, Weight::Semibold].map(of));
    &widths[usize::from(weight == Weight::Semibold)]
}

/// `text`, or as much of it as fits into `room` with an ellipsis at its end.
#[must_use]
pub fn fitted(text: &str, size: f64, weight: Weight, room: f64) -> String {
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
pub fn lines(text: &str, size: f64, weight: Weight, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let joined = lines.last().map(|line| format!("{line} {word}"));
        match joined.filter(|line| width(line, size, weight) <= room) {
            Some(line) => *lines.last_mut().unwrap_or(&mut String::new()) = line,
            None => lines.push(fitted(word, size, weight, room)),
        }
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
}
