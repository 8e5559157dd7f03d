//! Faces of switch panels at true size: switches in their order with way numbers and engraved words.
//!
//! The size of a switch is a generic one (opening 21 × 37 mm, from memory: common practice, no source); the panel
//! maker's template wins, and the face says so. A hidden master is not on it.

use super::canvas::{Area, Canvas, Fill, Pen, Type};
use super::letters::{self, Weight};
use super::{Context, Drawing, PAGE, Subject};
use crate::build::Part;
use crate::compute::directory::{self, Directory, WayRow};
use crate::compute::wording::Reader;
use crate::kinds::Role;
use crate::units::{System, in_words};

/// Opening of one switch, mm.
const SWITCH: (f64, f64) = (21.0, 37.0);

/// From switch to switch, mm.
const PITCH: (f64, f64) = (26.0, 58.0);

/// From the edge of the face to the first cell, mm.
const EDGE: f64 = 8.0;

/// Most rows on one sheet, and most switches in a row.
const ROWS: usize = 3;
const IN_A_ROW: usize = 6;

/// Room of a key switch on the face, mm.
const KEY: f64 = 26.0;

/// The faces of all switch panels.
#[must_use]
pub(crate) fn faces(context: &Context<'_>) -> Vec<Drawing> {
    let directories = directory::directories(context.build, &context.electrical, Reader::Binder);
    let face = |d: &Directory| {
        let panel = context.build.parts.get(&d.id).filter(|p| p.role() == Some(Role::SwitchPanel))?;
        Some(panel_faces(context, panel, d))
    };
    directories.iter().filter_map(face).flatten().collect()
}

/// A switch: its way, the words engraved on it, what it feeds.
struct Switch<'a> {
    row: &'a WayRow,
    word: String,
}

fn panel_faces(context: &Context<'_>, panel: &Part<'_>, directory: &Directory) -> Vec<Drawing> {
    let build = context.build;
    let names = panel.roles.way_names().all();
    let word = |row: &WayRow| {
        let at = row.number.and_then(|w| usize::try_from(w).ok()?.checked_sub(1));
        let given = at.and_then(|i| names.get(i)).map(|n| n.value.clone());
        let fed = build.circuits.get(&row.label).map(|c| build.name(&c.to).to_owned());
        given.or(fed).unwrap_or_else(|| "SPARE".to_owned())
    };
    let switches: Vec<_> = directory.rows.iter().map(|row| Switch { row, word: word(row) }).collect();
    if switches.is_empty() {
        return Vec::new();
    }
    // A master of its own is somewhere else; one that is to be hidden is not told about at all.
    let keyed = panel.roles.master().is("keyed");
    let masters: Vec<_> = panel.roles.master_switch().all().iter().filter_map(|m| build.parts.get(&m.value)).collect();
    let key_here = keyed && masters.is_empty();
    let shown = masters.iter().filter(|m| keyed && !m.confidential);
    let master = shown.map(|m| m.name.as_str()).collect::<Vec<_>>().join(", ");
    let most = ROWS * if key_here { IN_A_ROW - 1 } else { IN_A_ROW };
    let count = switches.len().div_ceil(most);
    let each = switches.len().div_ceil(count);
    let sheets = switches.chunks(each.max(1)).enumerate();
    sheets
        .map(|(at, switches)| {
            let part = if count > 1 { Some((at + 1, count)) } else { None };
            face(panel, switches, key_here && at == 0, &master, part, build.prints())
        })
        .collect()
}

