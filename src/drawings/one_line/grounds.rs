//! The return side of direct current, and where neutral, earth and body are joined.

use super::net::{Side, is_return};
use super::rows::{LEFT, RIGHT, WIRE, count, stack_up, tag};
use super::words::{self, LEADING, NAME, SMALL};
use crate::build::{Circuit, Feeding, Part};
use crate::drawings::Context;
use crate::drawings::canvas::{Canvas, Fill, Pen, Type};
use crate::drawings::letters::{Weight, wrapped};
use crate::drawings::pen::Dash;
use crate::drawings::symbols::{HALF, Standard, Symbol, battery_turned};
use crate::fields::Field;
use crate::kinds::Role;
use crate::roles::{ChassisBond, NeutralBond};
use crate::source::Spanned;
use crate::units::ConductorSize;

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

/// What stands at the foot of the first sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Grounds<'a> {
    returns: Vec<(&'a str, Option<&'a Circuit>)>,
    bars: Vec<(&'a str, Option<&'a Circuit>)>,
    bond: Vec<String>,
    neutral: Vec<String>,
    side_is_ac: bool,
}

fn named(context: &Context<'_>, ids: &[Spanned<String>]) -> String {
    ids.iter().map(|p| context.build.name(&p.value)).collect::<Vec<_>>().join(", ")
}

impl<'a> Grounds<'a> {
    /// What the build knows of them.
    pub(super) fn of(context: &'a Context<'_>, side: Side) -> Self {
        let build = context.build;
        let parts = || build.parts.values();
        let bond = parts().find_map(|p| Some((p, p.roles.chassis_bond.as_ref()?)));
        let conductor = |field: fn(&ChassisBond) -> &Field<ConductorSize>| {
            bond.and_then(|(_, b)| field(b).get()).map(|c| c.to_string())
        };
        let point = bond.and_then(|(_, b)| b.bond_point.text()).map(str::to_owned);
        if side == Side::Ac {
            let equipment = bond.map(|(_, b)| named(context, b.equipment.all())).unwrap_or_default();
            let mut lines: Vec<String> = Vec::new();
            lines.extend(bond.map(|(p, _)| p.name.clone()));
            let of_rules = || bond.map(|_| context.electrical.profile.equipment_bond.to_string());
            let cases = conductor(|b| &b.equipment_conductor).or_else(of_rules);
            lines.extend(cases.map(|c| format!("Cases and earth bar to the body: {c}")));
            lines.extend(point.map(|p| format!("Point: {p}")));
            lines.extend(Some(equipment).filter(|e| !e.is_empty()).map(|e| format!("Bonded: {e}")));
            let neutral = parts().filter_map(|p| Some(neutral(context, p, p.roles.neutral_bond.as_ref()?))).flatten();
            return Self { bond: lines, neutral: neutral.collect(), side_is_ac: true, ..Self::default() };
        }
        let to_shunt = |c: &&Circuit| c.feeding != Feeding::Return && is_return(build, &context.electrical, c);
        let circuits = build.circuits.values().filter(to_shunt);
        let mut returns: Vec<(&str, Option<&Circuit>)> = circuits.map(|c| (c.from.as_str(), Some(c))).collect();
        let cable = |p: &Part<'_>| build.arriving(&p.id).find(|c| c.feeding == Feeding::Return);
        let bars: Vec<_> =
            parts().filter(|p| p.roles.negative_bar.is_some()).map(|p| (p.id.as_str(), cable(p))).collect();
        for bank in parts().filter(|p| p.role() == Some(Role::Bank)) {
            if !bars.is_empty() && returns.iter().all(|(from, _)| *from != bank.id) {
                returns.push((&bank.id, None));
            }
        }
        let mut lines: Vec<String> = Vec::new();
        lines.extend(bond.map(|(p, _)| p.name.clone()));
        lines.extend(conductor(|b| &b.bond_conductor));
        lines.extend(point);
        Self { returns, bars, bond: lines, ..Self::default() }
    }

