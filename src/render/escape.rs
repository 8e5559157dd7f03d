//! Turns any text into Markdown that shows exactly that text, and nothing else.

use crate::letters;

/// Makes a value safe to stand anywhere in a Markdown line: paragraph, heading, list item, table cell.
///
/// The result never starts or ends a construct, holds no line end, and reads back as the same text with runs of
/// white space made one space and the ends trimmed. Characters that cannot be printed are dropped.
/// It is not for code spans; use [`code_span`].
#[must_use]
pub fn markdown_text(value: &str) -> String {
    let text: Vec<char> = one_line(value).chars().collect();
    let mut out = String::with_capacity(text.len() + 8);
    let number_end = ordered_marker(&text);
    for (at, &c) in text.iter().enumerate() {
        let before = at.checked_sub(1).map(|i| text[i]);
        let after = text.get(at + 1).copied();
        if c == '\\' {
            // As an entity a backslash cannot join with anything the template writes after it.
            out.push_str("&#92;");
            continue;
        }
        if needs_backslash(c, before, after) || number_end == Some(at) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// A code span that shows the text literally, in table cells too.
///
/// A pipe cannot stand in a code span inside and outside tables alike, so it is put between two spans.
#[must_use]
pub fn code_span(value: &str) -> String {
    let line = one_line(value);
    let mut parts = Vec::new();
    for part in line.split('|') {
        parts.push(if part.is_empty() { String::new() } else { code_part(part) });
    }
    parts.join("\\|")
}

/// The text as the caption of a picture, which stands in quotes behind its address: quotes in it do not end it.
#[must_use]
pub fn caption(value: &str) -> String {
    markdown_text(value).replace('"', "\\\"")
}

/// The text on one line: white space runs become one space, unprintable and private characters go.
#[must_use]
pub fn one_line(value: &str) -> String {
    let mut out = String::with_capacity(value.len());
    for c in value.chars() {
        if c == '\u{a0}' || c == '\u{202f}' {
            out.push(c);
        } else if c.is_whitespace() || c == '\u{85}' {
            if !out.ends_with(' ') && !out.is_empty() {
                out.push(' ');
            }
        } else if is_printable(c) {
            out.push(c);
        }
    }
    // A no-break space at an end would stop emphasis around the value from being read.
    out.trim_matches([' ', '\u{a0}', '\u{202f}']).to_owned()
}

/// Where a link leads to, from `document#id`, or `#id` in the same document; both are made safe identifiers.
#[must_use]
pub(super) fn target(place: &str) -> String {
    let (document, id) = place.split_once('#').unwrap_or(("", place));
    let file = if document.is_empty() { String::new() } else { format!("{}.md", slug(document)) };
    format!("{file}#{}", slug(id))
}

/// A safe identifier made of `[a-z0-9-]`, starting with a letter; `id` when nothing is left.
#[must_use]
pub fn slug(value: &str) -> String {
    let mut out = String::with_capacity(value.len());
    for c in value.chars() {
        if c.is_ascii_alphanumeric() {
            out.push(c.to_ascii_lowercase());
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() {
        "id".to_owned()
    } else if out.starts_with(|c: char| c.is_ascii_digit()) {
        format!("n{out}")
    } else {
        out.to_owned()
    }
}

/// Whether the character can be shown at all: no controls, no direction overrides, no private use, no byte order mark.
#[must_use]
pub fn is_printable(c: char) -> bool {
    let n = u32::from(c);
    // A place to break a word is set by ourselves, too.
    let place = matches!(c, '\u{200b}'..='\u{200d}' | '\u{2060}');
    !(letters::is_steering(c) && !place || letters::is_none(c) || n >= 0xe_0000)
}

fn needs_backslash(c: char, before: Option<char>, after: Option<char>) -> bool {
    let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    match c {
        '`' | '*' | '[' | ']' | '<' | '|' | '{' | '}' => true,
        // Inside a word an underscore can neither open nor close emphasis.
        '_' => !(letter(before) && letter(after)),
        // A sharp after a space would be read as the closing mark of a heading.
        '#' => !letter(before),
        '&' => after.is_none_or(|a| a.is_ascii_alphanumeric() || a == '#'),
        // What the template writes next may be a link, which the sign would turn into a picture.
        '!' => after.is_none(),
        // "-20 °C" is harmless, "- 20" and "---" are not.
        '-' | '+' | '=' => before.is_none() && !letter(after),
        ':' | '>' | '~' | '(' => before.is_none(),
        _ => false,
    }
}

/// Where the dot or bracket stands that would make the text an ordered list item.
fn ordered_marker(text: &[char]) -> Option<usize> {
    let digits = text.iter().take_while(|c| c.is_ascii_digit()).count();
    let marks = digits > 0 && matches!(text.get(digits), Some('.' | ')'));
    // "2.5 mm²" is no list; "2. the lamp" would be one, and so would "2." before a space of the template.
    (marks && text.get(digits + 1).is_none_or(|c| *c == ' ')).then_some(digits)
}

fn code_part(part: &str) -> String {
    let mut longest = 0;
    let mut run = 0;
    for c in part.chars() {
        run = if c == '`' { run + 1 } else { 0 };
        longest = longest.max(run);
    }
    let fence = "`".repeat(longest + 1);
    // A span strips one space at each end when both ends have one, so ends that matter get one more.
    let pad = part.starts_with('`')
        || part.ends_with('`')
        || (part.starts_with(' ') && part.ends_with(' ') && !part.trim().is_empty());
    let space = if pad { " " } else { "" };
    format!("{fence}{space}{part}{space}{fence}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everyday_text_stays_readable() {
        for text in ["Galley & bath, 30 A - house_bank (aft)", "12 AWG; 105 °C", "2.5 mm²", "-20 °C", "1/4-20"] {
            assert_eq!(markdown_text(text), text);
        }
    }

    #[test]
    fn marks_at_the_start_are_held_back() {
        assert_eq!(markdown_text("1. first"), "1\\. first");
        assert_eq!(markdown_text(" # a\r\n- b"), "\\# a - b");
        assert_eq!(markdown_text("- a | b"), "\\- a \\| b");
        assert_eq!(markdown_text("C:\\"), "C:&#92;");
    }

    #[test]
    fn code_spans_hold_backticks_and_pipes() {
        assert_eq!(code_span("a`b"), "``a`b``");
        assert_eq!(code_span("a|b"), "`a`\\|`b`");
        assert_eq!(code_span("`"), "`` ` ``");
    }

    /// Read back by the parser: one picture, and the caption as it was.
    #[test]
    fn a_caption_ends_at_its_own_quotes() {
        use pulldown_cmark::{Event, Parser, Tag};
        for text in [
            "Panel of the 12\" rack",
            "\"",
            "a\" b",
            "\\\"",
            "\\",
            "'(\")",
            "a\"\n\nb",
            "*a* [b](#c) &amp; \"",
            "a\" \"b",
        ] {
            let source = format!("![x](y.svg \"{}\")", caption(text));
            let read: Vec<String> = Parser::new(&source)
                .filter_map(|event| match event {
                    Event::Start(Tag::Image { title, .. }) => Some(title.to_string()),
                    _ => None,
                })
                .collect();
            assert_eq!(read, [one_line(text)], "{source}");
        }
    }

    #[test]
    fn slugs_are_identifiers() {
        assert_eq!(slug("House bank (Aft)"), "house-bank-aft");
        assert_eq!(slug("12 V"), "n12-v");
        assert_eq!(slug("??"), "id");
        assert_eq!(target("service-file#do-x"), "service-file.md#do-x");
        assert_eq!(target("#a b"), "#a-b");
        assert_eq!(target("x](y)#z](w)"), "x-y.md#z-w");
    }
}
