//! From the pump to the outlets: one row for each pipe, from an upright line for what it comes from to what it ends at.

use super::trunk::{is_suction, pipe_ground, pipe_words};
use super::{COLD, HOT, ID, JOINED, OUTSIDE, Plan, arrow, block, bubbles, bubbles_width, role_of, symbols};
use crate::build::Part;
use crate::drawings::canvas::{Area, Canvas, Fill, Pen, Type};
use crate::drawings::letters::{self, Weight};
use crate::kinds::PlumbingRole;
use std::collections::BTreeMap;
use std::ops::Range;

/// Across the sheet, mm: the upright line of the pump; words of pipes to a heater, its symbol, its words; upright lines
/// of heaters and tees; words of pipes to an outlet, where they come together, its symbol, its words.
const ROOT: f64 = 7.0;
const MID_WORDS: (f64, f64) = (11.0, 44.0);
const MID: f64 = 52.0;
const MID_LABEL: (f64, f64) = (59.5, 87.0);
const SLOTS: (f64, f64) = (89.5, 97.0);
const WORDS: (f64, f64) = (99.5, 131.0);
const JOIN: f64 = 133.5;
const OUT: f64 = 141.0;
const OUT_LABEL: (f64, f64) = (147.0, 176.0);

/// From row to row, mm.
const ROW: f64 = 10.5;

/// What the letters at a storage heater mean, a line each.
const FITTINGS: &[&str] = &["N non-return, B by-pass,", "D drain, R relief to outside"];

/// What a row of pipe comes from.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Source<'a> {
    Root,
    Part(&'a str),
}

struct Row<'a> {
    pipe: Option<&'a Part<'a>>,
    from: Source<'a>,
    hot: bool,
}

enum Target<'a> {
    /// A heater, or a filter with pipes of its own.
    Mid(&'a Part<'a>),
    /// A filter on the way of all cold water.
    Inline(&'a Part<'a>),
    Outlet(&'a Part<'a>),
    /// Something that is no part of the water system.
    End(String),
}

/// What rows lead to.
pub(super) struct Block<'a> {
    target: Target<'a>,
    rows: Vec<Row<'a>>,
}

/// All of it.
pub(super) struct Flow<'a> {
    /// From above.
    pub(super) blocks: Vec<Block<'a>>,
    /// The pipe that leads from the pump to all the others, where there is such a one.
    pub(super) main: Option<&'a Part<'a>>,
    /// Pipes that are on no line.
    pub(super) loose: Vec<&'a Part<'a>>,
    slots: BTreeMap<&'a str, f64>,
}

