//! Components and places whose id alone changed.

use crate::documents::snapshot::{IDS, Item, PLACES, PRINTED, Snapshot, Stated};
use std::collections::{BTreeMap, BTreeSet};

/// Old id → new id; those of places behind `place.`.
pub(crate) type Renames = BTreeMap<String, String>;

/// Pairs of an old and a new component that are the same but for their ids, and the ids they name.
///
/// Where several are alike they are paired in the order of their ids.
#[must_use]
pub(crate) fn found(old: &Snapshot, new: &Snapshot) -> Renames {
    let mut left: BTreeSet<&String> = old.components.keys().filter(|id| !new.components.contains_key(*id)).collect();
    let mut right: BTreeSet<&String> = new.components.keys().filter(|id| !old.components.contains_key(*id)).collect();
    let mut renames = of_places(old, new);
    // A renamed panel changes what its loads are fed from, so each pair that is found may show another.
    loop {
        let mut by_face: BTreeMap<Face<'_>, Vec<&String>> = BTreeMap::new();
        for id in &right {
            by_face.entry(face(&new.components[*id], &Renames::new())).or_default().push(id);
        }
        for ids in by_face.values_mut() {
            ids.reverse();
        }
        let mut pairs = Vec::new();
        for id in &left {
            if let Some(twin) = by_face.get_mut(&face(&old.components[*id], &renames)).and_then(Vec::pop) {
                pairs.push((*id, twin));
            }
        }
        if pairs.is_empty() {
            return renames;
        }
        for (was, is) in pairs {
            left.remove(was);
            right.remove(is);
            renames.insert(was.clone(), is.clone());
        }
    }
}

/// Places under a new id that say the same as under the old one.
fn of_places(old: &Snapshot, new: &Snapshot) -> Renames {
    let (left, right) = (places(old), places(new));
    let mut fresh: Vec<_> = right.iter().filter(|(id, _)| !left.contains_key(*id)).collect();
    let mut renames = Renames::new();
    for (id, fields) in left.iter().filter(|(id, _)| !right.contains_key(*id)) {
        if let Some(at) = fresh.iter().position(|(_, other)| *other == fields) {
            renames.insert(format!("place.{id}"), format!("place.{}", fresh.remove(at).0));
        }
    }
    renames
}

/// Fields of the places, by place and field.
fn places(snapshot: &Snapshot) -> BTreeMap<&str, BTreeMap<&str, &str>> {
    let mut all: BTreeMap<&str, BTreeMap<&str, &str>> = BTreeMap::new();
    for (name, value) in &snapshot.settings {
        if let Some((id, field)) = name.strip_prefix("place.").and_then(|rest| rest.split_once('.')) {
            all.entry(id).or_default().insert(field, value.exact());
        }
    }
    all
}

/// What a component is without its own id.
type Face<'a> = Vec<(&'a str, String)>;

fn face<'a>(item: &'a Item, renames: &Renames) -> Face<'a> {
    item.values.iter().map(|(field, value)| (field.as_str(), exact(value, renames))).collect()
}

/// The exact value with new ids in place of old ones.
fn exact(value: &Stated, renames: &Renames) -> String {
    let exact = value.exact();
    if let Some(ids) = exact.strip_prefix(IDS) {
        let new = ids.split(' ').map(|id| renames.get(id).map_or(id, String::as_str));
        return format!("{IDS}{}", new.collect::<Vec<_>>().join(" "));
    }
    if let Some(ids) = exact.strip_prefix(PLACES) {
        let new = ids.split(' ').map(|id| {
            let place = renames.get(&format!("place.{id}"));
            place.and_then(|p| p.strip_prefix("place.")).unwrap_or(id).to_owned()
        });
        // Earlier records have the ids of places bare.
        return new.collect::<Vec<_>>().join(" ");
    }
    exact.to_owned()
}

/// Whether two values are the same thing under the renames.
#[must_use]
pub(crate) fn same(old: &Stated, new: &Stated, renames: &Renames) -> bool {
    let printed = old.exact().starts_with(PRINTED) || new.exact().starts_with(PRINTED);
    printed && old.shown == new.shown || exact(old, renames) == exact(new, &Renames::new())
}

/// A name of a setting under the renames: that of a place holds the place's id.
#[must_use]
pub(crate) fn renamed_setting(name: &str, renames: &Renames) -> String {
    let place = name.match_indices('.').nth(1).map(|(at, _)| name.split_at(at));
    let new = place.and_then(|(head, tail)| Some(format!("{}{tail}", renames.get(head)?)));
    new.unwrap_or_else(|| name.to_owned())
}

/// An id of a circuit, task, figure or upkeep under the renames: it begins with that of its component.
#[must_use]
pub(crate) fn renamed(id: &str, renames: &Renames) -> String {
    let (head, tail) = id.split_once('.').map_or((id, None), |(head, tail)| (head, Some(tail)));
    let head = renames.get(head).map_or(head, String::as_str);
    tail.map_or_else(|| head.to_owned(), |tail| format!("{head}.{tail}"))
}
