//! Sheets of labels to print, cut and stick: flags for both ends of every circuit, and labels for the equipment with a
//! QR symbol that tells where the owner's manual speaks of it.

use super::area::Area;
use super::canvas::{Canvas, Dash, Fill, Pen, Type, Weight};
use super::{Context, Drawing, PAGE, Subject, letters, qr};
use crate::build::{Build, Conductor, Feeding, Part};
use crate::compute::network::{ConductorFigures, is_worked_on};
use crate::kinds::{Network, PlumbingRole, Role};

/// What a sheet of wire labels is about.
pub const WIRES: &str = "wires";

/// What a sheet of equipment labels is about.
pub const EQUIPMENT: &str = "equipment";

/// What the line to measure is about.
pub const RULER: &str = "ruler";

/// Width and height of a flag: two faces, and between them what goes round the cable.
const FLAG: (f64, f64) = (86.0, 14.0);

/// Width of a face of a flag.
const FACE: f64 = 37.0;

/// Width and height of an equipment label.
const PLATE: (f64, f64) = (57.0, 26.0);

/// Side of the square that a QR symbol may take on an equipment label.
const SYMBOL: f64 = 24.0;

/// Smallest module that a phone reads well from a laser print, mm; common practice.
const MODULE: f64 = 0.4;

/// Room of the cut marks around the labels.
const RIM: f64 = 2.0;

/// Space between the edge of a label and its text.
const PAD: f64 = 2.0;

const SMALL: f64 = 2.3;

/// Size of the polarity on a flag.
const SIGN: f64 = 3.2;

/// The sheets of a build; none where there is nothing to label.
#[must_use]
pub fn draw(context: &Context<'_>) -> Vec<Drawing> {
    let mut sheets = wires(context);
    sheets.extend(equipment(context));
    if !sheets.is_empty() {
        sheets.insert(0, ruler());
    }
    sheets
}

/// A line of 100 mm, to tell whether a printer kept the size.
fn ruler() -> Drawing {
    let mut canvas = Canvas::new(110.0, 11.0);
    canvas.line((5.0, 4.0), (105.0, 4.0), Pen::of(0.35));
    for ten in 0..=10 {
        let x = 5.0 + f64::from(ten) * 10.0;
        canvas.line((x, if ten % 5 == 0 { 2.0 } else { 3.0 }), (x, 4.0), Pen::of(0.25));
    }
    for (x, text) in [(5.0, "0"), (55.0, "50"), (105.0, "100")] {
        canvas.text((x, 7.5), text, Type::of(SMALL).middle());
    }
    canvas.text((80.0, 7.5), "mm", Type::of(SMALL).middle());
    let description = "A straight line of 100 mm with a mark every 10 mm, to tell whether the size was kept.";
    Drawing::finish(&canvas, Subject::Labels, "ruler", RULER, "100 mm", description).at_true_size()
}

/// A grid of cells on a sheet, with cut marks at their corners.
struct Grid {
    cell: (f64, f64),
    columns: usize,
}

impl Grid {
    /// Rows that a page has room for.
    fn rows(&self) -> usize {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few rows")]
        let rows = ((PAGE.1 - 2.0 * RIM) / self.cell.1).floor() as usize;
        rows
    }

    fn corner(&self, column: usize, row: usize) -> (f64, f64) {
        (RIM + real(column) * self.cell.0, RIM + real(row) * self.cell.1)
    }

    /// An empty sheet for `count` labels, with the marks where to cut.
    fn sheet(&self, count: usize) -> Canvas {
        let rows = count.div_ceil(self.columns);
        let (right, bottom) = self.corner(self.columns, rows);
        let mut canvas = Canvas::new(right + RIM, bottom + RIM);
        let pen = Pen::of(0.18);
        for column in 0..=self.columns {
            for row in 0..=rows {
                let (x, y) = self.corner(column, row);
                canvas.line((x - 1.5, y), (x + 1.5, y), pen);
                canvas.line((x, y - 1.5), (x, y + 1.5), pen);
            }
        }
        canvas
    }
}

/// A small count as a number.
fn real(n: usize) -> f64 {
    u32::try_from(n).map_or(0.0, f64::from)
}

