//! Components whose id alone changed.

use crate::documents::snapshot::{IDS, Item, Snapshot, Stated};
use std::collections::{BTreeMap, BTreeSet};

/// Old id → new id.
pub type Renames = BTreeMap<String, String>;

/// Pairs of an old and a new component that are the same but for their ids, and the ids they name.
///
/// Where several are alike they are paired in the order of their ids.
#[must_use]
pub fn found(old: &Snapshot, new: &Snapshot) -> Renames {
    let mut left: BTreeSet<&String> = old.components.keys().filter(|id| !new.components.contains_key(*id)).collect();
    let mut right: BTreeSet<&String> = new.components.keys().filter(|id| !old.components.contains_key(*id)).collect();
    let mut renames = Renames::new();
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

/// What a component is without its own id.
type Face<'a> = Vec<(&'a str, String)>;

fn face<'a>(item: &'a Item, renames: &Renames) -> Face<'a> {
    item.values.iter().map(|(field, value)| (field.as_str(), exact(value, renames))).collect()
}

/// The exact value with new ids in place of old ones.
fn exact(value: &Stated, renames: &Renames) -> String {
    match value.exact().strip_prefix(IDS) {
        Some(ids) => {
            let new = ids.split(' ').map(|id| renames.get(id).map_or(id, String::as_str));
            format!("{IDS}{}", new.collect::<Vec<_>>().join(" "))
        }
        None => value.exact().to_owned(),
    }
}

/// Whether two values are the same thing under the renames.
#[must_use]
pub fn same(old: &Stated, new: &Stated, renames: &Renames) -> bool {
    exact(old, renames) == new.exact()
}

/// An id of a circuit, task, figure or upkeep under the renames: it begins with that of its component.
#[must_use]
pub fn renamed(id: &str, renames: &Renames) -> String {
    let (head, tail) = id.split_once('.').map_or((id, None), |(head, tail)| (head, Some(tail)));
    let head = renames.get(head).map_or(head, String::as_str);
    tail.map_or_else(|| head.to_owned(), |tail| format!("{head}.{tail}"))
}