impl<'a> Flow<'a> {
    pub(super) fn of(plan: &Plan<'a>) -> Self {
        let role_at = |id: Option<&str>| id.and_then(|id| plan.part(id)).and_then(role_of);
        let (mut pipes, mut loose) = (Vec::new(), Vec::new());
        for pipe in plan.of_role(PlumbingRole::Pipe).filter(|p| !is_suction(plan, p)) {
            let medium = pipe.roles.medium().text();
            let from_city = role_at(pipe.roles.from().first()) == Some(PlumbingRole::CityInlet);
            let to_a_user = matches!(
                role_at(pipe.roles.to().first()),
                Some(PlumbingRole::Outlet | PlumbingRole::Heater | PlumbingRole::Filter)
            );
            match medium {
                Some("waste") => {}
                Some("cold" | "hot") if !from_city || to_a_user => pipes.push(pipe),
                _ => loose.push(pipe),
            }
        }
        let touches =
            |id: &str| pipes.iter().any(|p| p.roles.from().first() == Some(id) || p.roles.to().first() == Some(id));
        let (connected, inline): (Vec<_>, Vec<_>) = plan.of_role(PlumbingRole::Filter).partition(|f| touches(&f.id));
        let mids: Vec<_> = plan.of_role(PlumbingRole::Heater).chain(connected).collect();
        let main = main_pipe(plan, &pipes);
        pipes.retain(|p| main.is_none_or(|m| m.id != p.id));
        let tees = pipes.iter().filter(|p| pipes.iter().any(|o| o.roles.from().first() == Some(p.id.as_str())));
        let upright: Vec<&str> = mids.iter().chain(tees).map(|p| p.id.as_str()).collect();
        #[expect(clippy::cast_precision_loss, reason = "a few lines")]
        let gap = ((SLOTS.1 - SLOTS.0) / upright.len().saturating_sub(1).max(1) as f64).min(3.0);
        #[expect(clippy::cast_precision_loss, reason = "a few lines")]
        let slots = upright.iter().enumerate().map(|(i, id)| (*id, (i as f64).mul_add(gap, SLOTS.0))).collect();
        let first_heater = plan.of_role(PlumbingRole::Heater).next();
        let row = |pipe: &'a Part<'a>| {
            let hot = pipe.roles.medium().is("hot");
            let known = pipe.roles.from().first().filter(|id| upright.contains(id) && *id != pipe.id);
            let heater = first_heater.filter(|_| hot).map(|h| h.id.as_str());
            Row { pipe: Some(pipe), from: known.or(heater).map_or(Source::Root, Source::Part), hot }
        };
        let to = |id: &str| {
            let mut rows: Vec<_> = pipes.iter().filter(|p| p.roles.to().first() == Some(id)).map(|p| row(p)).collect();
            rows.sort_by_key(|r| r.hot);
            rows
        };
        let mut blocks = Vec::new();
        for mid in &mids {
            let mut rows = to(&mid.id);
            if rows.is_empty() {
                rows.push(Row { pipe: None, from: Source::Root, hot: false });
            }
            blocks.push(Block { target: Target::Mid(mid), rows });
        }
        blocks.extend(inline.into_iter().map(|f| Block { target: Target::Inline(f), rows: Vec::new() }));
        let outlets: Vec<_> = plan.of_role(PlumbingRole::Outlet).collect();
        blocks.extend(outlets.iter().map(|o| Block { target: Target::Outlet(o), rows: to(&o.id) }));
        let users: Vec<&str> = mids.iter().chain(&outlets).map(|p| p.id.as_str()).collect();
        let ends = pipes.iter().filter(|p| p.roles.to().first().is_none_or(|id| !users.contains(&id)));
        blocks.extend(ends.map(|pipe| {
            let tee = upright.contains(&pipe.id.as_str());
            let end = pipe.roles.to().first().map(|id| plan.context.build.name(id).to_owned());
            let words = if tee { String::new() } else { "end not named".to_owned() };
            Block { target: Target::End(end.unwrap_or(words)), rows: vec![row(pipe)] }
        }));
        Self { blocks, main, loose, slots }
    }

    fn x_of(&self, source: &Source<'a>) -> f64 {
        match source {
            Source::Root => ROOT,
            Source::Part(id) => self.slots.get(id).copied().unwrap_or(ROOT),
        }
    }

