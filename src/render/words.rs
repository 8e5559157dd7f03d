//! Words that are printed in place of others: the vocabulary of a rule profile, and what a shop prefers.

use std::collections::BTreeMap;

/// Phrases and what is printed for them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Words {
    /// By their first word in lower case: the words of the phrase, the longest first, and what stands for it.
    phrases: BTreeMap<String, Vec<(Vec<String>, String)>>,
    /// Texts that stay as they are.
    kept: Vec<String>,
}

impl Words {
    /// The vocabulary of phrases, in which `kept` texts stay as they are.
    #[must_use]
    pub fn of(say: &BTreeMap<String, String>, kept: Vec<String>) -> Self {
        let mut phrases: BTreeMap<String, Vec<(Vec<String>, String)>> = BTreeMap::new();
        for (phrase, for_it) in say {
            let words: Vec<String> = phrase.split(' ').map(str::to_lowercase).collect();
            phrases.entry(words[0].clone()).or_default().push((words, for_it.clone()));
        }
        for same in phrases.values_mut() {
            same.sort_by_key(|(words, _)| std::cmp::Reverse(words.len()));
        }
        Self { phrases, kept }
    }

    /// Whether a text has a phrase of it.
    #[must_use]
    pub fn are_in(&self, text: &str) -> bool {
        !self.found(text, |_| false).is_empty()
    }

    /// Markdown in these words; code, addresses, marks of headings and comments stay.
    #[must_use]
    pub fn in_markdown(&self, text: &str) -> String {
        self.put(text, &closed(text, &[("`", "`"), ("](", ")"), ("{#", "}"), ("<!--", "-->"), ("<a ", ">")]))
    }

    /// The texts of a drawing in these words.
    #[must_use]
    pub fn in_svg(&self, text: &str) -> String {
        self.put(text, &closed(text, &[("<", ">")]))
    }

    /// A text without marks in these words.
    #[must_use]
    pub fn in_plain(&self, text: &str) -> String {
        self.put(text, &[])
    }

    fn put(&self, text: &str, closed: &[(usize, usize)]) -> String {
        let mut shut = closed.to_vec();
        for kept in self.kept.iter().filter(|kept| !kept.is_empty()) {
            shut.extend(text.match_indices(kept.as_str()).map(|(at, kept)| (at, at + kept.len())));
        }
        shut.sort_unstable();
        // Each ends no earlier than those before it, so that one look at the last that has begun is enough.
        let mut end = 0;
        for range in &mut shut {
            end = end.max(range.1);
            range.1 = end;
        }
        let is_shut = |at: usize| {
            let begun = shut.partition_point(|(from, _)| *from <= at);
            begun > 0 && at < shut[begun - 1].1
        };
        let (mut out, mut last) = (String::with_capacity(text.len() + text.len() / 64), 0);
        for (from, to, word) in self.found(text, is_shut) {
            out.push_str(&text[last..from]);
            out.push_str(&like(&text[from..to], word));
            last = to;
        }
        out.push_str(&text[last..]);
        out
    }

    /// Where phrases stand: begin, end, and what is printed.
    fn found(&self, text: &str, is_shut: impl Fn(usize) -> bool) -> Vec<(usize, usize, &str)> {
        let mut found = Vec::new();
        let mut at = 0;
        while let Some(from) = text[at..].find(char::is_alphabetic).map(|i| at + i) {
            let to = end_of_word(text, from);
            at = to;
            let Some(phrases) = self.phrases.get(text[from..to].to_lowercase().as_str()) else { continue };
            if !stands_alone_before(text, from) || is_shut(from) {
                continue;
            }
            let fits = phrases.iter().find_map(|(words, word)| Some((end_of_phrase(text, from, words)?, word)));
            if let Some((end, word)) = fits {
                found.push((from, end, word.as_str()));
                at = end;
            }
        }
        found
    }
}

/// End of the word that begins at `from`: letters, and hyphens between letters.
fn end_of_word(text: &str, from: usize) -> usize {
    let mut letters = text[from..].char_indices().peekable();
    let mut end = from;
    while let Some((at, letter)) = letters.next() {
        let joins = letter == '-' && letters.peek().is_some_and(|(_, next)| next.is_alphabetic());
        if !letter.is_alphabetic() && !joins {
            break;
        }
        end = from + at + letter.len_utf8();
    }
    end
}

