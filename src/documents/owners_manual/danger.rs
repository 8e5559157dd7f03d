//! Emergencies: what to shut off, where the safety gear is, what to do.

use crate::documents::alike::{Teller, names};
use super::anchor;
use super::data::{ManualData, says};
use super::systems::Group;
use crate::build::Part;
use crate::kinds::System;
use indexmap::IndexMap;
use serde::Serialize;

/// Something to shut off.
#[derive(Clone, Debug, Serialize)]
pub struct ShutOff {
    /// What it shuts off.
    pub what: String,
    /// Name of the part.
    pub name: String,
    /// Its section.
    pub link: String,
    /// Where it is.
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
    /// Names of the parts it comes from.
    pub parts: String,
    /// What to do, in order, as Markdown.
    pub actions: Vec<String>,
}

pub(super) fn shut_off(teller: &Teller<'_>, data: &ManualData) -> Vec<ShutOff> {
    let mut rows = Vec::new();
    for text in &data.shut_off {
        for part in teller.context().build.parts.values().filter(|p| p.kind.id == text.kind) {
            rows.push(ShutOff {
                what: text.what.clone(),
                name: part.name.clone(),
                link: anchor(part),
                place: teller.place(part),
                how: teller.one(&part.id, &text.how),
            });
        }
    }
    rows
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
            topic.entries.push(Emergency { symptom, parts: names(&parts), actions: texts });
        }
    }
    topics.retain(|t| !t.entries.is_empty());
    topics
}
