//! Elevations of electrical boards to scale: every device with a size as it stands on its board.

use super::canvas::{Canvas, Dash, Fill, Pen, Type};
use super::letters::{self, Weight};
use super::plan::dims;
use super::plan::key::{Entry, Key};
use super::plan::sheet::note_lines;
use super::plan::sign::{self, Sign};
use super::{Context, Drawing, PAGE, Subject};
use crate::compute::board_holders::{Holder, holders, stud_face};
use crate::compute::geometry::board::{AC_GAP, Board, Device, Face, GAP, Laid, Looking, WARM_GAP, boards};
use crate::drawings::area::Area;
use crate::units::{Metres, System};

/// Scales in use, the largest first.
const SCALES: [f64; 10] = [2.0, 2.5, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 50.0];

/// Width of the board on its sheet, and its height: less where its key would go on to a second one; mm.
const WIDE: f64 = 150.0;
const HIGH: [f64; 3] = [120.0, 96.0, 78.0];

/// Left of the board, for its height.
const LEFT: f64 = 18.0;

/// Above the board: scale, and how one looks at it.
const HEAD: f64 = 12.0;

/// Radius of a number.
const RADIUS: f64 = 2.2;

/// The elevations; none of a board on which no part has a size.
#[must_use]
pub(super) fn elevations(context: &Context<'_>) -> Vec<Drawing> {
    let all = boards(context.build);
    let drawn = all.iter().filter(|board| board.is_drawn());
    drawn.flat_map(|board| whole(context, board)).collect()
}

/// A board with its key, on one sheet where a smaller scale does that.
fn whole(context: &Context<'_>, board: &Board) -> Vec<Drawing> {
    let laid = board.laid();
    let held = holders(context.build, &context.electrical, board, &laid);
    let mut tries = HIGH.into_iter().map(|high| elevation(context, board, (&laid, &held), high));
    let first = tries.next().unwrap_or_default();
    if first.len() == 1 { first } else { tries.find(|sheets| sheets.len() == 1).unwrap_or(first) }
}

/// The largest scale in use at which a board goes onto its sheet.
fn scale(size: [f64; 2], high: f64) -> f64 {
    let fits = |scale: &f64| size[0] * 1000.0 / scale <= WIDE && size[1] * 1000.0 / scale <= high;
    // A board larger than any van is drawn as small as it takes.
    let whole = (size[0] / WIDE).max(size[1] / high) * 1000.0;
    SCALES.into_iter().find(fits).unwrap_or_else(|| (whole / 50.0).ceil() * 50.0)
}

