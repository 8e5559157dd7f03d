//! Water diagrams: from the tank to the taps, and from the basins to the grey tank.
//!
//! Symbols are simple ones in the manner of ISO 14617 and ISO 1219-1 (from memory), each with its name. A pipe is named
//! with its length and bore; where the spec names no pipe between two parts that belong together, a thin line joins
//! them. What hangs on a part and is not on the way of the water (drains, heat, senders) stands in a list and marks
//! its parts by a letter and a number.

mod flow;
mod list;
mod marks;
mod supply;
mod symbols;
mod trunk;
mod waste;

use super::canvas::{Area, Canvas, Dash, Fill, Pen, Type};
use super::letters::{self, Weight};
use super::{Context, Drawing};
use crate::build::Part;
use crate::compute::heat::is_outside;
use crate::fields::Field;
use crate::kinds::PlumbingRole;
use crate::units::{Litres, LitresPerMinute, System, in_words};
use marks::Marks;

/// Width of the sheets, mm.
const SHEET: f64 = 176.0;

/// Cold water, hot water, suction, waste. No symbol has a line of this width: the key tells by it what was drawn.
const COLD: Pen = Pen::of(0.52);
const HOT: Pen = Pen::of(0.52).dash(Dash::Dashed);
const WASTE: Pen = Pen::of(0.52).dash(Dash::Chain);

/// Parts that belong together without a pipe in the spec. No symbol has a line of this width either.
const JOINED: Pen = Pen::of(0.26);

/// Ground of what lies outside the heated space.
const OUTSIDE: Fill = Fill::Grey(0.88);

/// The diagrams of a build: none where it has no water.
#[must_use]
pub(crate) fn diagrams(context: &Context<'_>) -> Vec<Drawing> {
    let plan = Plan { context, marks: Marks::of(context) };
    let mut all = supply::sheets(&plan);
    all.extend(waste::sheets(&plan));
    all
}

/// What all diagrams of a build share.
struct Plan<'a> {
    context: &'a Context<'a>,
    marks: Marks<'a>,
}

/// The role of a part in the water system.
fn role_of(part: &Part<'_>) -> Option<PlumbingRole> {
    part.kind.plumbing.map(|p| p.role)
}

impl<'a> Plan<'a> {
    fn of_role(&self, role: PlumbingRole) -> impl Iterator<Item = &'a Part<'a>> + use<'a> {
        let context = self.context;
        context.build.parts.values().filter(move |p| role_of(p) == Some(role))
    }

    fn part(&self, id: &str) -> Option<&'a Part<'a>> {
        self.context.build.parts.get(id)
    }

    fn is_outside(&self, part: &Part<'_>) -> bool {
        is_outside(self.context.build, part)
    }

    /// A quantity as documents print it.
    fn show<T>(&self, field: &Field<T>) -> Option<String> {
        field.show(self.context.build.prints())
    }

    /// Length and bore of a pipe. A bore is told as words are: the quarters of an inch of a length are too coarse.
    fn pipe_size(&self, pipe: &Part<'_>) -> String {
        let bore = pipe.roles.inside_diameter().show(System::Metric);
        let bore = bore.map(|bore| format!("bore {}", in_words(&bore, self.context.build.prints())));
        [self.show(pipe.roles.length()), bore].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// What is worth knowing about a part on the diagram.
    fn detail(&self, part: &Part<'_>) -> String {
        let roles = &part.roles;
        let of = |field: &Field<Litres>| self.show(field);
        let with = |word: &str, shown: Option<String>| shown.map(|v| format!("{word} {v}"));
        let found = match role_of(part) {
            Some(PlumbingRole::FreshTank | PlumbingRole::GreyTank) => of(roles.capacity_litres()),
            Some(PlumbingRole::Heater) => {
                let mixed = roles.mixed_temperature();
                let mixed = mixed.given.then(|| with("mixing valve", self.show(mixed)));
                let all = [of(roles.capacity_litres()), self.show(roles.set_temperature()), mixed.flatten()];
                Some(all.into_iter().flatten().collect::<Vec<_>>().join(", "))
            }
            Some(PlumbingRole::Pump) => self.show(roles.flow()),
            // What reaches it, where that is reckoned: manual and tests tell the same.
            Some(PlumbingRole::Outlet) => {
                let gives = self.context.water.outlets.iter().find(|o| o.part == part.id && !o.hot);
                let gives = gives.and_then(|o| o.gives).map(LitresPerMinute);
                gives.map(|flow| flow.show(self.context.build.prints())).or_else(|| self.show(roles.flow()))
            }
            Some(PlumbingRole::CityInlet) => with("regulator", self.show(roles.regulated_pressure())),
            Some(PlumbingRole::Accumulator) => of(roles.volume()),
            Some(PlumbingRole::WinterPort) => with("antifreeze", of(roles.antifreeze_volume())),
            Some(PlumbingRole::Pad | PlumbingRole::Trace) => self.show(roles.draw()),
            Some(PlumbingRole::DrainValve) if roles.frost_opening().is_set() => {
                with("opens by itself below", self.show(roles.opens_below()))
            }
            Some(PlumbingRole::Pipe) => Some(self.pipe_size(part)),
            _ => None,
        };
        found.unwrap_or_default()
    }
}

