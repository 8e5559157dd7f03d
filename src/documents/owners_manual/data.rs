//! What the manual takes from data files of its own, beside the texts of kinds: emergency topics, lists, plain words.

use crate::catalogue::{Catalogue, Fault};
use crate::kinds::{Caution, Kind, Procedures, Registers, States};
use crate::roles;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

/// `templates/documents/owners_manual.toml`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ManualData {
    /// Words by which texts mean parts, beside the ids of roles, each with what it means.
    pub called: BTreeMap<String, String>,
    /// Who the van is for.
    pub intended: Vec<ForText>,
    /// What it is not for.
    pub not_for: Vec<ForText>,
    /// Shares of the whole van in procedures, beside those of its kinds.
    #[serde(rename = "share")]
    pub shares: Vec<VanShare>,
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

/// A step of the whole van in a procedure.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct VanShare {
    /// Id of the procedure.
    pub of: String,
    /// It stands where one of these is aboard.
    pub aboard: Vec<String>,
    /// States of the van that come before it.
    #[serde(default)]
    pub needs: Vec<String>,
    /// States of the van that it brings.
    #[serde(default)]
    pub brings: Vec<String>,
    pub step: String,
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
    /// In which case it is so, where another case stands beside it.
    #[serde(default)]
    pub case: String,
    /// Symbol of the input that is the figure of the other case, and that case.
    #[serde(default)]
    pub other: Option<(String, String)>,
}

/// An emergency card.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CardText {
    pub id: String,
    /// What people look for it by, in index and search.
    #[serde(default)]
    pub also: Vec<String>,
    pub place: u32,
    pub title: String,
    pub notice: String,
    pub first: String,
    #[serde(default)]
    pub needs: Vec<String>,
    /// It stands only where this text is not "".
    #[serde(default)]
    pub when: Option<String>,
    /// Parts whose emergencies it takes.
    #[serde(default)]
    pub parts: Vec<String>,
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
    /// What people look for it by, in index and search.
    #[serde(default)]
    pub also: Vec<String>,
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

/// What an owner is told of a defect of earlier work until it is mended.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct DefectText {
    /// What may happen.
    pub may: String,
    /// What to do until then.
    pub until: String,
}

/// All that the manual takes from files of its own.
#[derive(Clone, Debug)]
pub struct Texts {
    /// Lists.
    pub(super) data: ManualData,
    /// The emergency cards, in the order in which they take the emergencies of kinds; the last takes the rest.
    pub(super) cards: Vec<CardText>,
    /// The symptoms, in their order on paper.
    pub(super) symptoms: Vec<SymptomText>,
    /// The glossary.
    pub(super) words: Vec<WordText>,
    /// The states by which procedures are put in order.
    pub(super) states: Arc<States>,
    /// What is told once for the van.
    pub(super) procedures: Arc<Procedures>,
    /// Defects of earlier work by the name of their finding.
    defects: BTreeMap<String, DefectText>,
}

impl Texts {
    /// The sentence of a state; "" where there is none of that name.
    pub(in crate::documents) fn says(&self, state: &str) -> &str {
        self.states.get(state).map_or("", |state| state.says.as_str())
    }

    /// What an owner is told of a defect of earlier work; nothing of a finding that is none.
    pub(in crate::documents) fn of_defect(&self, finding: &str) -> DefectText {
        self.defects.get(finding).cloned().unwrap_or_default()
    }

    /// The texts of a catalogue, read once.
    ///
    /// # Errors
    /// Where a file is missing or does not read: a manual without its emergencies is none.
    pub fn of(catalogue: &Catalogue) -> Result<Arc<Self>, Fault> {
        catalogue.keep("texts of the manual", |catalogue| {
            let data = catalogue.read("documents/owners_manual.toml")?;
            let Registers { states, procedures } = Registers::of(catalogue)?;
            Ok(Self {
                data,
                states,
                procedures,
                cards: catalogue.read::<Cards>("documents/owners_manual_emergencies.toml")?.card,
                symptoms: catalogue.read::<Symptoms>("documents/owners_manual_what_if.toml")?.symptom,
                words: catalogue.read::<Glossary>("glossary.toml")?.word,
                defects: catalogue.read("documents/as_found.toml")?,
            })
        })
    }
}

impl ManualData {
    /// Every word by which a text may mean parts, whether there are such aboard or not.
    pub(super) fn words(&self) -> impl Iterator<Item = &str> {
        roles::ALL.iter().map(|role| role.id).chain(self.called.keys().map(String::as_str))
    }
}

