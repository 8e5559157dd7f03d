//! The only home of the Markdown parser and its options: text in, events with byte ranges out.

use std::ops::Range;

use pulldown_cmark::{Event, Options, Parser};

/// Stands for one underscore of a blank to write on. Private use, so that no rule about emphasis sees it;
/// text from users can never hold it, because the escaper drops private characters.
pub(crate) const BLANK_MARK: char = '\u{e000}';
/// This many underscores in a row are a blank to write on.
pub(crate) const SHORTEST_BLANK: usize = 4;

/// Extensions of whole documents. Smart punctuation, math and wiki links stay off: inch marks, dollars and
/// brackets are everyday text here. Strikethrough is off because a tilde means "about" in the trade.
fn document_options() -> Options {
    Options::ENABLE_TABLES
        | Options::ENABLE_FOOTNOTES
        | Options::ENABLE_TASKLISTS
        | Options::ENABLE_HEADING_ATTRIBUTES
        | Options::ENABLE_DEFINITION_LIST
        | Options::ENABLE_GFM
        | Options::ENABLE_PLUSES_DELIMITED_METADATA_BLOCKS
}

/// Events of a whole document.
#[must_use]
pub(crate) fn document_events(source: &str) -> Vec<(Event<'_>, Range<usize>)> {
    Parser::new_ext(source, document_options()).into_offset_iter().collect()
}

/// Events of a single line of prose, without extensions.
#[must_use]
pub(crate) fn inline_events(source: &str) -> Vec<(Event<'_>, Range<usize>)> {
    Parser::new_ext(source, Options::empty()).into_offset_iter().collect()
}

/// The plain text of a single line of Markdown: what a reader sees, without any marks.
#[must_use]
pub(crate) fn plain_line(source: &str) -> String {
    // The lead keeps block marks from being read; it is cut off again.
    let source = format!("x {source}");
    let mut out = String::new();
    for (event, _) in inline_events(&source) {
        match event {
            Event::Text(t) | Event::Code(t) | Event::InlineHtml(t) => out.push_str(&t),
            Event::SoftBreak | Event::HardBreak => out.push(' '),
            _ => {}
        }
    }
    out.strip_prefix("x ").unwrap_or_default().to_owned()
}

/// Replaces runs of underscores that are blanks by marks, and takes the mark out of the text where it stood before.
#[must_use]
pub(crate) fn mark_blanks(source: &str) -> String {
    let mut out = String::with_capacity(source.len());
    let mut run = 0_usize;
    let mut escaped = false;
    for c in source.chars().chain(std::iter::once('\0')) {
        if c == '_' && !escaped {
            run += 1;
            continue;
        }
        if run > 0 {
            let sign = if run >= SHORTEST_BLANK { BLANK_MARK } else { '_' };
            out.extend(std::iter::repeat_n(sign, run));
            run = 0;
        }
        escaped = c == '\\' && !escaped;
        if c != '\0' && c != BLANK_MARK {
            out.push(c);
        }
    }
    out
}

/// Whether the text may be an identifier of a heading or anchor: a letter, then letters, digits, `-`, `_`, `.`;
/// a letter or digit last.
#[must_use]
pub(crate) fn is_identifier(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text.ends_with(|c: char| c.is_ascii_alphanumeric())
        && text.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_are_marked_and_names_are_not() {
        let marked = mark_blanks("a_b __c__ ____ \\____");
        assert_eq!(marked.matches(BLANK_MARK).count(), 4);
        assert!(marked.starts_with("a_b __c__ \u{e000}"));
    }

    #[test]
    fn plain_text_of_escaped_values() {
        assert_eq!(plain_line("\\# a \\*b\\* &#92; `c`"), "# a *b* \\ c");
        assert_eq!(plain_line(""), "");
        assert_eq!(plain_line("1\\. a"), "1. a");
    }
}