/// Name of a part, with its number where there are several alike.
fn name_of(part: &Part<'_>) -> String {
    if part.count > 1 { format!("{} × {}", part.count, part.name) } else { part.name.clone() }
}

const NAME: Type = Type::of(2.4).bold();
const ID: Type = Type::of(2.2).grey(0.25);

/// Name, id and detail of a part under each other; gives the height they take.
fn block(canvas: &mut Canvas, plan: &Plan<'_>, part: &Part<'_>, at: (f64, f64), room: f64, middle: bool) -> f64 {
    let place = |look: Type| if middle { look.middle() } else { look };
    let mut y = at.1;
    let name = letters::lines(&name_of(part), NAME.size, NAME.weight, room);
    for line in name.iter().take(2) {
        canvas.text((at.0, y), line, place(NAME));
        y += 2.8;
    }
    canvas.text((at.0, y), &letters::fitted(&part.id, ID.size, ID.weight, room), place(ID));
    y += 2.8;
    for line in letters::lines(&plan.detail(part), 2.2, Weight::Regular, room).iter().take(3) {
        canvas.text((at.0, y), line, place(Type::of(2.2)));
        y += 2.8;
    }
    y - at.1
}

/// Marks in small circles, side by side from a point to the right; gives their width.
fn bubbles(canvas: &mut Canvas, marks: &[&str], at: (f64, f64)) -> f64 {
    let mut x = at.0;
    for mark in marks {
        let wide = (letters::width(mark, 2.1, Weight::Semibold) + 1.6).max(4.2);
        canvas.rect(Area::at(x, at.1 - 2.0, wide, 4.0), 2.0, Pen::of(0.25), Fill::Grey(1.0));
        canvas.text((x + wide / 2.0, at.1 + 0.75), mark, Type::of(2.1).bold().middle());
        x += wide + 0.6;
    }
    x - at.0
}

/// Width that marks take.
fn bubbles_width(marks: &[&str]) -> f64 {
    marks.iter().map(|m| (letters::width(m, 2.1, Weight::Semibold) + 1.6).max(4.2) + 0.6).sum()
}

/// An arrow head at a point, pointing along the x axis or down.
fn arrow(canvas: &mut Canvas, tip: (f64, f64), down: bool) {
    let (x, y) = tip;
    let points = if down {
        [(x, y), (x - 1.0, y - 2.4), (x + 1.0, y - 2.4)]
    } else {
        [(x, y), (x - 2.4, y - 1.0), (x - 2.4, y + 1.0)]
    };
    canvas.polygon(&points, Pen::NONE, Fill::Grey(0.0));
}
