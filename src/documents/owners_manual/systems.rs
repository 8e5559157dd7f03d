//! The systems: what is fitted and where, how to use it, what is normal, limits, troubles. Alike parts are told once.

use super::data::{ManualData, search_words};
use super::{Line, anchor, finder, lines};
use crate::build::{Build, Part};
use crate::documents::CautionView;
use crate::documents::alike::{Teller, Told, names};
use crate::kinds::{Caution, Kind, Role, Signal, System};
use indexmap::IndexMap;
use serde::Serialize;

/// Parts of one kind.
pub(super) struct Group<'a> {
    /// Parts, at least one.
    pub parts: Vec<&'a Part<'a>>,
}

impl<'a> Group<'a> {
    /// Their kind.
    pub(super) fn kind(&self) -> &'a Kind {
        self.parts[0].kind
    }

    /// Heading: the name of a single part, the kind and number of several.
    pub(super) fn title(&self) -> String {
        match self.parts.as_slice() {
            [one] => one.name.clone(),
            several => format!("{} ({})", self.kind().name, several.len()),
        }
    }

    /// Id of the heading.
    pub(super) fn id(&self) -> String {
        anchor(self.parts[0])
    }
}

/// A system that is fitted.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SystemView {
    /// Id of its heading.
    pub id: &'static str,
    /// Title.
    pub title: &'static str,
    /// What is fitted.
    pub groups: Vec<GroupView>,
    /// Whether any of it can have troubles.
    pub troubled: bool,
    /// Subject of the drawings that belong here; "" for none.
    pub drawn: String,
}

/// Parts of one kind.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct GroupView {
    /// Id of the heading.
    pub id: String,
    /// Heading.
    pub title: String,
    /// What else people call it, for the search.
    pub also: String,
    /// The parts, one or several.
    pub parts: Vec<PartView>,
    /// Whether any part has a circuit with a fuse.
    pub fused: bool,
    /// Whether any part says what it draws.
    pub draws: bool,
    /// What it is.
    pub what: Vec<Line>,
    /// Safety messages before its use.
    pub cautions: Vec<CautionView>,
    /// How to use it.
    pub usage: Vec<Line>,
    /// What is normal.
    pub normal: Vec<Line>,
    /// Limits.
    pub limits: Vec<Line>,
    /// Troubles.
    pub trouble: Vec<TroubleView>,
    /// Notes of the shop, as Markdown.
    pub notes: Vec<Line>,
}

/// A part.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PartView {
    /// Anchor of its own; "" where the heading is its anchor.
    pub anchor: String,
    /// Name.
    pub name: String,
    /// Where it is; with the number of pieces where they are several.
    pub place: String,
    /// Panel that protects it, or where the fuse sits in the cable.
    pub panel: String,
    /// Way in the panel.
    pub way: String,
    /// Fuse or breaker.
    pub fuse: String,
    /// Current it draws.
    pub current: String,
}

/// A symptom and what to do.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct TroubleView {
    /// What the owner notices, as Markdown.
    pub symptom: String,
    /// Names of the parts; "" for all.
    pub who: String,
    /// What to do in order, as Markdown.
    pub actions: Vec<String>,
}

/// Parts of the build by kind, in the order of systems and then of the spec.
pub(super) fn groups<'a>(build: &'a Build<'a>) -> Vec<Group<'a>> {
    let mut groups: IndexMap<&str, Group<'a>> = IndexMap::new();
    for part in build.parts.values() {
        groups.entry(&part.kind.group).or_insert_with(|| Group { parts: Vec::new() }).parts.push(part);
    }
    let mut groups: Vec<_> = groups.into_values().collect();
    groups.sort_by_key(|g| g.kind().system);
    groups
}

pub(super) fn systems(teller: &Teller<'_>, groups: &[Group<'_>], data: &ManualData) -> Vec<SystemView> {
    let view = |system: &System| {
        let fitted = groups.iter().filter(|g| g.kind().system == *system);
        let groups: Vec<GroupView> = fitted.map(|g| group(teller, g)).collect();
        SystemView {
            id: system.id(),
            title: system.title(),
            troubled: groups.iter().any(|g| !g.trouble.is_empty()),
            drawn: data.drawings.get(system.id()).cloned().unwrap_or_default(),
            groups,
        }
    };
    System::ALL.iter().map(view).filter(|s| !s.groups.is_empty()).collect()
}

