//! A panel and its ways: one line a way, its texts in columns.

use super::net::{Chain, Hub};
use super::refs::Refs;
use super::rows::{LEFT, RIGHT, WIRE, count, head, stack_up, tag};
use super::words::{self, LEADING, NAME, SMALL, Words};
use crate::drawings::Context;
use crate::drawings::canvas::{Canvas, Fill, Pen, Type};
use crate::drawings::letters::{Weight, wrapped};
use crate::drawings::symbols::{HALF, Standard, Symbol};
use crate::tables::fuse_colours;

/// The bar.
const BAR: f64 = LEFT + 1.5;
/// Middle of the way's number.
const NUMBER: f64 = 8.0;
/// Middle of the device.
const DEVICE: f64 = 16.0;
/// Where the device is told.
const FIRST: f64 = 21.5;
/// Where the conductor is told.
const SECOND: f64 = 54.0;
/// Middle of a switch or dimmer on the way.
const MIDDLE: f64 = 85.0;
/// Middle of what the way ends at.
const END: f64 = 121.0;
/// Where that is told.
const NAMES: f64 = 127.0;
/// From the line to the baselines next to it.
const ABOVE: f64 = 1.3;
const BELOW: f64 = 3.0;
/// Room between ways.
const GAP: f64 = 1.8;

/// A part on a way, and the circuit behind it.
#[derive(Clone, Debug)]
struct Between {
    symbol: Symbol,
    name: Vec<String>,
    words: Words,
    above: Vec<String>,
    below: Vec<String>,
    label: Vec<String>,
}

/// A way.
#[derive(Clone, Debug)]
struct Way {
    number: String,
    words: Words,
    device: Vec<String>,
    label: Vec<String>,
    above: Vec<String>,
    below: Vec<String>,
    between: Option<Between>,
    end: Symbol,
    name: Vec<String>,
    told: Vec<String>,
}

/// A panel ready to be drawn.
#[derive(Clone, Debug)]
pub(super) struct Ways {
    /// Head: name, then what else there is to say.
    pub(super) head: (String, String),
    /// What feeds it; which ways are free.
    pub(super) told: Vec<String>,
    lines: Vec<Way>,
}

impl Ways {
    /// The ways of the panel `hub`.
    pub(super) fn of(context: &Context<'_>, hub: &Hub<'_>, refs: &Refs<'_>) -> Self {
        let mut told: Vec<String> = hub.fed.iter().map(|(from, last)| fed(context, from, last, refs)).collect();
        told.extend(hub.left.iter().map(|c| format!("Fed from {}", context.build.name(c.from()))));
        let mut lines: Vec<String> = Vec::new();
        for line in told.iter().chain(&free(context, hub)) {
            lines.extend(wrapped(line, SMALL, Weight::Regular, RIGHT - LEFT, 2));
        }
        Self {
            head: head(context, hub.id, None),
            told: lines,
            lines: hub.right.iter().map(|chain| way(context, chain, refs)).collect(),
        }
    }

    /// How many ways.
    pub(super) fn len(&self) -> usize {
        self.lines.len()
    }

    /// Height of a way with the room below it, mm.
    pub(super) fn height(&self, at: usize) -> f64 {
        self.lines.get(at).map_or(0.0, |way| way.above() + way.below() + GAP)
    }

    /// Draws some ways below `top`; gives where they end.
    pub(super) fn draw(&self, canvas: &mut Canvas, standard: Standard, top: f64, range: std::ops::Range<usize>) -> f64 {
        let mut at = top;
        let mut lines = Vec::new();
        for way in self.lines.get(range).unwrap_or_default() {
            let line = at + way.above();
            way.draw(canvas, standard, line);
            lines.push(line);
            at = line + way.below() + GAP;
        }
        if let (Some(first), Some(last)) = (lines.first(), lines.last()) {
            canvas.line((BAR, first - 3.0), (BAR, last + 3.0), Pen::of(1.4));
            for &line in &lines {
                canvas.circle((BAR, line), 0.75, Pen::NONE, Fill::Grey(0.0));
            }
        }
        at
    }

    /// The symbols on it.
    pub(super) fn symbols(&self) -> impl Iterator<Item = Symbol> + '_ {
        let of = |w: &Way| {
            let between = w.between.as_ref().map(|b| (Some(b.symbol), b.words.symbol)).unwrap_or_default();
            [Some(w.end), w.words.symbol, between.0, between.1]
        };
        self.lines.iter().flat_map(of).flatten().chain([Symbol::Bus])
    }
}

