//! Rows of a hub: sources on its left, what it feeds on its right, drawn in cells of one circuit and one part each.

use super::net::{Chain, Hub};
use super::refs::Refs;
use super::words::{self, LEADING, NAME, SMALL, Words};
use crate::drawings::Context;
use crate::drawings::area::Area;
use crate::drawings::canvas::{Canvas, Fill, Pen, Type};
use crate::drawings::letters::{Weight, wrapped};
use crate::drawings::symbols::{HALF, Standard, Symbol};
use crate::kinds::Role;

/// Left and right rim of a sheet, mm.
pub(super) const LEFT: f64 = 1.0;
/// Right rim of a sheet, mm.
pub(super) const RIGHT: f64 = 175.0;

/// Lines of circuits.
pub(super) const WIRE: Pen = Pen::of(0.35);

/// Width of a cell on the left, and the least on the right, mm.
const CELL: f64 = 29.0;

/// From the line to the last baseline above it: clear of the device's symbol.
const ABOVE: f64 = 2.9;

/// From the line to the baseline of a name above a symbol.
const OVER_SYMBOL: f64 = 5.3;

/// From the line to the first baseline below it.
const BELOW: f64 = 3.7;

/// Rim around a wire label.
const FRAME: f64 = 0.55;

/// From a bar or symbol to the texts right of it.
const INSET: f64 = 1.8;

/// The same behind the number of a way.
const BESIDE_WAY: f64 = 7.2;

/// From a symbol to the texts right of it, where it stands before its line.
const NEAR: f64 = 0.9;

/// A circuit, and the part at its outer end.
#[derive(Clone, Debug)]
struct Cell {
    words: Words,
    outward: bool,
    device: Vec<String>,
    below: Vec<String>,
    label: Vec<String>,
    name: Vec<String>,
    rating: Vec<String>,
    way: String,
    leads: (bool, bool),
    inset: f64,
    symbol: Symbol,
    at_far_end: bool,
}

/// Where a line comes in that is drawn elsewhere.
#[derive(Clone, Debug)]
struct Stub {
    lines: Vec<String>,
}

/// A row.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    left: Vec<Cell>,
    stub: Option<Stub>,
    right: Vec<Cell>,
}

/// A hub ready to be drawn.
#[derive(Clone, Debug)]
pub(super) struct Rows {
    /// Head: name, then what else there is to say.
    pub(super) head: (String, String),
    /// Its rows.
    pub(super) lines: Vec<Row>,
    bar: f64,
    half: f64,
    wide: f64,
    symbol: Symbol,
}

/// Height of a head with the room below it, mm.
pub(super) const HEAD: f64 = 4.8;

/// Room between rows, mm.
const GAP: f64 = 1.5;

