//! Edits that make a broken text parse again, and the way back from the edited text to the file.

use crate::source::Span;
use std::ops::Range;

/// Edits of a text: ranges of the original and what stands there instead.
#[derive(Debug, Default)]
pub(super) struct Edits {
    edits: Vec<(Range<usize>, String)>,
}

impl Edits {
    /// Replaces a range. Ranges must come in order and not overlap; one that does is left out.
    pub(super) fn replace(&mut self, range: Range<usize>, with: impl Into<String>) {
        if self.edits.last().is_none_or(|(last, _)| last.end <= range.start) {
            self.edits.push((range, with.into()));
        }
    }

    /// Blanks a range; line ends stay, so that lines keep their numbers.
    pub(super) fn blank(&mut self, text: &str, range: Range<usize>) {
        let spaces: String =
            text[range.clone()].bytes().map(|b| if matches!(b, b'\n' | b'\r') { char::from(b) } else { ' ' }).collect();
        self.replace(range, spaces);
    }

    /// The edited text and the map back.
    pub(super) fn apply(&self, text: &str) -> (String, WayBack) {
        let mut out = String::with_capacity(text.len() + self.edits.len());
        let mut steps = Vec::new();
        let mut at = 0;
        for (range, with) in &self.edits {
            out.push_str(&text[at..range.start]);
            if with.len() != range.len() {
                steps.push((out.len()..out.len() + with.len(), range.clone()));
            }
            out.push_str(with);
            at = range.end;
        }
        out.push_str(&text[at..]);
        (out, WayBack { steps })
    }
}

/// Maps places of an edited text to the file.
#[derive(Debug, Default)]
pub(super) struct WayBack {
    steps: Vec<(Range<usize>, Range<usize>)>,
}

impl WayBack {
    /// Byte of the file for a byte of the edited text.
    fn byte(&self, at: usize) -> usize {
        let after = self.steps.partition_point(|(new, _)| new.start <= at);
        let Some((new, old)) = after.checked_sub(1).map(|i| &self.steps[i]) else { return at };
        if at < new.end { (old.start + (at - new.start)).min(old.end) } else { old.end + (at - new.end) }
    }

    /// Place in the file for a place in the edited text.
    pub(super) fn span(&self, span: Span) -> Span {
        let start = self.byte(span.start);
        Span { start, end: self.byte(span.end).max(start) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_survive_edits_of_any_length() {
        let text = "[a\nx = 1\ny \"bad\"\n[b]]\nz = 2\n";
        let mut edits = Edits::default();
        edits.replace(0..2, "[a]");
        edits.blank(text, 9..16);
        edits.replace(17..21, "[b]");
        let (edited, back) = edits.apply(text);
        assert_eq!(edited, "[a]\nx = 1\n       \n[b]\nz = 2\n");
        for word in ["x = 1", "z = 2"] {
            let new = edited.find(word).expect(word);
            let old = text.find(word).expect(word);
            let span = back.span(Span { start: new, end: new + word.len() });
            assert_eq!(&text[span.start..span.end], word);
            assert_eq!(span.start, old);
        }
        assert_eq!(back.span(Span { start: 1, end: 2 }), Span { start: 1, end: 2 });
    }
}
