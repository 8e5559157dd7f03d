//! Who is meant by a name in a record: a full name, or its initials.

/// Whether two names may be those of one person: the same letters, or the initials of one are the other.
pub(super) fn same(one: &str, other: &str) -> bool {
    let letters =
        |text: &str| text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>();
    let (one_whole, other_whole) = (letters(one), letters(other));
    !one_whole.is_empty() && (one_whole == other_whole || initials(one) == other_whole || initials(other) == one_whole)
}

/// "im" of "Ina Marsh".
fn initials(name: &str) -> String {
    let words = name.split(|c: char| !c.is_alphanumeric()).filter_map(|word| word.chars().next());
    words.flat_map(char::to_lowercase).collect()
}

#[cfg(test)]
mod tests {
    use super::same;

    #[test]
    fn a_name_is_its_initials_too() {
        for (one, other) in
            [("I. M.", "Ina Marsh"), ("Ina Marsh", "IM"), ("I. M.", "i.m."), ("Ina  Marsh", "Ina Marsh")]
        {
            assert!(same(one, other) && same(other, one), "{one} {other}");
        }
        for (one, other) in [("I. M.", "S. T."), ("Ina Marsh", "Ina Mills"), ("", ""), ("…", "…"), ("I. M.", "Ina")]
        {
            assert!(!same(one, other), "{one} {other}");
        }
    }
}
