//! Sheets of waste water: basins, pipes, grey tanks and the valves that empty them.

use super::list::{self, Advice, Entry, item, switched_at};
use super::marks::is_waste_valve;
use super::supply::key;
use super::trunk::{pipe_ground, pipe_words};
use super::{JOINED, OUTSIDE, Plan, SHEET, WASTE, arrow, block, bubbles, bubbles_width, name_of, role_of, symbols};
use crate::build::Part;
use crate::drawings::canvas::{Area, Canvas, Pen, Type};
use crate::drawings::letters::{self, Weight};
use crate::drawings::{Drawing, PAGE, Subject};
use crate::kinds::PlumbingRole;

/// Across the sheet, mm: symbols of basins and their words; words of pipes; where they come together; tank; valves.
const BASIN: f64 = 7.0;
const BASIN_LABEL: (f64, f64) = (14.5, 46.0);
const WORDS: (f64, f64) = (49.0, 83.0);
const JOIN: f64 = 86.0;
const TANK: f64 = 103.0;
const SPLIT: f64 = 120.0;
const VALVE: f64 = 128.0;
const VALVE_LABEL: (f64, f64) = (134.5, 169.0);
const OUT: f64 = 172.0;

const ROW: f64 = 15.0;
const HEAD: f64 = 6.0;
const KEY: f64 = 7.0;

/// What waste comes from.
struct Row<'a> {
    /// Drawn with its symbol.
    basin: Option<&'a Part<'a>>,
    /// Drawn elsewhere, or no part of the water system: its name.
    words: String,
    pipe: Option<&'a Part<'a>>,
}

/// A grey tank with what runs in and what lets it out; `None` for what leads nowhere.
struct Group<'a> {
    tank: Option<&'a Part<'a>>,
    rows: Vec<Row<'a>>,
    valves: Vec<&'a Part<'a>>,
}