impl Rows {
    /// The rows of `hub` with the chains that are drawn here.
    pub(super) fn of(context: &Context<'_>, hub: &Hub<'_>, with_right: bool, refs: &Refs<'_>) -> Self {
        let part = context.build.parts.get(hub.id);
        let role = part.and_then(crate::build::Part::role);
        let right: &[Chain<'_>] = if with_right { &hub.right } else { &[] };
        let half: f64 = if role == Some(Role::Bus) || hub.small { 0.0 } else { 6.0 };
        let longest = |chains: &[Chain<'_>]| chains.iter().map(|c| c.circuits.len()).max().unwrap_or(0);
        let columns = longest(&hub.left).max(usize::from(!hub.fed.is_empty()));
        let bar = LEFT + CELL * count(columns) + if columns == 0 { half.max(1.5) } else { half };
        let wide = (RIGHT - bar - half) / count(longest(right).max(1));
        let mut rows: Vec<Row> = Vec::new();
        let mut row_at = |at: usize, fill: &mut dyn FnMut(&mut Row)| {
            if rows.len() <= at {
                rows.resize(at + 1, Row::default());
            }
            if let Some(row) = rows.get_mut(at) {
                fill(row);
            }
        };
        for (at, chain) in hub.left.iter().enumerate() {
            row_at(at, &mut |row| row.left = left_cells(context, chain, refs));
        }
        for (at, (from, circuit)) in hub.fed.iter().enumerate() {
            let way = circuit.way.filter(|_| circuit.from == *from).map_or_else(String::new, |w| format!("way {w} "));
            let text = format!("from {}", context.build.name(from));
            let mut lines = wrapped(&text, SMALL, Weight::Regular, CELL - 2.0, 2);
            lines.push(format!("{way}{}", refs.show(from).unwrap_or_default()));
            row_at(hub.left.len() + at, &mut |row| row.stub = Some(Stub { lines: lines.clone() }));
        }
        for (at, chain) in right.iter().enumerate() {
            row_at(at, &mut |row| row.right = right_cells(context, chain, refs, wide));
        }
        let head = head(context, hub.id, if with_right { None } else { refs.show(hub.id) });
        Self { head, lines: rows, bar, half, wide, symbol: part.map_or(Symbol::Load, Symbol::of) }
    }

    /// Height of a row with the room below it, mm.
    pub(super) fn height(&self, at: usize) -> f64 {
        self.lines.get(at).map_or(0.0, |row| row.above() + row.below() + GAP)
    }

    /// Draws some rows below `top`; gives where they end.
    pub(super) fn draw(&self, canvas: &mut Canvas, standard: Standard, top: f64, range: std::ops::Range<usize>) -> f64 {
        let mut at = top;
        let mut joints = (Vec::new(), Vec::new());
        for row in self.lines.get(range).unwrap_or_default() {
            let line = at + row.above();
            self.draw_row(canvas, standard, row, line);
            if !row.left.is_empty() || row.stub.is_some() {
                joints.0.push(line);
            }
            if !row.right.is_empty() {
                joints.1.push(line);
            }
            at = line + row.below() + GAP;
        }
        let all: Vec<f64> = joints.0.iter().chain(&joints.1).copied().collect();
        let first = all.iter().copied().fold(f64::INFINITY, f64::min);
        let last = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if first > last {
            return at;
        }
        if self.half > 0.0 {
            let area =
                Area { left: self.bar - self.half, top: first - 4.8, right: self.bar + self.half, bottom: last + 4.8 };
            canvas.rect(area, 0.8, WIRE, Fill::None);
            self.symbol.draw(canvas, standard, (self.bar, f64::midpoint(first, last)), (false, false));
        } else {
            canvas.line((self.bar, first - 3.0), (self.bar, last + 3.0), Pen::of(1.4));
            for y in all {
                canvas.circle((self.bar, y), 0.75, Pen::NONE, Fill::Grey(0.0));
            }
        }
        at
    }

    fn draw_row(&self, canvas: &mut Canvas, standard: Standard, row: &Row, line: f64) {
        let inner = self.bar - self.half;
        let mut x = inner - CELL * count(row.left.len());
        for cell in &row.left {
            cell.draw(canvas, standard, (x, x + CELL), line);
            x += CELL;
        }
        if let Some(stub) = &row.stub {
            canvas.line((inner - CELL + 1.0, line), (inner, line), WIRE);
            let tip = inner - 1.2;
            canvas.polygon(
                &[(tip, line), (tip - 2.0, line - 0.8), (tip - 2.0, line + 0.8)],
                Pen::NONE,
                Fill::Grey(0.0),
            );
            stack_up(canvas, &stub.lines, (inner - CELL + 1.0, line - 1.4), Type::of(SMALL));
        }
        let outer = self.bar + self.half;
        for (at, cell) in row.right.iter().enumerate() {
            let from = outer + self.wide * count(at);
            let is_last = at + 1 == row.right.len();
            let columns = ((RIGHT - outer) / self.wide).round();
            let to = if is_last { outer + self.wide * columns.max(1.0) } else { from + self.wide };
            cell.draw(canvas, standard, (from, to.min(RIGHT)), line);
        }
    }

    /// The symbols on it.
    pub(super) fn symbols(&self) -> impl Iterator<Item = Symbol> + '_ {
        let cells = self.lines.iter().flat_map(|r| r.left.iter().chain(&r.right));
        cells.flat_map(|c| [Some(c.symbol), c.words.symbol]).flatten().chain([if self.half > 0.0 {
            self.symbol
        } else {
            Symbol::Bus
        }])
    }
}

/// Name of a hub, and what else its head says.
pub(super) fn head(context: &Context<'_>, id: &str, reference: Option<String>) -> (String, String) {
    let rating = context.build.parts.get(id).map(|p| words::rating(context, p)).unwrap_or_default();
    let told = [rating, words::place(context, id), reference.unwrap_or_default()];
    let told: Vec<_> = told.into_iter().filter(|t| !t.is_empty()).collect();
    (words::name(context, id), told.join(" · "))
}

impl Row {
    fn cells(&self) -> impl Iterator<Item = &Cell> {
        self.left.iter().chain(&self.right)
    }

