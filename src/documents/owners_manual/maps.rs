//! Maps the owner can read: panel ways, switches and dimmers, control panels, outlets.

use super::{Link, anchor};
use crate::build::{Circuit, Part};
use crate::documents::alike::Teller;
use crate::documents::ways;
use crate::fields::{Field, Text, Texts};
use crate::kinds::{Role, System};
use crate::roles::ControlBoard;
use serde::Serialize;

/// A panel with numbered ways.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PanelMap {
    /// Id of its heading.
    pub id: String,
    /// Name.
    pub name: String,
    /// Where it is.
    pub place: String,
    /// Its section.
    pub link: String,
    /// Its ways hold switches.
    pub switched: bool,
    /// Ways in order, spare ones too.
    pub rows: Vec<WayRow>,
}

/// A way.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct WayRow {
    /// Number; "9 to 12" for spare ones that follow each other.
    pub way: String,
    /// Word on the switch; "" where the spec gives none.
    pub word: String,
    /// What it feeds; "" for a spare one.
    pub feeds: String,
    /// Section of what it feeds; "" for a spare one.
    pub link: String,
    /// Fuse or breaker.
    pub fuse: String,
}

/// A switch or dimmer.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Control {
    /// Name.
    pub name: String,
    /// Its section.
    pub link: String,
    /// Where it is.
    pub place: String,
    /// What it switches.
    pub works: String,
}

/// A panel of switches, lamps and displays.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Board {
    /// Id of its heading.
    pub id: String,
    /// Name.
    pub name: String,
    /// Where it is.
    pub place: String,
    /// What each switch does.
    pub switches: Vec<String>,
    /// What each lamp means.
    pub indicators: Vec<String>,
    /// What each display shows.
    pub displays: Vec<String>,
    /// Parts whose switch or display sits on it.
    pub holds: Vec<Link>,
}

/// An outlet.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Outlet {
    /// Name.
    pub name: String,
    /// Its section.
    pub link: String,
    /// Kind of outlet.
    pub kind: String,
    /// Where it is.
    pub place: String,
    /// Most it gives.
    pub power: String,
    /// Panel.
    pub panel: String,
    /// Way.
    pub way: String,
}

pub(super) fn panels(teller: &Teller<'_>) -> Vec<PanelMap> {
    let parts = teller.context().build.parts.values();
    parts.filter(|p| p.role().is_some_and(Role::has_ways)).map(|p| panel(teller, p)).collect()
}

fn panel(teller: &Teller<'_>, part: &Part<'_>) -> PanelMap {
    let context = teller.context();
    let build = context.build;
    let used = build.leaving(&part.id).filter_map(|c| c.way).max().unwrap_or(0);
    // A panel that claims thousands of ways is a finding elsewhere; here it must not fill the disk.
    let given = part.roles.ways().get().and_then(|w| u32::try_from(w).ok()).map_or(used, |ways| ways.min(100));
    let words = part.roles.way_names().all();
    let row = |way: u32| {
        let word = usize::try_from(way - 1).ok().and_then(|i| words.get(i)).map_or("", |w| w.value.as_str());
        let circuits: Vec<_> = build.leaving(&part.id).filter(|c| c.way == Some(way)).collect();
        let fed: Vec<&str> = circuits.iter().flat_map(|c| behind(teller, &c.to)).collect();
        let fuse = |c: &&Circuit| {
            let figures = context.electrical.circuits.get(&c.id)?;
            let wrong = if figures.lets_too_much_through() { ways::TOO_LARGE } else { "" };
            Some(format!("{}{wrong}", figures.device.show()))
        };
        let fuse = circuits.first().and_then(fuse);
        let link = circuits.first().and_then(|c| build.parts.get(&c.to)).map(anchor);
        WayRow {
            way: way.to_string(),
            word: word.to_owned(),
            feeds: fed.join(", "),
            link: link.unwrap_or_default(),
            fuse: fuse.unwrap_or_default(),
        }
    };
    PanelMap {
        id: format!("map-{}", part.id),
        name: part.name.clone(),
        place: teller.place(part),
        link: anchor(part),
        switched: part.role() == Some(Role::SwitchPanel),
        rows: spares_together((1..=used.max(given)).map(row)),
    }
}

/// Spare ways without a word of their own that follow each other, as one row.
fn spares_together(rows: impl Iterator<Item = WayRow>) -> Vec<WayRow> {
    let mut kept: Vec<WayRow> = Vec::new();
    for row in rows {
        let spare = |r: &WayRow| r.feeds.is_empty() && r.word.is_empty();
        match kept.last_mut().filter(|last| spare(last) && spare(&row)) {
            Some(last) => {
                let first = last.way.split(' ').next().unwrap_or_default().to_owned();
                last.way = format!("{first} to {}", row.way);
            }
            None => kept.push(row),
        }
    }
    kept
}