#[expect(clippy::cast_precision_loss, reason = "a few switches")]
fn face(
    panel: &Part<'_>,
    switches: &[Switch<'_>],
    key: bool,
    master: &str,
    part: Option<(usize, usize)>,
    prints: System,
) -> Drawing {
    let most = if key { IN_A_ROW - 1 } else { IN_A_ROW };
    let rows = switches.len().div_ceil(most).max(1);
    let in_a_row = switches.len().div_ceil(rows).max(1);
    let key_room = if key { KEY } else { 0.0 };
    let wide = (in_a_row as f64).mul_add(PITCH.0, key_room) + 2.0 * EDGE;
    let high = (rows as f64).mul_add(PITCH.1, 2.0 * EDGE);
    let plate = Area::at(0.2, 8.0, wide, high);
    let notes = notes(switches.len(), master, wide.max(80.0), prints);
    let below = plate.bottom + 4.5;
    let size = (wide.max(80.0) + 0.4, (notes.len() as f64).mul_add(3.2, below) + 0.5);
    let mut canvas = Canvas::new(size.0.min(PAGE.0), size.1);
    let of = part.map_or_else(String::new, |(at, of)| format!(", {at} of {of}"));
    let name = letters::fitted(&format!("{}{of}", panel.name), 3.4, Weight::Semibold, size.0 - 1.0);
    canvas.text((0.4, 4.6), &name, Type::of(3.4).bold());
    canvas.rect(plate, 3.0, Pen::of(0.5), Fill::Grey(1.0));
    for (x, y) in
        [(plate.left, plate.top), (plate.right, plate.top), (plate.left, plate.bottom), (plate.right, plate.bottom)]
    {
        let inward = |v: f64, low: f64| if v > low { v - 4.0 } else { v + 4.0 };
        hole(&mut canvas, (inward(x, plate.left), inward(y, plate.top)));
    }
    if key {
        key_switch(&mut canvas, (plate.left + EDGE + KEY / 2.0 - 2.0, plate.top + EDGE + 4.0 + SWITCH.1 / 2.0));
    }
    for (at, switch) in switches.iter().enumerate() {
        let (column, row) = (at % in_a_row, at / in_a_row);
        let x = (column as f64).mul_add(PITCH.0, plate.left + EDGE + key_room);
        let y = (row as f64).mul_add(PITCH.1, plate.top + EDGE);
        rocker(&mut canvas, (x, y), switch);
    }
    for (line, at) in notes.iter().zip(0_u8..) {
        canvas.text((0.4, f64::from(at).mul_add(3.2, below)), line, Type::of(2.3).grey(0.25));
    }
    let suffix = part.map_or_else(String::new, |(at, _)| format!("-{at}"));
    let title = format!("Face of {}{of}", panel.name);
    Drawing::finish(
        &canvas,
        Subject::SwitchPanel,
        &format!("{}{suffix}", panel.id),
        &panel.id,
        &title,
        &words(panel, switches, key),
    )
    .at_true_size()
}

fn notes(switches: usize, master: &str, room: f64, prints: System) -> Vec<String> {
    let mut text = Vec::new();
    if !master.is_empty() {
        text.push(format!("Dead until {master} is on."));
    }
    let apart = if switches > 1 { format!(", {} mm apart", PITCH.0) } else { String::new() };
    let note = format!(
        "True size. Switch openings {} × {} mm{apart}, are generic: the panel maker's template wins.",
        SWITCH.0, SWITCH.1
    );
    text.push(in_words(&note, prints).into_owned());
    text.iter().flat_map(|t| letters::lines(t, 2.3, Weight::Regular, room - 1.0)).collect()
}

fn hole(canvas: &mut Canvas, at: (f64, f64)) {
    canvas.circle(at, 1.6, Pen::of(0.25), Fill::None);
    canvas.line((at.0 - 2.4, at.1), (at.0 + 2.4, at.1), Pen::of(0.18));
    canvas.line((at.0, at.1 - 2.4), (at.0, at.1 + 2.4), Pen::of(0.18));
}

/// One switch: number, rocker with its words and lamp, below it what it feeds and its fuse.
fn rocker(canvas: &mut Canvas, (left, top): (f64, f64), switch: &Switch<'_>) {
    let middle = left + PITCH.0 / 2.0;
    let spare = switch.row.label.is_empty();
    canvas.text((middle, top + 2.4), &switch.row.way, Type::of(3.0).bold().middle());
    let body = Area::at(middle - SWITCH.0 / 2.0, top + 4.0, SWITCH.0, SWITCH.1);
    canvas.rect(body, 1.5, Pen::of(0.4), Fill::Grey(1.0));
    let inner = body.grown(-1.3);
    canvas.rect(inner, 1.0, Pen::of(0.18).grey(if spare { 0.6 } else { 0.3 }), Fill::None);
    let half = f64::midpoint(body.top, body.bottom);
    canvas.line((inner.left, half + 5.0), (inner.right, half + 5.0), Pen::of(0.18).grey(0.5));
    if !spare {
        canvas.circle((middle, body.bottom - 6.0), 1.5, Pen::of(0.25), Fill::None);
    }
    let look = if spare { Type::of(2.6).grey(0.4).middle() } else { Type::of(2.8).bold().middle() };
    let engraved = letters::lines(&switch.word, look.size, look.weight, inner.width() - 1.0);
    lines(canvas, (middle, half - 6.5), &engraved, look, (3.4, 5), true);
    let feeds = letters::lines(&switch.row.feeds, 2.2, Weight::Regular, PITCH.0 - 1.5);
    let under = Type::of(2.2).middle();
    let reached = lines(
        canvas,
        (middle, body.bottom + 3.2),
        &feeds,
        if spare { under.grey(0.4) } else { under },
        (2.7, 4),
        false,
    );
    let amps = switch.row.device.split_once(" A ").map_or(String::new(), |(amps, _)| format!("{amps} A"));
    canvas.text((middle, reached + 2.7), &amps, under.bold());
}

/// At most `most` lines `gap` mm apart, from or around a point; gives the last baseline.
fn lines(
    canvas: &mut Canvas,
    at: (f64, f64),
    lines: &[String],
    look: Type,
    (gap, most): (f64, u8),
    centred: bool,
) -> f64 {
    let count = u8::try_from(lines.len()).unwrap_or(most).min(most);
    let first = if centred { at.1 - f64::from(count.saturating_sub(1)) * gap / 2.0 + look.size * 0.35 } else { at.1 };
    let mut y = first;
    for (line, n) in lines.iter().zip(0..count) {
        y = f64::from(n).mul_add(gap, first);
        let cut = n + 1 == count && lines.len() > usize::from(most);
        canvas.text((at.0, y), &if cut { format!("{line} …") } else { line.clone() }, look);
    }
    y
}

fn key_switch(canvas: &mut Canvas, centre: (f64, f64)) {
    canvas.circle(centre, 9.5, Pen::of(0.4), Fill::None);
    canvas.circle(centre, 6.0, Pen::of(0.25), Fill::None);
    canvas.rect(Area::at(centre.0 - 0.7, centre.1 - 3.5, 1.4, 7.0), 0.5, Pen::of(0.25), Fill::Grey(0.0));
    canvas.text((centre.0, centre.1 - 11.5), "MASTER", Type::of(2.6).bold().middle());
    canvas.text((centre.0, centre.1 + 13.0), "key", Type::of(2.2).middle());
}

fn words(panel: &Part<'_>, switches: &[Switch<'_>], key: bool) -> String {
    let one = |s: &Switch<'_>| format!("{} {} ({})", s.row.way, s.word, s.row.feeds);
    let list = switches.iter().map(one).collect::<Vec<_>>().join("; ");
    let key = if key { " The key switch of the master is at the left." } else { "" };
    format!("Face of {} at true size, switches from the left, row by row: {list}.{key}", panel.name)
}
