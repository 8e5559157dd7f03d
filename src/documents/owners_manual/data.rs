//! What the manual takes from data files of its own: shut-offs, first day, emergency topics, lists, plain words.

use crate::catalogue::{Catalogue, Fault};
use crate::kinds::{Caution, Library};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

/// `templates/documents/owners_manual.toml`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ManualData {
    /// What to shut off.
    pub shut_off: Vec<ShutOffText>,
    /// Steps of the first day.
    pub first_day: Vec<FirstDayText>,
    /// Names for several kinds together.
    pub groups: BTreeMap<String, Vec<String>>,
    /// Order of the work of the first frost.
    pub frost: Frost,
    /// Who the van is for.
    pub intended: Vec<ForText>,
    /// What it is not for.
    pub not_for: Vec<ForText>,
    /// Steps after arriving.
    pub arrival: Vec<FirstDayText>,
    /// How the van is switched off for storage, in order.
    pub storing: Vec<StoringText>,
    /// Computed limits.
    #[serde(rename = "figure")]
    pub figures: Vec<FigureText>,
    /// Which drawing stands in which system, by its id.
    pub drawings: BTreeMap<String, String>,
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

/// A step that switches the van off for storage, and the one that undoes it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StoringText {
    /// One step for each part of this kind; "" for a step of the whole van.
    #[serde(default)]
    pub kind: String,
    /// A step of the whole van stands where one of these is aboard.
    #[serde(default)]
    pub needs: Vec<String>,
    #[serde(default)]
    pub step: String,
    #[serde(default)]
    pub back: String,
}

/// Kinds in order, and those that come last.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Frost {
    pub order: Vec<String>,
    pub last: Vec<String>,
}

/// A sentence about the use of the van.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ForText {
    #[serde(default)]
    pub needs: Vec<String>,
    pub text: String,
}

/// A computed figure; `*.` in its id stands for every subject.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FigureText {
    pub id: String,
    pub label: String,
}

/// An emergency card.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CardText {
    pub id: String,
    pub place: u32,
    pub title: String,
    pub notice: String,
    pub first: String,
    #[serde(default)]
    pub needs: Vec<String>,
    /// It stands only where this text is not "".
    #[serde(default)]
    pub when: Option<String>,
    #[serde(default)]
    pub kinds: Vec<String>,
    #[serde(default)]
    pub covers: Vec<String>,
    #[serde(default)]
    pub tells: Vec<String>,
    #[serde(default)]
    pub words: Vec<String>,
    pub steps: Vec<String>,
}

