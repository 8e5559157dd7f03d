//! One change to a build, as a customer's change of mind brings it.

use super::draft::Draft;
use super::plan::{FieldPlan, PartPlan, field, part};
use super::wiring::{Site, fields_of, pick, refers};
use proptest::prelude::*;
use proptest::sample::Index;
use toml::Value;

/// What is done to a build.
#[derive(Clone, Debug)]
pub(super) enum Edit {
    /// A field of a component gets another value, or goes.
    Value(Index, FieldPlan),
    /// A component gets another id.
    Rename(Index),
    /// A component goes, and every mention of it.
    Remove(Index),
    /// A component comes.
    Add(Box<PartPlan>),
    /// A component stands elsewhere in the spec.
    Reorder(Index, Index),
    /// A component stands elsewhere in the van.
    Move(Index, Index),
    /// A setting of the build, its use or the vehicle changes.
    Setting(Index, FieldPlan),
}

pub(super) fn edit() -> impl Strategy<Value = Edit> {
    let two = || (any::<Index>(), any::<Index>());
    prop_oneof![
        3 => (any::<Index>(), field()).prop_map(|(which, field)| Edit::Value(which, field)),
        2 => any::<Index>().prop_map(Edit::Rename),
        3 => any::<Index>().prop_map(Edit::Remove),
        3 => part().prop_map(|p| Edit::Add(Box::new(p))),
        1 => two().prop_map(|(a, b)| Edit::Reorder(a, b)),
        1 => two().prop_map(|(a, b)| Edit::Move(a, b)),
        1 => (any::<Index>(), field()).prop_map(|(which, field)| Edit::Setting(which, field)),
    ]
}

impl Edit {
    /// The build after the change.
    pub(super) fn of(&self, before: &Draft) -> Draft {
        let mut draft = before.clone();
        let parts: Vec<usize> = (0..draft.tables.len()).filter(|n| draft.tables[*n].section == "component").collect();
        match self {
            Self::Value(which, FieldPlan { field, die }) => {
                let Some(part) = pick(which, &parts) else { return draft };
                let kind = draft.shop.kind_of(&draft.tables[*part]).to_owned();
                let decls = fields_of(&kind);
                let (name, decl) = decls.get_index(field.index(decls.len())).expect("in range");
                let tie = refers(name)
                    || matches!(name.as_str(), "kind" | "stock" | "way" | "ways" | "place" | "places" | "count");
                let value = Site::of(before).value(name, decl, *die).filter(|_| !tie);
                // Of a part from stock now and then the item changes.
                let item = draft.tables[*part].fields.get("stock").and_then(Value::as_str).unwrap_or("").to_owned();
                if let Some((_, given)) = draft.shop.items.get_mut(&item).filter(|_| die.share % 2 == 0)
                    && let Some(there) = given.get_mut(name)
                {
                    if let Some(value) = value {
                        *there = value;
                    }
                    return draft;
                }
                let table = &mut draft.tables[*part];
                match value {
                    Some(_) if die.which % 5 == 0 && !table.needed.contains(name) => {
                        table.fields.shift_remove(name);
                    }
                    Some(value) => drop(table.fields.insert(name.clone(), value)),
                    None => {}
                }
            }
            Self::Rename(which) => {
                let Some(part) = pick(which, &parts) else { return draft };
                let Some(was) = draft.tables[*part].id.clone() else { return draft };
                rename(&mut draft, &was, "quite-another-id");
            }
            Self::Remove(which) => {
                let Some(id) = pick(which, &parts).and_then(|p| draft.tables[*p].id.clone()) else { return draft };
                draft.remove(&id);
            }
            Self::Add(plan) => return Site::of(before).one_more(plan),
            Self::Reorder(from, to) => {
                let (Some(from), Some(to)) = (pick(from, &parts), pick(to, &parts)) else { return draft };
                let table = draft.tables.remove(*from);
                draft.tables.insert(*to, table);
            }
            Self::Move(which, to) => {
                let ids = draft.tables.iter().filter(|t| t.section == "place").filter_map(|t| t.id.clone());
                let ids: Vec<String> = ids.collect();
                if let (Some(part), Some(place)) = (pick(which, &parts), pick(to, &ids)) {
                    draft.tables[*part].fields.shift_remove("places");
                    draft.tables[*part].fields.insert("place".into(), Value::from(place.clone()));
                }
            }
            Self::Setting(which, FieldPlan { field, die }) => {
                let tables: Vec<usize> = (0..draft.tables.len())
                    .filter(|n| matches!(draft.tables[*n].section.as_str(), "build" | "vehicle" | "use"))
                    .collect();
                let Some(table) = pick(which, &tables) else { return draft };
                let decls = &crate::harness::language().sections[&draft.tables[*table].section].fields;
                let (name, decl) = decls.get_index(field.index(decls.len())).expect("in range");
                if let Some(value) = super::value::value(name, decl, *die) {
                    draft.tables[*table].fields.insert(name.clone(), value);
                }
            }
        }
        draft
    }
}

/// Gives a component another id, wherever it is named.
fn rename(draft: &mut Draft, was: &str, is: &str) {
    for table in &mut draft.tables {
        if table.section == "component" && table.id.as_deref() == Some(was) {
            table.id = Some(is.to_owned());
        }
        let (component, recorded) = (table.section == "component", table.section.starts_with("recorded."));
        for (name, value) in &mut table.fields {
            match value {
                Value::String(id)
                    if id == was && (component && refers(name) || name == "about" && table.section == "accepted") =>
                {
                    is.clone_into(id);
                }
                Value::Array(list) if component && refers(name) => {
                    list.iter_mut().filter(|v| v.as_str() == Some(was)).for_each(|v| *v = Value::from(is));
                }
                _ => {}
            }
        }
        if recorded {
            let own = |key: &String| key == was || key.starts_with(&format!("{was}."));
            let keys: Vec<String> = table.fields.keys().filter(|k| own(k)).cloned().collect();
            for key in keys {
                let value = table.fields.shift_remove(&key).expect("there");
                table.fields.insert(key.replacen(was, is, 1), value);
            }
        }
    }
}