    fn above(&self) -> f64 {
        let stub = self.stub.as_ref().map_or(0.0, |s| 1.4 + LEADING * count(s.lines.len()));
        self.cells().map(Cell::above).fold(stub.max(6.5), f64::max)
    }

    fn below(&self) -> f64 {
        let least = if self.stub.is_some() { 5.0 } else { 2.0 };
        self.cells().map(Cell::below).fold(least, f64::max)
    }
}

fn cell(
    context: &Context<'_>,
    circuit: &crate::build::Circuit,
    part: &str,
    room: f64,
    inset: f64,
    refs: &Refs<'_>,
) -> Cell {
    let words = words::of(context, circuit);
    let texts = room - HALF * 2.0 - inset - 0.4;
    let fit = |text: &str, most| wrapped(text, SMALL, Weight::Regular, texts, most);
    let mut below = words::together(&words.conductor, texts);
    below.extend(words::together(&words.told, texts));
    if !words.switch.is_empty() {
        below.extend(fit(&format!("switch: {}", words.switch), 2));
    }
    let known = context.build.parts.get(part);
    let rating = known.map(|p| words::rating(context, p)).filter(|r| !r.is_empty());
    let rating = rating.into_iter().chain(refs.show(part)).collect::<Vec<_>>().join("  ");
    Cell {
        outward: circuit.feeding == crate::build::Feeding::Output,
        device: fit(&words.device, 2),
        below,
        label: wrapped(&words.label, SMALL, Weight::Regular, room - 2.4, 2),
        name: wrapped(&words::name(context, part), NAME, Weight::Semibold, room - 1.5, 2),
        rating: wrapped(&rating, SMALL, Weight::Regular, room - 1.5, 2),
        way: circuit.way.map_or_else(String::new, |w| w.to_string()),
        leads: (true, true),
        inset,
        symbol: known.map_or(Symbol::Load, Symbol::of),
        at_far_end: false,
        words,
    }
}

fn left_cells(context: &Context<'_>, chain: &Chain<'_>, refs: &Refs<'_>) -> Vec<Cell> {
    let one = |(at, c): (usize, &&crate::build::Circuit)| Cell {
        leads: (at > 0, true),
        ..cell(context, c, &c.from, CELL, NEAR, refs)
    };
    chain.circuits.iter().enumerate().map(one).collect()
}

fn right_cells(context: &Context<'_>, chain: &Chain<'_>, refs: &Refs<'_>, wide: f64) -> Vec<Cell> {
    let last = chain.circuits.len();
    let one = |(at, c): (usize, &&crate::build::Circuit)| Cell {
        at_far_end: true,
        leads: (true, at + 1 < last),
        ..cell(context, c, &c.to, wide, if c.way.is_some() { BESIDE_WAY } else { INSET }, refs)
    };
    chain.circuits.iter().enumerate().map(one).collect()
}

impl Cell {
    /// Baseline of the lowest line of the name and rating, from the line up.
    fn name_base(&self) -> f64 {
        let device = if self.device.is_empty() { 0.0 } else { ABOVE + LEADING * count(self.device.len()) };
        device.max(OVER_SYMBOL)
    }

    fn above(&self) -> f64 {
        self.name_base() + LEADING * count(self.name.len() + self.rating.len()) - LEADING + NAME * 0.75
    }

    fn texts_end(&self) -> f64 {
        (BELOW - LEADING + LEADING * count(self.below.len()) + 0.5).max(HALF + 0.4)
    }