pub(super) fn absent(build: &Build<'_>) -> Vec<&'static str> {
    let fitted = |s: &System| build.parts.values().any(|p| p.kind.system == *s);
    System::ALL.iter().filter(|s| !fitted(s)).map(|s| s.title()).collect()
}

fn group(teller: &Teller<'_>, group: &Group<'_>) -> GroupView {
    let owner = &group.kind().owner;
    let parts: Vec<PartView> = group.parts.iter().enumerate().map(|(i, p)| part(teller, p, i > 0)).collect();
    let each = |texts: &[String]| -> Vec<Line> {
        lines(texts.iter().flat_map(|t| teller.tell(&group.parts, &[t])).collect::<Vec<_>>()).collect()
    };
    let what = each(std::slice::from_ref(&owner.what));
    let usage = each(&owner.usage);
    let normal = each(&owner.normal);
    let limits = each(&owner.limits);
    let mut trouble = Vec::new();
    for t in &owner.trouble {
        let texts: Vec<&str> = [&t.symptom].into_iter().chain(&t.actions).map(String::as_str).collect();
        for mut told in teller.tell(&group.parts, &texts) {
            let symptom = told.texts.remove(0);
            if !symptom.is_empty() {
                trouble.push(TroubleView { symptom, who: told.who.clone(), actions: told.kept() });
            }
        }
    }
    GroupView {
        id: group.id(),
        title: group.title(),
        also: search_words(&group.kind().also),
        fused: parts.iter().any(|p| !p.fuse.is_empty()),
        draws: parts.iter().any(|p| !p.current.is_empty()),
        parts,
        what,
        cautions: cautions(teller, group),
        usage,
        normal,
        limits,
        trouble,
        notes: notes(group),
    }
}

/// Safety messages, each once, with the parts that one is about where it is not about all of them.
fn cautions(teller: &Teller<'_>, group: &Group<'_>) -> Vec<CautionView> {
    let each = |caution: &Caution| {
        let told = teller.tell(&group.parts, &[&caution.hazard, &caution.consequence, &caution.avoid]);
        let signal = caution.signal.title();
        let view = move |told: Told| {
            let who = if told.who.is_empty() { String::new() } else { format!("{}: ", told.who) };
            let mut texts = told.texts.into_iter();
            let mut next = || texts.next().unwrap_or_default();
            let (hazard, consequence, avoid) = (next(), next(), next());
            // A hazard that this part does not have is no message.
            (!hazard.is_empty()).then(|| CautionView { signal, hazard: format!("{who}{hazard}"), consequence, avoid })
        };
        told.into_iter().filter_map(view).collect::<Vec<_>>()
    };
    let mut all: Vec<CautionView> = group.kind().owner.cautions.iter().flat_map(each).collect();
    // The gravest first.
    all.sort_by_key(|c| Signal::ALL.iter().position(|s| s.title() == c.signal));
    all
}

/// Notes for the owner.
fn notes(group: &Group<'_>) -> Vec<Line> {
    let mut notes: IndexMap<&str, Vec<&Part<'_>>> = IndexMap::new();
    for part in &group.parts {
        if let Some(note) = part.common.owner_note.text().filter(|n| !n.trim().is_empty()) {
            notes.entry(note).or_default().push(part);
        }
    }
    let who = |parts: &[&Part<'_>]| if parts.len() == group.parts.len() { String::new() } else { names(parts) };
    notes.into_iter().map(|(text, parts)| Line { who: who(&parts), text: text.to_owned() }).collect()
}

fn part(teller: &Teller<'_>, part: &Part<'_>, own_anchor: bool) -> PartView {
    let fact = |name: &str| teller.fact(&part.id, name).to_owned();
    let place = teller.place(part);
    let uses = !part.role().is_some_and(|r| r.passes_through() || r.is_source() || r == Role::Outlet);
    PartView {
        anchor: if own_anchor { anchor(part) } else { String::new() },
        name: part.name.clone(),
        place: match (part.count, place.is_empty()) {
            (1, _) => place,
            (n, true) => format!("{n} pieces"),
            (n, false) => format!("{place}, {n} pieces"),
        },
        // A fuse stands in its own section: where it is says the place.
        panel: Some(finder::place_of_fuse(teller.context(), part)).filter(|p| *p != part.name).unwrap_or_default(),
        way: fact("way"),
        fuse: fact("fuse"),
        current: if uses { fact("load_current") } else { String::new() },
    }
}
