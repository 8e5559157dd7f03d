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
    let Some(face) = face(weight) else { return text.chars().map(|_| UNKNOWN).sum::<f64>() * size };
    let unit = f64::from(face.units_per_em());
    let advance = |c: char| {
        let wide = face.glyph_index(c).and_then(|glyph| face.glyph_hor_advance(glyph));
        wide.map_or(UNKNOWN, |a| f64::from(a) / unit)
    };
    text.chars().map(advance).sum::<f64>() * size
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
