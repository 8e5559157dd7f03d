//! What a change brings on paper and in the phone's calendar.

use super::changes::{Changed, Changes, Difference, Named, ValueChange};
use super::renames::renamed;
use super::{Things, things};
use crate::documents::snapshot::sections::HEAD;
use crate::documents::snapshot::{SheetItem, Snapshot};
use serde::Serialize;

/// What to do with a sheet that there is no longer.
const TAKE_OUT: &str = "take out";

/// So many sections are named where a text differs.
const MOST_SECTIONS: usize = 3;

/// So many moved dates are told one by one; more are counted.
const MOST_DATES: usize = 24;

/// A sheet to handle.
#[derive(Clone, Debug, Serialize)]
pub struct Sheet {
    /// File name without an ending.
    pub id: String,
    /// Title.
    pub name: String,
    /// "print again", "print, new", "take out", "swap sections".
    pub what: &'static str,
    /// What differs on it.
    pub why: String,
    /// Books that hold it, by file name.
    #[serde(skip)]
    books: Vec<String>,
}

/// A book some of whose sections are others.
#[derive(Clone, Debug, Serialize)]
pub struct Book {
    /// Title, as within a sentence.
    pub name: String,
    /// Its sections to swap; its own pages under its own name.
    pub sections: Vec<Named>,
    /// File name without an ending.
    pub id: String,
}

/// Sheets.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Sheets {
    /// To print again, to print, to take out.
    pub all: Vec<Sheet>,
    /// How many to print.
    pub to_print: usize,
    /// Books that hold some of them.
    pub books: Vec<Book>,
    /// Head and foot of every page, where they differ.
    pub page: Option<ValueChange>,
}

/// Sheets to print again, those to print for the first time, those to take out.
pub(super) fn of(old: &Snapshot, new: &Snapshot, changes: &Changes) -> Sheets {
    let mut all = Vec::new();
    for (id, sheet) in &new.sheets {
        let row =
            |what, why| Sheet { id: id.clone(), name: sheet.title.clone(), what, why, books: sheet.books.clone() };
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
        let books = old.sheets.get(&gone.id).map_or_else(Vec::new, |s| s.books.clone());
        let row = Sheet { id: gone.id.clone(), name: gone.name.clone(), what: TAKE_OUT, why: String::new(), books };
        all.push(row);
    }
    let to_print = all.iter().filter(|s| s.what != TAKE_OUT).count();
    let mut books = Vec::new();
    for (id, sheet) in new.sheets.iter().filter(|(id, sheet)| sheet.books.contains(id)) {
        let held = all.iter().filter(|s| s.books.contains(id));
        let sections: Vec<Named> = held.map(|s| Named { id: s.id.clone(), name: s.name.clone() }).collect();
        if !sections.is_empty() {
            books.push(Book { name: sheet.title.to_lowercase(), sections, id: id.clone() });
        }
    }
    // A book's own pages may be the same while documents bound in it are not.
    for book in books.iter().filter(|book| book.sections.iter().all(|s| s.id != book.id)) {
        let why = "contents list, index, and the sections below".to_owned();
        let name = new.sheets[&book.id].title.clone();
        let row = Sheet { id: book.id.clone(), name, what: "swap sections", why, books: vec![book.id.clone()] };
        let at = all.iter().position(|s| s.id > book.id).unwrap_or(all.len());
        all.insert(at, row);
    }
    Sheets { to_print, books, page: changes.page.clone(), all }
}

/// Text, drawings or both; few drawings by their titles.
fn why(old: &Snapshot, new: &Snapshot, changed: &Changed) -> String {
    let text = changed.values.iter().any(|v| v.name == "text");
    let title = |file: &str| {
        let of = |s: &Snapshot, id: &str| Some(s.sheets.get(id)?.drawings.get(file)?.title.clone());
        of(new, &changed.id).or_else(|| of(old, &changed.was)).unwrap_or_default()
    };
    let drawings: Vec<String> = changed.values.iter().filter(|v| v.name != "text").map(|v| title(&v.name)).collect();
    let quoted = || drawings.iter().map(|d| format!("“{d}”")).collect::<Vec<_>>().join(", ");
    let drawings = match drawings.len() {
        0 => None,
        1 => Some(format!("drawing {}", quoted())),
        2..=3 => Some(format!("drawings {}", quoted())),
        n => Some(format!("{n} drawings")),
    };
    let text = text.then(|| match (old.sheets.get(&changed.was), new.sheets.get(&changed.id)) {
        (Some(was), Some(is)) => sections(was, is),
        _ => "text".to_owned(),
    });
    text.into_iter().chain(drawings).collect::<Vec<_>>().join("; ")
}

/// Sections in which the text of a sheet differs, in its order, the first few by name.
fn sections(was: &SheetItem, is: &SheetItem) -> String {
    if was.sections.is_empty() {
        return "text".to_owned();
    }
    let digest = |sheet: &SheetItem, name: &str| sheet.sections.get(name).map(|s| s.digest.clone());
    let all = is.sections.iter().chain(was.sections.iter().filter(|(name, _)| !is.sections.contains_key(*name)));
    let mut differing: Vec<(u32, &str)> = all
        .filter(|(name, _)| digest(was, name) != digest(is, name))
        .map(|(name, section)| (section.at, name.as_str()))
        .collect();
    differing.sort_unstable();
    let more = differing.len().saturating_sub(MOST_SECTIONS);
    let name = |(_, name): &(u32, &str)| if *name == HEAD { HEAD.to_owned() } else { format!("“{name}”") };
    let mut names: Vec<String> = differing.iter().take(MOST_SECTIONS).map(name).collect();
    if names.is_empty() {
        return "order of its sections".to_owned();
    }
    if more > 0 {
        names.push(format!("{more} more {}", if more == 1 { "section" } else { "sections" }));
    }
    format!("text: {}", names.join(", "))
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