fn elevation(context: &Context<'_>, board: &Board, (laid, held): (&Laid, &[Holder<'_>]), high: f64) -> Vec<Drawing> {
    let build = context.build;
    let system = build.prints();
    let scale = scale(laid.size, high);
    let k = 1000.0 / scale;
    let name = if board.place.is_empty() { "Electrical board".to_owned() } else { build.place_name(&board.place) };
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let face = Area::at(LEFT, HEAD, laid.size[0] * k, laid.size[1] * k);
    canvas.text((0.5, 3.4), &format!("1:{scale}"), Type::of(3.0).bold());
    let title = letters::fitted(&name, 3.0, Weight::Semibold, PAGE.0 - 80.0);
    canvas.text((LEFT, 3.4), &title, Type::of(3.0).bold());
    canvas.text((PAGE.0 - 0.5, 3.4), seen(board.looking), Type::of(2.4).end());
    let edge = if board.size.is_some() { Pen::of(0.5) } else { Pen::of(0.3).dash(Dash::Dashed) };
    canvas.rect(face, 0.0, edge, Fill::None);
    sides(&mut canvas, board, &face);
    let on_board: Vec<&(usize, Face)> = laid.faces.iter().filter(|(_, face)| face.is_on(laid.size)).collect();
    let area = |place: &Face| {
        let [left, bottom] = [face.left + place.at[0] * k, face.bottom - place.at[1] * k];
        Area::at(left, bottom - place.size[1] * k, place.size[0] * k, place.size[1] * k)
    };
    for (number, (at, place)) in on_board.iter().enumerate() {
        let device = &board.devices[*at];
        draw_device(&mut canvas, device, build.name(&device.part), number + 1, area(place));
        let first = stud_face(build, board, (*at, place), Some(1));
        if first != *place {
            first_stud(&mut canvas, &area(place), &area(&first));
        }
    }
    let standing: Vec<(&Holder<'_>, Face)> = held.iter().filter_map(|holder| Some((holder, holder.face?))).collect();
    for (number, (_, place)) in standing.iter().enumerate() {
        let area = area(place);
        canvas.rect(area, 0.2, Pen::of(0.25), Fill::Grey(0.92));
        let radius = RADIUS.min(area.width() / 2.2).min(area.height() / 2.2).max(1.4);
        let middle = (f64::midpoint(area.left, area.right), f64::midpoint(area.top, area.bottom));
        sign::draw(&mut canvas, middle, radius, &Sign::Number(on_board.len() + number + 1));
    }
    let measure = |metres: f64| Metres(metres).show(system);
    dims::across(&mut canvas, (face.left, face.right), face.bottom + 5.0, face.bottom, &measure(laid.size[0]));
    // Left of the board its height, whose text stands further left.
    dims::upright(&mut canvas, (face.top, face.bottom), LEFT - 5.0, face.left, &measure(laid.size[1]));
    let mut y = face.bottom + 10.0;
    for note in notes(context, board, laid, held) {
        y = note_lines(&mut canvas, y, &note);
    }
    y += 1.5;
    let entries: Vec<Entry> = on_board
        .iter()
        .enumerate()
        .map(|(number, (at, face))| entry(context, &board.devices[*at], face, number + 1, system))
        .chain(
            standing
                .iter()
                .enumerate()
                .map(|(n, (holder, face))| held_entry(context, holder, face, on_board.len() + n + 1, system)),
        )
        .collect();
    let told: Vec<String> = entries.iter().map(|e| format!("{}: {}", e.title, e.rows[0].1)).collect();
    let description = format!(
        "Elevation of {name} to scale, {}. Lower left corners, to the right and up. {}.",
        seen(board.looking).to_lowercase(),
        told.join("; ")
    );
    finish(canvas, y, &entries, board, &name, &description)
}

/// The key, on as many sheets as it takes.
fn finish(
    mut canvas: Canvas,
    from: f64,
    entries: &[Entry],
    board: &Board,
    name: &str,
    description: &str,
) -> Vec<Drawing> {
    let mut y = from;
    let mut key = Key::new(entries, 3, PAGE.0);
    let mut sheets = Vec::new();
    loop {
        y += key.draw(&mut canvas, (0.0, y), PAGE.1 - y - 1.0);
        canvas.set_height((y + 1.0).min(PAGE.1));
        let number = sheets.len() + 1;
        let (tail, more) = match number {
            1 => (board.place.clone(), ""),
            _ => (format!("{}-{number}", board.place), ", key continued"),
        };
        let title = format!("Elevation: {name}{more}");
        let sheet = Drawing::finish(&canvas, Subject::Board, &tail, &board.place, &title, description);
        sheets.push(sheet.at_true_size());
        // A spec of many thousand components must not fill the disk.
        if key.is_empty() || number > 40 {
            return sheets;
        }
        canvas = Canvas::new(PAGE.0, PAGE.1);
        y = 1.0;
    }
}

/// How one looks at a board.
const fn seen(looking: Looking) -> &'static str {
    match looking {
        Looking::Left => "Seen from the aisle, looking left",
        Looking::Right => "Seen from the aisle, looking right",
        Looking::Aft => "Seen looking to the rear",
        Looking::Ahead => "Seen looking ahead",
    }
}

