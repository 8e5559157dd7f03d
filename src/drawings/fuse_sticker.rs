//! Stickers for fuse panels, busbars and fuse holders, at true size: way, what it feeds, fuse, wire.

use super::canvas::{Area, Canvas, Fill, Pen, Type};
use super::labels;
use super::letters::{self, Weight};
use super::{Context, Drawing, PAGE, Subject};
use crate::build::{Circuit, Part};
use crate::compute::directory::{self, WayRow};
use crate::compute::fuse_tally::{colour, tally};
use crate::compute::network::{CircuitFigures, DeviceAt};
use crate::compute::wording::{self, Reader, conductor, name_and_place, protection};
use crate::kinds::Role;

/// Side of the square that the QR symbol has in the lower right corner, its quiet zone included, mm.
pub const QR_SIDE: f64 = 20.0;

/// From the edge to what is printed, mm.
const MARGIN: f64 = 3.0;

/// Width of one column of rows, mm: two stand side by side on the widest sticker.
const COLUMN: f64 = 83.0;

/// Between two columns, mm.
const GAP: f64 = 4.0;

/// Left edges within a column: what it feeds, fuse rating, whole device, colour, wire.
const FEEDS: f64 = 8.0;
const FUSE: f64 = 43.0;
const DEVICE: f64 = 39.0;
const COLOUR: f64 = 53.5;
const WIRE: f64 = COLUMN;

/// Rows higher than this together go into two columns, mm.
const ONE_COLUMN: f64 = 120.0;

/// Heights, mm.
const LINE: f64 = 3.0;
const ROW: f64 = 1.6;
const HEADS: f64 = 5.0;

/// The square of the QR symbol on a sticker of this size.
#[must_use]
pub fn qr_place(size: (f64, f64)) -> Area {
    Area::at(size.0 - MARGIN - QR_SIDE, size.1 - MARGIN - QR_SIDE, QR_SIDE, QR_SIDE)
}

