//! A build as tables and fields, and the spec written from it.

use super::shelf::Shop;
use indexmap::IndexMap;
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::diag::{Finding, Severity};
use rigbinder::pipeline::{self, Loaded};
use std::fmt;
use toml::Value;

/// One table of a spec: `[vehicle]`, `[component.fridge]`, `[[accepted]]`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Table {
    pub(super) section: String,
    /// `None`: the section is one table.
    pub(super) id: Option<String>,
    /// Values as they are written.
    pub(super) fields: IndexMap<String, Value>,
    /// Fields that cannot be left out.
    pub(super) needed: Vec<String>,
}

/// A build.
#[derive(Clone, Default, PartialEq)]
pub(super) struct Draft {
    pub(super) tables: Vec<Table>,
    /// The shop's folder; an empty one: none.
    pub(super) shop: Shop,
}

impl fmt::Debug for Draft {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a build:\n{}", self.text())?;
        let files = if self.shop.is_empty() { std::collections::BTreeMap::new() } else { self.shop.files() };
        files.iter().try_for_each(|(path, text)| write!(f, "\n--- {path}\n{}", String::from_utf8_lossy(text)))
    }
}

/// The table and the field that stand at a place of the text.
type Mark = (usize, usize, Option<String>);

impl Draft {
    /// The spec.
    pub(super) fn text(&self) -> String {
        self.written().0
    }

    /// The spec, and which line is what: (start of the line, table, field).
    fn written(&self) -> (String, Vec<Mark>) {
        let mut text = "spec = 2\n".to_owned();
        let mut marks = Vec::new();
        for (n, table) in self.tables.iter().enumerate() {
            marks.push((text.len(), n, None));
            let section = &table.section;
            match &table.id {
                Some(id) => text.extend(["\n[", section, ".", id, "]\n"]),
                None if section == "accepted" => text.extend(["\n[[", section, "]]\n"]),
                None => text.extend(["\n[", section, "]\n"]),
            }
            for (name, value) in &table.fields {
                marks.push((text.len(), n, Some(name.clone())));
                text.extend([name, " = ", &value.to_string(), "\n"]);
            }
        }
        (text, marks)
    }

    /// What it is read by: the built-in kinds with the folder drawn for it.
    pub(super) fn house(&self) -> Catalogue {
        if self.shop.is_empty() {
            return crate::harness::built_in().clone();
        }
        crate::harness::built_in().with(Layer::of_shop("drawn", self.shop.files(), Vec::new()))
    }

    /// The spec as read.
    pub(super) fn load(&self) -> Loaded {
        let loaded =
            pipeline::load(&self.house(), "drawn.toml", self.text().as_bytes()).expect("the kinds hold together");
        // Of a build with a kind that does not read nothing is checked.
        let unread = loaded.findings.iter().find(|f| f.name == "kind-unreadable");
        assert!(unread.is_none(), "{unread:?}");
        loaded
    }

    /// Takes a component out, and every mention of it.
    pub(super) fn remove(&mut self, id: &str) {
        self.tables.retain(|t| t.section != "component" || t.id.as_deref() != Some(id));
        for table in self.tables.iter_mut().filter(|t| t.section == "component") {
            table.fields.retain(|name, value| {
                let refers = super::wiring::refers(name);
                if let (true, Value::Array(list)) = (refers, &mut *value) {
                    list.retain(|v| v.as_str() != Some(id));
                }
                !(refers && (value.as_str() == Some(id) || value.as_array().is_some_and(Vec::is_empty)))
            });
        }
    }

    /// Takes out what errors point at, a few times over; gives up where that does not help.
    pub(super) fn mend(&mut self) {
        for round in 0..8 {
            let loaded = self.load();
            let worked = pipeline::work_out(&loaded).expect("profile");
            let errors: Vec<&Finding> = worked.findings.iter().filter(|f| f.severity == Severity::Error).collect();
            if errors.is_empty() {
                return;
            }
            let (_, marks) = self.written();
            let at = |f: &&&Finding| f.span.map(|s| s.start);
            let mut hit: Vec<Mark> = errors
                .iter()
                .filter_map(|f| at(&f))
                .filter_map(|start| marks.iter().rev().find(|m| m.0 <= start).cloned())
                .collect();
            hit.sort_by_key(|m| std::cmp::Reverse(m.0));
            hit.dedup();
            let mut gone = Vec::new();
            for (_, table, field) in hit {
                let table_at = &mut self.tables[table];
                // The field first; if the fault stays, all that may be left out; then the table.
                match field.filter(|f| !table_at.needed.contains(f)) {
                    Some(field) if round < 3 => drop(table_at.fields.shift_remove(&field)),
                    _ if round < 2 => {
                        let needed = table_at.needed.clone();
                        table_at.fields.retain(|name, _| needed.contains(name));
                    }
                    _ if table_at.section != "build" => gone.push(table),
                    _ => {}
                }
            }
            for table in gone {
                let table = &mut self.tables[table];
                match table.id.clone().filter(|_| table.section == "component") {
                    Some(id) => table.section = format!("component {id}"),
                    None => table.section.push(' '),
                }
            }
            let ids: Vec<String> =
                self.tables.iter().filter_map(|t| t.section.strip_prefix("component ").map(str::to_owned)).collect();
            self.tables.retain(|t| !t.section.contains(' '));
            for id in &ids {
                self.remove(id);
            }
        }
    }
}
