//! The return side of direct current, and where neutral, earth and body are joined.

use super::net::{Side, is_return};
use super::rows::{LEFT, RIGHT, WIRE, count, stack_up, tag};
use super::words::{self, LEADING, NAME, SMALL};
use crate::build::{Circuit, Conductor, Feeding, Part, Purpose};
use crate::drawings::Context;
use crate::drawings::canvas::{Canvas, Fill, Pen, Type};
use crate::drawings::letters::{Weight, fitted, width, wrapped};
use crate::drawings::pen::Dash;
use crate::drawings::symbols::{HALF, Standard, Symbol, battery_turned};
use crate::kinds::Role;
use crate::roles::NeutralBond;
use crate::source::Spanned;

/// From one line of the return side to the next, mm.
const PITCH: f64 = 15.5;
/// The same where the cable of a bar is told below it.
const PITCH_OF_CABLES: f64 = 20.5;
/// Where the returns join.
const JOIN: f64 = 84.0;
/// Negative bars.
const BAR: f64 = 90.0;
/// Point of the chassis bond.
const POINT: f64 = 140.0;
/// From one such point to the next.
const POINT_PITCH: f64 = 22.0;
/// From one row of bonds of cases to the next.
const CASE: f64 = 5.4;

/// A negative bar and the cable by which it returns.
type Bar<'a> = (&'a str, Option<&'a Circuit>);

/// What returns to one source by one way: through its shunt, where it has one.
#[derive(Clone, Debug)]
struct Back<'a> {
    /// Bank, or what else the current comes back to.
    source: &'a str,
    /// Cable of the shunt.
    shunt: Option<&'a Circuit>,
    bars: Vec<Bar<'a>>,
}

/// The point at which the negative is joined to the body.
#[derive(Clone, Debug)]
struct Point {
    /// Name, then what is told of it.
    lines: Vec<String>,
    /// Wire label of the conductor that leads there.
    label: String,
}

/// The conductor of a case or of an earth bar to the body.
#[derive(Clone, Debug)]
struct CaseBond {
    label: String,
    told: String,
}

/// What stands at the foot of the first sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Grounds<'a> {
    backs: Vec<Back<'a>>,
    points: Vec<Point>,
    bond: Vec<String>,
    cases: Vec<CaseBond>,
    neutral: Vec<String>,
    side_is_ac: bool,
}

fn named(context: &Context<'_>, ids: &[Spanned<String>]) -> String {
    ids.iter().map(|p| context.build.name(&p.value)).collect::<Vec<_>>().join(", ")
}

/// Size of a conductor, "" where none is known.
fn size(context: &Context<'_>, conductor: &Conductor) -> String {
    let figures = context.electrical.conductors.get(&conductor.id);
    figures.and_then(|f| f.size).map_or_else(String::new, |size| size.to_string())
}

/// What returns where: the shunts, then the banks without one, each with the bars that return there.
fn backs<'a>(context: &'a Context<'a>) -> Vec<Back<'a>> {
    let build = context.build;
    let is_bar = |id: &str| build.parts.get(id).is_some_and(|p| p.roles.negative_bar.is_some());
    let bars: Vec<Bar<'a>> = build
        .parts
        .values()
        .filter(|p| p.roles.negative_bar.is_some())
        .map(|p| (p.id.as_str(), build.arriving(&p.id).find(|c| c.feeding == Feeding::Return)))
        .collect();
    let shunts = build.circuits.values().filter(|c| is_return(build, &context.electrical, c) && !is_bar(&c.to));
    let mut backs: Vec<Back<'_>> =
        shunts.map(|c| Back { source: c.from.as_str(), shunt: Some(c), bars: Vec::new() }).collect();
    for bank in build.parts.values().filter(|p| p.role() == Some(Role::Bank) && !bars.is_empty()) {
        if backs.iter().all(|back| back.source != bank.id) {
            backs.push(Back { source: &bank.id, shunt: None, bars: Vec::new() });
        }
    }
    for bar in &bars {
        // Past bars that return to other bars, to what takes the current of all of them.
        let mut end = bar.1.map(|cable| cable.from.as_str());
        for _ in 0..bars.len() {
            let above = end.and_then(|end| bars.iter().find(|(id, _)| *id == end));
            end = above.map_or(end, |(_, cable)| cable.map(|cable| cable.from.as_str()));
        }
        let at_shunt = backs.iter().position(|b| b.shunt.is_some_and(|shunt| Some(shunt.to.as_str()) == end));
        let at_source = || backs.iter().position(|b| b.shunt.is_none() && Some(b.source) == end);
        match (at_shunt.or_else(at_source), end) {
            (Some(at), _) => backs[at].bars.push(*bar),
            (None, Some(end)) => backs.push(Back { source: end, shunt: None, bars: vec![*bar] }),
            // Nobody says where it returns: to the first there is.
            (None, None) => match backs.first_mut() {
                Some(first) => first.bars.push(*bar),
                None => backs.push(Back { source: "", shunt: None, bars: vec![*bar] }),
            },
        }
    }
    // The bond leaves the first row, so bars stand there.
    backs.sort_by_key(|back| back.bars.is_empty());
    backs
}