/// "sheet 2 of 7", "" for a single one.
fn numbered(at: usize, of: usize) -> String {
    if of > 1 { format!(", sheet {} of {of}", at + 1) } else { String::new() }
}

/// What the labels say, without the drawing: flags of circuits, then plates of equipment, each with its id.
#[must_use]
pub fn texts(context: &Context<'_>) -> (Vec<LabelText>, Vec<LabelText>) {
    let build = context.build;
    let flags = flagged(context).into_iter().map(|flag| {
        let says = vec![flag.id.clone(), flag.polarity.clone()];
        (flag.id.clone(), [says, flag.facts(build)].concat())
    });
    let plates = build.parts.values().filter(|p| is_labelled(p)).map(|part| {
        let head = vec![part.name.clone(), part.id.clone()];
        let symbol = vec![symbol_text(build, part)];
        (part.id.clone(), [head, supply(context, part), symbol].concat())
    });
    (flags.collect(), plates.collect())
}

/// Id of a circuit or component, and what its label says.
pub type LabelText = (String, Vec<String>);

/// What the flags of a cable say.
struct Flag<'c> {
    /// Label: the conductor, of several in one jacket the circuit.
    id: String,
    /// "+", "−"; "L, N, PE" of a jacket.
    polarity: String,
    /// Its first conductor.
    conductor: &'c Conductor,
    figures: &'c ConductorFigures,
}

impl Flag<'_> {
    /// What a flag says below the id.
    fn facts(&self, build: &Build<'_>) -> Vec<String> {
        let size = self.figures.size.map_or_else(String::new, |size| size.to_string());
        // The flag may tell where it no longer leads.
        let mark = if build.site.has_conductor(self.conductor) { "Δ " } else { "" };
        let size = format!("{mark}{size}");
        vec![size, self.conductor.from.show(build), format!("→ {}", self.conductor.to.show(build))]
    }
}

/// The cables that have flags. The vehicle's own keep the labels of its maker.
fn flagged<'c>(context: &'c Context<'_>) -> Vec<Flag<'c>> {
    let mut flags: Vec<Flag<'c>> = Vec::new();
    for conductor in context.build.wiring.conductors.values() {
        let Some(figures) = context.electrical.conductors.get(&conductor.id) else { continue };
        let sign = conductor.carries.sign();
        match flags.iter_mut().rev().find(|flag| flag.conductor.cable == conductor.cable) {
            Some(flag) => {
                flag.conductor.flag(true).clone_into(&mut flag.id);
                flag.polarity = format!("{}, {sign}", flag.polarity);
            }
            None => flags.push(Flag { id: conductor.id.clone(), polarity: sign.to_owned(), conductor, figures }),
        }
    }
    flags
}

