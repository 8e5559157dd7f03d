//! Ways to find things: symptoms, plain words, index.

use super::card::Card;
use super::data::{SymptomText, WordText, says};
use super::systems::{GroupView, SystemView};
use super::whole::Whole;
use super::{Link, View, anchor};
use crate::build::Part;
use crate::documents::alike::plain;
use crate::documents::{CautionView, Context};
use crate::letters::capital;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// A symptom that anyone can notice: where to look, in order.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Symptom {
    /// Id of its heading.
    pub id: String,
    /// Title.
    pub title: String,
    /// What else people look for it by.
    pub also: Vec<String>,
    /// Safety messages before the steps.
    pub cautions: Vec<CautionView>,
    /// What to do in order, as Markdown.
    pub steps: Vec<String>,
    /// What to look at and what to do then, as Markdown.
    pub rows: Vec<(String, String)>,
    /// Tables of systems with troubles that belong here.
    pub more: Vec<Link>,
}

/// A word and what it means.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Word {
    /// Term.
    pub term: String,
    /// Meaning.
    pub meaning: String,
}

/// An entry of the index.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Entry {
    /// Term.
    pub term: String,
    /// Its sections.
    pub links: Vec<Link>,
}

/// The symptoms this van can show.
pub(super) fn symptoms(texts: &[SymptomText], whole: &Whole<'_, '_>, systems: &[SystemView]) -> Vec<Symptom> {
    let symptom = |text: &SymptomText| {
        let row = |(look, then): &(String, String)| {
            let look = whole.text(look);
            (!look.is_empty()).then(|| (look, whole.text(then)))
        };
        let rows: Vec<_> = text.rows.iter().filter_map(row).filter(|(_, then)| !then.is_empty()).collect();
        let tells = |g: &GroupView| g.trouble.iter().any(|t| says(&named(&t.symptom, &g.title), &text.words));
        let told = systems.iter().filter(|s| s.groups.iter().any(tells));
        Symptom {
            id: format!("if-{}", text.id),
            title: plain(&whole.text(&text.title)),
            also: text.also.clone(),
            cautions: whole.cautions(&text.cautions),
            steps: whole.texts(&text.steps),
            rows,
            more: told.map(|s| Link { title: s.title.to_owned(), id: format!("trouble-{}", s.id) }).collect(),
        }
    };
    let applies =
        |t: &&SymptomText| whole.has(&t.needs) && t.when.as_ref().is_none_or(|when| !whole.text(when).is_empty());
    let symptoms = texts.iter().filter(applies).map(symptom);
    symptoms.filter(|s| !s.rows.is_empty() || !s.steps.is_empty()).collect()
}

/// A symptom that stands outside its section: "It stays dark." → "Reading light: it stays dark."
pub(super) fn named(symptom: &str, name: &str) -> String {
    let alone = ["It ", "Its "].iter().any(|it| symptom.starts_with(it));
    if alone { format!("{name}: i{}", &symptom[1..]) } else { symptom.to_owned() }
}

/// The words of the glossary that the manual uses.
pub(super) fn glossary(words: &[WordText], view: &View) -> Vec<Word> {
    let Ok(all) = serde_json::to_value(view) else { return Vec::new() };
    let mut text = String::new();
    gather(&all, &mut text);
    let text = text.to_lowercase().replace('\u{a0}', " ").replace('\\', "");
    let used = |w: &&WordText| [&w.term].into_iter().chain(&w.also).any(|term| stands_in(&text, &term.to_lowercase()));
    words.iter().filter(used).map(|w| Word { term: w.term.clone(), meaning: w.meaning.clone() }).collect()
}

/// Whether a term stands in a text in small letters as words of its own: "line 1" is not in "a line. 1.5 L".
fn stands_in(text: &str, term: &str) -> bool {
    let ends = |behind: &str| {
        let mut letters = behind.chars();
        match letters.next() {
            Some('.' | ',') => !letters.next().is_some_and(char::is_numeric),
            next => !next.is_some_and(char::is_alphanumeric),
        }
    };
    let begins = |before: &str| !before.chars().next_back().is_some_and(char::is_alphanumeric);
    text.match_indices(term).any(|(at, _)| begins(&text[..at]) && ends(&text[at + term.len()..]))
}

/// A spelling as [`says`] wants it: words in lower case with single spaces.
fn normal(text: &str) -> String {
    let words: Vec<_> = text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    words.join(" ").to_lowercase()
}

/// All texts of a value. Ids and links count as well: they only bring words of parts that are there.
fn gather(value: &serde_json::Value, text: &mut String) {
    match value {
        serde_json::Value::String(s) => {
            text.push_str(s);
            // A mark between texts, so that no phrase runs from one into the next.
            text.push_str(" 0 ");
        }
        serde_json::Value::Array(all) => all.iter().for_each(|v| gather(v, text)),
        // What else things are called is not said, and what is not fitted is no word to explain.
        serde_json::Value::Object(all) => {
            let said = all.iter().filter(|(key, _)| !["also", "absent"].contains(&key.as_str()));
            said.for_each(|(_, value)| gather(value, text));
        }
        _ => {}
    }
}

