//! The text of a spec file and places in it.

use serde::Serialize;

/// A range of bytes in the spec file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// The span of a sub-range, given relative to this span's start.
    #[must_use]
    pub fn inside(self, range: &std::ops::Range<usize>) -> Self {
        Self { start: (self.start + range.start).min(self.end), end: (self.start + range.end).min(self.end) }
    }
}

impl From<std::ops::Range<usize>> for Span {
    fn from(range: std::ops::Range<usize>) -> Self {
        Self { start: range.start, end: range.end }
    }
}

/// A value and where the spec says it. Equality ignores the place.
#[derive(Clone, Debug, Serialize)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// Ties a value to its place.
    pub const fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }
}

impl<T: PartialEq> PartialEq for Spanned<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

/// A spec file in memory: its name as given on the command line, and its text.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Name to show in messages.
    pub name: String,
    /// The text, without a byte-order mark.
    pub text: String,
    line_starts: Vec<usize>,
}

impl SourceFile {
    /// Takes a text; a leading byte-order mark is dropped.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let mut text: String = text.into();
        if text.starts_with('\u{feff}') {
            text.drain(..'\u{feff}'.len_utf8());
        }
        let line_starts = std::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1)).collect();
        Self { name: name.into(), text, line_starts }
    }

    /// Line and column (both from 1; the column counts characters) of a byte.
    #[must_use]
    pub fn position(&self, byte: usize) -> (usize, usize) {
        let byte = byte.min(self.text.len());
        let line = self.line_starts.partition_point(|&s| s <= byte) - 1;
        let before = self.text.get(self.line_starts[line]..byte).unwrap_or("");
        (line + 1, before.chars().count() + 1)
    }
}