pub(super) fn sheets(plan: &Plan<'_>) -> Vec<Drawing> {
    let groups = groups(plan);
    let entries = list::entries(plan, true, &[]);
    let advice = Advice::new("To empty the grey tank", &steps(plan, &groups));
    if groups.is_empty() && entries.is_empty() {
        return Vec::new();
    }
    // Sheets of groups; list and advice go on the last, or on one of their own.
    let bottom = PAGE.1 - KEY;
    let mut pages: Vec<(Vec<&Group<'_>>, bool)> = vec![(Vec::new(), false)];
    let mut y = HEAD;
    for group in &groups {
        if y + group.height() > bottom && y > HEAD {
            pages.push((Vec::new(), false));
            y = HEAD;
        }
        y += group.height();
        if let Some(page) = pages.last_mut() {
            page.0.push(group);
        }
    }
    let rest = list::height(entries.len()) + advice.height();
    if y + rest > bottom && y > HEAD {
        pages.push((Vec::new(), false));
    }
    if let Some(page) = pages.last_mut() {
        page.1 = true;
    }
    let count = pages.len();
    let sheet = |(at, (groups, last)): (usize, &(Vec<&Group<'_>>, bool))| {
        let tail = if *last { Some((entries.as_slice(), &advice)) } else { None };
        draw(plan, groups, tail, (at, count))
    };
    pages.iter().enumerate().map(sheet).collect()
}

fn groups<'a>(plan: &Plan<'a>) -> Vec<Group<'a>> {
    let is_waste = |p: &&'a Part<'a>| p.roles.medium().is("waste");
    let pipes: Vec<_> = plan.of_role(PlumbingRole::Pipe).filter(is_waste).collect();
    let tanks: Vec<_> = plan.of_role(PlumbingRole::GreyTank).collect();
    let is_tank = |id: &str| tanks.iter().any(|t| t.id == id);
    let is_basin = |id: &str| plan.part(id).is_some_and(|p| role_of(p) == Some(PlumbingRole::Basin));
    let target = |id: Option<&'a str>| id.filter(|id| is_tank(id));
    let mut shown: Vec<&str> = Vec::new();
    let mut rows: Vec<(Option<&str>, Row<'a>)> = Vec::new();
    for pipe in &pipes {
        let from = pipe.roles.from().first().unwrap_or("");
        let basin = plan.part(from).filter(|_| is_basin(from) && !shown.contains(&from));
        shown.extend(basin.map(|b| b.id.as_str()));
        let words = if basin.is_some() { String::new() } else { plan.part(from).map_or_else(String::new, name_of) };
        rows.push((target(pipe.roles.to().first()), Row { basin, words, pipe: Some(pipe) }));
    }
    let users = plan.of_role(PlumbingRole::Basin).chain(plan.of_role(PlumbingRole::Outlet));
    let drains = |u: &&Part<'_>| u.roles.dry().get() != Some(true);
    for user in users.filter(drains).filter(|u| !pipes.iter().any(|p| p.roles.from().first() == Some(u.id.as_str()))) {
        let basin = Some(user).filter(|u| role_of(u) == Some(PlumbingRole::Basin));
        let to = target(user.roles.drains_to().first());
        if basin.is_some() || to.is_some() {
            let words = if basin.is_some() { String::new() } else { name_of(user) };
            rows.push((to, Row { basin, words, pipe: None }));
        }
    }
    let valves: Vec<_> = plan
        .of_role(PlumbingRole::MotorValve)
        .chain(plan.of_role(PlumbingRole::HandValve))
        .filter(|v| is_waste_valve(plan.context, v))
        .collect();
    let tank_of = |valve: &'a Part<'a>| {
        let passed = || {
            valve.roles.bypass_of().first().and_then(|id| plan.part(id)).and_then(|v| target(v.roles.tank().first()))
        };
        target(valve.roles.tank().first()).or_else(passed)
    };
    let mut groups = Vec::new();
    for tank in tanks.iter().map(|t| Some(*t)).chain([None]) {
        let id = tank.map(|t| t.id.as_str());
        let (own, other): (Vec<_>, Vec<_>) = rows.into_iter().partition(|(to, _)| *to == id);
        rows = other;
        let valves: Vec<_> = valves.iter().copied().filter(|v| tank_of(v) == id).collect();
        let own: Vec<_> = own.into_iter().map(|(_, row)| row).collect();
        if tank.is_some() || !own.is_empty() || !valves.is_empty() {
            groups.push(Group { tank, rows: own, valves });
        }
    }
    groups
}

impl Group<'_> {
    #[expect(clippy::cast_precision_loss, reason = "a few rows")]
    fn height(&self) -> f64 {
        let rows = self.rows.len().max(self.valves.len()).max(1) as f64;
        (rows * ROW).max(if self.tank.is_some() { 32.0 } else { ROW }) + 7.0
    }

    #[expect(clippy::cast_precision_loss, reason = "a few rows")]
    fn draw(&self, canvas: &mut Canvas, plan: &Plan<'_>, top: f64) {
        let ys = |n: usize| (0..n).map(move |i| (i as f64).mul_add(ROW, top + 10.0)).collect::<Vec<f64>>();
        let (rows, valves) = (ys(self.rows.len()), ys(self.valves.len()));
        let tank_y = top + 10.0;
        for (row, &y) in self.rows.iter().zip(&rows) {
            row.draw(canvas, plan, y, self.tank.is_some());
        }
        let Some(tank) = self.tank else {
            for (valve, &y) in self.valves.iter().zip(&valves) {
                draw_valve(canvas, plan, valve, y);
            }
            return;
        };
        let into = if self.rows.iter().any(|r| r.pipe.is_some()) { WASTE } else { JOINED };
        if let Some(last) = rows.last() {
            canvas.line((JOIN, tank_y), (JOIN, *last), into);
            canvas.line((JOIN, tank_y), (TANK - 7.0, tank_y), into);
        }
        item(canvas, plan, tank, (TANK, tank_y), 30.0);
        if !rows.is_empty() {
            canvas.line((TANK - 14.6, tank_y), (TANK - 7.0, tank_y), into);
            arrow(canvas, (TANK - 7.0, tank_y), false);
        }
        canvas.line((TANK + 7.0, tank_y), (SPLIT, tank_y), WASTE);
        if let Some(last) = valves.last() {
            canvas.line((SPLIT, tank_y), (SPLIT, *last), WASTE);
            canvas.line((OUT, tank_y), (OUT, last + 6.0), WASTE);
            arrow(canvas, (OUT, last + 8.0), true);
            canvas.text((OUT, last + 10.8), "out", Type::of(2.3).middle());
        } else {
            canvas.text((SPLIT + 1.5, tank_y + 0.8), "no valve named", Type::of(2.2).grey(0.25));
        }
        for (valve, &y) in self.valves.iter().zip(&valves) {
            canvas.line((SPLIT, y), (VALVE - 4.0, y), WASTE);
            draw_valve(canvas, plan, valve, y);
        }
    }
}