/// What one sticker says.
struct Sticker {
    id: String,
    name: String,
    rows: Vec<WayRow>,
    /// Under the name.
    about: String,
    /// Beside the QR symbol: a signal word and its text, then plain lines.
    foot: Vec<(&'static str, String)>,
    /// What the QR symbol holds: the same as on the equipment label.
    symbol: String,
}

/// The stickers of a build, in the order of its spec.
#[must_use]
pub fn stickers(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let mut directories = directory::directories(build, &context.electrical, Reader::Binder).into_iter();
    let mut drawings = Vec::new();
    for part in build.parts.values() {
        let rows = match part.role() {
            Some(r) if r.has_ways() => directories.next().map(|d| d.rows).unwrap_or_default(),
            Some(Role::Bus) => at_a_bus(context, part),
            Some(Role::Protection) => in_a_holder(context, part),
            _ => continue,
        };
        if !rows.is_empty() {
            drawings.extend(draw(&sticker(context, part, rows)));
        }
    }
    drawings
}

/// Circuits with a device of their own at a busbar: what leaves it, and charger outputs, fused where the bank feeds
/// a fault into them.
fn at_a_bus(context: &Context<'_>, bus: &Part<'_>) -> Vec<WayRow> {
    let here = |(c, f): &(&Circuit, &CircuitFigures)| {
        let leaves = c.from == bus.id && f.device.is_own() && c.feeding != crate::build::Feeding::Output;
        let arrives = c.to == bus.id && c.owner != bus.id && f.device.at == DeviceAt::InLine;
        leaves || arrives
    };
    let row = |(c, f): (&Circuit, &CircuitFigures)| {
        let other = if c.from == bus.id { &c.to } else { &c.from };
        row(context, c, f, name_and_place(context.build, other, Reader::Binder))
    };
    wording::wired(context.build, &context.electrical).filter(here).map(row).collect()
}

/// A holder feeds what its circuits lead to; its device is that of the circuit that ends in it.
fn in_a_holder(context: &Context<'_>, holder: &Part<'_>) -> Vec<WayRow> {
    let build = context.build;
    let device_of = |c: &Circuit| context.electrical.circuits.get(&c.id);
    let Some((own, figures)) = build.arriving(&holder.id).find_map(|c| Some((c, device_of(c)?))) else {
        return Vec::new();
    };
    let feeds: Vec<_> = build.leaving(&holder.id).map(|c| (c, device_of(c))).collect();
    let names = feeds.iter().map(|(c, _)| name_and_place(build, &c.to, Reader::Binder)).collect::<Vec<_>>().join(", ");
    let behind = feeds.iter().find_map(|(_, f)| *f).unwrap_or(figures);
    let mut row = row(context, own, figures, if names.is_empty() { "free".to_owned() } else { names });
    row.device = figures.device.show();
    row.conductor = conductor(behind);
    vec![row]
}

fn row(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures, feeds: String) -> WayRow {
    WayRow {
        number: circuit.way,
        way: wording::way(circuit),
        label: circuit.id.clone(),
        feeds,
        device: protection(context.build, &figures.device),
        colour: colour(&figures.device),
        conductor: conductor(figures),
        load: String::new(),
    }
}

fn sticker(context: &Context<'_>, part: &Part<'_>, rows: Vec<WayRow>) -> Sticker {
    let build = context.build;
    let ac = part.role() == Some(Role::AcPanel);
    let mut foot = vec![if ac {
        ("DANGER", "Mains voltage behind this cover. Contact kills. Leave it closed.".to_owned())
    } else {
        ("WARNING", "A larger fuse lets the wire burn. Fit only the rating shown.".to_owned())
    }];
    if let Some((circuit, figures)) =
        build.circuits.get(&part.id).and_then(|c| Some((c, context.electrical.circuits.get(&c.id)?)))
    {
        let from = build.parts.get(&circuit.from).filter(|p| !p.confidential).map(|p| p.name.clone());
        let way = circuit.way.map(|w| format!("way {w}"));
        let device = match &figures.device.at {
            // The holder itself, told in its row; the holder that feeds it, told by its name.
            DeviceAt::Component(id) if *id == part.id => None,
            DeviceAt::Upstream(id) | DeviceAt::Component(id) if *id == circuit.from => Some(figures.device.show()),
            _ => Some(protection(build, &figures.device)),
        };
        let told = [from, way, device, Some(conductor(figures))].into_iter().flatten();
        foot.push(("Fed from", told.collect::<Vec<_>>().join(", ")));
    }
    let largest = part.roles.largest_way().get().map(|a| a.show(build.prints()));
    foot.extend(largest.filter(|_| part.role().is_some_and(Role::has_ways)).map(|a| ("Largest fuse in a way", a)));
    let own = |c: &&Circuit| rows.iter().any(|r| r.label == c.id);
    let figures = |c: &'_ Circuit| context.electrical.circuits.get(&c.id).map(|f| f.device.clone());
    let devices: Vec<_> =
        build.circuits.values().filter(own).filter_map(|c| Some((c.id.as_str(), figures(c)?))).collect();
    let spares = tally(devices.iter().map(|(id, d)| (*id, d))).into_iter().filter(|f| f.spare > 0);
    let spares = spares.map(|f| format!("{} × {}", f.spare, f.device)).collect::<Vec<_>>();
    if !spares.is_empty() {
        foot.push(("Spares", spares.join(", ")));
    }
    let rating = context
        .electrical
        .panels
        .get(&part.id)
        .and_then(|p| p.rating)
        .filter(|_| part.role() != Some(Role::Protection));
    let rating = rating.map(|r| format!("{} {}", if ac { "main breaker" } else { "rated" }, r.show(build.prints())));
    let family = family(&rows).map(|f| format!("{f}s"));
    let about = [Some(part.id.clone()), rating, family].into_iter().flatten().collect::<Vec<_>>().join(" · ");
    let symbol = labels::symbol_text(build, part);
    Sticker { id: part.id.clone(), name: part.name.clone(), rows, about, foot, symbol }
}

/// The words behind the rating where they are the same on all rows that have a device: "blade fuse".
fn family(rows: &[WayRow]) -> Option<&str> {
    let mut words = rows.iter().filter(|r| !r.device.is_empty()).map(|r| r.device.split_once(" A ").map(|(_, w)| w));
    let first = words.next()??;
    let plain = !first.contains(',') && words.all(|w| w == Some(first));
    plain.then_some(first)
}

/// A row laid out.
struct Laid<'r> {
    row: &'r WayRow,
    feeds: Vec<String>,
    device: Vec<String>,
    conductor: Vec<String>,
    height: f64,
}

const PLAIN: Type = Type::of(2.5);

fn laid(row: &WayRow, one_family: bool, ways: bool) -> Laid<'_> {
    let wrap = |text: &str, room: f64| letters::lines(text, PLAIN.size, Weight::Regular, room);
    let left = if ways { FEEDS } else { 0.0 };
    let feeds = wrap(&row.feeds, if one_family { FUSE } else { DEVICE } - left - 1.5);
    let conductor = wrap(&row.conductor, WIRE - COLOUR - 17.5);
    let device = if one_family {
        vec![row.device.split_once(" A ").map_or_else(|| row.device.clone(), |(amps, _)| format!("{amps} A"))]
    } else {
        let colour = if row.colour.is_empty() { String::new() } else { format!(" ({})", row.colour) };
        wrap(&format!("{}{colour}", row.device), WIRE - DEVICE - 12.5)
    };
    #[expect(clippy::cast_precision_loss, reason = "lines of one row")]
    let lines = feeds.len().max(device.len()).max(conductor.len()).max(1) as f64;
    Laid { row, feeds, device, conductor, height: lines.mul_add(LINE, ROW) }
}

