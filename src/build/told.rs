//! What everyone may be told of a build: all but where its confidential parts are.
//!
//! The declaration of a field says whether its values tell that (`Entry::tells_place`): texts, ids, places and lengths
//! do, other types don't. Documents, drawings and data are made from a build without them ([`Build::redacted`]). Those few
//! who need them get them by another way: [`Build::confidential`].

use super::{Build, Circuit, Part, Site, Task};
use crate::fields::{Entry, Record, Value};
use crate::kinds::Role;
use crate::roles::Supply;
use crate::spec::{Spec, TaskSection};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// Marks the parts whose place must not be told, those that come out as well: a hidden switch, and what is the master of a
/// panel whose master is hidden.
pub(super) fn mark_parts<'k>(parts: &mut IndexMap<String, Part<'k>>, removed: &mut IndexMap<String, Part<'k>>) {
    let panels = parts.values().chain(removed.values()).filter(|p| p.roles.master().is("hidden"));
    let masters: BTreeSet<String> =
        panels.flat_map(|p| p.roles.master_switch().all()).map(|master| master.value.clone()).collect();
    for (id, part) in parts.iter_mut().chain(removed) {
        let hidden = part.roles.guard().is("hidden") || masters.contains(id);
        part.confidential = hidden && part.role() != Some(Role::SwitchPanel);
    }
}

/// Marks the circuits one end of which is such a part.
pub(super) fn mark_circuits(circuits: &mut IndexMap<String, Circuit>, parts: &IndexMap<String, Part<'_>>) {
    for circuit in circuits.values_mut() {
        let ends = [&circuit.from, &circuit.to];
        circuit.confidential = ends.iter().any(|end| parts.get(*end).is_some_and(|p| p.confidential));
    }
}

impl<'k> Build<'k> {
    /// Whether a part of it is confidential.
    #[must_use]
    pub fn hides(&self) -> bool {
        self.parts.values().chain(self.removed.values()).any(|part| part.confidential)
    }

    /// Whether a figure or finding about `subject` is about a confidential part or a circuit at it.
    #[must_use]
    pub fn is_confidential(&self, subject: &str) -> bool {
        let head = subject.split('.').next().unwrap_or(subject);
        self.circuits.get(subject).is_some_and(|c| c.confidential)
            || self.parts.get(head).or_else(|| self.removed.get(head)).is_some_and(|p| p.confidential)
    }