impl<'a> Grounds<'a> {
    /// What the build knows of them.
    pub(super) fn of(context: &'a Context<'a>, side: Side) -> Self {
        let build = context.build;
        let of_purpose = |purpose: Purpose| build.wiring.conductors.values().filter(move |c| c.purpose == purpose);
        let point_of = |id: &str| {
            let bond = build.parts.get(id).and_then(|p| p.roles.chassis_bond.as_ref());
            bond.and_then(|b| b.bond_point.text()).map(str::to_owned)
        };
        if side == Side::Ac {
            let bond = build.parts.values().find(|p| p.roles.chassis_bond.is_some());
            let mut lines: Vec<String> = bond.map(|p| p.name.clone()).into_iter().collect();
            lines.extend(bond.and_then(|p| point_of(&p.id)).map(|p| format!("Point: {p}")));
            let case = |c: &Conductor| CaseBond {
                label: words::marked_alone(build, c),
                told: [c.from.show(build), size(context, c)].join(" · "),
            };
            let neutrals = build.parts.values().filter_map(|p| Some((p, p.roles.neutral_bond.as_ref()?)));
            let neutral = neutrals.flat_map(|(p, bond)| neutral(context, p, bond)).collect();
            let cases = of_purpose(Purpose::EquipmentBond).map(case).collect();
            return Self { bond: lines, cases, neutral, side_is_ac: true, ..Self::default() };
        }
        let point = |c: &Conductor| {
            let mut lines = vec![build.name(&c.owner).to_owned()];
            lines.extend(Some(size(context, c)).filter(|size| !size.is_empty()));
            lines.extend(point_of(&c.owner));
            Point { lines, label: words::marked_alone(build, c) }
        };
        Self { backs: backs(context), points: of_purpose(Purpose::Bond).map(point).collect(), ..Self::default() }
    }

