//! Text from a spec on its way to a terminal: nothing in it may steer the terminal or hide itself.

use crate::letters::is_steering;
use std::borrow::Cow;
use std::fmt::Write as _;

/// `text` with every steering character shown as an escape such as `\x1b` or `\u{202e}`.
#[must_use]
pub fn visible(text: &str) -> Cow<'_, str> {
    if !text.contains(is_steering) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        match c {
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\r' => out.push_str("\\r"),
            c if is_steering(c) && u32::from(c) < 0x100 => drop(write!(out, "\\x{:02x}", u32::from(c))),
            c if is_steering(c) => drop(write!(out, "\\u{{{:x}}}", u32::from(c))),
            c => out.push(c),
        }
    }
    Cow::Owned(out)
}

/// `source` with the same number of bytes and lines, and no steering character but tab and line end, so that spans
/// of the original still hold.
#[must_use]
pub(super) fn same_length(source: &str) -> Cow<'_, str> {
    let bad = |c: char| is_steering(c) && !matches!(c, '\n' | '\t' | '\r');
    if !source.contains(bad) {
        return Cow::Borrowed(source);
    }
    let stand_in = |c: char| match c {
        c if !bad(c) => c,
        c if c.len_utf8() == 1 => '?',
        c if c.len_utf8() == 2 => '\u{b7}',
        _ => '\u{fffd}',
    };
    Cow::Owned(source.chars().map(stand_in).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escapes_are_shown_and_plain_text_is_left_alone() {
        assert_eq!(visible("31 kg – ½ µ"), "31 kg – ½ µ");
        assert_eq!(visible("a\u{1b}[31mb\u{9b}c\u{202e}d\n"), "a\\x1b[31mb\\x9bc\\u{202e}d\\n");
    }

    #[test]
    fn stand_ins_keep_every_byte_position() {
        let text = "a\u{1b}b\u{9b}c\u{202e}d\n\te\u{200b}";
        let shown = same_length(text);
        assert_eq!(shown.len(), text.len());
        assert_eq!(shown, "a?b\u{b7}c\u{fffd}d\n\te\u{fffd}");
    }
}