fn draw(sticker: &Sticker) -> Vec<Drawing> {
    let one_family = family(&sticker.rows).is_some();
    let ways = sticker.rows.iter().any(|r| !r.way.is_empty());
    let rows: Vec<_> = sticker.rows.iter().map(|r| laid(r, one_family, ways)).collect();
    let all: f64 = rows.iter().map(|r| r.height).sum();
    let columns = if all > ONE_COLUMN { 2 } else { 1 };
    let wide = if columns == 2 { COLUMN.mul_add(2.0, GAP) } else { COLUMN };
    let foot = foot_lines(sticker, wide - QR_SIDE - 3.0);
    #[expect(clippy::cast_precision_loss, reason = "a few lines")]
    let low = (foot.len() as f64).mul_add(LINE, 0.5).max(QR_SIDE);
    let head = 2.0 * MARGIN + 10.0 + HEADS;
    let most = PAGE.1 - head - low - 2.0 * MARGIN;
    // Columns of about the same height; what does not fit goes on a further sticker.
    let full = if columns == 2 { (all / 2.0 + 6.0).min(most) } else { most };
    let mut stacks: Vec<Vec<&Laid<'_>>> = vec![Vec::new()];
    let mut reached = 0.0;
    for row in &rows {
        let last = stacks.len() - 1;
        if reached + row.height > full && !stacks[last].is_empty() {
            stacks.push(Vec::new());
            reached = 0.0;
        }
        reached += row.height;
        if let Some(stack) = stacks.last_mut() {
            stack.push(row);
        }
    }
    let sheets: Vec<_> = stacks.chunks(columns).collect();
    let count = sheets.len();
    let sheet = |(at, stacks): (usize, &&[Vec<&Laid<'_>>])| {
        let part = if count > 1 { Some((at + 1, count)) } else { None };
        one(sticker, stacks, (wide, head, low), &foot, one_family, part)
    };
    sheets.iter().enumerate().map(sheet).collect()
}

/// The words of a text; a number and its unit stay together.
fn bound(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let joins = |last: &String| last.ends_with(|c: char| c.is_ascii_digit() || c == '×');
        match words.last_mut().filter(|last| joins(last)) {
            Some(last) => {
                last.push(' ');
                last.push_str(word);
            }
            None => words.push(word.to_owned()),
        }
    }
    words
}

/// Lines of the foot: what stands bold in front, and the rest.
fn foot_lines(sticker: &Sticker, room: f64) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    for (word, text) in &sticker.foot {
        let word = if word.chars().all(char::is_uppercase) { (*word).to_owned() } else { format!("{word}:") };
        let mut left = room - letters::width(&word, PLAIN.size, Weight::Semibold) - 1.2;
        let mut line = String::new();
        let mut head = word;
        for word in bound(text) {
            let longer = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
            if letters::width(&longer, PLAIN.size, Weight::Regular) <= left {
                line = longer;
            } else {
                lines.push((std::mem::take(&mut head), std::mem::take(&mut line)));
                left = room;
                line = letters::fitted(&word, PLAIN.size, Weight::Regular, room);
            }
        }
        lines.push((head, line));
    }
    lines
}

