//! Panel directories: what each way of each panel feeds, free ways included.

use super::fuse_tally::colour;
use super::network::{CircuitFigures, Device, Electrical};
use super::wording::{self, Reader, Wired, by_source, conductor, protection};
use crate::build::{Build, Circuit, Part};
use crate::kinds::Role;
use serde::Serialize;

/// What the breaker before all ways of a panel is called.
pub const MAIN: &str = "main breaker";

/// A panel and its ways.
#[derive(Clone, Debug, Serialize)]
pub struct Directory {
    /// Id of the panel.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Its place.
    pub place: String,
    /// Its rating, "" where it has none.
    pub rating: String,
    /// Largest lasting current through it.
    pub carried: String,
    /// "9 of 12 ways used", or "9 ways used".
    pub used: String,
    /// Its ways.
    pub rows: Vec<WayRow>,
}

/// A way of a panel.
#[derive(Clone, Debug, Default, Serialize)]
pub struct WayRow {
    /// Number.
    #[serde(skip)]
    pub number: Option<u32>,
    /// The number as it is printed, "" for what has none.
    pub way: String,
    /// Wire label, "" for a free way.
    pub label: String,
    /// What it feeds; "free"; [`MAIN`].
    pub feeds: String,
    /// Fuse or breaker.
    pub device: String,
    /// Its colour.
    pub colour: String,
    /// Conductor.
    pub conductor: String,
    /// Load current.
    pub load: String,
}

/// The directories of all panels, in the order of the network.
#[must_use]
pub fn directories(build: &Build<'_>, electrical: &Electrical, reader: Reader) -> Vec<Directory> {
    let groups = by_source(build, electrical);
    let has_ways = |p: &&Part<'_>| p.role().is_some_and(Role::has_ways);
    let panels = build.parts.values().filter(has_ways);
    let ways = |panel: &Part<'_>| groups.get(panel.id.as_str()).map_or(&[][..], Vec::as_slice);
    panels.map(|panel| directory(build, electrical, panel, ways(panel), reader)).collect()
}

fn directory(
    build: &Build<'_>,
    electrical: &Electrical,
    panel: &Part<'_>,
    circuits: &[Wired<'_>],
    reader: Reader,
) -> Directory {
    let system = build.prints();
    let figures = electrical.panels.get(&panel.id);
    let ways = figures.and_then(|f| f.ways);
    let wired: Vec<_> = circuits.iter().filter(|(c, _)| c.way.is_some()).collect();
    let mut rows: Vec<(u32, WayRow)> =
        wired.iter().map(|(c, f)| (c.way.unwrap_or(0), row(build, c, f, reader))).collect();
    let free = (1..=ways.unwrap_or(0)).filter(|w| wired.iter().all(|(c, _)| c.way != Some(*w)));
    rows.extend(
        free.map(|w| {
            (w, WayRow { number: Some(w), way: w.to_string(), feeds: "free".to_owned(), ..WayRow::default() })
        }),
    );
    rows.extend(electrical.breakers.get(&panel.id).map(|main| (0, of_main(main))));
    rows.sort_by_key(|(way, _)| *way);
    let of = ways.map_or_else(String::new, |w| format!(" of {w}"));
    Directory {
        id: panel.id.clone(),
        name: panel.name.clone(),
        place: wording::place_of(build, &panel.id, reader),
        rating: figures.and_then(|f| f.rating).map_or_else(String::new, |r| r.show(system)),
        carried: figures.map_or_else(String::new, |f| f.carried.show(system)),
        used: format!("{}{of} ways used", wired.len()),
        rows: rows.into_iter().map(|(_, row)| row).collect(),
    }
}

/// The row of a main breaker: above the ways, without a number.
fn of_main(main: &Device) -> WayRow {
    WayRow { feeds: MAIN.to_owned(), device: main.show(), colour: colour(main), ..WayRow::default() }
}

fn row(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures, reader: Reader) -> WayRow {
    WayRow {
        number: circuit.way,
        way: wording::way(circuit),
        label: circuit.id.clone(),
        feeds: wording::name_and_place(build, &circuit.to, reader),
        device: protection(build, &figures.device),
        colour: colour(&figures.device),
        conductor: conductor(figures),
        load: figures.demand.load.show(build.prints()),
    }
}