    /// Draws some of the blocks below `top`.
    pub(super) fn draw(&self, canvas: &mut Canvas, plan: &Plan<'_>, range: Range<usize>, top: f64) {
        let (blocks, later) = (&self.blocks[range.clone()], &self.blocks[range.end..]);
        let mut y = top;
        let placed: Vec<(&Block<'a>, f64)> = blocks
            .iter()
            .map(|b| {
                let own = y;
                y += b.height();
                (b, own)
            })
            .collect();
        let spans = self.spans(&placed, later, (top, y));
        for (x, (from, to, hot)) in &spans {
            if to - from > 0.1 {
                canvas.line((x.0, *from), (x.0, *to), if *hot { HOT } else { COLD });
            }
        }
        for (block, top) in &placed {
            self.block(canvas, plan, block, *top, &spans);
        }
        if let Some((x, _)) = spans.first_key_value().filter(|_| range.start > 0) {
            let (at, look) = if x.0 > SLOTS.0 - 1.0 { (x.0 - 1.5, ID.end()) } else { (x.0 + 1.5, ID) };
            canvas.text((at, top - 1.0), "from the sheet before", look);
        }
    }

    /// How far each upright line reaches on a sheet, and whether it carries hot water.
    fn spans(
        &self,
        placed: &[(&Block<'a>, f64)],
        later: &[Block<'a>],
        (top, bottom): (f64, f64),
    ) -> BTreeMap<Across, (f64, f64, bool)> {
        let mut spans: BTreeMap<Across, (f64, f64, bool)> = BTreeMap::new();
        let mut reach = |x: f64, y: f64, hot: bool| {
            let span = spans.entry(Across(x)).or_insert((y, y, false));
            *span = (span.0.min(y), span.1.max(y), span.2 || hot);
        };
        let mut begun: Vec<&str> = Vec::new();
        for (block, at) in placed {
            if let Target::Mid(mid) = block.target
                && let Some(x) = self.slots.get(mid.id.as_str())
            {
                reach(*x, block.middle(*at), role_of(mid) == Some(PlumbingRole::Heater));
                begun.push(&mid.id);
            }
            if let Target::Inline(_) = block.target {
                reach(ROOT, block.middle(*at), false);
            }
            for (row, y) in block.rows.iter().zip(block.ys(*at)) {
                if let Some((id, x)) = row.pipe.and_then(|p| Some((p.id.as_str(), self.slots.get(p.id.as_str())?))) {
                    reach(*x, y, row.hot);
                    begun.push(id);
                }
            }
        }
        for (block, at) in placed {
            for (row, y) in block.rows.iter().zip(block.ys(*at)) {
                let x = self.x_of(&row.from);
                reach(x, y, row.hot);
                // What begins on another sheet, or is the pump, comes from above.
                let here = matches!(row.from, Source::Part(id) if begun.contains(&id));
                if !here {
                    reach(x, top - 4.0, row.hot);
                }
            }
        }
        for row in later.iter().flat_map(|b| &b.rows) {
            // What goes on to another sheet leaves this one at its foot.
            if matches!(row.from, Source::Part(id) if begun.contains(&id))
                || row.from == Source::Root && !placed.is_empty()
            {
                let x = self.x_of(&row.from);
                reach(x, bottom, row.hot);
                if row.from == Source::Root {
                    reach(x, top - 4.0, row.hot);
                }
            }
        }
        spans
    }

    fn block(
        &self,
        canvas: &mut Canvas,
        plan: &Plan<'_>,
        block: &Block<'a>,
        top: f64,
        spans: &BTreeMap<Across, (f64, f64, bool)>,
    ) {
        let middle = block.middle(top);
        let ys = block.ys(top);
        let end = match block.target {
            Target::Mid(_) => MID - 5.5,
            _ if block.rows.len() > 1 => JOIN,
            _ => OUT - 4.0,
        };
        for (row, &y) in block.rows.iter().zip(&ys) {
            let words = if matches!(block.target, Target::Mid(_)) { MID_WORDS } else { WORDS };
            if let Some(pipe) = row.pipe {
                pipe_ground(canvas, plan, pipe, words, y);
            }
            let mut from = self.x_of(&row.from);
            if let (true, Source::Part(id)) = (from > end, &row.from) {
                // It comes from further right: told in words.
                from = words.0;
                canvas.text((from, y + 5.6), &format!("from {}", plan.context.build.name(id)), ID);
            }
            let pen = match (row.pipe, row.hot) {
                (None, _) => JOINED,
                (_, true) => HOT,
                (_, false) => COLD,
            };
            let own = row.pipe.and_then(|p| self.slots.get(p.id.as_str())).copied();
            // A pipe that only branches ends at its tee.
            let only_tee = matches!(&block.target, Target::End(t) if t.is_empty());
            let end = if only_tee { own.unwrap_or(end) } else { end };
            horizontal(canvas, (from, end), y, pen, own, spans);
            canvas.circle((from, y), 0.7, Pen::NONE, Fill::Grey(0.0));
            if let Some(x) = own {
                canvas.circle((x, y), 0.7, Pen::NONE, Fill::Grey(0.0));
            }
            if let Some(pipe) = row.pipe {
                pipe_words(canvas, plan, pipe, words, y);
            }
            if end > OUT - 5.0 || matches!(block.target, Target::Mid(_)) {
                arrow(canvas, (end, y), false);
            }
        }
        match &block.target {
            Target::Mid(mid) => self.mid(canvas, plan, mid, middle),
            Target::Inline(filter) => inline(canvas, plan, filter, middle),
            Target::Outlet(outlet) => {
                join(canvas, block, &ys, middle);
                end_at(canvas, plan, outlet, middle, block.rows.is_empty());
            }
            Target::End(words) => {
                let lines = letters::lines(words, 2.4, Weight::Regular, OUT_LABEL.1 - OUT);
                for (line, at) in lines.iter().take(2).zip(0_u8..) {
                    canvas.text((OUT - 2.0, f64::from(at).mul_add(2.8, middle + 0.8)), line, Type::of(2.4));
                }
            }
        }
    }

    fn mid(&self, canvas: &mut Canvas, plan: &Plan<'_>, mid: &Part<'_>, y: f64) {
        let Some(role) = role_of(mid) else { return };
        let hot = role == PlumbingRole::Heater;
        let half = symbols::half(role);
        if plan.is_outside(mid) {
            canvas.rect(Area::at(MID - 6.5, y - 7.5, MID_LABEL.1 - MID + 6.5, 25.5), 0.0, Pen::NONE, OUTSIDE);
        }
        symbols::draw(canvas, role, (MID, y));
        let fittings = hot && mid.kind.takes("relief_pressure");
        if fittings {
            symbols::heater_fittings(canvas, (MID, y), half);
        }
        if let Some(x) = self.slots.get(mid.id.as_str()) {
            canvas.line((MID + half, y), (*x, y), if hot { HOT } else { COLD });
        }
        let room = MID_LABEL.1 - MID_LABEL.0;
        let marks = plan.marks.on(&mid.id);
        bubbles(canvas, &marks, (MID - bubbles_width(&marks) / 2.0 + 0.3, y - 8.0));
        let name = super::name_of(mid);
        let lines = letters::lines(&name, 2.4, Weight::Semibold, room);
        let shown = lines.len().min(2);
        for (line, up) in lines.iter().take(2).zip((0..shown).rev()) {
            let up = f64::from(u8::try_from(up).unwrap_or(0));
            canvas.text((MID_LABEL.0, up.mul_add(-2.8, y - 1.4)), line, super::NAME);
        }
        canvas.text((MID_LABEL.0, y + 3.2), &letters::fitted(&mid.id, 2.2, Weight::Regular, room), ID);
        let detail = plan.detail(mid);
        let lines = letters::lines(&detail, 2.2, Weight::Regular, room);
        let shown = lines.len().min(3);
        let legend = if fittings { FITTINGS } else { &[] };
        let all = lines.iter().take(shown).map(String::as_str).chain(legend.iter().copied());
        for (line, at) in all.zip(0_u8..) {
            canvas.text((MID_LABEL.0, f64::from(at).mul_add(2.8, y + 6.0)), line, Type::of(2.2));
        }
    }
}

/// The first cold pipe that comes from the pump, branches, and ends at nothing itself.
fn main_pipe<'a>(plan: &Plan<'a>, pipes: &[&'a Part<'a>]) -> Option<&'a Part<'a>> {
    plan.of_role(PlumbingRole::Pump).next()?;
    let is = |pipe: &&&'a Part<'a>| {
        let from = pipe.roles.from().first().and_then(|id| plan.part(id)).and_then(role_of);
        let branches = pipes.iter().any(|o| o.roles.from().first() == Some(pipe.id.as_str()));
        let at_pump = matches!(from, Some(PlumbingRole::Pump | PlumbingRole::Accumulator));
        at_pump && branches && pipe.roles.to().first().is_none() && pipe.roles.medium().is("cold")
    };
    pipes.iter().find(is).copied()
}

/// A place across the sheet that sorts.
#[derive(Clone, Copy, PartialEq)]
struct Across(f64);

impl Eq for Across {}

impl PartialOrd for Across {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Across {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

/// A line across, with a small bridge over each upright line that it only crosses.
fn horizontal(
    canvas: &mut Canvas,
    (from, to): (f64, f64),
    y: f64,
    pen: Pen,
    own: Option<f64>,
    spans: &BTreeMap<Across, (f64, f64, bool)>,
) {
    let crossed = |x: f64, span: &(f64, f64, bool)| {
        x > from + 1.0 && x < to - 1.0 && own != Some(x) && span.0 < y - 0.2 && span.1 > y + 0.2
    };
    let mut at = from;
    for (x, _) in spans.iter().filter(|(x, span)| crossed(x.0, span)) {
        canvas.line((at, y), (x.0 - 1.0, y), pen);
        canvas.arc((x.0, y), 1.0, 180.0, 360.0, Pen::of(pen.width));
        at = x.0 + 1.0;
    }
    canvas.line((at, y), (to, y), pen);
}

/// Brings the rows of an outlet together: cold and hot in a mixing valve.
fn join(canvas: &mut Canvas, block: &Block<'_>, ys: &[f64], middle: f64) {
    if block.rows.len() < 2 {
        return;
    }
    let mixes = block.rows.iter().any(|r| r.hot) && block.rows.iter().any(|r| !r.hot);
    for (row, &y) in block.rows.iter().zip(ys) {
        let pen = if row.hot { HOT } else { COLD };
        canvas.line((JOIN, y), (JOIN, middle), pen);
    }
    if mixes {
        symbols::mixer(canvas, (JOIN, middle));
    }
    canvas.line((JOIN + if mixes { 3.2 } else { 0.0 }, middle), (OUT - 4.0, middle), JOINED);
}

fn end_at(canvas: &mut Canvas, plan: &Plan<'_>, outlet: &Part<'_>, y: f64, alone: bool) {
    if plan.is_outside(outlet) {
        canvas.rect(Area::at(OUT - 5.0, y - 5.2, OUT_LABEL.1 - OUT + 4.6, 14.0), 0.0, Pen::NONE, OUTSIDE);
    }
    symbols::draw(canvas, PlumbingRole::Outlet, (OUT, y));
    let marks = plan.marks.on(&outlet.id);
    bubbles(canvas, &marks, (OUT - 4.0, y + 5.6));
    block(canvas, plan, outlet, (OUT_LABEL.0, y - 2.2), OUT_LABEL.1 - OUT_LABEL.0 - 0.8, false);
    if alone {
        canvas.text((OUT - 6.0, y + 0.8), "no pipe named", Type::of(2.2).grey(0.25).end());
    }
}

fn inline(canvas: &mut Canvas, plan: &Plan<'_>, filter: &Part<'_>, y: f64) {
    if plan.is_outside(filter) {
        canvas.rect(Area::at(1.0, y - 5.0, 56.0, 11.0), 0.0, Pen::NONE, OUTSIDE);
    }
    symbols::draw(canvas, PlumbingRole::Filter, (ROOT, y));
    let marks = plan.marks.on(&filter.id);
    block(canvas, plan, filter, (ROOT + 6.0, y - 0.8), 44.0, false);
    bubbles(canvas, &marks, (ROOT + 51.0, y));
}

impl Block<'_> {
    /// Height it takes, mm.
    pub(super) fn height(&self) -> f64 {
        let rows = f64::from(u8::try_from(self.rows.len()).unwrap_or(u8::MAX));
        match self.target {
            Target::Mid(_) => (rows * ROW).max(30.0),
            Target::Inline(_) => 13.0,
            Target::Outlet(_) => (rows * ROW).max(14.0) + 2.5,
            Target::End(_) => ROW + 2.0,
        }
    }

    /// Heights of its rows on a sheet where it begins at `top`.
    fn ys(&self, top: f64) -> Vec<f64> {
        let first = match self.target {
            Target::Mid(_) => 10.5,
            _ => 5.5,
        };
        (0_u8..).zip(&self.rows).map(|(i, _)| f64::from(i).mul_add(ROW, top + first)).collect()
    }

    /// Height of its symbol.
    fn middle(&self, top: f64) -> f64 {
        let ys = self.ys(top);
        match (ys.first(), ys.last()) {
            (Some(a), Some(b)) => f64::midpoint(*a, *b),
            _ => top + 5.5,
        }
    }
}