/// What the owner notices when a circuit goes: the part, and for a switch or dimmer what it works.
fn behind<'a>(teller: &Teller<'a>, id: &'a str) -> Vec<&'a str> {
    let build = teller.context().build;
    let Some(part) = build.parts.get(id) else { return Vec::new() };
    let mut names = vec![part.name.as_str()];
    if part.role() == Some(Role::Control) {
        names.extend(build.leaving(id).map(|c| build.name(&c.to)));
    }
    names
}

pub(super) fn controls(teller: &Teller<'_>) -> Vec<Control> {
    let build = teller.context().build;
    let controls = build.parts.values().filter(|p| matches!(p.role(), Some(Role::Control | Role::Disconnect)));
    controls
        .map(|p| Control {
            name: p.name.clone(),
            link: anchor(p),
            place: places(teller, p),
            works: match teller.fact(&p.id, "cuts") {
                "" => build.leaving(&p.id).map(|c| build.name(&c.to)).collect::<Vec<_>>().join(", "),
                cuts => cuts.to_owned(),
            },
        })
        .collect()
}

/// Places of a switch: also the second one of a two-way pair.
fn places(teller: &Teller<'_>, part: &Part<'_>) -> String {
    let first = teller.place(part);
    match part.roles.second_place().text() {
        Some(second) if first.is_empty() => second.to_owned(),
        Some(second) => format!("{first}; {second}"),
        None => first,
    }
}

pub(super) fn boards(teller: &Teller<'_>) -> Vec<Board> {
    let build = teller.context().build;
    let texts = |field: &Field<Texts>| field.all().iter().map(|t| t.value.clone()).collect::<Vec<_>>();
    let board = |(p, board): (&Part<'_>, &ControlBoard)| Board {
        id: format!("map-{}", p.id),
        name: p.name.clone(),
        place: teller.place(p),
        switches: switches(p).chain(texts(&board.switches)).collect(),
        indicators: texts(&board.indicators),
        displays: texts(&board.displays),
        holds: held(teller, board),
    };
    let all = build.parts.values().filter_map(|p| Some((p, p.roles.control_board.as_deref()?)));
    // One of which the spec tells nothing has no map.
    let tells = |b: &Board| {
        ![&b.switches, &b.indicators, &b.displays].iter().all(|texts| texts.is_empty()) || !b.holds.is_empty()
    };
    all.map(board).filter(tells).collect()
}

/// The switches and keys of a panel: their words, and what each does.
fn switches<'p>(part: &'p Part<'_>) -> impl Iterator<Item = String> + 'p {
    let words = |id: &str, label: &Field<Text>, does: &Field<Text>| {
        let label = label.text().unwrap_or(id);
        does.text().map_or_else(|| label.to_owned(), |does| format!("{label}: {does}"))
    };
    let switches = part.switches().into_iter().map(move |(id, switch)| words(id, &switch.label, &switch.does));
    switches.chain(part.keys().into_iter().map(move |(id, key)| words(id, &key.label, &key.does)))
}

/// What sits on a panel.
fn held(teller: &Teller<'_>, board: &ControlBoard) -> Vec<Link> {
    let build = teller.context().build;
    let held = board.holds.all().iter().filter_map(|h| build.parts.get(&h.value));
    held.map(|p| Link { title: p.name.clone(), id: anchor(p) }).collect()
}

pub(super) fn outlets(teller: &Teller<'_>) -> Vec<Outlet> {
    let parts = teller.context().build.parts.values();
    let outlets = parts.filter(|p| p.role() == Some(Role::Outlet) || p.kind.system == System::Outlets);
    outlets
        .map(|p| Outlet {
            name: p.name.clone(),
            link: anchor(p),
            kind: p.kind.name.clone(),
            place: teller.place(p),
            power: power(teller, p),
            panel: teller.fact(&p.id, "panel").to_owned(),
            way: teller.fact(&p.id, "way").to_owned(),
        })
        .collect()
}

/// Most an outlet gives: its stated watts, or its current at the nominal voltage.
fn power(teller: &Teller<'_>, part: &Part<'_>) -> String {
    let context = teller.context();
    let stated = part.roles.watts().get();
    let current = part.roles.rating().get().or(part.roles.current().get());
    let nominal = context.electrical.circuits.get(&part.id).map(|c| c.nominal);
    let by_current = current.zip(nominal).map(|(amps, volts)| volts * amps);
    let Some(watts) = stated.or(by_current) else { return String::new() };
    let usb =
        part.roles.usb_watts().get().map_or_else(String::new, |w| format!("; USB {}", w.show(context.build.prints())));
    format!("{}{usb}", watts.show(context.build.prints()))
}