fn fed(context: &Context<'_>, from: &str, last: &crate::build::Circuit, refs: &Refs<'_>) -> String {
    let through =
        if last.from == from { String::new() } else { format!(" through {}", context.build.name(&last.from)) };
    let way = last.way.map_or_else(String::new, |w| format!(", way {w}"));
    let sheet = refs.show(from).map_or_else(String::new, |s| format!(", {}", s.trim_start_matches("→ ")));
    format!("Fed from {}{way}{through}{sheet}", context.build.name(from))
}

/// The ways that nothing is on.
fn free(context: &Context<'_>, hub: &Hub<'_>) -> Option<String> {
    let ways = context.electrical.panels.get(hub.id)?.ways?;
    let used: Vec<u32> = hub.right.iter().filter_map(|c| c.circuits.first()?.way).collect();
    let free: Vec<String> = (1..=ways.min(200)).filter(|w| !used.contains(w)).map(|w| w.to_string()).collect();
    Some(if free.is_empty() { "No free way".to_owned() } else { format!("Free ways: {}", free.join(", ")) })
}

fn way(context: &Context<'_>, chain: &Chain<'_>, refs: &Refs<'_>) -> Way {
    let fit = |text: &str, room: f64, most| wrapped(text, SMALL, Weight::Regular, room, most);
    let mut circuits = chain.circuits.iter();
    let first = circuits.next();
    let words = first.map(|c| words::of(context, c)).unwrap_or_default();
    let second = circuits.next();
    let between = match second.zip(first) {
        Some((next, first)) => Some(part_between(context, first, next)),
        None => switch_between(&words),
    };
    let room = if between.is_some() { MIDDLE - HALF - SECOND - 1.0 } else { END - HALF - SECOND - 1.0 };
    let mut below = words::together(&words.told, room);
    if second.is_some() && !words.switch.is_empty() {
        below.extend(fit(&format!("switch: {}", words.switch), room, 2));
    }
    let end = context.build.parts.get(chain.to());
    let rating = end.map(|p| words::rating(context, p)).unwrap_or_default();
    let about = [rating, words::place(context, chain.to()), refs.show(chain.to()).unwrap_or_default()];
    let about: Vec<String> = about.into_iter().filter(|t| !t.is_empty()).collect();
    let device: Vec<&str> =
        [Some(words.device.as_str()).filter(|d| !d.is_empty()), colour(context, first)].into_iter().flatten().collect();
    let device = fit(&device.join(", "), SECOND - FIRST - 1.5, 2);
    Way {
        number: first.and_then(|c| c.way).map_or_else(String::new, |w| w.to_string()),
        device,
        label: fit(&words.label, SECOND - FIRST - 2.5, 2),
        above: words::together(&words.conductor, room),
        below,
        between,
        end: end.map_or(Symbol::Load, Symbol::of),
        name: wrapped(&words::name(context, chain.to()), NAME, Weight::Semibold, RIGHT - NAMES, 2),
        told: words::together(&about, RIGHT - NAMES),
        words,
    }
}

/// The part on a way, and the circuit that leads on from it.
fn part_between(context: &Context<'_>, first: &crate::build::Circuit, next: &crate::build::Circuit) -> Between {
    let fit = |text: &str, room: f64, most| wrapped(text, SMALL, Weight::Regular, room, most);
    let words = words::of(context, next);
    let part = context.build.parts.get(&first.to);
    let room = END - HALF - MIDDLE - HALF - 2.0;
    let mut above = fit(&words.device, room, 2);
    above.extend(words::together(&words.conductor, room));
    let mut below = words::together(&words.told, room);
    if !words.switch.is_empty() {
        below.extend(fit(&format!("switch: {}", words.switch), room, 2));
    }
    Between {
        symbol: part.map_or(Symbol::Switch, Symbol::of),
        name: wrapped(&words::name(context, &first.to), SMALL, Weight::Semibold, 56.0, 1),
        above,
        below,
        label: fit(&words.label, room, 2),
        words,
    }
}

/// The switch of a panel that stands in a way: its leg bears the label of the way.
fn switch_between(words: &Words) -> Option<Between> {
    let name = wrapped(&words.switch, SMALL, Weight::Semibold, 56.0, 1);
    let nothing = Vec::new;
    let between = || Between {
        symbol: Symbol::Switch,
        name,
        words: Words::default(),
        above: nothing(),
        below: nothing(),
        label: nothing(),
    };
    (!words.switch.is_empty()).then(between)
}

