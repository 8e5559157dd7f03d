//! What was fitted: serial numbers, days, warranties, photos; and what has a key or a code.

use crate::build::{Build, Part};
use crate::documents::{Context, shared};
use crate::kinds::Stage;
use serde::Serialize;

/// A component of the register.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SerialRow {
    /// Name.
    pub name: String,
    /// Anchor of its line in the schedule.
    pub link: String,
    /// Serial numbers; "" where none is recorded.
    pub serial: String,
    /// A serial number is missing.
    pub open: bool,
    /// Day its last stage before commissioning was signed; "" where it is not.
    pub installed: String,
    /// Last day of the warranty; "" where it has none.
    pub until: String,
    /// Who gives it.
    pub of: String,
    /// Where its papers are.
    pub papers: String,
}

/// Photos.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Photo {
    /// Stage or component.
    pub about: String,
    /// What they show.
    pub show: String,
    /// File names.
    pub files: Vec<String>,
}

pub(super) fn rows(context: &Context<'_>) -> Vec<SerialRow> {
    let build = context.build;
    let recorded = &build.spec.recorded;
    let listed = |p: &&Part<'_>| {
        p.carries_serial()
            || p.common.from_customer.is_set()
            || recorded.serials.contains_key(&p.id)
            || recorded.warranty.contains_key(&p.id)
    };
    let row = |p: &Part<'_>| {
        let serial = shared::serial(build, &p.id);
        let warranty = recorded.warranty.get(&p.id);
        let text = |field: &str| warranty.and_then(|w| w.text(field)).unwrap_or("").to_owned();
        SerialRow {
            name: p.name.clone(),
            link: format!("part-{}", p.id),
            open: p.carries_serial() && serial.is_empty(),
            serial,
            installed: installed(build, p),
            until: warranty.and_then(|w| w.date("until")).map_or_else(String::new, |d| d.to_string()),
            of: match text("of") {
                of if of.is_empty() && p.common.from_customer.is_set() => "its seller; brought by the owner".to_owned(),
                of => of,
            },
            papers: text("papers"),
        }
    };
    build.parts.values().filter(listed).map(row).collect()
}

fn installed(build: &Build<'_>, part: &Part<'_>) -> String {
    let stages = build.tasks_of(&part.id).map(|t| t.stage);
    let last = stages.filter(|s| *s < Stage::Commissioning).max();
    let signed = last.and_then(|s| build.spec.recorded.signed.get(s.id()));
    signed.and_then(|s| s.value.date).map_or_else(String::new, |d| d.to_string())
}

pub(super) fn photos(context: &Context<'_>) -> Vec<Photo> {
    let build = context.build;
    let about = |id: &str| {
        Stage::from_id(id).map_or_else(|| build.name(id).to_owned(), |stage| shared::stage_title(build, stage))
    };
    let photo = |(id, record): (&String, &crate::fields::Record)| Photo {
        about: about(id),
        show: record.text("show").unwrap_or("").to_owned(),
        files: record.list("files").iter().map(|f| f.value.clone()).collect(),
    };
    build.spec.recorded.photos.iter().map(photo).collect()
}

/// Names of parts with a lock. What is hidden is not among them.
pub(super) fn keys(build: &Build<'_>) -> Vec<String> {
    let locked = |p: &&Part<'_>| {
        let closed = [p.roles.lock(), p.roles.guard(), p.roles.master()];
        let keyed = closed.iter().any(|f| matches!(f.text(), Some("key" | "keyed" | "code")));
        keyed && !p.confidential
    };
    build.parts.values().filter(locked).map(|p| p.name.clone()).collect()
}