    /// Head of the block; "" where there is nothing to show.
    pub(super) fn head(&self) -> &'static str {
        if self.returns.is_empty() && self.bars.is_empty() && self.bond.is_empty() && self.neutral.is_empty() {
            ""
        } else if self.side_is_ac {
            "Neutral, earth and body"
        } else {
            "Return side"
        }
    }

    /// Its symbols.
    pub(super) fn symbols(&self) -> Vec<Symbol> {
        let shunt = self.returns.iter().any(|(_, c)| c.is_some()).then_some(Symbol::Shunt);
        let chassis = (!self.bond.is_empty()).then_some(Symbol::Chassis);
        let bar = (!self.bars.is_empty() || self.side_is_ac).then_some(Symbol::Bus);
        [shunt, chassis, bar].into_iter().flatten().collect()
    }

    /// Its height below its head, mm.
    pub(super) fn height(&self) -> f64 {
        if self.head().is_empty() {
            0.0
        } else if self.side_is_ac {
            let lines = self.columns().map(|c| wrap_all(&c).len()).into_iter().max().unwrap_or(0);
            (LEADING * count(lines) + 4.0).max(19.0)
        } else {
            self.pitch() * count(self.returns.len().max(self.bars.len()).max(1)) + 2.0
        }
    }

    fn pitch(&self) -> f64 {
        if self.bars.iter().any(|(_, cable)| cable.is_some()) { PITCH_OF_CABLES } else { PITCH }
    }

    fn columns(&self) -> [Vec<String>; 2] {
        [self.neutral.clone(), self.bond.clone()]
    }

    /// Draws it below `top`.
    pub(super) fn draw(&self, context: &Context<'_>, canvas: &mut Canvas, standard: Standard, top: f64) {
        if self.side_is_ac {
            self.draw_earth(canvas, standard, top);
        } else {
            self.draw_returns(context, canvas, standard, top + 7.0);
        }
    }

    fn draw_returns(&self, context: &Context<'_>, canvas: &mut Canvas, standard: Standard, first: f64) {
        for (at, (bank, circuit)) in self.returns.iter().enumerate() {
            let line = first + self.pitch() * count(at);
            battery_turned(canvas, (LEFT + HALF, line));
            canvas.text((LEFT, line - 5.0), &words::name(context, bank), Type::of(NAME).bold());
            let mut end = LEFT + 2.0 * HALF;
            if let Some(circuit) = circuit {
                let words = words::of(context, circuit);
                let shunt = 58.0;
                canvas.line((end, line), (shunt - HALF, line), WIRE);
                Symbol::Shunt.draw(canvas, standard, (shunt, line), (true, true));
                let name = wrapped(&words::name(context, &circuit.to), NAME, Weight::Semibold, 44.0, 1);
                stack_up(canvas, &name, (shunt, line - 5.0), Type::of(NAME).bold().middle());
                let rating = context.build.parts.get(&circuit.to).map(|p| words::rating(context, p));
                canvas.text((shunt, line + 4.4), &rating.unwrap_or_default(), Type::of(SMALL).middle());
                canvas.text((end + 1.0, line - 1.3), &words.conductor.join(" · "), Type::of(SMALL));
                canvas.text((end + 1.0, line + 3.0), &words.told.join(" · "), Type::of(SMALL));
                let label = wrapped(&words.label, SMALL, Weight::Regular, 38.0, 1);
                tag(canvas, &label, (end + 1.6, line + 6.5));
                end = shunt + HALF;
            }
            canvas.line((end, line), (JOIN, line), WIRE);
        }
        let rows = self.returns.len().max(self.bars.len());
        if rows > 1 {
            canvas.line((JOIN, first), (JOIN, first + self.pitch() * count(rows - 1)), WIRE);
        }
        for (at, (bar, cable)) in self.bars.iter().enumerate() {
            let line = first + self.pitch() * count(at);
            canvas.line((JOIN, line), (BAR, line), WIRE);
            canvas.line((BAR, line - 4.5), (BAR, line + 4.5), Pen::of(1.4));
            canvas.circle((BAR, line), 0.75, Pen::NONE, Fill::Grey(0.0));
            let (name, about) = super::rows::head(context, bar, None);
            let room = POINT - BAR - 8.0;
            let name = wrapped(&name, NAME, Weight::Semibold, room, 1);
            stack_up(canvas, &name, (BAR + 2.4, line - 1.4), Type::of(NAME).bold());
            let mut told = wrapped(&about, SMALL, Weight::Regular, room, 2);
            if let Some(part) = context.build.parts.get(*bar) {
                let mirrored = named(context, part.roles.mirrors().all());
                let of = if mirrored.is_empty() { String::new() } else { format!("returns of {mirrored}") };
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
        if self.bond.is_empty() {
            return;
        }
        let from = if self.bars.is_empty() { JOIN } else { BAR };
        canvas.line((from, first), (POINT, first), WIRE);
        Symbol::Chassis.draw(canvas, standard, (POINT, first + 2.0), (false, false));
        let room = RIGHT - POINT - 4.5;
        let mut lines: Vec<(String, bool)> = Vec::new();
        for (at, text) in self.bond.iter().enumerate() {
            let most = if at == 0 { 1 } else { 3 };
            let weight = if at == 0 { Weight::Semibold } else { Weight::Regular };
            lines.extend(wrapped(text, SMALL, weight, room, most).into_iter().map(|l| (l, at == 0)));
        }
        for (down, (text, bold)) in lines.iter().take(5).enumerate() {
            let style = if *bold { Type::of(SMALL).bold() } else { Type::of(SMALL) };
            canvas.text((POINT + 4.0, first - 0.6 + LEADING * count(down)), text, style);
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