    /// What the spec says of a confidential part that tells where it is, the ways of its cables apart.
    #[must_use]
    pub fn confidential<'a>(&self, part: &'a Part<'_>) -> Vec<(&'a str, &'a Entry)> {
        if !part.confidential {
            return Vec::new();
        }
        let own = |(name, entry): &(&String, &Entry)| entry.given && entry.tells_place && !self.is_of_cable(part, name);
        part.record.fields.iter().filter(own).map(|(name, entry)| (name.as_str(), entry)).collect()
    }

    /// Tasks of the spec itself about a confidential part: their texts may tell where it is.
    pub fn confidential_tasks<'a>(&'a self, part: &Part<'_>) -> impl Iterator<Item = &'a Task<'k>> + use<'a, 'k> {
        let hidden = part.confidential;
        self.tasks_of(&part.id).filter(move |task| hidden && task.template.is_none())
    }

    /// Places that only confidential parts and the cables to them are in.
    #[must_use]
    pub fn confidential_places(&self) -> BTreeSet<&str> {
        let (mut secret, mut open) = (BTreeSet::new(), BTreeSet::new());
        for part in self.parts.values().chain(self.removed.values()) {
            for (name, entry) in &part.record.fields {
                let Value::Places(ids) = &entry.value else { continue };
                let of = if self.tells(part, name, entry) { &mut secret } else { &mut open };
                of.extend(ids.iter().map(|id| id.value.as_str()));
            }
        }
        secret.difference(&open).copied().collect()
    }

    /// Whether an entry of a part tells where a confidential part is: it itself, or the cable that the entry describes.
    fn tells(&self, part: &Part<'_>, name: &str, entry: &Entry) -> bool {
        entry.given && entry.tells_place && (part.confidential || self.is_of_cable(part, name))
    }

    /// Whether a field describes a cable of the part that leads to a confidential one.
    fn is_of_cable(&self, part: &Part<'_>, name: &str) -> bool {
        let owned = self.leaving(&part.id).chain(self.arriving(&part.id)).filter(|c| c.owner == part.id);
        let names = |c: &Circuit| Supply::CONTRACT.fields.iter().any(|field| c.end.field(field.name) == name);
        owned.filter(|c| c.confidential).any(names)
    }

    /// The spec without what tells where confidential parts are: of themselves, of the stock items they are, of what
    /// else names them.
    #[must_use]
    pub fn redacted_spec(&self) -> Spec {
        let mut spec = self.spec.clone();
        for part in self.parts.values().chain(self.removed.values()) {
            let Some(component) = spec.components.get_mut(&part.id) else { continue };
            let stock = component.stock.as_ref().map(|item| item.value.clone());
            let fields = &mut component.record.fields;
            fields.retain(|name, entry| !self.tells(part, name, entry) && self.names_others(entry));
            let item = stock.filter(|_| part.confidential).and_then(|id| spec.stock.get_mut(&id));
            if let Some(item) = item {
                item.fields.retain(|_, entry| !entry.tells_place);
            }
        }
        // Tasks and upkeep of the spec itself: of what is hidden nothing is told but that there is some.
        let hidden = |record: &Record| record.list("component").iter().any(|c| self.is_confidential(&c.value));
        for record in spec.tasks.values_mut().chain(spec.upkeep.values_mut()).filter(|record| hidden(record)) {
            record.fields.retain(|_, entry| !entry.tells_place);
        }
        let secret = self.confidential_places();
        // What was done otherwise or is to be put right on a hidden part could tell where it is: its words do.
        let names = |record: &Record, field: &str| {
            let ids = record.list(field).iter().map(|id| id.value.as_str()).chain(record.text(field));
            ids.into_iter().any(|id| self.is_confidential(id) || secret.contains(id))
        };
        let tells =
            |record: &Record| ["conductor", "opening", "task", "component", "place"].iter().any(|f| names(record, f));
        spec.deviations.retain(|record| !tells(record));
        spec.snags.retain(|record| !tells(record));
        spec.places.retain(|id, _| !secret.contains(id.as_str()));
        spec
    }

    /// Takes confidential parts out of the ids in an entry that tells a place; `false` where no other is left.
    fn names_others(&self, entry: &mut Entry) -> bool {
        let Value::Components(ids) = &mut entry.value else { return true };
        if !entry.tells_place {
            return true;
        }
        let named = !ids.is_empty();
        ids.retain(|id| self.parts.get(&id.value).is_none_or(|p| !p.confidential));
        !(named && ids.is_empty())
    }

    /// The build without what tells where confidential parts are, by its [`Build::redacted_spec`].
    #[must_use]
    pub fn redacted<'s>(&self, spec: &'s Spec) -> Build<'s>
    where
        'k: 's,
    {
        let mut open: Build<'s> = self.clone();
        open.spec = spec;
        open.site = Site::of(spec);
        open.places.retain(|id, _| spec.places.contains_key(id));
        for (id, record) in &spec.tasks {
            open.own_tasks.insert(id.clone(), TaskSection::of(record));
        }
        let hidden = |part: &str| self.parts.get(part).is_some_and(|p| p.confidential);
        for task in open.tasks.values_mut().filter(|t| t.template.is_none()) {
            if task.part.as_deref().is_some_and(hidden) {
                task.readings.clear();
            }
        }
        for upkeep in open.upkeep.values_mut().filter(|u| hidden(&u.part)) {
            upkeep.tell_by(spec);
        }
        for (id, part) in open.parts.iter_mut().chain(&mut open.removed) {
            if let Some(component) = spec.components.get(id) {
                *part = part.with(&component.record);
            }
            if part.confidential {
                part.places.clear();
                part.base = None;
            }
        }
        for circuit in open.circuits.values_mut().filter(|c| c.confidential) {
            circuit.run = None;
            circuit.protection_at = None;
            circuit.through.clear();
        }
        open.wiring.redact();
        open
    }

    /// Texts that tell where a confidential part is, for those who look for them elsewhere.
    #[must_use]
    pub fn confidential_texts<'a>(&self, part: &'a Part<'_>) -> Vec<&'a str> {
        let texts = self.confidential(part).into_iter().flat_map(|(_, entry)| match &entry.value {
            Value::Text(text) | Value::Prose(text) => vec![text.as_str()],
            Value::Texts(texts) => texts.iter().map(|t| t.value.as_str()).collect(),
            _ => Vec::new(),
        });
        texts.filter(|text| !text.trim().is_empty()).collect()
    }
}
