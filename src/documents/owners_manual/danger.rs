//! Emergencies: what to shut off, where the safety gear is, what to do.

use super::data::{ManualData, says};
use super::systems::Group;
use super::{Link, anchor, lookup};
use crate::build::Part;
use crate::documents::alike::{Teller, names};
use crate::kinds::System;
use indexmap::IndexMap;
use serde::Serialize;

/// Something to shut off.
#[derive(Clone, Debug, Serialize)]
pub struct ShutOff {
    /// What it shuts off.
    pub what: String,
    /// Parts that do it, each with its section.
    pub parts: Vec<Link>,
    /// Where they are, each place once.
    pub place: String,
    /// How, as Markdown.
    pub how: String,
}

/// A piece of safety gear.
#[derive(Clone, Debug, Serialize)]
pub struct Gear {
    /// Name.
    pub name: String,
    /// Where it is.
    pub place: String,
    /// Its section.
    pub link: String,
}

/// Emergencies of a topic.
#[derive(Clone, Debug, Serialize)]
pub struct Topic {
    /// Id of its heading.
    pub id: String,
    /// Title.
    pub title: String,
    /// What can happen.
    pub entries: Vec<Emergency>,
}

/// What happens and what to do at once.
#[derive(Clone, Debug, Serialize)]
pub struct Emergency {
    /// What the owner notices, as Markdown.
    pub symptom: String,
    /// Names of the parts it comes from; "" where the symptom says them.
    pub parts: String,
    /// What to do, in order, as Markdown.
    pub actions: Vec<String>,
    /// Told by the safety gear.
    #[serde(skip)]
    first: bool,
}

/// Place behind the entries of the safety gear.
fn safety_first(topic: &Topic) -> usize {
    topic.entries.iter().take_while(|e| e.first).count()
}

pub(super) fn shut_off(teller: &Teller<'_>, data: &ManualData) -> Vec<ShutOff> {
    let mut rows: IndexMap<(&str, String), Vec<&Part<'_>>> = IndexMap::new();
    for text in &data.shut_off {
        for part in teller.context().build.parts.values().filter(|p| p.kind.id == text.kind) {
            rows.entry((&text.what, teller.one(&part.id, &text.how))).or_default().push(part);
        }
    }
    let row = |((what, how), parts): ((&str, String), Vec<&Part<'_>>)| ShutOff {
        what: what.to_owned(),
        place: teller.places(&parts),
        parts: parts.into_iter().map(|p| Link { title: p.name.clone(), id: anchor(p) }).collect(),
        how,
    };
    rows.into_iter().map(row).collect()
}

pub(super) fn safety(teller: &Teller<'_>) -> Vec<Gear> {
    let gear = teller.context().build.parts.values().filter(|p| p.kind.system == System::Safety);
    gear.map(|p| Gear { name: p.name.clone(), place: teller.place(p), link: anchor(p) }).collect()
}

/// Emergencies of all kinds, each once, by topic.
pub(super) fn topics(teller: &Teller<'_>, groups: &[Group<'_>], data: &ManualData) -> Vec<Topic> {
    let mut found: IndexMap<Vec<String>, Vec<&Part<'_>>> = IndexMap::new();
    for group in groups {
        for trouble in &group.kind().owner.emergency {
            let texts: Vec<&str> = [&trouble.symptom].into_iter().chain(&trouble.actions).map(String::as_str).collect();
            for part in &group.parts {
                for told in teller.tell_listed(&[part], &texts) {
                    let parts = found.entry(told.texts).or_default();
                    parts.push(part);
                }
            }
        }
    }
    let mut topics: Vec<Topic> = data
        .topics
        .iter()
        .map(|t| Topic { id: format!("emergency-{}", t.id), title: t.title.clone(), entries: Vec::new() })
        .collect();
    for (mut texts, parts) in found {
        let symptom = texts.remove(0);
        if symptom.is_empty() {
            continue;
        }
        texts.retain(|t| !t.is_empty());
        let at = data.topics.iter().position(|t| t.words.is_empty() || says(&symptom, &t.words));
        if let Some(topic) = at.and_then(|i| topics.get_mut(i)) {
            // What anyone can notice comes first: the gear that tells of it and fights it is a system of its own.
            let first = parts.iter().any(|p| p.kind.system == System::Safety);
            let place = if first { safety_first(topic) } else { topic.entries.len() };
            let name = names(&parts);
            let told = lookup::named(&symptom, &name);
            let parts = if told == symptom { name } else { String::new() };
            topic.entries.insert(place, Emergency { symptom: told, parts, actions: texts, first });
        }
    }
    topics.retain(|t| !t.entries.is_empty());
    topics
}
