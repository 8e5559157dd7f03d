//! What would otherwise be looked for in the whole list of parts, part by part.

use super::{Part, Task, Upkeep};
use indexmap::IndexMap;
use std::collections::BTreeMap;

/// Answers over all parts, found once.
#[derive(Clone, Debug, Default)]
pub(super) struct Lookup {
    /// How often a piece of upkeep comes, by kind and id of its template.
    upkeep: BTreeMap<(String, String), usize>,
    /// Places of the tasks of a part, by its id.
    tasks: BTreeMap<String, Vec<usize>>,
    /// Place of the first part of a name.
    names: BTreeMap<String, usize>,
    /// Place of the first negative bar of a positive one, by the id of that.
    mirrors: BTreeMap<String, usize>,
    /// Place of the first negative bar.
    first_mirror: Option<usize>,
}

impl Lookup {
    pub(super) fn of(
        parts: &IndexMap<String, Part<'_>>,
        tasks: &IndexMap<String, Task<'_>>,
        upkeep: &IndexMap<String, Upkeep<'_>>,
    ) -> Self {
        let mut lookup = Self::default();
        for one in upkeep.values() {
            let kind = parts.get(&one.part).map_or("", |p| p.kind.id.as_str());
            *lookup.upkeep.entry((kind.to_owned(), one.template.id.clone())).or_default() += 1;
        }
        for (place, task) in tasks.values().enumerate() {
            if let Some(part) = &task.part {
                lookup.tasks.entry(part.clone()).or_default().push(place);
            }
        }
        for (place, part) in parts.values().enumerate() {
            lookup.names.entry(part.name.clone()).or_insert(place);
            for of in part.roles.mirrors().all() {
                lookup.mirrors.entry(of.value.clone()).or_insert(place);
                lookup.first_mirror.get_or_insert(place);
            }
        }
        lookup
    }

    pub(super) fn tasks(&self, part: &str) -> &[usize] {
        self.tasks.get(part).map_or(&[], Vec::as_slice)
    }

    pub(super) fn first_named(&self, name: &str) -> Option<usize> {
        self.names.get(name).copied()
    }

    /// The negative bar of `part`; without one, the first of all.
    pub(super) fn mirror(&self, part: Option<&str>) -> Option<usize> {
        part.map_or(self.first_mirror, |part| self.mirrors.get(part).copied())
    }

    pub(super) fn alike(&self, kind: &str, template: &str) -> usize {
        self.upkeep.get(&(kind.to_owned(), template.to_owned())).copied().unwrap_or(0)
    }
}