/// Whether what stands before a word is not a part of it, of an id or of an address.
fn stands_alone_before(text: &str, from: usize) -> bool {
    text[..from].chars().next_back().is_none_or(|c| !(c.is_alphanumeric() || "_-./#@\\".contains(c)))
}

/// Whether what stands behind a word is not a part of it, of an id or of an address.
fn stands_alone_behind(text: &str, to: usize) -> bool {
    let mut letters = text[to..].chars();
    match letters.next() {
        Some('.') => letters.next().is_none_or(|c| !c.is_alphanumeric()),
        Some(c) => !(c.is_alphanumeric() || "_/@-".contains(c)),
        None => true,
    }
}

/// Where the phrase that begins at `from` ends, if it is there.
fn end_of_phrase(text: &str, from: usize, words: &[String]) -> Option<usize> {
    let mut at = from;
    for (place, word) in words.iter().enumerate() {
        if place > 0 {
            at += text[at..].chars().next().filter(|c| *c == ' ' || *c == '\u{a0}')?.len_utf8();
        }
        let end = end_of_word(text, at);
        (text[at..end].to_lowercase() == *word).then_some(())?;
        at = end;
    }
    stands_alone_behind(text, at).then_some(at)
}

/// A word in the case of what it stands for.
fn like(old: &str, word: &str) -> String {
    let mut letters = old.chars().filter(|c| c.is_alphabetic());
    let capital = letters.next().is_some_and(char::is_uppercase);
    if capital && old.chars().filter(|c| c.is_alphabetic()).count() > 1 && letters.all(char::is_uppercase) {
        return word.to_uppercase();
    }
    if capital { crate::letters::capital(word) } else { word.to_owned() }
}

/// Ranges of a text from each opening to its closing.
fn closed(text: &str, marks: &[(&str, &str)]) -> Vec<(usize, usize)> {
    let mut ranges = Vec::new();
    for (open, close) in marks {
        let mut at = 0;
        while let Some(from) = text[at..].find(open).map(|i| at + i) {
            let inside = from + open.len();
            let Some(to) = text[inside..].find(close).map(|i| inside + i + close.len()) else { break };
            ranges.push((from, to));
            at = to;
        }
    }
    ranges.sort_unstable();
    ranges
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(kept: &[&str]) -> Words {
        let say = [
            ("tyre", "tire"),
            ("tyres", "tires"),
            ("mains", "AC power"),
            ("mains water", "city water"),
            ("earth", "ground"),
            ("neutral-earth bond", "neutral-ground bond"),
        ];
        let say = say.into_iter().map(|(a, b)| (a.to_owned(), b.to_owned())).collect();
        Words::of(&say, kept.iter().map(|k| (*k).to_owned()).collect())
    }

    #[test]
    fn whole_words_are_put_in_the_case_of_the_old_ones() {
        let say = |text: &str| words(&[]).in_markdown(text);
        assert_eq!(say("Tyres and a tyre: TYRES."), "Tires and a tire: TIRES.");
        assert_eq!(say("Mains water, not mains."), "City water, not AC power.");
        assert_eq!(say("The Neutral-earth bond and earth-wired"), "The Neutral-ground bond and earth-wired");
        assert_eq!(say("unearth earthen earth"), "unearth earthen ground");
        assert!(words(&[]).are_in("No mains") && !words(&[]).are_in("No mainsail"));
    }

    #[test]
    fn ids_links_and_what_a_spec_says_stay() {
        let all = words(&["My tyre shop"]);
        let text = "[tyre](#if-tyre) `tyre` {#tyre} shore-inlet.earth tyre.svg My tyre shop, tyre <!-- tyre -->";
        let said = "[tire](#if-tyre) `tyre` {#tyre} shore-inlet.earth tyre.svg My tyre shop, tire <!-- tyre -->";
        assert_eq!(all.in_markdown(text), said);
        assert_eq!(all.in_svg("<text id=\"tyre\">Tyre</text>"), "<text id=\"tyre\">Tire</text>");
    }
}