    /// Head of the block; "" where there is nothing to show.
    pub(super) fn head(&self) -> &'static str {
        let ac = [&self.bond, &self.neutral].iter().any(|lines| !lines.is_empty()) || !self.cases.is_empty();
        match (self.side_is_ac, ac, self.backs.is_empty() && self.points.is_empty()) {
            (true, true, _) => "Neutral, earth and body",
            (false, _, false) => "Return side",
            _ => "",
        }
    }

    fn has_bars(&self) -> bool {
        self.backs.iter().any(|back| !back.bars.is_empty())
    }

    /// Its symbols.
    pub(super) fn symbols(&self) -> Vec<Symbol> {
        let shunt = self.backs.iter().any(|back| back.shunt.is_some()).then_some(Symbol::Shunt);
        let chassis = (!self.points.is_empty() || !self.bond.is_empty()).then_some(Symbol::Chassis);
        let bar = (self.has_bars() || self.side_is_ac).then_some(Symbol::Bus);
        [shunt, chassis, bar].into_iter().flatten().collect()
    }

    /// Its height below its head, mm.
    pub(super) fn height(&self) -> f64 {
        if self.head().is_empty() {
            0.0
        } else if self.side_is_ac {
            let lines = self.columns().map(|c| wrap_all(&c).len());
            let cases = if self.cases.is_empty() { 0.0 } else { 2.0 + CASE * count(self.cases.len().div_ceil(2)) };
            (LEADING * count(lines.into_iter().max().unwrap_or(0)) + 4.0).max(17.0) + cases + 2.0
        } else {
            let rows = self.backs.iter().map(|back| back.bars.len().max(1)).sum::<usize>().max(1);
            (self.pitch() * count(rows)).max(POINT_PITCH * count(self.points.len())) + 2.0
        }
    }

    fn pitch(&self) -> f64 {
        let has_cable = self.backs.iter().flat_map(|back| &back.bars).any(|(_, cable)| cable.is_some());
        if has_cable { PITCH_OF_CABLES } else { PITCH }
    }

    fn columns(&self) -> [Vec<String>; 2] {
        [self.neutral.clone(), self.bond.clone()]
    }

    /// Draws it below `top`.
    pub(super) fn draw(&self, context: &Context<'_>, canvas: &mut Canvas, standard: Standard, top: f64) {
        if self.side_is_ac {
            self.draw_earth(canvas, standard, top);
            return;
        }
        let first = top + 7.0;
        let mut line = first;
        for back in &self.backs {
            self.draw_back(context, canvas, standard, back, line);
            line += self.pitch() * count(back.bars.len().max(1));
        }
        let from = if self.has_bars() { BAR } else { JOIN };
        for (at, point) in self.points.iter().enumerate() {
            let line = first + POINT_PITCH * count(at);
            // Each from the same bar.
            if at == 0 {
                canvas.line((from, first), (POINT, first), WIRE);
            } else {
                canvas.line((POINT - 5.0, line - POINT_PITCH), (POINT - 5.0, line), WIRE);
                canvas.line((POINT - 5.0, line), (POINT, line), WIRE);
            }
            Symbol::Chassis.draw(canvas, standard, (POINT, line + 2.0), (false, false));
            let room = RIGHT - POINT - 4.5;
            let mut down = 0;
            for (nth, text) in point.lines.iter().enumerate() {
                let (weight, most) = if nth == 0 { (Weight::Semibold, 1) } else { (Weight::Regular, 3) };
                let style = if nth == 0 { Type::of(SMALL).bold() } else { Type::of(SMALL) };
                for text in wrapped(text, SMALL, weight, room, most) {
                    canvas.text((POINT + 4.0, line - 0.6 + LEADING * count(down)), &text, style);
                    down += 1;
                }
            }
            let label = wrapped(&point.label, SMALL, Weight::Regular, room, 1);
            tag(canvas, &label, (POINT + 4.6, line + 0.2 + LEADING * count(down)));
        }
    }

    fn draw_back(&self, context: &Context<'_>, canvas: &mut Canvas, standard: Standard, back: &Back<'_>, first: f64) {
        let role = context.build.parts.get(back.source).and_then(Part::role);
        let mut end = LEFT + 2.0 * HALF;
        if matches!(role, Some(Role::Bank | Role::StartBattery)) {
            battery_turned(canvas, (LEFT + HALF, first));
        } else {
            canvas.circle((LEFT + HALF, first), 0.75, Pen::NONE, Fill::Grey(0.0));
            canvas.line((LEFT + HALF, first), (end, first), WIRE);
        }
        canvas.text((LEFT, first - 5.0), &words::name(context, back.source), Type::of(NAME).bold());
        if let Some(circuit) = back.shunt {
            let words = words::of(context, circuit);
            let shunt = 58.0;
            canvas.line((end, first), (shunt - HALF, first), WIRE);
            Symbol::Shunt.draw(canvas, standard, (shunt, first), (true, true));
            let name = wrapped(&words::name(context, &circuit.to), NAME, Weight::Semibold, 44.0, 1);
            stack_up(canvas, &name, (shunt, first - 5.0), Type::of(NAME).bold().middle());
            let rating = context.build.parts.get(&circuit.to).map(|p| words::rating(context, p));
            canvas.text((shunt, first + 4.4), &rating.unwrap_or_default(), Type::of(SMALL).middle());
            canvas.text((end + 1.0, first - 1.3), &words.conductor.join(" · "), Type::of(SMALL));
            canvas.text((end + 1.0, first + 3.0), &words.told.join(" · "), Type::of(SMALL));
            let label = wrapped(&words.label, SMALL, Weight::Regular, 38.0, 1);
            tag(canvas, &label, (end + 1.6, first + 6.5));
            end = shunt + HALF;
        }
        if back.bars.is_empty() && self.has_bars() && back.shunt.is_some() {
            return;
        }
        canvas.line((end, first), (JOIN, first), WIRE);
        if back.bars.len() > 1 {
            canvas.line((JOIN, first), (JOIN, first + self.pitch() * count(back.bars.len() - 1)), WIRE);
        }
        for (at, bar) in back.bars.iter().enumerate() {
            draw_bar(context, canvas, back, *bar, first + self.pitch() * count(at));
        }
    }

    fn draw_earth(&self, canvas: &mut Canvas, standard: Standard, top: f64) {
        let line = top + 7.0;
        let earth = if self.neutral.is_empty() { LEFT + 6.0 } else { LEFT + 26.0 };
        let letter = Type::of(NAME).bold().middle();
        if !self.neutral.is_empty() {
            let neutral = LEFT + 4.0;
            canvas.line((neutral, line - 4.0), (neutral, line + 4.0), Pen::of(1.4));
            canvas.text((neutral, line - 5.2), "N", letter);
            canvas.line((neutral, line), (neutral + 7.0, line), WIRE.dash(Dash::Dashed));
            Symbol::Switch.draw(canvas, standard, (neutral + 11.0, line), (true, true));
            canvas.line((neutral + 15.0, line), (earth, line), WIRE.dash(Dash::Dashed));
        }
        canvas.line((earth, line - 4.0), (earth, line + 4.0), Pen::of(1.4));
        canvas.text((earth, line - 5.2), "PE", letter);
        canvas.line((earth, line), (earth + 8.0, line), WIRE);
        Symbol::Chassis.draw(canvas, standard, (earth + 8.0, line + 2.0), (false, false));
        let mut x = LEFT + 46.0;
        for column in self.columns() {
            if column.is_empty() {
                continue;
            }
            for (down, (text, bold)) in wrap_all(&column).iter().enumerate() {
                let style = if *bold { Type::of(SMALL).bold() } else { Type::of(SMALL) };
                canvas.text((x, top + 2.6 + LEADING * count(down)), text, style);
            }
            x += 66.0;
        }
        let lines = self.columns().map(|c| wrap_all(&c).len()).into_iter().max().unwrap_or(0);
        let first = top + (LEADING * count(lines) + 4.0).max(17.0) + 2.0;
        let wide = (RIGHT - LEFT) / 2.0;
        for (at, case) in self.cases.iter().enumerate() {
            let x = LEFT + 0.6 + wide * count(at % 2);
            let y = first + CASE * (count(at / 2) + 0.5);
            let label = wrapped(&case.label, SMALL, Weight::Regular, wide / 2.0, 1);
            let right = label.first().map_or(0.0, |text| width(text, SMALL, Weight::Regular));
            tag(canvas, &label, (x, y));
            let told = fitted(&case.told, SMALL, Weight::Regular, wide - right - 5.0);
            canvas.text((x + right + 2.2, y), &told, Type::of(SMALL));
        }
    }
}

