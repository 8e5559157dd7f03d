//! "Did you mean": the nearest of the known words; plain ids.

use super::limits::LONGEST_ID;
use crate::catalogue::Meant;
use crate::diag::{Finding, Sink};
use crate::fields::KindFields;
use crate::source::Span;

/// The known word nearest to `word`, if one is near enough to be meant.
pub(super) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.len() > LONGEST_ID {
        return None;
    }
    let folded = fold(word);
    let most = (folded.chars().count() / 3).clamp(1, 3);
    let distance = |k: &str| strsim::damerau_levenshtein(&fold(k), &folded);
    let near = known.into_iter().map(|k| (distance(k), k)).filter(|(d, _)| *d <= most);
    near.min_by_key(|(d, _)| *d).map(|(_, k)| k)
}

/// The same, while there are few findings: among thousands a proposal helps nobody, and each is looked for at length.
pub(super) fn near<'a>(sink: &Sink, word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if sink.is_long() { None } else { nearest(word, known) }
}

/// Which kinds a word may mean that is the id of none, as a question: by what people call them, then by letters. And the
/// one to put in its place, where nothing speaks for others.
pub(super) fn meant(sink: &Sink, word: &str, known: &KindFields) -> (Option<String>, Option<String>) {
    if sink.is_long() {
        return (None, None);
    }
    let by_letters = nearest(word, known.kinds.keys().map(String::as_str));
    let mut by_words = known.catalogue.as_ref().map_or_else(Vec::new, |catalogue| catalogue.meant(word));
    if let Some(id) = by_letters.filter(|id| !by_words.iter().any(|meant| meant.id == *id)) {
        by_words.push(Meant { id: id.to_owned(), what: String::new(), exactly: false });
    }
    let mut names = by_words.iter().map(|meant| match meant.what.as_str() {
        "" => format!("\"{}\"", meant.id),
        what => format!("\"{}\" ({what})", meant.id),
    });
    let only = match by_words.as_slice() {
        [only] if only.exactly || by_letters.is_some() => Some(only.id.clone()),
        _ => by_letters.filter(|_| !by_words.iter().any(|meant| meant.exactly)).map(str::to_owned),
    };
    let last = names.next_back();
    let others: Vec<String> = names.collect();
    let words = last.map(|last| match others.as_slice() {
        [] => format!("did you mean {last}?"),
        _ => format!("did you mean {} or {last}?", others.join(", ")),
    });
    (words, only)
}

/// What to do where no kind is meant.
pub(super) fn otherwise(word: &str) -> String {
    let id = plain(word).filter(|id| id.len() <= 40).unwrap_or_else(|| "NAME".to_owned());
    format!(
        "for what no kind knows: kind = \"appliance\", or one of your own by `rigbinder new --kind {id}`; `rigbinder kinds` lists them all"
    )
}

/// Case and the kind of dash do not make words different.
fn fold(word: &str) -> String {
    word.chars().map(|c| if matches!(c, '_' | ' ') { '-' } else { c.to_ascii_lowercase() }).collect()
}

/// What an id may be, in words.
pub(super) const ID: &str = "an id has a-z and 0-9, parts joined by single hyphens";

/// Whether an id has the form `[a-z0-9]+(-[a-z0-9]+)*` and at most 64 characters.
#[must_use]
pub fn is_plain(id: &str) -> bool {
    id.len() <= LONGEST_ID
        && id.split('-').all(|p| !p.is_empty() && p.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()))
}

/// The plain id nearest to `id`; `None` where nothing is left of it.
pub(super) fn plain(id: &str) -> Option<String> {
    let lower = id.to_lowercase();
    let parts: Vec<&str> = lower.split(|c: char| !c.is_ascii_alphanumeric()).filter(|p| !p.is_empty()).collect();
    let mut plain = parts.join("-");
    plain.truncate(LONGEST_ID);
    let plain = plain.trim_end_matches('-');
    (!plain.is_empty()).then(|| plain.to_owned())
}

/// Up to `most` of the words for a help line, `…` for the rest.
pub(super) fn listed<'a>(words: impl IntoIterator<Item = &'a str>, most: usize) -> String {
    let words: Vec<&str> = words.into_iter().collect();
    let more = if words.len() > most { ", …" } else { "" };
    format!("{}{more}", words[..words.len().min(most)].join(", "))
}

/// The finding on an id of a section that is not plain.
pub(super) fn not_plain(section: &str, id: &str, key: Span) -> Finding {
    let fault =
        if id.len() > LONGEST_ID { format!("is longer than {LONGEST_ID} characters") } else { "is not plain".into() };
    let shown: String = id.chars().take(LONGEST_ID).collect();
    let finding = Finding::error("id-not-plain", format!("the id `{shown}` of this {section} {fault}"));
    let finding = finding.about(id).at(key, "id").help(ID);
    match plain(id) {
        Some(plain) => finding.fix(key, plain),
        None => finding,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_found_and_far_ones_are_not() {
        let known = ["fed_from", "feeds", "capacity", "run", "fridge"];
        assert_eq!(nearest("fed-from", known), Some("fed_from"));
        assert_eq!(nearest("capasity", known), Some("capacity"));
        assert_eq!(nearest("fridg", known), Some("fridge"));
        assert_eq!(nearest("heater", known), None);
        assert_eq!(nearest(&"x".repeat(10_000), known), None);
    }

    #[test]
    fn ids_are_plain_or_become_so() {
        for id in ["fridge", "house-bank", "usb-2", "2"] {
            assert!(is_plain(id), "{id}");
        }
        for (id, better) in [
            ("House_Bank", Some("house-bank")),
            ("-x", Some("x")),
            ("a--b", Some("a-b")),
            ("Kühl schrank", Some("k-hl-schrank")),
            ("", None),
            ("ß", None),
        ] {
            assert!(!is_plain(id), "{id}");
            assert_eq!(plain(id).as_deref(), better);
        }
        assert!(!is_plain(&"a".repeat(65)));
        assert_eq!(plain(&"a".repeat(99)).map(|p| p.len()), Some(64));
    }
}
