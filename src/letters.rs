//! What single characters do in a text: some steer it, some show nothing, some are none. The one home of that.

/// Whether a character steers a terminal, hides itself or turns the direction of the text around it: controls (C0, DEL,
/// C1), marks for direction, characters without width, separators of lines, marks of annotations.
#[must_use]
pub fn is_steering(c: char) -> bool {
    c.is_control()
        || c == '\u{61c}'
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
        || matches!(c, '\u{fff9}'..='\u{fffb}')
}

/// Whether a code is that of no letter: Unicode keeps it out of texts for good, or leaves it to private agreement, so
/// that it shows as something else on every machine.
#[must_use]
pub fn is_none(c: char) -> bool {
    let code = u32::from(c);
    matches!(code, 0xfdd0..=0xfdef | 0xe000..=0xf8ff | 0xf_0000..) || code & 0xfffe == 0xfffe
}

/// Joiners between letters. Some scripts and signs cannot be written without them.
#[must_use]
pub const fn is_joiner(c: char) -> bool {
    matches!(c, '\u{200c}' | '\u{200d}')
}

/// Whether a character shows nothing by itself: blanks, what steers, codes of no letter, and what Unicode lists as
/// `Default_Ignorable_Code_Point` (fillers, selectors of variants, tags, the soft hyphen).
#[must_use]
pub fn shows_nothing(c: char) -> bool {
    let ignorable = matches!(
        u32::from(c),
        0xad | 0x34f | 0x115f..=0x1160 | 0x17b4..=0x17b5 | 0x180b..=0x180f | 0x3164 | 0xfe00..=0xfe0f | 0xffa0
            | 0xfff0..=0xfff8 | 0x1_bca0..=0x1_bca3 | 0x1_d173..=0x1_d17a | 0xe_0000..=0xe_0fff
    );
    c.is_whitespace() || is_steering(c) || is_none(c) || ignorable
}

/// The text with a capital first letter.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The 66 noncharacters and 137 468 characters for private use of the Unicode Standard, sections 23.7 and 23.5.
    #[test]
    fn codes_of_no_letter_are_as_many_as_the_standard_has() {
        assert_eq!(('\0'..=char::MAX).filter(|c| is_none(*c)).count(), 66 + 137_468);
        assert!(['a', 'é', '\u{301}', '工', '\u{1f690}', '\u{fffd}'].iter().all(|c| !shows_nothing(*c)));
    }
}
