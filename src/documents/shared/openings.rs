//! The opening schedule: every opening through the vehicle's skin, numbered, surface by surface.

use crate::compute::geometry::openings::{Middle, Opening, Surface, openings};
use crate::documents::Context;
use crate::kinds::Stage;
use crate::units::Metres;
use serde::Serialize;

/// The openings of one surface.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SurfaceRows {
    /// Its name; "" where the place of the part does not tell the surface.
    pub surface: &'static str,
    /// What its first and second measure are taken from.
    pub datums: [&'static str; 2],
    /// Openings from the front and from the left.
    pub rows: Vec<OpeningRow>,
}

/// An opening.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct OpeningRow {
    /// Number in the schedule.
    pub number: usize,
    /// Name of the part it is for.
    pub component: String,
    /// Id of that.
    pub id: String,
    /// Which opening, Markdown.
    pub what: String,
    /// Where it may be, Markdown; "" where nothing is said.
    pub mark: String,
    /// Numbers of its holes, where it has more than one.
    pub holes: Vec<usize>,
    /// Its size and shape, Markdown.
    pub size: String,
    /// Name of the place; "" where none is given.
    pub place: String,
    /// Both measures of its middle, "" where they must be taken in the van.
    pub at: [String; 2],
    /// Both measures of the middle of its place, for who marks it; "" where they are given or nobody knows.
    pub near: [String; 2],
    /// The same as numbers, given or near.
    #[serde(skip)]
    pub metres: Option<[Metres; 2]>,
    /// Id of the task that cuts it.
    #[serde(skip)]
    pub task: String,
    /// Stage in which it is cut.
    #[serde(skip)]
    pub stage: Stage,
}

/// All openings, surface by surface.
#[must_use]
pub(crate) fn schedule(context: &Context<'_>) -> Vec<SurfaceRows> {
    let all = openings(context.build);
    let mut surfaces: Vec<SurfaceRows> = Vec::new();
    for (at, opening) in all.iter().enumerate() {
        let surface = opening.surface.map_or("", Surface::title);
        if surfaces.last().is_none_or(|last| last.surface != surface) {
            let datums = opening.surface.map_or(["", ""], Surface::datums);
            surfaces.push(SurfaceRows { surface, datums, rows: Vec::new() });
        }
        if let Some(last) = surfaces.last_mut() {
            last.rows.push(row(context, opening, at + 1));
        }
    }
    surfaces
}

fn row(context: &Context<'_>, opening: &Opening<'_>, number: usize) -> OpeningRow {
    let build = context.build;
    let facts = context.facts.part(&opening.part.id);
    let show = |at: [Metres; 2]| at.map(|length| length.show(build.prints()));
    let none = || [String::new(), String::new()];
    let (at, near, metres) = match opening.middle {
        Middle::Given(at) => (show(at), none(), Some(at)),
        Middle::Near(at) => (none(), show(at), Some(at)),
        Middle::Unknown => (none(), none(), None),
    };
    OpeningRow {
        number,
        component: opening.part.name.clone(),
        id: opening.part.id.clone(),
        what: context.text(facts, &opening.cut.what),
        mark: opening.cut.mark.as_ref().map_or_else(String::new, |mark| context.text(facts, mark)),
        holes: if opening.holes > 1 { (1..=opening.holes).collect() } else { Vec::new() },
        size: context.hole(facts, &opening.cut.size),
        place: if opening.place.is_empty() { String::new() } else { build.place_name(opening.place) },
        at,
        near,
        metres,
        task: opening.task.id.clone(),
        stage: opening.task.stage,
    }
}

/// The stage whose packet prints the schedule: the first that cuts one.
#[must_use]
pub(crate) fn printed_in(schedule: &[SurfaceRows]) -> Option<Stage> {
    schedule.iter().flat_map(|s| &s.rows).map(|row| row.stage).min()
}
