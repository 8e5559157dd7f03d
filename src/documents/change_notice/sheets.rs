//! What a change brings on paper and in the phone's calendar.

use super::changes::{Changed, Changes, Difference, Named, ValueChange};
use super::renames::renamed;
use super::{Things, things};
use crate::documents::snapshot::Snapshot;
use serde::Serialize;

/// So many moved dates are told one by one; more are counted.
const MOST_DATES: usize = 24;

/// A sheet to handle.
#[derive(Clone, Debug, Serialize)]
pub struct Sheet {
    /// File name without an ending.
    pub id: String,
    /// Title.
    pub name: String,
    /// "print again", "print", "take out".
    pub what: &'static str,
    /// What differs on it.
    pub why: String,
    /// Whether it is a section of the handover binder.
    pub bound: bool,
}

/// Sheets.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Sheets {
    /// To print again, to print, to take out.
    pub all: Vec<Sheet>,
    /// How many to print.
    pub to_print: usize,
    /// Sections of the handover binder among them.
    pub binder: Vec<Named>,
    /// Head and foot of every page, where they differ.
    pub page: Option<ValueChange>,
}

/// Sheets to print again, those to print for the first time, those to take out.
pub(super) fn of(old: &Snapshot, new: &Snapshot, changes: &Changes) -> Sheets {
    let mut all = Vec::new();
    for (id, sheet) in &new.sheets {
        let row =
            |what, why: String| Sheet { id: id.clone(), name: sheet.title.clone(), what, why, bound: sheet.bound };
        let edited = changes.sheets.changed.iter().find(|c| &c.id == id);
        if changes.sheets.added.iter().any(|n| &n.id == id) {
            all.push(row("print, new", String::new()));
        } else if let Some(edited) = edited {
            all.push(row("print again", why(old, new, edited)));
        } else if changes.page.is_some() {
            all.push(row("print again", "head or foot".to_owned()));
        }
    }
    for gone in &changes.sheets.removed {
        let bound = old.sheets.get(&gone.id).is_some_and(|s| s.bound);
        let row = Sheet { id: gone.id.clone(), name: gone.name.clone(), what: "take out", why: String::new(), bound };
        all.push(row);
    }
    let binder = all.iter().filter(|s| s.bound).map(|s| Named { id: s.id.clone(), name: s.name.clone() }).collect();
    Sheets { to_print: all.len() - changes.sheets.removed.len(), binder, page: changes.page.clone(), all }
}

/// Text, drawings or both; few drawings by their titles.
fn why(old: &Snapshot, new: &Snapshot, changed: &Changed) -> String {
    let text = changed.values.iter().any(|v| v.name == "text");
    let title = |file: &str| {
        let of = |s: &Snapshot, id: &str| Some(s.sheets.get(id)?.drawings.get(file)?.title.clone());
        of(new, &changed.id).or_else(|| of(old, &changed.was)).unwrap_or_default()
    };
    let drawings: Vec<String> = changed.values.iter().filter(|v| v.name != "text").map(|v| title(&v.name)).collect();
    let drawings = match drawings.len() {
        0 => None,
        1..=3 => Some(drawings.iter().map(|d| format!("“{d}”")).collect::<Vec<_>>().join(", ")),
        n => Some(format!("{n} drawings")),
    };
    let text = text.then(|| "text".to_owned());
    text.into_iter().chain(drawings).collect::<Vec<_>>().join(", ")
}

/// What becomes of due dates.
#[derive(Clone, Debug, Default, Serialize)]
pub struct CalendarChanges {
    /// Entries of the calendar file that are new, that went, that stand on another day, that say something else.
    pub entries: (usize, usize, usize, usize),
    /// Entries that a phone takes for new ones, because their component has another id.
    pub renamed: usize,
    /// The handover day, where it moved.
    pub handover: Option<ValueChange>,
    /// Upkeep that is new, went or changed; where the day of handover moves nearly all, only counted.
    pub upkeep: Things,
    /// Upkeep whose dates moved and is not listed.
    pub more: usize,
}

pub(super) fn calendar(old: &Snapshot, new: &Snapshot, changes: &Changes) -> CalendarChanges {
    let moved = |c: &&Changed| c.values.iter().any(|v| v.name == "date");
    let calendar = &changes.calendar;
    let days = calendar.changed.iter().filter(moved).count();
    let handover = changes.head.iter().find(|c| c.name == "handover").cloned();
    let mut upkeep: Things = things(&shortened(&changes.upkeep));
    let mut more = 0;
    if upkeep.changed.len() > MOST_DATES {
        more = changes.upkeep.changed.len();
        upkeep.changed = Vec::new();
    }
    let names = changes.renamed.iter().cloned().collect();
    let under_another = |id: &&String| {
        let now = renamed(id, &names);
        now != **id && new.calendar.contains_key(&now)
    };
    CalendarChanges {
        renamed: old.calendar.keys().filter(under_another).count(),
        entries: (calendar.added.len(), calendar.removed.len(), days, calendar.changed.len() - days),
        handover,
        upkeep,
        more,
    }
}

/// Long lists of dates as their first and their number.
fn shortened(upkeep: &Difference) -> Difference {
    let short = |dates: &str| match dates.split(' ').collect::<Vec<_>>().as_slice() {
        [] | [""] => "none".to_owned(),
        [one] => (*one).to_owned(),
        [first, .., last] => format!("{} times, {first} to {last}", dates.split(' ').count()),
    };
    let mut upkeep = upkeep.clone();
    for value in upkeep.changed.iter_mut().flat_map(|c| &mut c.values).filter(|v| v.name == "dates") {
        (value.was, value.is) = (short(&value.was), short(&value.is));
    }
    upkeep
}
