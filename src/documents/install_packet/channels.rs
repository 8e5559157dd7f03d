//! Channels with what lies in each, in the order of pulling.

use crate::compute::channel_use::{ChannelUse, letter};
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, runs};
use crate::tables::fill;
use crate::units::significant;
use serde::Serialize;

/// A channel.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct ChannelRow {
    /// Its letter on the plan, by which the rows of what is pulled name it; "" without a way.
    pub letter: String,
    /// What it is.
    pub name: String,
    /// Its form and inside: "conduit, 32 mm".
    pub form: String,
    /// Share of it that is filled where it is fullest, and the most that may be: "12 % of 40 %"; "" where its room is not
    /// known.
    pub filled: String,
    /// Least radius of its bends.
    pub bend: String,
    /// Labels of what is pulled, the thickest first, of equal ones the longest.
    pub cables: Vec<CableIn>,
}

/// A run in a channel.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct CableIn {
    /// Label.
    pub label: String,
    /// Its conductors.
    pub conductors: String,
}

/// The channels that this job pulls through.
pub(super) fn channels(context: &Context<'_>) -> Vec<ChannelRow> {
    let runs = runs(context);
    let rows = context.build.channels.keys().map(|id| row(context, id, &runs));
    rows.filter(|row| !row.cables.is_empty()).collect()
}

/// Channels by their letters, as rows name them; one without a way has its name.
pub(super) fn letters(context: &Context<'_>, ids: &[String]) -> String {
    let of = |id: &String| letter(context.build, id).unwrap_or_else(|| id.replace('-', " "));
    ids.iter().map(of).collect::<Vec<_>>().join(", ")
}

fn row(context: &Context<'_>, id: &str, runs: &[Run<'_>]) -> ChannelRow {
    let build = context.build;
    let system = build.prints();
    let channel = &build.channels[id];
    let mut inside: Vec<&Run<'_>> =
        runs.iter().filter(|run| run.first().0.route.channels.iter().any(|own| own == id)).collect();
    let area = |run: &Run<'_>| fill::cable(run.first().1.size);
    let length = |run: &Run<'_>| run.first().0.route.length.unwrap_or_default().0;
    inside.sort_by(|a, b| area(b).total_cmp(&area(a)).then(length(b).total_cmp(&length(a))));
    let used = ChannelUse::of(context, id);
    let percent = |share: f64| format!("{} %", significant(share * 100.0, 2));
    let filled = used.filled.map(|(share, most)| format!("{} of {}", percent(share), percent(most)));
    let measure = channel.inside.show(system).map(|inside| format!(", {inside} inside"));
    let about = channel.about.text().filter(|about| !about.trim().is_empty());
    ChannelRow {
        letter: letter(build, id).unwrap_or_default(),
        name: about.map_or_else(|| id.replace('-', " "), str::to_owned),
        form: format!("{}{}", channel.form.or_empty(), measure.unwrap_or_default()),
        filled: filled.unwrap_or_default(),
        bend: used.bend.map_or_else(String::new, |bend| bend.show(system)),
        cables: inside
            .iter()
            .map(|run| CableIn { label: run.label.to_owned(), conductors: run.conductors() })
            .collect(),
    }
}