fn one(
    sticker: &Sticker,
    stacks: &[Vec<&Laid<'_>>],
    (wide, head, low): (f64, f64, f64),
    foot: &[(String, String)],
    one_family: bool,
    part: Option<(usize, usize)>,
) -> Drawing {
    let high = stacks.iter().map(|s| s.iter().map(|r| r.height).sum::<f64>()).fold(0.0, f64::max);
    let size = (wide + 2.0 * MARGIN, head + high + low + 2.0 * MARGIN);
    let mut canvas = Canvas::new(size.0, size.1);
    canvas.rect(Area::at(0.1, 0.1, size.0 - 0.2, size.1 - 0.2), 2.0, Pen::of(0.2), Fill::Grey(1.0));
    let title = Type::of(4.4).bold();
    let number = part.map_or_else(String::new, |(at, of)| format!("{at} of {of}"));
    let room = wide - letters::width(&number, PLAIN.size, Weight::Regular) - 3.0;
    canvas.text((MARGIN, MARGIN + 3.8), &letters::fitted(&sticker.name, title.size, title.weight, room), title);
    canvas.text((MARGIN + wide, MARGIN + 3.8), &number, PLAIN.end());
    canvas.text((MARGIN, MARGIN + 8.0), &letters::fitted(&sticker.about, 2.5, Weight::Regular, wide), PLAIN);
    let top = head - HEADS - MARGIN + 1.0;
    for (at, stack) in stacks.iter().enumerate() {
        let left = MARGIN + if at == 0 { 0.0 } else { COLUMN + GAP };
        column(&mut canvas, (left, top), stack, one_family);
    }
    let foot_top = size.1 - MARGIN - low;
    for ((word, text), at) in foot.iter().zip(0_u8..) {
        let y = f64::from(at).mul_add(LINE, foot_top + 2.6);
        let lead = canvas.text((MARGIN, y), word, PLAIN.bold());
        let x = if word.is_empty() { MARGIN } else { lead.right + 1.2 };
        canvas.text((x, y), text, PLAIN);
    }
    labels::symbol(&mut canvas, qr_place(size), &sticker.symbol, &sticker.id);
    let suffix = part.map_or_else(String::new, |(at, _)| format!("-{at}"));
    let title = match part {
        Some((at, of)) => format!("Sticker of {}, {at} of {of}", sticker.name),
        None => format!("Sticker of {}", sticker.name),
    };
    Drawing::finish(
        &canvas,
        Subject::FuseSticker,
        &format!("{}{suffix}", sticker.id),
        &sticker.id,
        &title,
        &words(sticker, stacks),
    )
    .at_true_size()
}

fn column(canvas: &mut Canvas, (left, top): (f64, f64), rows: &[&Laid<'_>], one_family: bool) {
    let ways = rows.iter().any(|r| !r.row.way.is_empty());
    let feeds = left + if ways { FEEDS } else { 0.0 };
    let small = Type::of(2.2).grey(0.25);
    let heads = top + HEADS - 1.4;
    if ways {
        canvas.text((left + 5.0, heads), "Way", small.end());
    }
    canvas.text((feeds, heads), "Feeds", small);
    let fuse = left + if one_family { FUSE } else { DEVICE };
    let breakers = rows.iter().all(|l| l.row.device.is_empty() || l.row.device.ends_with(" breaker"));
    canvas.text((fuse, heads), if breakers { "Breaker" } else { "Fuse" }, small);
    if one_family && rows.iter().any(|r| !r.row.colour.is_empty()) {
        canvas.text((left + COLOUR, heads), "Colour", small);
    }
    canvas.text((left + WIRE, heads), "Wire", small.end());
    let mut y = top + HEADS;
    canvas.line((left, y), (left + COLUMN, y), Pen::of(0.35));
    for laid in rows {
        let base = y + ROW / 2.0 + 2.3;
        let free = laid.row.label.is_empty();
        let look = if free { PLAIN.grey(0.4) } else { PLAIN };
        canvas.text((left + 5.0, base), &laid.row.way, PLAIN.bold().end());
        stack(canvas, (feeds, base), &laid.feeds, look);
        stack(canvas, (fuse, base), &laid.device, if one_family { PLAIN.bold() } else { PLAIN });
        if one_family {
            canvas.text((left + COLOUR, base), &laid.row.colour, Type::of(2.3));
        }
        stack(canvas, (left + WIRE, base), &laid.conductor, PLAIN.end());
        y += laid.height;
        canvas.line((left, y), (left + COLUMN, y), Pen::of(0.18).grey(0.55));
    }
}

fn stack(canvas: &mut Canvas, at: (f64, f64), lines: &[String], look: Type) {
    for (line, n) in lines.iter().zip(0_u8..) {
        canvas.text((at.0, f64::from(n).mul_add(LINE, at.1)), line, look);
    }
}

fn words(sticker: &Sticker, stacks: &[Vec<&Laid<'_>>]) -> String {
    let row = |laid: &&Laid<'_>| {
        let r = laid.row;
        let way = if r.way.is_empty() { String::new() } else { format!("way {} ", r.way) };
        let of =
            [&r.device, &r.colour, &r.conductor].into_iter().filter(|t| !t.is_empty()).cloned().collect::<Vec<_>>();
        if of.is_empty() { format!("{way}{}", r.feeds) } else { format!("{way}{}, {}", r.feeds, of.join(", ")) }
    };
    let rows = stacks.iter().flatten().map(row).collect::<Vec<_>>().join("; ");
    format!("Sticker at true size for {}, with a QR symbol that holds its id. It lists: {rows}.", sticker.name)
}