fn draw_valve(canvas: &mut Canvas, plan: &Plan<'_>, valve: &Part<'_>, y: f64) {
    let Some(role) = role_of(valve) else { return };
    if plan.is_outside(valve) {
        canvas.rect(Area::at(VALVE - 5.0, y - 7.0, OUT - VALVE + 3.6, 14.6), 0.0, Pen::NONE, OUTSIDE);
    }
    symbols::draw(canvas, role, (VALVE, y));
    canvas.line((VALVE + 4.0, y), (OUT, y), WASTE);
    let marks = plan.marks.on(&valve.id);
    let room = VALVE_LABEL.1 - VALVE_LABEL.0;
    let name = letters::fitted(&name_of(valve), 2.4, Weight::Semibold, room - bubbles_width(&marks) - 1.0);
    let drawn = canvas.text((VALVE_LABEL.0, y - 1.4), &name, super::NAME);
    bubbles(canvas, &marks, (drawn.right + 1.0, y - 3.6));
    canvas.text((VALVE_LABEL.0, y + 3.2), &letters::fitted(&valve.id, 2.2, Weight::Regular, room), super::ID);
    let stands_in = valve.roles.bypass_of().first().map(|id| format!("stands in for {}", plan.context.build.name(id)));
    let words = stands_in.unwrap_or_default();
    canvas.text((VALVE_LABEL.0, y + 6.0), &letters::fitted(&words, 2.2, Weight::Regular, room), Type::of(2.2));
}

impl Row<'_> {
    fn draw(&self, canvas: &mut Canvas, plan: &Plan<'_>, y: f64, ends: bool) {
        let start = if let Some(basin) = self.basin {
            if plan.is_outside(basin) {
                canvas.rect(Area::at(0.0, y - 5.5, BASIN_LABEL.1, 11.0), 0.0, Pen::NONE, OUTSIDE);
            }
            symbols::draw(canvas, PlumbingRole::Basin, (BASIN, y));
            let marks = plan.marks.on(&basin.id);
            bubbles(canvas, &marks, (BASIN - 4.0, y - 5.4));
            block(canvas, plan, basin, (BASIN_LABEL.0, y - 1.6), BASIN_LABEL.1 - BASIN_LABEL.0 - 1.0, false);
            BASIN_LABEL.1
        } else {
            let words =
                if self.words.is_empty() { "start not named".to_owned() } else { format!("from {}", self.words) };
            let fitted = letters::fitted(&words, 2.4, Weight::Regular, BASIN_LABEL.1 - 1.5);
            canvas.text((0.5, y + 0.8), &fitted, Type::of(2.4)).right + 1.5
        };
        if self.basin.is_some() {
            // From the bottom of the bowl, under the words.
            canvas.polyline(
                &[(BASIN, y + 3.0), (BASIN, y + 8.2), (start, y + 8.2), (start, y)],
                if self.pipe.is_some() { WASTE } else { JOINED },
            );
        }
        if let Some(pipe) = self.pipe {
            pipe_ground(canvas, plan, pipe, WORDS, y);
            canvas.line((start, y), (JOIN, y), WASTE);
            pipe_words(canvas, plan, pipe, WORDS, y);
        } else {
            canvas.line((start, y), (JOIN, y), JOINED);
        }
        if !ends {
            let end =
                self.pipe.and_then(|p| p.roles.to().first()).map_or("end not named", |id| plan.context.build.name(id));
            canvas.text((JOIN + 1.5, y + 0.8), &letters::fitted(end, 2.3, Weight::Regular, 32.0), Type::of(2.3));
        }
    }
}

