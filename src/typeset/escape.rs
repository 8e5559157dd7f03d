//! The only place that emits text from people: as a Typst string, as HTML text, as an HTML attribute.

use crate::assets::{composed, has_glyph, is_drawn};
use std::fmt::Write;

/// What stands for a letter without a glyph in a drawing, where its code number has no room: the box that readers know
/// as a sign that is missing.
const MISSING: char = '☐';

/// A Typst string literal, quotes included. Only `\` and `"` mean something inside; controls go.
#[must_use]
pub(super) fn typst_string(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in composed(text).chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            '"' => out.push_str("\\\""),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("    "),
            c if c.is_control() => {}
            c if has_glyph(c) => out.push(c),
            // A glyph that no font has would stop the PDF; its code number can still be looked up.
            c => {
                let _ = write!(out, "[U+{:04X}]", u32::from(c));
            }
        }
    }
    out.push('"');
    out
}

/// A Typst string literal of an SVG: all of it is kept but letters without a glyph, which would stop the PDF.
#[must_use]
pub(super) fn typst_svg(svg: &str) -> String {
    let mut out = String::with_capacity(svg.len() + 64);
    out.push('"');
    for c in composed(svg).chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            '"' => out.push_str("\\\""),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            c if is_drawn(c) || c.is_control() => out.push(c),
            _ => out.push(MISSING),
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
            // XML has no way to write the last two.
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::uncovered;

    #[test]
    fn strings_cannot_be_left() {
        assert_eq!(typst_string("a\"b\\c\r\n"), "\"a\\\"b\\\\c\\n\"");
        assert_eq!(typst_string("字"), "\"[U+5B57]\"");
        assert_eq!(html_text("a\u{fffe}b\u{ffff}\u{7f}"), "ab");
        assert_eq!(html_text("<a href=\"x\">&"), "&lt;a href=&quot;x&quot;&gt;&amp;");
    }

    #[test]
    fn a_letter_without_a_glyph_never_reaches_the_typesetter() {
        assert_eq!(typst_svg("<text x=\"1\">a字\\</text>\n"), "\"<text x=\\\"1\\\">a☐\\\\</text>\\n\"");
        for text in [typst_string("字😀\u{fe0f}\u{10ffff}"), typst_svg("字😀\u{fe0f}\u{10ffff}")] {
            assert_eq!(uncovered(&text), Vec::<char>::new(), "{text}");
        }
    }
}
