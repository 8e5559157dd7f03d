//! What follows from the changes by reckoning: figures, limits, warnings.

use super::changes::{Changed, Changes, Named};
use crate::compute::formulas;
use crate::compute::network::is_told;
use crate::documents::snapshot::{END_NAMES, Snapshot};
use crate::letters::capital;
use serde::Serialize;

/// So many rows of figures are read; of more, those that nothing bounds are only counted.
const MOST_FIGURES: usize = 24;

/// So many consequences stand on the first page.
const MOST_TELLING: usize = 6;

/// Values of a circuit that stand on the first page.
const TELLING: [&str; 3] = ["conductor", "protection", "way"];

/// A figure that changed.
#[derive(Clone, Debug, Serialize)]
pub struct FigureRow {
    /// What it is about.
    pub subject: String,
    /// What it is.
    pub name: String,
    /// As it was.
    pub was: String,
    /// As it is.
    pub is: String,
    /// What it is held to.
    pub limit: String,
    /// "kept", "over the limit now", "over the limit still", "within the limit again", "not proven now",
    /// "not proven still", "proven now", or "".
    pub verdict: &'static str,
    /// The same in words; where only a part of the question is judged, which.
    pub word: String,
    /// What is left to its limit.
    pub margin: String,
    /// Id of what it is about.
    #[serde(skip)]
    about: String,
    /// How much of its limit it takes up.
    #[serde(skip)]
    share: u32,
    /// Whether it is about the whole van in one state, and not about a component.
    #[serde(skip)]
    is_of_a_state: bool,
}

/// A warning.
#[derive(Clone, Debug, Serialize)]
pub struct FindingRow {
    /// Its name, as `explain` takes it.
    pub name: String,
    /// "new", "no longer", "accepted now", "no longer accepted", "still".
    pub what: &'static str,
    /// What it says, or said.
    pub says: String,
    /// Why it is accepted, "" where it is not.
    pub accepted: String,
}

/// A consequence for the first page.
#[derive(Clone, Debug, Serialize)]
pub struct Effect {
    /// Label of a circuit, "" for others.
    pub label: String,
    /// What it is about, where that is no circuit.
    pub about: String,
    /// What it is: "conductor".
    pub name: String,
    /// As it was, "" where there is nothing to compare.
    pub was: String,
    /// As it is.
    pub is: String,
    /// "over the limit now" and the like, or "".
    pub verdict: &'static str,
}

/// Figures to list, those over a limit first, and how many more changed.
pub(super) fn figures(old: &Snapshot, new: &Snapshot, changes: &Changes) -> (Vec<FigureRow>, usize) {
    let row = |c: &Changed| {
        let (was, is) = (old.figures.get(&c.was)?, new.figures.get(&c.id)?);
        let verdict = match (was.kept, is.kept, is.limit.is_empty()) {
            (_, false, _) if is.unproven => {
                if was.unproven {
                    "not proven still"
                } else {
                    "not proven now"
                }
            }
            (false, true, _) if was.unproven => "proven now",
            (true, false, _) => "over the limit now",
            (false, true, _) => "within the limit again",
            (false, false, _) => "over the limit still",
            (true, true, false) => "kept",
            (true, true, true) => "",
        };
        Some(FigureRow {
            subject: subject(new, &is.subject),
            name: is.name.clone(),
            was: was.value.shown.clone(),
            is: is.value.shown.clone(),
            limit: is.limit.clone(),
            verdict,
            word: word(&c.id, verdict),
            margin: is.margin.clone(),
            about: is.subject.clone(),
            share: is.share,
            is_of_a_state: !new.components.contains_key(is.subject.split('.').next().unwrap_or_default()),
        })
    };
    let mut rows: Vec<_> = changes.figures.changed.iter().filter_map(row).collect();
    let rank = |r: &FigureRow| match r.verdict {
        "over the limit now" | "over the limit still" | "not proven now" | "not proven still" => 0,
        "within the limit again" | "proven now" => 1,
        "kept" => 2,
        _ => 3,
    };
    rows.sort_by(|a, b| (rank(a), &a.subject).cmp(&(rank(b), &b.subject)));
    let all = rows.len();
    let rows = &mut nearest_of_alike(rows);
    if all > MOST_FIGURES {
        rows.retain(|r| rank(r) < 3);
    }
    // Where even the bounded ones are many, those that keep their limit by a wide change are no news either.
    if rows.len() > 2 * MOST_FIGURES {
        rows.retain(|r| rank(r) < 2);
    }
    let left = all - rows.len();
    (std::mem::take(rows), left)
}

/// A verdict in words; of a figure that judges a part of its question, what it judges and what not.
fn word(figure: &str, verdict: &'static str) -> String {
    let formula = figure.rsplit('.').next().and_then(formulas::by_id);
    match formula.and_then(|f| f.judges) {
        Some(judges) if verdict == "kept" => format!("{}; {}", judges.holds, judges.open),
        _ => verdict.to_owned(),
    }
}