/// What lies beyond its left and right edge.
fn sides(canvas: &mut Canvas, board: &Board, face: &Area) {
    let (left, right) = match board.looking {
        Looking::Left => ("rear", "front"),
        Looking::Right => ("front", "rear"),
        Looking::Aft => ("right", "left"),
        Looking::Ahead => ("left", "right"),
    };
    let said = |side: &str, is_bank: bool| if is_bank { format!("{side}, bank side") } else { side.to_owned() };
    let style = Type::of(2.3).grey(0.35);
    canvas.text((face.left, face.top - 1.6), &format!("← {}", said(left, !board.bank_right)), style);
    canvas.text((face.right, face.top - 1.6), &format!("{} →", said(right, board.bank_right)), style.end());
}

/// A device: its number, its name where there is room; hatched where it carries alternating current.
fn draw_device(canvas: &mut Canvas, device: &Device, name: &str, number: usize, area: Area) {
    let fill = if device.is_ac { canvas.hatch(1, 45.0, 2.4) } else { Fill::Grey(1.0) };
    canvas.rect(area, 0.5, Pen::of(0.35), fill);
    let radius = RADIUS.min(area.width() / 2.2).min(area.height() / 2.2).max(1.4);
    let middle = (f64::midpoint(area.left, area.right), f64::midpoint(area.top, area.bottom));
    let lines = letters::wrapped(name, 2.2, Weight::Regular, area.width() - 2.0, 3);
    #[expect(clippy::cast_precision_loss, reason = "three lines")]
    let high = lines.len() as f64 * 2.75;
    let cut = lines.last().is_some_and(|line| line.ends_with('…'));
    let has_room = area.width() >= 14.0 && area.height() >= high + 2.0 * radius + 3.0 && !cut;
    // Beside the number or above it.
    let beside = area.width() >= 2.0 * radius + 9.0 && area.height() >= 5.0;
    if device.is_warm && (beside || area.width() >= 6.0 && area.height() >= 2.0 * radius + 7.5) {
        warm(canvas, (area.right - 2.6, area.top + 0.7));
    }
    if !has_room {
        sign::draw(canvas, middle, radius, &Sign::Number(number));
        return;
    }
    let first = middle.1 - high / 2.0 - radius;
    sign::draw(canvas, (middle.0, first + radius), radius, &Sign::Number(number));
    let mut base = first + 2.0 * radius + 2.9;
    for line in &lines {
        canvas.text_on_white((middle.0, base), line, Type::of(2.2).middle());
        base += 2.75;
    }
}

/// A black triangle in the end of a bar that its first stud is at.
fn first_stud(canvas: &mut Canvas, bar: &Area, stud: &Area) {
    let (x, y) = (f64::midpoint(bar.left, bar.right), f64::midpoint(bar.top, bar.bottom));
    let size = (bar.width().min(bar.height()) / 2.5).min(1.6);
    let points = if bar.width() >= bar.height() {
        let (end, inward) = if stud.left < x { (bar.left, size) } else { (bar.right, -size) };
        [(end, y - size), (end, y + size), (end + inward, y)]
    } else {
        [(x - size, bar.bottom), (x + size, bar.bottom), (x, bar.bottom - size)]
    };
    canvas.polygon(&points, Pen::NONE, Fill::Grey(0.0));
}

/// Arrows upward: it gets warm.
fn warm(canvas: &mut Canvas, at: (f64, f64)) {
    for dx in [-1.0, 0.6] {
        let x = at.0 + dx;
        canvas.line((x, at.1 + 2.8), (x, at.1 + 0.9), Pen::of(0.25));
        canvas.polygon(&[(x, at.1), (x - 0.55, at.1 + 1.1), (x + 0.55, at.1 + 1.1)], Pen::NONE, Fill::Grey(0.0));
    }
}

