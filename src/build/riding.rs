//! What rests on what: the one walk from a part to all that carries it.

use super::{Build, Part};
use indexmap::IndexMap;

impl<'k> Build<'k> {
    /// What `part` rests on, the nearest first, each once: awning, rack; box, hinge frame. A loop ends where it closes.
    #[must_use]
    pub fn carriers<'a>(&'a self, part: &str) -> Vec<&'a Part<'k>> {
        let mut found: Vec<&Part<'k>> = Vec::new();
        let mut at = self.parts.get(part);
        while let Some(base) = at.and_then(|p| p.rides_on()).and_then(|id| self.parts.get(id)) {
            if base.id == part || found.iter().any(|f| f.id == base.id) {
                break;
            }
            found.push(base);
            at = Some(base);
        }
        found
    }

    /// Whether `part` rests on `base`, by way of others too.
    #[must_use]
    pub fn rests_on(&self, part: &str, base: &str) -> bool {
        self.carriers(part).iter().any(|c| c.id == base)
    }

    /// Whether every step from `part` down to `base` is one that the spec gives, and not the usual way of its kind.
    #[must_use]
    pub fn is_said_to_rest_on(&self, part: &str, base: &str) -> bool {
        let carriers = self.carriers(part);
        let way = carriers.iter().take_while(|c| c.id != base);
        self.parts.get(part).into_iter().chain(way.copied()).all(Part::says_how_held)
    }

    /// The part by which the roof carries `part`, itself or one that it rests on; `None` where it does not.
    #[must_use]
    pub fn roof_holds<'a>(&'a self, part: &str) -> Option<&'a Part<'k>> {
        let own = self.parts.get(part);
        own.into_iter().chain(self.carriers(part)).find(|p| self.stands_on_roof(p) || p.is_held_by_roof())
    }

    /// Whether the spec itself says that the roof carries `part`.
    #[must_use]
    pub fn is_said_on_roof(&self, part: &str) -> bool {
        let surely = |p: &Part<'_>| self.stands_on_roof(p) || p.is_held_by_roof() && p.says_how_held();
        let own = self.parts.get(part);
        let mut way = own.into_iter().chain(self.carriers(part));
        way.find(|p| surely(p) || !p.says_how_held()).is_some_and(surely)
    }

    fn stands_on_roof(&self, part: &Part<'_>) -> bool {
        let zone = |id: &String| self.places.get(id).and_then(|p| p.zone.text()) == Some("roof");
        part.places.iter().any(zone)
    }
}

/// Gives each part that says how it is held, and not on which part, the only one in the build that holds so.
pub(super) fn join(parts: &mut IndexMap<String, Part<'_>>) {
    let mut found: Vec<(String, String)> = Vec::new();
    for part in parts.values() {
        if !part.common.on.all().is_empty() {
            continue;
        }
        let only = |holder: &str| {
            let mut holders = parts.values().filter(|p| p.bears(holder) && p.id != part.id);
            holders.next().filter(|_| holders.next().is_none())
        };
        if let Some(one) = part.holders().find_map(only) {
            found.push((part.id.clone(), one.id.clone()));
        }
    }
    for (part, base) in found {
        if let Some(part) = parts.get_mut(&part) {
            part.base = Some(base);
        }
    }
}
