//! What was changed in the spec, one thing at a time.

use super::changes::{Changed, Changes, Named, ValueChange};
use super::readable;
use crate::build::Build;
use crate::compute::wording::season;
use serde::Serialize;

/// A thing that was added, taken out or changed.
#[derive(Clone, Debug, Serialize)]
pub struct Cause {
    /// What people call it.
    pub name: String,
    /// Id of a component, "" for other sections.
    pub id: String,
    /// "new", "taken out", "no longer given" (of what is no component) or "changed".
    pub what: &'static str,
    /// Values that changed.
    pub values: Vec<ValueChange>,
}

/// New components, those taken out, those that changed, and then the other sections.
pub(super) fn of(build: &Build<'_>, changes: &Changes) -> Vec<Cause> {
    let whole = |what| move |n: &Named| Cause { name: n.name.clone(), id: n.id.clone(), what, values: Vec::new() };
    let edited = |c: &Changed| Cause {
        name: c.name.clone(),
        id: c.id.clone(),
        what: "changed",
        values: c.values.iter().cloned().map(readable).collect(),
    };
    let components = &changes.components;
    let added = components.added.iter().map(whole("new"));
    let removed = components.removed.iter().map(whole("taken out"));
    let mut causes: Vec<Cause> = added.chain(removed).chain(components.changed.iter().map(edited)).collect();
    causes.extend(sections(build, changes));
    causes
}

/// `[build]` without the revision, and the other sections, the fields of one together.
fn sections(build: &Build<'_>, changes: &Changes) -> Vec<Cause> {
    let mut all: Vec<Cause> = Vec::new();
    let mut put = |name: String, value: ValueChange| match all.last_mut().filter(|c| c.name == name) {
        Some(cause) => cause.values.push(readable(value)),
        None => all.push(Cause { name, id: String::new(), what: "changed", values: vec![readable(value)] }),
    };
    for value in changes.head.iter().filter(|c| c.name != "revision") {
        put("Build".to_owned(), value.clone());
    }
    for value in &changes.settings {
        let (section, field) = value.name.rsplit_once('.').unwrap_or(("", &value.name));
        put(section_name(build, section), ValueChange { name: field.to_owned(), ..value.clone() });
    }
    for cause in &mut all {
        // A section of which nothing is left or nothing was there.
        cause.what = match () {
            () if cause.values.iter().all(|v| v.was.is_empty()) => "new",
            () if cause.values.iter().all(|v| v.is.is_empty()) => "no longer given",
            () => "changed",
        };
    }
    all
}

/// `place.galley` as people call it.
fn section_name(build: &Build<'_>, section: &str) -> String {
    let (kind, id) = section.split_once('.').unwrap_or((section, ""));
    let word = match kind {
        "use" => "Use of the van".to_owned(),
        _ => crate::letters::capital(kind),
    };
    match (kind, id) {
        (_, "") => word,
        ("use", _) => "What the van must do".to_owned(),
        ("place", id) => format!("Place “{}”", build.place_name(id)),
        ("climate", id) => format!("{word} “{}”", season(id)),
        ("stock", id) => format!("Stock {id}"),
        (_, id) => format!("{word} “{}”", id.replace('-', " ")),
    }
}