impl CardText {
    /// Whether its steps tell an emergency of a kind, so that it need not stand beside them.
    pub(super) fn tells(&self, kind: &Kind, symptom: &str) -> bool {
        self.covers.iter().any(|word| kind.is_called(word)) || says(symptom, &self.tells)
    }

    /// Whether it takes an emergency of a kind.
    pub(super) fn takes(&self, kind: &Kind, symptom: &str) -> bool {
        self.parts.iter().chain(&self.covers).any(|word| kind.is_called(word)) || says(symptom, &self.words)
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

/// Words of a search: letters and digits alone, so that they can stand anywhere.
pub(super) fn search_words(words: &[String]) -> String {
    words
        .iter()
        .map(|word| in_words(word).trim().to_owned())
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(", ")
}

/// Whether words hold one of `phrases`.
pub(super) fn holds(words: &str, phrases: &[String]) -> bool {
    phrases.iter().any(|p| words.contains(&format!(" {p} ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kinds::Library;
    use std::collections::BTreeSet;

    fn texts() -> Arc<Texts> {
        Texts::of(&Catalogue::built_in()).expect("texts of the manual")
    }

    /// Each word that a text uses means something, and each that a kind is called by is used: a slip in one of them would
    /// leave a thing untold.
    #[test]
    fn texts_mean_parts_by_known_words_that_some_kind_answers_to() {
        let Texts { data, cards, symptoms, .. } = &*texts();
        let catalogue = Catalogue::built_in();
        let library = Library::load(&catalogue).expect("kinds");
        let lists = data.shares.iter().flat_map(|s| &s.aboard).chain(data.intended.iter().flat_map(|t| &t.needs));
        let lists = lists.chain(data.not_for.iter().flat_map(|t| &t.needs));
        let lists = lists.chain(cards.iter().flat_map(|c| c.needs.iter().chain(&c.parts).chain(&c.covers)));
        let mut used: BTreeSet<String> = lists.chain(symptoms.iter().flat_map(|s| &s.needs)).cloned().collect();
        for file in ["documents/owners_manual_emergencies.toml", "documents/owners_manual_what_if.toml"] {
            let text = catalogue.text(file).expect("a text");
            let names = text.split(|c: char| !c.is_alphanumeric() && c != '_');
            let word = |name: &str| {
                let head = ["at_", "way_", "off_", "on_", "cut_"].iter().find_map(|head| name.strip_prefix(head));
                head.or_else(|| Some(name.split_once("__")?.0)).map(|word| word.replace('_', "-"))
            };
            used.extend(names.filter_map(word).filter(|word| !["", "main-switch"].contains(&word.as_str())));
        }
        let known: BTreeSet<&str> = data.words().collect();
        let unknown: Vec<_> = used.iter().filter(|word| !known.contains(word.as_str())).collect();
        assert!(unknown.is_empty(), "{unknown:?}");
        for (word, meaning) in &data.called {
            assert!(meaning.ends_with('.') && used.contains(word), "{word}");
            assert!(roles::contract(word).is_none() && library.get(word).is_none(), "{word} means something else too");
            assert!(library.iter().any(|kind| kind.is_called(word)), "no kind is called {word}");
        }
        let called = library.iter().flat_map(|kind| &kind.owner.called);
        let unused: Vec<_> = called.filter(|word| !data.called.contains_key(*word)).collect();
        assert!(unused.is_empty(), "{unused:?}");
        for share in &data.shares {
            assert!(texts().procedures.get(&share.of).is_some(), "{}", share.of);
            let states = share.needs.iter().chain(&share.brings);
            states.for_each(|state| assert!(texts().states.is_of_van(state), "{state}"));
        }
        assert!(
            !data.shares.is_empty() && cards.len() >= 10 && symptoms.len() >= 15 && used.len() > 50,
            "read nothing"
        );
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
        assert!(last.words.is_empty() && last.parts.is_empty(), "the last card takes the rest");
        let library = Library::load(&Catalogue::built_in()).expect("kinds");
        let missed: Vec<_> = library
            .iter()
            .flat_map(|k| k.owner.emergency.iter().map(move |e| (k, &e.symptom)))
            .filter(|(kind, s)| !named.iter().any(|t| t.takes(kind, s)))
            .map(|(kind, s)| (&kind.id, s))
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