fn draw(
    plan: &Plan<'_>,
    groups: &[&Group<'_>],
    tail: Option<(&[Entry<'_>], &Advice)>,
    (at, count): (usize, usize),
) -> Drawing {
    let mut canvas = Canvas::new(SHEET, PAGE.1);
    let of = if count > 1 { format!(", sheet {} of {count}", at + 1) } else { String::new() };
    let title = format!("Waste water{of}");
    canvas.text((0.5, 3.4), &title, Type::of(3.2).bold());
    let mut y = HEAD;
    for group in groups {
        group.draw(&mut canvas, plan, y);
        y += group.height();
    }
    if let Some((entries, advice)) = tail {
        y += list::draw(&mut canvas, plan, entries, y);
        y += advice.draw(&mut canvas, y);
    }
    key(&mut canvas, y + 3.5, &[("waste", WASTE), ("joined, the spec names no pipe", JOINED)]);
    canvas.set_height(y + KEY);
    let suffix = if at == 0 { "waste".to_owned() } else { format!("waste-{}", at + 1) };
    Drawing::finish(&canvas, Subject::Water, &suffix, "waste", &title, &words(groups))
}

fn steps(plan: &Plan<'_>, groups: &[Group<'_>]) -> Vec<String> {
    let mut steps = Vec::new();
    for valve in groups.iter().filter(|g| g.tank.is_some()).flat_map(|g| &g.valves) {
        let by_hand = role_of(valve) == Some(PlumbingRole::HandValve);
        let stands_in = valve.roles.bypass_of().first().map(|id| plan.context.build.name(id));
        let at = if by_hand { String::new() } else { switched_at(plan, valve) };
        steps.push(match (stands_in, at.is_empty()) {
            (Some(motor), _) => format!("If {motor} does not move, open {} by hand.", valve.name),
            (None, true) if by_hand => format!("Open {} by hand. Shut it when nothing more comes.", valve.name),
            (None, true) => format!("Open {}. Shut it when nothing more comes.", valve.name),
            (None, false) => {
                format!("Open {} by its switch; it is fed from {at}. Shut it when nothing more comes.", valve.name)
            }
        });
    }
    if !steps.is_empty() {
        steps.insert(0, "Stand over a drain meant for waste water, and put the hose on.".to_owned());
    }
    steps
}

fn words(groups: &[&Group<'_>]) -> String {
    let one = |g: &&Group<'_>| {
        let from =
            g.rows.iter().map(|r| r.basin.map_or_else(|| r.words.clone(), name_of)).collect::<Vec<_>>().join(", ");
        let valves = g.valves.iter().map(|v| name_of(v)).collect::<Vec<_>>().join(", ");
        let tank = g.tank.map_or_else(|| "no tank".to_owned(), name_of);
        let out = if valves.is_empty() { String::new() } else { format!(", emptied by {valves}") };
        let from = if from.is_empty() { String::new() } else { format!(" from {from}") };
        format!("{tank}{from}{out}")
    };
    format!(
        "Diagram of the waste water from left to right, from the basins to the outside: {}.",
        groups.iter().map(one).collect::<Vec<_>>().join("; ")
    )
}
