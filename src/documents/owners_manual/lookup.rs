//! Ways to find things: symptoms, plain words, index.

use super::danger::Topic;
use super::data::{self, says};
use super::systems::{GroupView, SystemView};
use super::{Link, View, anchor};
use crate::build::Build;
use indexmap::IndexSet;
use serde::Serialize;
use std::collections::BTreeMap;

/// Symptoms of a system.
#[derive(Clone, Debug, Serialize)]
pub struct SystemSymptoms {
    /// Title of the system.
    pub title: &'static str,
    /// Its section.
    pub link: &'static str,
    /// Parts with troubles.
    pub groups: Vec<Symptoms>,
}

/// Symptoms of parts of a kind, and where to read on.
#[derive(Clone, Debug, Serialize)]
pub struct Symptoms {
    /// Which part.
    pub name: String,
    /// Its section.
    pub link: String,
    /// What the owner notices, as Markdown.
    pub texts: Vec<String>,
}

/// A word and what it means.
#[derive(Clone, Debug, Serialize)]
pub struct Word {
    /// Term.
    pub term: String,
    /// Meaning.
    pub meaning: String,
}

/// An entry of the index.
#[derive(Clone, Debug, Serialize)]
pub struct Entry {
    /// Term.
    pub term: String,
    /// Its sections.
    pub links: Vec<Link>,
}

/// Troubles by system and part.
pub(super) fn symptoms(systems: &[SystemView]) -> Vec<SystemSymptoms> {
    let of = |g: &GroupView| Symptoms {
        name: g.title.clone(),
        link: g.id.clone(),
        texts: g.trouble.iter().map(|t| t.symptom.clone()).collect::<IndexSet<_>>().into_iter().collect(),
    };
    let told = |s: &SystemView| SystemSymptoms {
        title: s.title,
        link: s.id,
        groups: s.groups.iter().map(of).filter(|g| !g.texts.is_empty()).collect(),
    };
    systems.iter().map(told).filter(|s| !s.groups.is_empty()).collect()
}

/// A symptom that stands outside its section: "It stays dark." → "Reading light: it stays dark."
pub(super) fn named(symptom: &str, name: &str) -> String {
    let alone = ["It ", "Its "].iter().any(|it| symptom.starts_with(it));
    if alone { format!("{name}: i{}", &symptom[1..]) } else { symptom.to_owned() }
}

/// The words of the glossary that the manual uses.
pub(super) fn glossary(view: &View) -> Vec<Word> {
    let Ok(all) = serde_json::to_value(view) else { return Vec::new() };
    let mut text = String::new();
    gather(&all, &mut text);
    let used = |w: &data::WordText| {
        let spellings: Vec<String> = [&w.term].into_iter().chain(&w.also).map(|t| normal(t)).collect();
        says(&text, &spellings)
    };
    data::words().into_iter().filter(used).map(|w| Word { term: w.term, meaning: w.meaning }).collect()
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
        serde_json::Value::Object(all) => all.values().for_each(|v| gather(v, text)),
        _ => {}
    }
}

/// Parts, kinds, systems and emergencies with their sections, sorted.
pub(super) fn index(build: &Build<'_>, systems: &[SystemView], emergencies: &[Topic]) -> Vec<Entry> {
    let mut found: BTreeMap<(String, String), Vec<Link>> = BTreeMap::new();
    let mut put = |term: &str, title: &str, link: &str| {
        let links = found.entry((term.to_lowercase(), term.to_owned())).or_default();
        let link = Link { title: title.to_owned(), id: link.to_owned() };
        if !links.contains(&link) {
            links.push(link);
        }
    };
    for system in systems {
        put(system.title, system.title, system.id);
    }
    for part in build.parts.values() {
        let system = part.kind.system.title();
        put(&part.name, system, &anchor(part));
        if part.kind.name.to_lowercase() != part.name.to_lowercase() {
            put(&part.kind.name, &part.name, &anchor(part));
        }
    }
    for topic in emergencies {
        put(&topic.title, "In an emergency", &topic.id);
    }
    for (term, link) in [
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
    }
}