fn wires(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    // Those of cables that this job leaves alone are there.
    let mut flags = flagged(context);
    flags.retain(|flag| is_worked_on(build, flag.conductor));
    let grid = Grid { cell: FLAG, columns: 2 };
    let pages: Vec<_> = flags.chunks(grid.rows()).collect();
    let page = |(at, flags): (usize, &&[Flag<'_>])| {
        let mut canvas = grid.sheet(flags.len() * 2);
        for (row, one) in flags.iter().enumerate() {
            for column in 0..2 {
                flag(&mut canvas, grid.corner(column, row), one, &one.facts(build));
            }
        }
        let title = format!("Wire labels{}", numbered(at, pages.len()));
        let ids: Vec<String> = flags.iter().map(|flag| format!("{} {}", flag.id, flag.polarity)).collect();
        let description =
            format!("Flags to cut out, two for each cable, one for each of its ends: {}.", ids.join("; "));
        finish(&canvas, WIRES, at, &title, &description)
    };
    pages.iter().enumerate().map(page).collect()
}

fn finish(canvas: &Canvas, about: &str, at: usize, title: &str, description: &str) -> Drawing {
    let tail = format!("{about}-{}", at + 1);
    Drawing::finish(canvas, Subject::Labels, &tail, about, title, description).at_true_size()
}

/// A flag: the same on both faces, folded in the middle round the cable.
fn flag(canvas: &mut Canvas, corner: (f64, f64), flag: &Flag<'_>, facts: &[String]) {
    let fold = corner.0 + FLAG.0 / 2.0;
    canvas.line((fold, corner.1 + 2.0), (fold, corner.1 + FLAG.1 - 2.0), Pen::of(0.25).grey(0.4).dash(Dash::Dotted));
    for left in [corner.0, corner.0 + FLAG.0 - FACE] {
        face(canvas, (left + PAD, corner.1), FACE - 2.0 * PAD, (&flag.id, &flag.polarity), facts);
    }
}

/// The id as large as it goes, never cut, and the polarity at the edge; below them the facts. Of a sheathed cable the
/// polarities stand before the facts: they would take the room of the id.
fn face(canvas: &mut Canvas, at: (f64, f64), whole: f64, (id, polarity): (&str, &str), facts: &[String]) {
    let (sign, several) = if polarity.contains(',') { ("", polarity) } else { (polarity, "") };
    let room = whole - letters::width(sign, SIGN, Weight::Semibold) - PAD / 4.0;
    let facts: Vec<String> = [several.to_owned()].into_iter().chain(facts.iter().cloned()).collect();
    let sizes = [3.2, 2.9, 2.6, SMALL];
    let fits = |size: &&f64| letters::width(id, **size, Weight::Semibold) <= room;
    let size = sizes.iter().find(fits).copied().unwrap_or(SMALL);
    let head = broken(id, size, room);
    let lines = head.len() + facts.iter().filter(|f| !f.is_empty()).count();
    let pitch = ((FLAG.1 - 2.4) / real(lines)).min(3.0);
    let mut base = at.1 + (FLAG.1 - pitch * real(lines)) / 2.0 + pitch * 0.74;
    if !sign.is_empty() {
        canvas.text((at.0 + whole, base), sign, Type::of(SIGN).bold().end());
    }
    for line in &head {
        canvas.text((at.0, base), line, Type::of(size).bold());
        base += pitch;
    }
    for fact in facts.iter().filter(|f| !f.is_empty()) {
        let small = SMALL.min(pitch * 0.9);
        canvas.text((at.0, base), &letters::fitted(fact, small, Weight::Regular, whole), Type::of(small));
        base += pitch;
    }
}

/// An id in as many lines as it needs.
fn broken(id: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    for c in id.chars() {
        let longer = lines.last().map(|l| format!("{l}{c}")).unwrap_or_default();
        let fits = letters::width(&longer, size, Weight::Semibold) <= room;
        match lines.last_mut().filter(|_| fits) {
            Some(line) => *line = longer,
            None => lines.push(c.to_string()),
        }
    }
    lines
}

fn equipment(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let parts: Vec<_> = build.parts.values().filter(|p| is_labelled(p) && p.is_worked_on()).collect();
    let grid = Grid { cell: PLATE, columns: 3 };
    let pages: Vec<_> = parts.chunks(grid.rows() * grid.columns).collect();
    let page = |(at, parts): (usize, &&[&Part<'_>])| {
        let mut canvas = grid.sheet(parts.len());
        for (i, part) in parts.iter().enumerate() {
            plate(&mut canvas, grid.corner(i % grid.columns, i / grid.columns), context, part);
        }
        let title = format!("Equipment labels{}", numbered(at, pages.len()));
        let names: Vec<&str> = parts.iter().map(|p| p.name.as_str()).collect();
        let description = format!(
            "Labels to cut out, each with a QR symbol that holds the id and the section of the manual: {}.",
            names.join(", ")
        );
        finish(&canvas, EQUIPMENT, at, &title, &description)
    };
    pages.iter().enumerate().map(page).collect()
}

/// What gets a label: whatever protects, switches, stores or makes electricity, what works the water, and what has a
/// serial number. A label would give away a hidden switch.
fn is_labelled(part: &Part<'_>) -> bool {
    use PlumbingRole as P;
    let vehicle = part.role() == Some(Role::StartBattery)
        || part.role() == Some(Role::Alternator) && part.electric().is_some_and(|e| e.network == Network::Start);
    let electric = part.role().is_some_and(|r| !matches!(r, Role::Load | Role::Display | Role::Outlet));
    let water = part.kind.plumbing.as_ref().is_some_and(|p| {
        matches!(
            p.role,
            P::FreshTank
                | P::GreyTank
                | P::Pump
                | P::Heater
                | P::Filter
                | P::MotorValve
                | P::HandValve
                | P::DrainValve
                | P::WinterPort
        )
    });
    (electric || water || part.common.serial_expected.is_set()) && !vehicle && !part.confidential
}

/// What the QR symbol of a part says: its id, and the heading of the owner's manual that it stands under.
#[must_use]
pub fn symbol_text(build: &Build<'_>, part: &Part<'_>) -> String {
    let alike = build.parts.values().filter(|p| p.kind.group == part.kind.group).count();
    let heading = if alike == 1 { part.name.clone() } else { format!("{} ({alike})", part.kind.name) };
    format!("{}\nOwner's manual: {heading}", part.id)
}

/// The QR symbol for a text in the middle of a square, quiet zone included; a text too long for modules that read
/// well leaves the id alone, and an id too long for them leaves the square white.
pub(super) fn symbol(canvas: &mut Canvas, square: Area, text: &str, id: &str) {
    let fit = |text: &str| Some((square.width() / qr::modules(text)? * 100.0).floor() / 100.0).filter(|m| *m >= MODULE);
    let Some((text, module)) = [text, id].into_iter().find_map(|t| Some((t, fit(t)?.min(0.6)))) else { return };
    let side = qr::modules(text).unwrap_or(0.0) * module;
    let at = (square.left + (square.width() - side) / 2.0, square.top + (square.height() - side) / 2.0);
    if let Some((path, area)) = qr::path(text, at, module) {
        canvas.path(&path, Pen::NONE, Fill::Grey(0.0));
        canvas.mark(area);
    }
}

fn plate(canvas: &mut Canvas, corner: (f64, f64), context: &Context<'_>, part: &Part<'_>) {
    // The quiet zone keeps the symbol off the cut.
    let square = Area::at(corner.0, corner.1 + (PLATE.1 - SYMBOL) / 2.0, SYMBOL, SYMBOL);
    symbol(canvas, square, &symbol_text(context.build, part), &part.id);
    let area = Area::at(corner.0 + SYMBOL, corner.1, PLATE.0 - SYMBOL, PLATE.1);
    let room = area.width() - PAD;
    let mut lines: Vec<(String, f64, bool)> = Vec::new();
    let name = letters::lines(&part.name, 3.0, Weight::Semibold, room);
    let few = if name.len() > 3 { [&name[..2], &[format!("{}…", name[2])]].concat() } else { name };
    lines.extend(few.into_iter().map(|l| (letters::fitted(&l, 3.0, Weight::Semibold, room), 3.0, true)));
    lines.extend(broken_plain(&part.id, room).into_iter().map(|l| (l, SMALL, false)));
    for fact in supply(context, part) {
        lines.push((letters::fitted(&fact, SMALL, Weight::Regular, room), SMALL, false));
    }
    let high: f64 = lines.iter().map(|(_, size, _)| size * 1.22).sum();
    let mut base = area.top + (area.height() - high) / 2.0;
    for (line, size, bold) in &lines {
        base += size * 1.22;
        let style = Type::of(*size);
        canvas.text((area.left, base - size * 0.3), line, if *bold { style.bold() } else { style });
    }
}

/// An id in lines of small plain letters.
fn broken_plain(id: &str, room: f64) -> Vec<String> {
    broken(id, SMALL * 1.05, room)
}

/// What feeds a part and what protects it, line by line.
fn supply(context: &Context<'_>, part: &Part<'_>) -> Vec<String> {
    let Some(circuit) = context.build.arriving(&part.id).find(|c| c.feeding == Feeding::Supply) else {
        return Vec::new();
    };
    let from = context.build.name(&circuit.from);
    let fed = circuit.way.map_or_else(|| format!("from {from}"), |w| format!("way {w}, {from}"));
    let device = context.electrical.circuits.get(&circuit.id).map(|f| f.device.show());
    [Some(fed), device].into_iter().flatten().filter(|t| !t.is_empty()).collect()
}
