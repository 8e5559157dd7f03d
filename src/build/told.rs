//! What everyone may be told of a build: all but where its hidden parts are.
//!
//! Texts, ids of places, places and lengths tell where a thing is; other values don't. Documents and drawings are made from
//! a build without them. Those few who need them get them by another way: `documents::hidden`.

use super::{Build, Circuit, Part};
use crate::fields::{Entry, Record, Value};
use crate::spec::{Spec, TaskSection};
use crate::units::Dimension;
use std::collections::BTreeSet;

/// Texts of a hidden part that say what it is and who sells it.
const TOLD: &[&str] = &["kind", "name", "supplier", "part", "maker_ref", "protection"];
/// What tasks and upkeep of the spec itself say of a part.
const OWN_TEXTS: &[&str] = &["title", "place", "steps", "hold", "caution", "cautions", "readings", "tools", "after"];
/// Fields of the circuit at one of its ends that tell where the cable goes.
const OF_CABLES: &[&str] = &["run", "through", "protection_at"];

impl<'k> Build<'k> {
    /// Whether a part of it is hidden.
    #[must_use]
    pub fn hides(&self) -> bool {
        self.parts.values().chain(self.removed.values()).any(|part| self.is_secret(part))
    }

    /// Whether an end of a circuit is a hidden part: then its length and its way lead there.
    #[must_use]
    pub fn is_secret_circuit(&self, circuit: &Circuit) -> bool {
        [&circuit.from, &circuit.to].iter().any(|end| self.parts.get(*end).is_some_and(|p| self.is_secret(p)))
    }

    /// Whether a figure or finding about `subject` is about a hidden part or a circuit at it.
    #[must_use]
    pub fn is_secret_subject(&self, subject: &str) -> bool {
        let head = subject.split('.').next().unwrap_or(subject);
        self.circuits.get(subject).is_some_and(|c| self.is_secret_circuit(c))
            || self.parts.get(head).is_some_and(|p| self.is_secret(p))
    }

    /// Places that only hidden parts and the cables to them are in.
    #[must_use]
    pub fn secret_places(&self) -> BTreeSet<&str> {
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

    /// Whether a field that the spec gives a part tells where a hidden part is.
    #[must_use]
    pub fn tells_where(&self, part: &Part<'_>, field: &str) -> bool {
        part.record.get(field).is_some_and(|entry| self.tells(part, field, entry))
    }

    /// Whether a field of a part tells where a hidden part is: of its own, or of a cable to it.
    fn tells(&self, part: &Part<'_>, name: &str, entry: &Entry) -> bool {
        let of_itself = || match &entry.value {
            Value::Places(_) | Value::Quantities(_) => true,
            Value::Quantity(q) => q.dimension == Dimension::Length,
            Value::Text(_) | Value::Prose(_) | Value::Texts(_) | Value::Rows(_) => !TOLD.contains(&name),
            _ => name == "on",
        };
        let of_cable = || {
            let named = |c: &Circuit| OF_CABLES.iter().any(|field| c.end.field(field) == name);
            self.owned(part).any(|c| named(c) && self.is_secret_circuit(c))
        };
        entry.given && (self.is_secret(part) && of_itself() || of_cable())
    }

    /// The circuits that the fields of a part describe.
    fn owned<'a>(&'a self, part: &'a Part<'_>) -> impl Iterator<Item = &'a Circuit> {
        self.leaving(&part.id).chain(self.arriving(&part.id)).filter(|c| c.owner == part.id)
    }

    /// The spec without what tells where hidden parts are.
    #[must_use]
    pub fn open_spec(&self) -> Spec {
        let mut spec = self.spec.clone();
        for part in self.parts.values().chain(self.removed.values()) {
            let Some(component) = spec.components.get_mut(&part.id) else { continue };
            component.record.fields.retain(|name, entry| !self.tells(part, name, entry));
        }
        // Tasks and upkeep of the spec itself: of what is hidden nothing is told but that there is some.
        let hidden = |record: &Record| {
            record.list("component").iter().any(|c| self.parts.get(&c.value).is_some_and(|p| self.is_secret(p)))
        };
        for record in spec.tasks.values_mut().chain(spec.upkeep.values_mut()).filter(|record| hidden(record)) {
            record.fields.retain(|name, _| !OWN_TEXTS.contains(&name.as_str()));
        }
        let secret = self.secret_places();
        spec.places.retain(|id, _| !secret.contains(id.as_str()));
        spec
    }

    /// The build without what tells where hidden parts are, by its [`Build::open_spec`].
    #[must_use]
    pub fn open<'s>(&self, spec: &'s Spec) -> Build<'s>
    where
        'k: 's,
    {
        let mut open: Build<'s> = self.clone();
        open.spec = spec;
        open.places.retain(|id, _| spec.places.contains_key(id));
        for (id, record) in &spec.tasks {
            open.own_tasks.insert(id.clone(), TaskSection::of(record));
        }
        for task in open.tasks.values_mut().filter(|t| t.template.is_none()) {
            if task.part.as_ref().is_some_and(|p| self.parts.get(p).is_some_and(|p| self.is_secret(p))) {
                task.readings.clear();
            }
        }
        for (id, upkeep) in &mut open.upkeep {
            if self.upkeep.get(id).is_some_and(|u| self.parts.get(&u.part).is_some_and(|p| self.is_secret(p))) {
                upkeep.tell_by(spec);
            }
        }
        for (id, part) in open.parts.iter_mut().chain(&mut open.removed) {
            if let Some(component) = spec.components.get(id) {
                *part = part.with(&component.record);
            }
            let was = self.parts.get(id).or_else(|| self.removed.get(id));
            if was.is_some_and(|p| self.is_secret(p)) {
                part.places.clear();
            }
        }
        for (id, circuit) in &mut open.circuits {
            if self.circuits.get(id).is_some_and(|c| self.is_secret_circuit(c)) {
                circuit.run = None;
                circuit.protection_at = None;
                circuit.through.clear();
            }
        }
        open
    }
}

/// Texts of a record, for those who look for them elsewhere.
pub(crate) fn texts(record: &Record) -> impl Iterator<Item = &str> {
    let given = record.fields.iter().filter(|(name, e)| e.given && !TOLD.contains(&name.as_str()));
    given.filter_map(|(name, _)| record.text(name)).filter(|t| !t.trim().is_empty())
}