/// Colour of a blade fuse.
fn colour(context: &Context<'_>, circuit: Option<&&crate::build::Circuit>) -> Option<&'static str> {
    let device = &context.electrical.circuits.get(&circuit?.id)?.device;
    Some(fuse_colours::colour(device.family?, device.rating.filter(|_| device.is_own())?)?.name)
}

fn stack_down(canvas: &mut Canvas, lines: &[String], at: (f64, f64)) {
    for (down, text) in lines.iter().enumerate() {
        canvas.text((at.0, at.1 + LEADING * count(down)), text, Type::of(SMALL));
    }
}

impl Way {
    fn above(&self) -> f64 {
        let stack = |n: usize| if n == 0 { 0.0 } else { ABOVE + LEADING * count(n) };
        let between = self.between.as_ref().map_or(0.0, |b| b.name_base(self) + LEADING * count(b.name.len()));
        let names = LEADING * count(self.name.len() + self.told.len()) / 2.0 + 0.4;
        let own = stack(self.device.len()).max(stack(self.above.len()));
        own.max(between).max(names).max(3.6)
    }

    fn below(&self) -> f64 {
        let stack = |n: usize| if n == 0 { 0.0 } else { BELOW - LEADING + LEADING * count(n) + 0.5 };
        let names = LEADING * count(self.name.len() + self.told.len()) / 2.0 + 0.4;
        let between = self.between.as_ref().map_or(0.0, |b| stack(b.label.len() + b.below.len()) + 1.2);
        (stack(self.label.len()) + 0.8).max(stack(self.below.len())).max(between).max(names).max(3.6)
    }

    fn draw(&self, canvas: &mut Canvas, standard: Standard, line: f64) {
        let mut at = BAR;
        if !self.number.is_empty() {
            canvas.line((at, line), (NUMBER - 2.2, line), WIRE);
            canvas.circle((NUMBER, line), 2.2, Pen::of(0.25), Fill::None);
            canvas.text((NUMBER, line + 0.85), &self.number, Type::of(NAME).bold().middle());
            at = NUMBER + 2.2;
        }
        if let Some(symbol) = self.words.symbol {
            canvas.line((at, line), (DEVICE - HALF, line), WIRE);
            symbol.draw(canvas, standard, (DEVICE, line), (true, true));
            at = DEVICE + HALF;
        }
        stack_up(canvas, &self.device, (FIRST, line - ABOVE), Type::of(SMALL));
        tag(canvas, &self.label, (FIRST + 0.6, line + BELOW + 0.3));
        stack_up(canvas, &self.above, (SECOND, line - ABOVE), Type::of(SMALL));
        stack_down(canvas, &self.below, (SECOND, line + BELOW));
        if let Some(between) = &self.between {
            canvas.line((at, line), (MIDDLE - HALF, line), WIRE);
            between.draw(canvas, standard, line, self);
            at = MIDDLE + HALF;
        }
        let inner = self.between.as_ref().and_then(|b| b.words.symbol);
        if let Some(symbol) = inner {
            canvas.line((at, line), (at + 1.0, line), WIRE);
            symbol.draw(canvas, standard, (at + 1.0 + HALF, line), (true, true));
            at += 1.0 + 2.0 * HALF;
        }
        canvas.line((at, line), (END - HALF, line), WIRE);
        self.end.draw(canvas, standard, (END, line), (true, false));
        let rows = count(self.name.len() + self.told.len());
        let first = line - LEADING * rows / 2.0 + LEADING * 0.5 + NAME * 0.33;
        for (down, text) in self.name.iter().enumerate() {
            canvas.text((NAMES, first + LEADING * count(down)), text, Type::of(NAME).bold());
        }
        stack_down(canvas, &self.told, (NAMES, first + LEADING * count(self.name.len())));
    }
}

impl Between {
    /// From the line up to the baseline of its name: over its symbol and the texts on both sides of it.
    fn name_base(&self, way: &Way) -> f64 {
        let own = self.clear() + LEADING * count(self.above.len());
        let others = ABOVE + LEADING * count(way.above.len().max(way.device.len()));
        (own.max(others) + 0.3).max(HALF + 1.3)
    }

    /// From the line to the lowest baseline above it: over its device, where it has one.
    const fn clear(&self) -> f64 {
        if self.words.symbol.is_some() { 2.9 } else { ABOVE }
    }

    fn draw(&self, canvas: &mut Canvas, standard: Standard, line: f64, way: &Way) {
        self.symbol.draw(canvas, standard, (MIDDLE, line), (true, true));
        let base = line - self.name_base(way);
        stack_up(canvas, &self.name, (MIDDLE, base), Type::of(SMALL).bold().middle());
        let at = MIDDLE + HALF + 1.4;
        stack_up(canvas, &self.above, (at, line - self.clear()), Type::of(SMALL));
        tag(canvas, &self.label, (at + 0.6, line + BELOW + 0.3));
        stack_down(canvas, &self.below, (at, line + BELOW + 1.2 + LEADING * count(self.label.len())));
    }
}
