//! What the manual takes from data files of its own: shut-offs, first day, emergency topics, lists, plain words.

use crate::assets;
use serde::Deserialize;

/// `templates/documents/owners_manual.toml`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ManualData {
    /// What to shut off.
    pub shut_off: Vec<ShutOffText>,
    /// Steps of the first day.
    pub first_day: Vec<FirstDayText>,
    /// Topics of emergencies; the last takes what no other does.
    #[serde(rename = "topic")]
    pub topics: Vec<TopicText>,
    /// Phrases that put a sentence on a list.
    pub sentences: Sentences,
    /// Limits from the spec.
    #[serde(rename = "limit")]
    pub limits: Vec<LimitText>,
}

/// What a kind shuts off.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ShutOffText {
    pub kind: String,
    pub what: String,
    pub how: String,
}

/// A step of the first day.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FirstDayText {
    pub kind: String,
    pub step: String,
}

/// A topic of emergencies.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TopicText {
    pub id: String,
    pub title: String,
    pub words: Vec<String>,
}

/// Phrases in lower case.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Sentences {
    pub travel: Vec<String>,
    pub storage: Vec<String>,
}

/// A field of the spec that limits the use.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LimitText {
    pub section: String,
    pub field: String,
    pub label: String,
}

/// A plain word.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WordText {
    pub term: String,
    #[serde(default)]
    pub also: Vec<String>,
    pub meaning: String,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Glossary {
    word: Vec<WordText>,
}

impl ManualData {
    /// The embedded file; it is covered by tests.
    pub(super) fn read() -> Self {
        read("documents/owners_manual.toml")
    }
}

/// The embedded glossary.
pub(super) fn words() -> Vec<WordText> {
    read::<Glossary>("glossary.toml").word
}

fn read<T: Default + for<'de> Deserialize<'de>>(path: &str) -> T {
    assets::text(path).and_then(|text| toml::from_str(text).ok()).unwrap_or_default()
}

/// Whether `text` holds one of `phrases` as whole words, letters of either case.
pub(super) fn says(text: &str, phrases: &[String]) -> bool {
    let words: Vec<_> = text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    let line = format!(" {} ", words.join(" ").to_lowercase());
    phrases.iter().any(|p| line.contains(&format!(" {p} ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kinds::Library;

    #[test]
    fn the_data_reads_and_names_kinds_that_exist() {
        let data = ManualData::read();
        let ids = Library::ids();
        let named = data.shut_off.iter().map(|s| &s.kind).chain(data.first_day.iter().map(|f| &f.kind));
        let unknown: Vec<_> = named.filter(|k| !ids.contains(&k.as_str())).collect();
        assert!(data.shut_off.len() > 5 && data.first_day.len() > 5, "read nothing");
        assert!(unknown.is_empty(), "{unknown:?}");
    }

    #[test]
    fn every_emergency_of_a_kind_has_a_topic() {
        let data = ManualData::read();
        let (last, named) = data.topics.split_last().expect("topics");
        assert!(last.words.is_empty(), "the last topic takes the rest");
        let library = Library::load().expect("kinds");
        let missed: Vec<_> = library
            .iter()
            .flat_map(|k| k.owner.emergency.iter().map(move |e| (&k.id, &e.symptom)))
            .filter(|(_, s)| !named.iter().any(|t| says(s, &t.words)))
            .collect();
        assert!(missed.is_empty(), "{missed:?}");
    }

    #[test]
    fn the_glossary_is_sorted_and_has_each_term_once() {
        let terms: Vec<String> = words().iter().map(|w| w.term.to_lowercase()).collect();
        let mut sorted = terms.clone();
        sorted.sort();
        sorted.dedup();
        assert!(terms.len() >= 30, "{}", terms.len());
        assert_eq!(terms, sorted);
    }

    #[test]
    fn phrases_match_whole_words() {
        let phrases = ["before you drive".to_owned(), "co alarm".to_owned()];
        assert!(says("Push it home BEFORE you drive.", &phrases));
        assert!(says("The CO-alarm sounds", &phrases));
        assert!(!says("before you drivel", &phrases));
    }
}
