//! Emergencies: what to shut off, where the safety gear is, what to do.

use super::card::{Card, Emergency, anchor_of};
use super::data::CardText;
use super::systems::Group;
use super::whole::{Whole, ways_out};
use super::{Link, anchor, lookup};
use crate::build::{Build, Part};
use crate::compute::emergency::{things, worked_at};
use crate::documents::alike::{Teller, names};
use crate::documents::shared::ranges;
use crate::kinds::{Kind, System};
use crate::letters::capital;
use indexmap::{IndexMap, IndexSet};
use serde::Serialize;

/// Something to shut off.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct ShutOff {
    /// What it shuts off, as Markdown.
    pub what: String,
    /// Parts that do it, each with its section.
    pub parts: Vec<Link>,
    /// Where they are, each place once.
    pub place: String,
    /// Where their controls are that have one apart from themselves; "" where none has.
    pub control: String,
    /// Their numbers on the emergency map.
    pub map: String,
    /// How, as Markdown.
    pub how: String,
}

/// A piece of safety gear.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Gear {
    /// Name.
    pub name: String,
    /// Where it is.
    pub place: String,
    /// Its section.
    pub link: String,
}

pub(super) fn shut_off(teller: &Teller<'_>) -> Vec<ShutOff> {
    let parts = teller.context().build.parts.values();
    let mut told: Vec<_> = parts.filter_map(|part| Some((part.kind.owner.shut_off.as_ref()?, part))).collect();
    told.sort_by_key(|(text, _)| text.place);
    let mut rows: IndexMap<(String, String), Vec<&Part<'_>>> = IndexMap::new();
    for (text, part) in told {
        let said = |text: &str| teller.one(&part.id, text);
        rows.entry((capital(&said(&text.what)), said(&text.how))).or_default().push(part);
    }
    let build = teller.context().build;
    let things = things(build);
    let numbers =
        |part: &&Part<'_>| things.iter().filter(|t| t.parts.contains(&part.id)).map(|t| t.number).collect::<Vec<_>>();
    let row = |((what, how), parts): ((String, String), Vec<&Part<'_>>)| ShutOff {
        what,
        place: places(teller, &parts),
        control: controls(build, &parts),
        map: ranges(&parts.iter().flat_map(numbers).collect()),
        parts: parts.into_iter().map(|p| Link { title: p.name.clone(), id: anchor(p) }).collect(),
        how,
    };
    rows.into_iter().map(row).collect()
}

/// Where parts are, and from where else they are worked.
fn places(teller: &Teller<'_>, parts: &[&Part<'_>]) -> String {
    let also = parts.iter().map(|p| teller.fact(&p.id, "reached_at")).filter(|at| !at.is_empty());
    let also: IndexSet<String> = also.map(|at| format!("also from: {at}")).collect();
    [teller.places(parts)].into_iter().chain(also).filter(|at| !at.is_empty()).collect::<Vec<_>>().join("; ")
}

/// Where the controls of parts are that have one apart from themselves; "" where none has.
fn controls(build: &Build<'_>, parts: &[&Part<'_>]) -> String {
    let apart = parts.iter().map(|p| worked_at(p)).zip(parts).filter(|(at, part)| *at != part.places);
    let places: IndexSet<String> = apart.flat_map(|(at, _)| at).map(|id| build.place_name(&id)).collect();
    places.into_iter().collect::<Vec<_>>().join("; ")
}

pub(super) fn safety(teller: &Teller<'_>) -> Vec<Gear> {
    let build = teller.context().build;
    let gear = build.parts.values().filter(|p| p.kind.system == System::Safety);
    // A window or a hatch that is a way out by itself.
    let exits = ways_out(build).into_iter().filter(|p| p.kind.system != System::Safety);
    gear.chain(exits).map(|p| Gear { name: p.name.clone(), place: teller.place(p), link: anchor(p) }).collect()
}

/// The cards that this van needs, in their order on paper, with the emergencies of all kinds, each once.
pub(super) fn cards(texts: &[CardText], teller: &Teller<'_>, groups: &[Group<'_>], whole: &Whole<'_, '_>) -> Vec<Card> {
    let mut cards: Vec<(&CardText, Card)> = texts.iter().map(|t| (t, card(t, whole))).collect();
    let last = cards.len().saturating_sub(1);
    for (kind, told, parts) in told(teller, groups) {
        let Some((symptom, actions)) = told.split_first().filter(|(s, _)| !s.is_empty()) else { continue };
        let at = cards.iter().position(|(t, _)| t.takes(kind, symptom)).unwrap_or(last);
        let Some((text, card)) = cards.get_mut(at) else { continue };
        // What the card tells itself is not told twice.
        if text.tells(kind, symptom) && !card.steps.is_empty() {
            continue;
        }
        let name = names(&parts);
        let named = lookup::named(symptom, &name);
        let parts = if named == *symptom { name } else { String::new() };
        let actions = actions.iter().filter(|a| !a.is_empty()).cloned().collect();
        card.entries.push(Emergency { symptom: named, parts, actions });
    }
    cards.retain(|(_, c)| !c.steps.is_empty() || !c.entries.is_empty());
    cards.sort_by_key(|(t, _)| t.place);
    cards.into_iter().map(|(_, c)| c).collect()
}

/// A card without entries; without steps where the van does not need it.
fn card(text: &CardText, whole: &Whole<'_, '_>) -> Card {
    let needed = whole.has(&text.needs) && text.when.as_ref().is_none_or(|when| !whole.text(when).is_empty());
    let say = |t: &str| if needed { whole.text(t) } else { String::new() };
    Card {
        id: anchor_of(&text.id),
        title: text.title.clone(),
        also: if needed { text.also.clone() } else { Vec::new() },
        notice: say(&text.notice),
        first: say(&text.first),
        steps: if needed { whole.texts(&text.steps) } else { Vec::new() },
        entries: Vec::new(),
    }
}

/// Emergencies of all kinds: kind, symptom and actions, and the parts that share them.
fn told<'a>(teller: &Teller<'_>, groups: &[Group<'a>]) -> Vec<(&'a Kind, Vec<String>, Vec<&'a Part<'a>>)> {
    let mut found: IndexMap<Vec<String>, (&Kind, Vec<&Part<'_>>)> = IndexMap::new();
    for group in groups {
        for trouble in &group.kind().owner.emergency {
            let texts: Vec<&str> = [&trouble.symptom].into_iter().chain(&trouble.actions).map(String::as_str).collect();
            for part in &group.parts {
                for told in teller.tell_listed(&[part], &texts) {
                    found.entry(told.texts).or_insert_with(|| (group.kind(), Vec::new())).1.push(part);
                }
            }
        }
    }
    found.into_iter().map(|(texts, (kind, parts))| (kind, texts, parts)).collect()
}
