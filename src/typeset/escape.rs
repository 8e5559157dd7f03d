//! The only place that emits text from people: as a Typst string, as HTML text, as an HTML attribute.

use std::collections::BTreeSet;
use std::fmt::Write;

use super::coverage::COVERED;

/// A Typst string literal, quotes included. Only `\` and `"` mean something inside; controls go.
#[must_use]
pub(super) fn typst_string(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            '"' => out.push_str("\\\""),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("    "),
            c if c.is_control() => {}
            c if is_covered(c) => out.push(c),
            // A glyph that no font has would stop the PDF; its code number can still be looked up.
            c => {
                let _ = write!(out, "[U+{:04X}]", u32::from(c));
            }
        }
    }
    out.push('"');
    out
}

/// A Typst string literal of data that is not shown as text, such as an SVG: every character is kept.
#[must_use]
pub(super) fn typst_data(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    out.push('"');
    for c in text.chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            '"' => out.push_str("\\\""),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// Text between the tags of HTML or SVG, or in quotes in one.
#[must_use]
pub fn html_text(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' => out.push('\n'),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// A picture as a data address: as an image, an SVG can neither run scripts nor load anything.
#[must_use]
pub(super) fn svg_address(svg: &str) -> String {
    let mut out = String::with_capacity(svg.len() * 2);
    out.push_str("data:image/svg+xml,");
    for byte in svg.bytes() {
        if byte.is_ascii_alphanumeric() || b" -_.,:;=/()'!*".contains(&byte) {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}

/// Characters that the fonts of the PDFs cannot show, each once; they are printed as `[U+1F600]`.
#[must_use]
pub fn uncovered(text: &str) -> Vec<char> {
    let found: BTreeSet<char> = text.chars().filter(|c| !c.is_control() && !is_covered(*c)).collect();
    found.into_iter().collect()
}

fn is_covered(c: char) -> bool {
    let code = u32::from(c);
    COVERED
        .binary_search_by(|(first, last)| {
            if code < *first {
                std::cmp::Ordering::Greater
            } else if code > *last {
                std::cmp::Ordering::Less
            } else {
                std::cmp::Ordering::Equal
            }
        })
        .is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_cannot_be_left() {
        assert_eq!(typst_string("a\"b\\c\r\n"), "\"a\\\"b\\\\c\\n\"");
        assert_eq!(typst_string("字"), "\"[U+5B57]\"");
        assert_eq!(html_text("<a href=\"x\">&"), "&lt;a href=&quot;x&quot;&gt;&amp;");
    }

    #[test]
    fn everyday_signs_are_covered() {
        assert_eq!(uncovered("→≤≥≈−×±²₂☐☑⚠Ωµ°·–—…“”½⌀√Δη"), Vec::<char>::new());
        assert_eq!(uncovered("a⏚b⏚"), vec!['⏚']);
    }
}
