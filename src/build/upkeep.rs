//! Upkeep that the kinds bring.

use super::Part;
use crate::kinds::UpkeepTemplate;
use indexmap::IndexMap;
use serde::Serialize;

/// A piece of upkeep of one part.
#[derive(Clone, Debug, Serialize)]
pub struct Upkeep<'k> {
    /// Id: `<component>.<upkeep>`.
    pub id: String,
    /// Part.
    pub part: String,
    /// What the kind says.
    #[serde(skip)]
    pub template: &'k UpkeepTemplate,
}

pub(super) fn upkeep<'k>(parts: &IndexMap<String, Part<'k>>) -> IndexMap<String, Upkeep<'k>> {
    let mut all = IndexMap::new();
    for part in parts.values() {
        let applies = |u: &&UpkeepTemplate| u.when.as_ref().is_none_or(|c| c.holds(part.record));
        for template in part.kind.upkeep.iter().filter(applies) {
            let id = format!("{}.{}", part.id, template.id);
            all.insert(id.clone(), Upkeep { id, part: part.id.clone(), template });
        }
    }
    all
}