/// So many of the abbreviations by which people call a kind stand in the index beside its name, and one other word.
const SHORT_NAMES: usize = 2;

/// Stems of the words of a term: "Solar arrays" is found under "array".
fn stems(term: &str) -> impl Iterator<Item = String> {
    normal(term).split(' ').map(|word| word.trim_end_matches('s').to_owned()).collect::<Vec<_>>().into_iter()
}

/// Parts, kinds, systems and emergencies with their sections, sorted.
pub(super) fn index(
    context: &Context<'_>,
    systems: &[SystemView],
    emergencies: &[Card],
    symptoms: &[Symptom],
) -> Vec<Entry> {
    let build = context.build;
    let mut found: BTreeMap<(String, String), Vec<Link>> = BTreeMap::new();
    let mut put = |term: &str, title: &str, link: &str| {
        let links = found.entry((term.to_lowercase(), term.to_owned())).or_default();
        let link = Link { title: title.to_owned(), id: link.to_owned() };
        if !links.contains(&link) {
            links.push(link);
        }
    };
    // A part that is called like its system or its kind is found in the same section: one page is enough.
    let named = |name: &str| {
        build.parts.values().any(|p| p.name == name && (p.kind.name == name || p.kind.system.title() == name))
    };
    for system in systems.iter().filter(|s| !named(s.title)) {
        put(system.title, system.title, system.id);
    }
    let mut kinds: BTreeMap<&str, (&str, String, bool)> = BTreeMap::new();
    for part in build.parts.values() {
        put(&part.name, part.kind.system.title(), &anchor(part));
        // "Windows, left" needs no second entry "Window" beside it.
        let other = !part.name.to_lowercase().starts_with(&part.kind.name.to_lowercase());
        // All parts of a kind are told in one section, which has the anchor of the first.
        kinds.entry(&part.kind.id).or_insert_with(|| (&part.kind.name, anchor(part), false)).2 |= other;
    }
    for (name, link, _) in kinds.values().filter(|(name, _, other)| *other && !named(name)) {
        put(name, name, link);
    }
    for card in emergencies {
        put(&card.title, "In an emergency", &card.id);
        card.also.iter().for_each(|term| put(&capital(term), "In an emergency", &card.id));
    }
    for symptom in symptoms {
        put(&symptom.title, "What if", &symptom.id);
        symptom.also.iter().for_each(|term| put(&capital(term), "What if", &symptom.id));
    }
    for (term, link) in [
        ("Arriving", "arriving"),
        ("Care", "care"),
        ("First day", "first-day"),
        ("Fuses", "fuse-finder"),
        ("Emergencies", "emergency"),
        ("Limits", "limits"),
        ("Outlets and switches", "maps"),
        ("Storing the van", "storing"),
        ("Troubles", "what-if"),
        ("Travelling checklist", "travelling"),
        ("Whom to call", "contacts"),
    ] {
        put(term, term, link);
    }
    // What people call a kind otherwise, where no word of it leads there yet, in the words of the rules.
    let mut known: BTreeSet<String> = found.keys().flat_map(|(_, term)| stems(term)).collect();
    let mut kinds: BTreeMap<&str, &Part<'_>> = BTreeMap::new();
    for part in build.parts.values() {
        kinds.entry(&part.kind.id).or_insert(part);
    }
    for part in kinds.into_values() {
        let own = |term: &&String| (context.worded)(term) == **term;
        let mut told = 0;
        for term in part.kind.also.iter().filter(own) {
            let short = !term.contains(char::is_lowercase);
            let most = if short { SHORT_NAMES } else { 1 };
            if told >= most || stems(term).any(|stem| known.contains(&stem)) {
                continue;
            }
            told += 1;
            known.extend(stems(term));
            let link = Link { title: part.kind.name.clone(), id: anchor(part) };
            found.entry((term.to_lowercase(), capital(term))).or_default().push(link);
        }
    }
    found.into_iter().map(|((_, term), links)| Entry { term, links }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_gathered_apart() {
        let mut text = String::new();
        gather(&serde_json::json!({"a": ["shore", "power"], "b": {"c": "fuse"}}), &mut text);
        assert!(!says(&text, &["shore power".to_owned()]));
        assert!(says(&text, &["fuse".to_owned()]));
        assert_eq!(named("It stays dark.", "Reading light"), "Reading light: it stays dark.");
        assert_eq!(named("Items fall.", "Shelf"), "Items fall.");
        assert_eq!(normal("DC-DC charger"), "dc dc charger");
        assert!(stands_in("on line 1, and", "line 1") && !stands_in("the line 1.5 l", "line 1"));
        assert!(!stands_in("an outline 1", "line 1") && stands_in("the dc-dc charger.", "dc-dc charger"));
    }
}