/// A negative bar that returns to the source of `back`.
fn draw_bar(context: &Context<'_>, canvas: &mut Canvas, back: &Back<'_>, (bar, cable): Bar<'_>, line: f64) {
    canvas.line((JOIN, line), (BAR, line), WIRE);
    canvas.line((BAR, line - 4.5), (BAR, line + 4.5), Pen::of(1.4));
    canvas.circle((BAR, line), 0.75, Pen::NONE, Fill::Grey(0.0));
    let (name, about) = super::rows::head(context, bar, None);
    let room = POINT - BAR - 8.0;
    let name = wrapped(&name, NAME, Weight::Semibold, room, 1);
    stack_up(canvas, &name, (BAR + 2.4, line - 1.4), Type::of(NAME).bold());
    let mut told = wrapped(&about, SMALL, Weight::Regular, room, 2);
    if let Some(part) = context.build.parts.get(bar) {
        let mirrored = named(context, part.roles.mirrors().all());
        let over = cable.map(|cable| cable.from.as_str()).filter(|end| *end != back.source);
        let over = over.filter(|end| back.shunt.is_none_or(|shunt| shunt.to != *end));
        let of = match over {
            Some(over) => format!("returns to {}", context.build.name(over)),
            None if mirrored.is_empty() => String::new(),
            None => format!("returns of {mirrored}"),
        };
        told.truncate(if cable.is_some() { 1 } else { 2 });
        told.extend(wrapped(&of, SMALL, Weight::Regular, room, 1));
    }
    if let Some(circuit) = cable {
        let words = words::of(context, circuit);
        let cable: Vec<_> = words.conductor.into_iter().chain(words.told.into_iter().take(1)).collect();
        told.extend(wrapped(&cable.join(" · "), SMALL, Weight::Regular, room, 1));
        let label = wrapped(&words.label, SMALL, Weight::Regular, room, 1);
        tag(canvas, &label, (BAR + 3.0, line + 3.8 + LEADING * count(told.len())));
    }
    for (down, text) in told.iter().enumerate() {
        canvas.text((BAR + 2.4, line + 3.2 + LEADING * count(down)), text, Type::of(SMALL));
    }
}

/// Lines of a column, the first in bold.
fn wrap_all(column: &[String]) -> Vec<(String, bool)> {
    let wrap = |(at, text): (usize, &String)| {
        let weight = if at == 0 { Weight::Semibold } else { Weight::Regular };
        wrapped(text, SMALL, weight, 62.0, 3).into_iter().map(move |line| (line, at == 0)).collect::<Vec<_>>()
    };
    column.iter().enumerate().flat_map(wrap).collect()
}

/// Where a part says that neutral and earth are joined.
fn neutral(context: &Context<'_>, part: &Part<'_>, bond: &NeutralBond) -> Vec<String> {
    let mut lines = vec![part.name.clone()];
    for (field, when) in [
        (&bond.on_shore, "On shore power"),
        (&bond.on_inverter, "On the inverter"),
        (&bond.on_generator, "On a generator"),
    ] {
        let made = field.text().filter(|t| *t != "not-used");
        lines.extend(made.map(|made| format!("{when}: {}", made.replace('-', " "))));
    }
    for (field, what) in [(&bond.switched_by, "Switched by"), (&bond.proved_by, "Proved by")] {
        let who = named(context, field.all());
        if !who.is_empty() {
            lines.push(format!("{what}: {who}"));
        }
    }
    lines
}