/// Of the same figure in several states of the van, each within the same limit, the one nearest to it.
fn nearest_of_alike(rows: Vec<FigureRow>) -> Vec<FigureRow> {
    let alike = |a: &FigureRow, b: &FigureRow| {
        a.verdict == "kept"
            && b.verdict == "kept"
            && (&a.name, &a.limit) == (&b.name, &b.limit)
            && a.is_of_a_state
            && b.is_of_a_state
    };
    let mut kept: Vec<FigureRow> = Vec::new();
    for row in rows {
        match kept.iter_mut().find(|k| alike(k, &row)) {
            Some(known) if known.share < row.share => *known = row,
            Some(_) => {}
            None => kept.push(row),
        }
    }
    kept
}

/// Name of what a figure is about: a circuit or component, else the word itself.
fn subject(snapshot: &Snapshot, id: &str) -> String {
    let part = id.split('.').next().unwrap_or(id);
    snapshot.components.get(part).map_or_else(|| capital(&id.replace('-', " ")), |item| item.name.clone())
}

/// Warnings that came, went, were accepted or say something else now.
pub(super) fn findings(old: &Snapshot, new: &Snapshot, changes: &Changes) -> Vec<FindingRow> {
    let value = |s: &Snapshot, id: &str, name: &str| {
        s.findings.get(id).and_then(|f| f.values.get(name)).map_or_else(String::new, |v| v.shown.clone())
    };
    let whole = |what, of| {
        move |n: &Named| FindingRow {
            name: n.name.clone(),
            what,
            says: value(of, &n.id, "says"),
            accepted: value(of, &n.id, "accepted"),
        }
    };
    let edited = |c: &Changed| {
        let accepted = c.values.iter().find(|v| v.name == "accepted");
        let says = c.values.iter().find(|v| v.name == "says");
        FindingRow {
            name: c.name.clone(),
            what: match accepted {
                Some(a) if a.was.is_empty() => "accepted now",
                Some(a) if a.is.is_empty() => "no longer accepted",
                _ => "still",
            },
            says: says.map_or_else(String::new, |s| s.is.clone()),
            accepted: accepted.map_or_else(String::new, |a| a.is.clone()),
        }
    };
    let findings = &changes.findings;
    let added = findings.added.iter().map(whole("new", new));
    let removed = findings.removed.iter().map(whole("no longer", old));
    added.chain(removed).chain(findings.changed.iter().map(edited)).collect()
}

/// The consequences that a reader of the first page must know: limits, circuits, warnings, margins.
pub(super) fn telling(changes: &Changes, figures: &[FigureRow], findings: &[FindingRow]) -> (Vec<Effect>, usize) {
    let of_figure = |f: &FigureRow| Effect {
        label: String::new(),
        about: f.subject.clone(),
        name: f.name.clone(),
        was: f.was.clone(),
        is: if f.verdict == "kept" && !f.margin.is_empty() {
            format!("{} ({} left)", f.is, f.margin)
        } else {
            f.is.clone()
        },
        verdict: if f.verdict == "kept" { "" } else { f.verdict },
    };
    let over = figures.iter().filter(|f| !["", "kept"].contains(&f.verdict)).map(of_figure);
    let built = |c: &Changed| {
        let values = c.values.iter().filter(|v| TELLING.contains(&v.name.as_str()));

        // A lug that the maker alone knows is no news for a first page.
        let known = |v: &&super::ValueChange| END_NAMES.contains(&v.name.as_str()) && is_told(&v.is);
        let mut lugs: Vec<&str> = c.values.iter().filter(known).map(|v| v.is.as_str()).collect();
        lugs.sort_unstable();
        lugs.dedup();
        let lugs = lugs.join("; ");
        let effect = |v: &super::ValueChange| Effect {
            label: c.id.clone(),
            about: String::new(),
            name: v.name.clone(),
            was: v.was.clone(),
            is: if lugs.is_empty() || v.name != "conductor" { v.is.clone() } else { format!("{} ({lugs})", v.is) },
            verdict: "",
        };
        values.map(effect).collect::<Vec<_>>()
    };
    let warned = findings.iter().filter(|f| f.what == "new").map(|f| Effect {
        label: String::new(),
        about: "Warning".to_owned(),
        name: f.name.clone(),
        was: String::new(),
        is: f.says.clone(),
        verdict: "",
    });
    let circuits: Vec<&str> = changes.circuits.changed.iter().map(|c| c.id.as_str()).collect();
    let margins =
        figures.iter().filter(|f| f.verdict == "kept" && !circuits.contains(&f.about.as_str())).map(of_figure);
    let mut all: Vec<Effect> =
        over.chain(changes.circuits.changed.iter().flat_map(built)).chain(warned).chain(margins).collect();
    let more = all.len().saturating_sub(MOST_TELLING);
    all.truncate(MOST_TELLING);
    (all, more)
}