/// A device in the key: where its lower left corner is, and its size.
fn entry(context: &Context<'_>, device: &Device, face: &Face, number: usize, system: System) -> Entry {
    let show = |metres: f64| Metres(metres).show(system);
    let given = if device.given.is_some() { "at" } else { "at, by rule" };
    let size = device.size.unwrap_or_default();
    let rows = vec![
        (given.to_owned(), face.at.map(show).join(", ")),
        ("wide, high, deep".to_owned(), size.map(show).join(" × ")),
    ];
    Entry { sign: Sign::Number(number), title: context.build.name(&device.part).to_owned(), rows }
}

/// A holder in the key: the fuse of which circuit it holds, and which.
fn held_entry(context: &Context<'_>, holder: &Holder<'_>, face: &Face, number: usize, system: System) -> Entry {
    let show = |metres: f64| Metres(metres).show(system);
    let rows = vec![
        ("at, by rule".to_owned(), face.at.map(show).join(", ")),
        ("wide, high, deep".to_owned(), holder.size.map(show).join(" × ")),
        ("holds".to_owned(), holder.fuse.clone()),
    ];
    let title = format!("Fuse holder, {}", context.build.name(&holder.circuit.owner));
    Entry { sign: Sign::Number(number), title, rows }
}

fn named<'a>(context: &Context<'_>, devices: impl Iterator<Item = &'a Device>) -> String {
    devices.map(|device| context.build.name(&device.part).to_owned()).collect::<Vec<_>>().join(", ")
}

/// What must be told of the board.
fn notes(context: &Context<'_>, board: &Board, laid: &Laid, held: &[Holder<'_>]) -> Vec<String> {
    let system = context.build.prints();
    let show = |metres: f64| Metres(metres).show(system);
    let mut notes = vec![
        "Lower left corner of each: to the right and up from that of the board. Hatched: alternating current. Arrows: it \
         gets warm, so keep the room above it free."
            .to_owned(),
    ];
    if board.size.is_none() {
        notes.push("The spec gives no size of the board: it is drawn as large as its devices need.".to_owned());
    }
    if board.devices.iter().any(|device| device.given.is_none() && device.size.is_some()) {
        notes.push(format!(
            "Laid out by rule where the spec does not say where: from the side of the bank, what gets warm upward, \
             alternating current apart; {} between devices, {} around what gets warm, {} between alternating and direct \
             current. Common practice, no source; the makers’ figures win.",
            show(GAP),
            show(WARM_GAP),
            show(AC_GAP)
        ));
    }
    let bar = |(at, face): &(usize, Face)| stud_face(context.build, board, (*at, face), Some(1)) != *face;
    if laid.faces.iter().any(bar) {
        notes
            .push("Black triangle: the end of a bar where its stud 1 is; the others follow in their order.".to_owned());
    }
    if held.iter().any(|holder| holder.face.is_some()) {
        notes.push(
            "Grey: holders of fuses in the line, as near to their own stud as there is room. Their sizes are common practice, \
             no source; the maker’s sheet wins."
                .to_owned(),
        );
    }
    let homeless = held.iter().filter(|holder| holder.face.is_none());
    let homeless: Vec<_> = homeless.map(|holder| context.build.name(&holder.circuit.owner)).collect();
    if !homeless.is_empty() {
        let homeless = homeless.join(", ");
        notes.push(format!("Within reach of its stud there is no room for the fuse holder of: {homeless}."));
    }
    let sizeless = named(context, board.devices.iter().filter(|device| device.size.is_none()));
    if !sizeless.is_empty() {
        notes.push(format!("On the board, but not drawn, since the spec gives no size: {sizeless}."));
    }
    let beyond = laid.faces.iter().filter(|(_, face)| !face.is_on(laid.size));
    let beyond = named(context, beyond.map(|(at, _)| &board.devices[*at]));
    if !beyond.is_empty() {
        notes.push(format!("Not drawn, since the spec puts it beyond the board: {beyond}."));
    }
    let left_over = named(context, laid.left_over.iter().map(|at| &board.devices[*at]));
    if !left_over.is_empty() {
        notes.push(format!("By the rule there is no room on the board for: {left_over}."));
    }
    notes
}
