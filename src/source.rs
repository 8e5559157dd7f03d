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
    /// The same so many bytes further on.
    #[must_use]
    pub const fn moved_by(self, bytes: usize) -> Self {
        Self { start: self.start + bytes, end: self.end + bytes }
    }

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

/// A spec file in memory: its name as given on the command line, and its text. Files of a shop's folder stand behind it:
/// a place beyond the end of the spec is one in them, so that one span tells file and place.
#[derive(Clone, Debug, Default)]
pub struct SourceFile {
    /// Name to show in messages.
    pub name: String,
    /// The text, without a byte-order mark.
    pub text: String,
    line_starts: Vec<usize>,
    /// Where each further file begins, in order.
    more: Vec<(usize, SourceFile)>,
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
        Self { name: name.into(), text, line_starts, more: Vec::new() }
    }

    /// Puts another file behind those there are; gives the place of its first byte.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> usize {
        let last = self.more.last().map_or(self.text.len(), |(base, file)| base + file.text.len());
        // One past the end belongs to the file that ends there.
        self.more.push((last + 1, Self::new(name, text)));
        last + 1
    }

    /// The further files.
    pub fn further(&self) -> impl Iterator<Item = &Self> {
        self.more.iter().map(|(_, file)| file)
    }

    /// The text of each file.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.text.as_str()).chain(self.further().map(|file| file.text.as_str()))
    }

    /// The file that a byte belongs to, and where that file begins.
    #[must_use]
    pub fn file_at(&self, byte: usize) -> (&Self, usize) {
        let at = self.more.partition_point(|(base, _)| *base <= byte);
        at.checked_sub(1).and_then(|at| self.more.get(at)).map_or((self, 0), |(base, file)| (file, *base))
    }

    /// Whether a place is in one of the further files.
    #[must_use]
    pub fn is_further(&self, span: Span) -> bool {
        self.file_at(span.start).1 > 0
    }

    /// What stands at a place; "" where it is none.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        let (file, base) = self.file_at(span.start);
        file.text.get(span.start - base..span.end.saturating_sub(base)).unwrap_or("")
    }

    /// Line and column (both from 1; the column counts characters) of a byte in the file that it belongs to.
    #[must_use]
    pub fn position(&self, byte: usize) -> (usize, usize) {
        let (file, base) = self.file_at(byte);
        let byte = (byte - base).min(file.text.len());
        let line = file.line_starts.partition_point(|&s| s <= byte).saturating_sub(1);
        let start = file.line_starts.get(line).copied().unwrap_or(0);
        let before = file.text.get(start..byte).unwrap_or("");
        (line + 1, before.chars().count() + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_behind_the_spec_are_in_the_further_files() {
        let mut file = SourceFile::new("a.toml", "x = 1\ny");
        let (one, two) = (file.add("b.toml", "p = 1\nq = 2"), file.add("c.toml", ""));
        assert_eq!((one, two), (8, 20));
        assert_eq!((file.position(7), file.position(one), file.position(one + 6)), ((2, 2), (1, 1), (2, 1)));
        let names = [0, 7, one, two - 1, two, 999].map(|byte| file.file_at(byte).0.name.as_str());
        assert_eq!(names, ["a.toml", "a.toml", "b.toml", "b.toml", "c.toml", "c.toml"]);
        let span = Span { start: 6, end: 11 };
        assert_eq!((file.slice(span.moved_by(one)), file.slice(Span { start: 0, end: 1 })), ("q = 2", "x"));
        assert!(file.is_further(span.moved_by(one)) && !file.is_further(Span { start: 0, end: 7 }));
        assert_eq!(file.slice(Span { start: 5, end: 10 }), "", "no place is in two files");
    }
}
