//! What a reading is a figure of, and how a text is read as one.

use crate::fields::FieldType;
use crate::units::{Dimension, parse_quantity};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// What a reading is a figure of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measured {
    /// A quantity.
    Of(Dimension),
    /// A bare number.
    Count,
    /// A day; limits are how far it lies ahead.
    Day,
    /// Words: a person judges them.
    Words,
}

impl<'de> Deserialize<'de> for Measured {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let word = String::deserialize(deserializer)?;
        Ok(match FieldType::from_word(&word) {
            Some(FieldType::Quantity(dimension)) => Self::Of(dimension),
            Some(FieldType::Count) => Self::Count,
            Some(FieldType::Date) => Self::Day,
            Some(FieldType::Text) => Self::Words,
            _ => {
                let message =
                    format!("`{word}` is nothing to measure: a quantity such as voltage, count, date or text");
                return Err(serde::de::Error::custom(message));
            }
        })
    }
}

impl Serialize for Measured {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.word())
    }
}

impl Measured {
    /// The figure of a text.
    pub(super) fn figure(self, text: &str) -> Option<f64> {
        let text = plain(text);
        match self {
            Self::Of(dimension) => parse_quantity(&text, dimension).ok().map(|q| q.value),
            Self::Day => parse_quantity(&text, Dimension::Duration).ok().map(|q| q.value),
            Self::Count => text.parse().ok().filter(|n: &f64| n.is_finite()),
            Self::Words => None,
        }
    }

    /// Word for it in a file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Of(dimension) => dimension.word(),
            Self::Count => FieldType::Count.word(),
            Self::Day => FieldType::Date.word(),
            Self::Words => FieldType::Text.word(),
        }
    }

    pub(super) fn wanted(self) -> String {
        match self {
            Self::Of(dimension) => format!("a {} such as \"{}\"", dimension.word(), dimension.example()),
            Self::Day => "how far it lies ahead, such as \"8 years\"".to_owned(),
            Self::Count => "a number".to_owned(),
            Self::Words => "left out: `words` says what is expected".to_owned(),
        }
    }
}

/// The dimension of a text that is a quantity.
pub(super) fn any_quantity(text: &str) -> Option<Dimension> {
    let text = plain(text);
    let mut known = Dimension::ALL.iter().copied().filter(|d| *d != Dimension::Section);
    known.find(|d| parse_quantity(&text, *d).is_ok())
}

/// Without what a document tells behind a figure: "12.41 V (0.16 V below the source)".
fn plain(text: &str) -> String {
    let text = text.replace(['\u{a0}', '\u{202f}'], " ");
    text.split(" (").next().unwrap_or_default().trim().trim_start_matches(['≤', '≥', ' ']).to_owned()
}