/// A symptom that anyone can notice.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SymptomText {
    pub id: String,
    pub title: String,
    #[serde(default)]
    pub needs: Vec<String>,
    #[serde(default)]
    pub words: Vec<String>,
    /// It stands only where this text is not "".
    #[serde(default)]
    pub when: Option<String>,
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// A procedure, in order.
    #[serde(default)]
    pub steps: Vec<String>,
    #[serde(default)]
    pub rows: Vec<(String, String)>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Cards {
    card: Vec<CardText>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Symptoms {
    symptom: Vec<SymptomText>,
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

/// All that the manual takes from files of its own, and the ids of the kinds there are.
#[derive(Clone, Debug)]
pub struct Texts {
    /// Shut-offs, first day, lists.
    pub(super) data: ManualData,
    /// The emergency cards, in the order in which they take the emergencies of kinds; the last takes the rest.
    pub(super) cards: Vec<CardText>,
    /// The symptoms, in their order on paper.
    pub(super) symptoms: Vec<SymptomText>,
    /// The glossary.
    pub(super) words: Vec<WordText>,
    /// Ids of all kinds, in this van or not: a text may ask whether one is aboard.
    pub(super) kinds: Vec<String>,
}

impl Texts {
    /// The texts of a catalogue, read once.
    ///
    /// # Errors
    /// Where a file is missing or does not read: a manual without its emergencies is none.
    pub fn of(catalogue: &Catalogue) -> Result<Arc<Self>, Fault> {
        catalogue.keep("texts of the manual", |catalogue| {
            Ok(Self {
                data: catalogue.read("documents/owners_manual.toml")?,
                cards: catalogue.read::<Cards>("documents/owners_manual_emergencies.toml")?.card,
                symptoms: catalogue.read::<Symptoms>("documents/owners_manual_what_if.toml")?.symptom,
                words: catalogue.read::<Glossary>("glossary.toml")?.word,
                kinds: Library::ids(catalogue),
            })
        })
    }
}

impl CardText {
    /// Whether its steps tell an emergency of a kind, so that it need not stand beside them.
    pub(super) fn tells(&self, kind: &str, symptom: &str) -> bool {
        self.covers.iter().any(|k| k == kind) || says(symptom, &self.tells)
    }

    /// Whether it takes an emergency of a kind.
    pub(super) fn takes(&self, kind: &str, symptom: &str) -> bool {
        self.kinds.iter().chain(&self.covers).any(|k| k == kind) || says(symptom, &self.words)
    }
}

/// Whether `text` holds one of `phrases` as whole words, letters of either case.
pub(super) fn says(text: &str, phrases: &[String]) -> bool {
    holds(&in_words(text), phrases)
}

/// A text as [`holds`] looks into it: its words in lower case, a space around each.
pub(super) fn in_words(text: &str) -> String {
    let words: Vec<_> = text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    format!(" {} ", words.join(" ").to_lowercase())
}

/// Whether words hold one of `phrases`.
pub(super) fn holds(words: &str, phrases: &[String]) -> bool {
    phrases.iter().any(|p| words.contains(&format!(" {p} ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts() -> Arc<Texts> {
        Texts::of(&Catalogue::built_in()).expect("texts of the manual")
    }

    #[test]
    fn the_data_reads_and_names_kinds_that_exist() {
        let Texts { data, cards, symptoms, kinds: ids, .. } = &*texts();
        let steps = data.first_day.iter().chain(&data.arrival).map(|f| &f.kind);
        let named = data.shut_off.iter().map(|s| &s.kind).chain(steps);
        let named = named.chain(data.groups.values().flatten()).chain(&data.frost.order).chain(&data.frost.last);
        let storing = data.storing.iter().flat_map(|s| s.needs.iter().chain([&s.kind]).filter(|k| !k.is_empty()));
        let named = named.chain(storing);
        let named = named.chain(data.intended.iter().chain(&data.not_for).flat_map(|t| &t.needs));
        let named = named.chain(cards.iter().flat_map(|c| c.needs.iter().chain(&c.kinds).chain(&c.covers)));
        let named = named.chain(symptoms.iter().flat_map(|s| &s.needs));
        let unknown: Vec<_> = named.filter(|k| !ids.contains(k)).collect();
        assert!(data.shut_off.len() > 5 && data.first_day.len() > 5, "read nothing");
        assert!(cards.len() >= 10 && symptoms.len() >= 15, "read nothing");
        assert!(unknown.is_empty(), "{unknown:?}");
    }

    #[test]
    fn a_manual_without_its_texts_is_a_fault_and_never_an_empty_one() {
        let fault = Texts::of(&Catalogue::empty()).expect_err("there are no texts");
        assert_eq!(fault.to_string(), "documents/owners_manual.toml: there is no such file");
    }

    #[test]
    fn every_emergency_of_a_kind_has_a_card() {
        let cards = &texts().cards;
        let (last, named) = cards.split_last().expect("cards");
        assert!(last.words.is_empty() && last.kinds.is_empty(), "the last card takes the rest");
        let library = Library::load(&Catalogue::built_in()).expect("kinds");
        let missed: Vec<_> = library
            .iter()
            .flat_map(|k| k.owner.emergency.iter().map(move |e| (&k.id, &e.symptom)))
            .filter(|(kind, s)| !named.iter().any(|t| t.takes(kind, s)))
            .collect();
        assert!(missed.is_empty(), "{missed:?}");
    }

    #[test]
    fn the_glossary_is_sorted_and_has_each_term_once() {
        let terms: Vec<String> = texts().words.iter().map(|w| w.term.to_lowercase()).collect();
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
