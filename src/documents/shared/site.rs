//! What happened on site, as packets, schedule and binder print it: work done otherwise, snags, papers, customers' parts.

use super::place_in_packet;
use crate::build::{Build, Part};
use crate::documents::Context;
use crate::spec::{Certificate, Deviation, Snag};
use serde::Serialize;

/// Stands beside what was done otherwise.
pub(crate) const MARK: &str = "Δ";

/// Work done otherwise than the spec says.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct DeviationRow {
    /// Word for what it is of: "Conductor".
    pub of: &'static str,
    /// Its id.
    pub id: String,
    /// The same for one who knows no ids but those on the cables.
    pub said: String,
    /// What was done.
    pub done: String,
    /// Why.
    pub why: String,
    /// Who agreed, and when.
    pub agreed: String,
}

/// All of it, in the order of the spec.
pub(crate) fn deviations(build: &Build<'_>) -> Vec<DeviationRow> {
    let row = |d: &Deviation| {
        let (of, id) = match (d.conductor.text(), d.task.text()) {
            (Some(label), _) => ("Conductor", label.to_owned()),
            (_, Some(task)) => ("Task", task.to_owned()),
            _ => ("Opening for", d.opening.all().first().map_or_else(String::new, |id| id.value.clone())),
        };
        let said = if of == "Opening for" { build.name(&id).to_owned() } else { id.clone() };
        DeviationRow {
            of,
            id,
            said,
            done: d.done.or_empty().to_owned(),
            why: d.why.or_empty().to_owned(),
            agreed: signed(d.agreed.or_empty(), d.date.get().map(|day| day.to_string())),
        }
    };
    build.site.deviations.iter().map(row).collect()
}

/// The same for one who knows no ids of tasks.
pub(crate) fn deviations_in_words(context: &Context<'_>) -> Vec<DeviationRow> {
    let build = context.build;
    let mut rows = deviations(build);
    for row in rows.iter_mut().filter(|row| row.of == "Task") {
        if let Some(task) = build.tasks.get(&row.id) {
            row.said = super::task_title(context, task);
        }
    }
    rows
}

fn signed(by: &str, day: Option<String>) -> String {
    [Some(by.to_owned()), day].into_iter().flatten().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ")
}

/// Something to put right.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SnagRow {
    /// Running number.
    pub number: usize,
    /// What is wrong.
    pub what: String,
    /// Where.
    pub place: String,
    /// Who puts it right.
    pub owner: String,
    /// Day it was found.
    pub found: String,
    /// Day it is due, "" where none is said.
    pub due: String,
    /// Day it was put right, and who looked; "" while it is open.
    pub done: String,
}

/// The list, open ones first, each with the number it has in the spec.
pub(crate) fn snags(build: &Build<'_>) -> Vec<SnagRow> {
    let row = |(at, snag): (usize, &Snag)| {
        let part = snag.component.all().first().map(|id| build.name(&id.value).to_owned());
        let place = snag.place.first().map(|id| build.place_name(id));
        SnagRow {
            number: at + 1,
            what: snag.what.or_empty().to_owned(),
            place: part.or(place).unwrap_or_default(),
            owner: snag.owner.or_empty().to_owned(),
            found: snag.found.get().map_or_else(String::new, |day| day.to_string()),
            due: snag.due.get().map_or_else(String::new, |day| day.to_string()),
            done: snag
                .done
                .get()
                .map_or_else(String::new, |day| signed(&day.to_string(), snag.by.text().map(str::to_owned))),
        }
    };
    let mut rows: Vec<SnagRow> = build.site.snags.iter().enumerate().map(row).collect();
    rows.sort_by_key(|row| (!row.done.is_empty(), row.number));
    rows
}

/// The paper of one who tested.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct CertificateRow {
    /// What was tested.
    pub of: String,
    /// Component, "" where it is of the whole van.
    pub component: String,
    /// Its number.
    pub number: String,
    /// Day of the test.
    pub date: String,
    /// Last day it holds.
    pub until: String,
    /// Who tested.
    pub by: String,
    /// Its copy among the documents; where there is none, the file that the spec names.
    pub file: String,
    /// Digest of the file.
    pub digest: String,
}

/// All papers, in the order of the spec.
pub(crate) fn certificates(build: &Build<'_>) -> Vec<CertificateRow> {
    let paper = |c: &Certificate| build.paper(c)?.as_ref().ok();
    let row = |c: &Certificate| CertificateRow {
        of: c.of.text().map(crate::letters::capital).unwrap_or_default(),
        component: c.component.all().first().map_or_else(String::new, |id| build.name(&id.value).to_owned()),
        number: c.number.or_empty().to_owned(),
        date: c.date.get().map_or_else(String::new, |day| day.to_string()),
        until: c.until.get().map_or_else(String::new, |day| day.to_string()),
        by: c.by.or_empty().to_owned(),
        file: paper(c).map_or_else(|| c.file.or_empty().to_owned(), |paper| paper.copy.clone()),
        digest: paper(c).map_or_else(|| c.digest.or_empty().to_lowercase(), |paper| paper.digest.clone()),
    };
    build.site.certificates.iter().map(row).collect()
}

/// What the customer brings.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct BroughtRow {
    /// How many.
    pub quantity: i64,
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// Where it goes.
    pub place: String,
}

/// What the customer brings and this job fits.
pub(crate) fn brought(context: &Context<'_>) -> Vec<BroughtRow> {
    let own = |p: &&Part<'_>| p.common.from_customer.is_set() && p.is_worked_on();
    let row = |p: &Part<'_>| BroughtRow {
        quantity: p.count,
        name: p.name.clone(),
        id: p.id.clone(),
        place: place_in_packet(context, p),
    };
    context.build.parts.values().filter(own).map(row).collect()
}