    fn below(&self) -> f64 {
        let label = count(self.label.len()) * LEADING + FRAME * 2.0 + 0.1;
        self.texts_end() + label
    }

    /// Draws the cell from `x.0` to `x.1` along the line.
    fn draw(&self, canvas: &mut Canvas, standard: Standard, x: (f64, f64), line: f64) {
        let part = if self.at_far_end { x.1 - HALF } else { x.0 + HALF };
        let wire = if self.at_far_end { (x.0, x.1 - 2.0 * HALF) } else { (x.0 + 2.0 * HALF, x.1) };
        self.wire(canvas, standard, wire, line);
        self.symbol.draw(canvas, standard, (part, line), self.leads);
        let texts = wire.0 + self.inset;
        if self.outward && !self.at_far_end {
            stack_up(canvas, &self.device, (wire.1 - INSET, line - ABOVE), Type::of(SMALL).end());
        } else {
            stack_up(canvas, &self.device, (texts, line - ABOVE), Type::of(SMALL));
        }
        for (at, text) in self.below.iter().enumerate() {
            canvas.text((texts, line + BELOW + LEADING * count(at)), text, Type::of(SMALL));
        }
        let (edge, style) = if self.at_far_end { (x.1, Type::of(NAME).end()) } else { (x.0, Type::of(NAME)) };
        let base = line - self.name_base();
        stack_up(canvas, &self.name, (edge, base - LEADING * count(self.rating.len())), style.bold());
        stack_up(canvas, &self.rating, (edge, base), Type { size: SMALL, ..style });
        let below = line + self.texts_end() + LEADING;
        tag(canvas, &self.label, (if self.at_far_end { texts + FRAME } else { x.0 + FRAME }, below));
    }

    fn wire(&self, canvas: &mut Canvas, standard: Standard, wire: (f64, f64), line: f64) {
        let number = wire.0 + INSET + 2.2;
        let from = if self.way.is_empty() || !self.at_far_end { wire.0 } else { number + 2.2 };
        if from > wire.0 {
            canvas.line((wire.0, line), (from - 4.4, line), WIRE);
            canvas.circle((number, line), 2.2, Pen::of(0.25), Fill::None);
            canvas.text((number, line + 0.85), &self.way, Type::of(NAME).bold().middle());
        }
        let wire = (from, wire.1);
        let Some(symbol) = self.words.symbol else {
            canvas.line((wire.0, line), (wire.1, line), WIRE);
            return;
        };
        // A charger's output is fused at the busbar, all else at its source.
        let at = if self.outward { wire.1 - HALF - 1.0 } else { from + HALF + 1.0 };
        canvas.line((wire.0, line), (at - HALF, line), WIRE);
        symbol.draw(canvas, standard, (at, line), (true, true));
        canvas.line((at + HALF, line), (wire.1, line), WIRE);
    }
}

/// Lines of text, the last with its baseline at the point.
pub(super) fn stack_up(canvas: &mut Canvas, lines: &[String], at: (f64, f64), style: Type) {
    for (down, text) in lines.iter().enumerate() {
        canvas.text((at.0, at.1 - LEADING * count(lines.len() - 1 - down)), text, style);
    }
}

/// A wire label in its frame, the first line with its baseline at the point.
pub(super) fn tag(canvas: &mut Canvas, lines: &[String], at: (f64, f64)) {
    let mut frame: Option<Area> = None;
    for (down, text) in lines.iter().enumerate() {
        let area = canvas.text((at.0, at.1 + LEADING * count(down)), text, Type::of(SMALL));
        let so_far = frame.unwrap_or(area);
        frame = Some(Area { right: so_far.right.max(area.right), bottom: area.bottom, ..so_far });
    }
    if let Some(area) = frame {
        canvas.rect(area.grown(FRAME), 0.7, Pen::of(0.18), Fill::None);
    }
}

/// A count as a factor.
#[expect(clippy::cast_precision_loss, reason = "counts of lines and cells are small")]
pub(super) fn count(n: usize) -> f64 {
    n as f64
}
