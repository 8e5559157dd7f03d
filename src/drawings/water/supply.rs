//! Sheets of the supply: as many as its parts need.

use super::flow::{Block, Flow};
use super::list::{self, Advice, Entry, switched_at};
use super::trunk::{Trunk, pipe_ground, pipe_words};
use super::{COLD, HOT, JOINED, OUTSIDE, Plan, SHEET, arrow};
use crate::compute::wording::{Reader, name_and_place};
use crate::drawings::canvas::{Area, Canvas, Fill, Pen, Type};
use crate::drawings::{Drawing, PAGE, Subject};
use crate::kinds::PlumbingRole;

/// Height of the heading, and of the key under a sheet, mm.
const HEAD: f64 = 6.0;
const KEY: f64 = 7.0;

/// What stands on one sheet.
#[derive(Default)]
struct Page {
    blocks: std::ops::Range<usize>,
    entries: std::ops::Range<usize>,
    advice: bool,
}

pub(super) fn sheets(plan: &Plan<'_>) -> Vec<Drawing> {
    let (trunk, flow) = (Trunk::of(plan), Flow::of(plan));
    let entries = list::entries(plan, false, &flow.loose);
    let advice = Advice::new("To stop a leak", &steps(plan));
    if trunk.is_empty() && flow.blocks.is_empty() && entries.is_empty() {
        return Vec::new();
    }
    let pages = pages(&trunk, &flow, entries.len(), &advice);
    let count = pages.len();
    let sheet = |(at, page): (usize, &Page)| draw(plan, &trunk, &flow, &entries, &advice, page, (at, count));
    pages.iter().enumerate().map(sheet).collect()
}

/// Height of the band from the tank to the pump.
fn band(trunk: &Trunk<'_>, flow: &Flow<'_>) -> f64 {
    trunk.height() + if flow.main.is_some() { 5.0 } else { 0.0 }
}

/// Spreads blocks, entries and advice over sheets.
fn pages(trunk: &Trunk<'_>, flow: &Flow<'_>, entries: usize, advice: &Advice) -> Vec<Page> {
    let mut pages = vec![Page::default()];
    let mut y = HEAD + band(trunk, flow);
    let blocks = &flow.blocks;
    let bottom = PAGE.1 - KEY;
    let turn = |pages: &mut Vec<Page>, y: &mut f64| {
        pages.push(Page::default());
        *y = HEAD + 5.0;
    };
    for (at, block) in blocks.iter().enumerate() {
        if y + block.height() > bottom && y > HEAD + 5.0 {
            turn(&mut pages, &mut y);
        }
        if let Some(page) = pages.last_mut() {
            page.blocks = if page.blocks.is_empty() { at..at + 1 } else { page.blocks.start..at + 1 };
        }
        y += block.height();
    }
    let mut left = 0..entries;
    while !left.is_empty() {
        let fits = (1..=left.len()).rev().find(|n| y + list::height(*n) <= bottom);
        let Some(fits) = fits else {
            turn(&mut pages, &mut y);
            continue;
        };
        // A list of a few is not torn apart.
        if fits < left.len() && y > HEAD + 5.0 && list::height(left.len()) < bottom - HEAD - 5.0 {
            turn(&mut pages, &mut y);
            continue;
        }
        if let Some(page) = pages.last_mut() {
            page.entries = left.start..left.start + fits;
        }
        y += list::height(fits);
        left.start += fits;
    }
    if y + advice.height() > bottom {
        turn(&mut pages, &mut y);
    }
    if let Some(page) = pages.last_mut() {
        page.advice = true;
    }
    pages
}

fn draw(
    plan: &Plan<'_>,
    trunk: &Trunk<'_>,
    flow: &Flow<'_>,
    entries: &[Entry<'_>],
    advice: &Advice,
    page: &Page,
    (at, count): (usize, usize),
) -> Drawing {
    let mut canvas = Canvas::new(SHEET, PAGE.1);
    let of = if count > 1 { format!(", sheet {} of {count}", at + 1) } else { String::new() };
    let title = format!("Water supply{of}");
    canvas.text((0.5, 3.4), &title, Type::of(3.2).bold());
    let mut y = HEAD;
    let blocks = &flow.blocks[page.blocks.clone()];
    if at == 0 && !trunk.is_empty() {
        let end = trunk.draw(&mut canvas, plan, y);
        y += band(trunk, flow);
        if !blocks.is_empty() {
            // On to the next band, as a line of writing goes on.
            let right = SHEET - 1.5;
            let turn = y - 4.0;
            if let Some(main) = flow.main {
                pipe_ground(&mut canvas, plan, main, (96.0, 140.0), turn);
            }
            canvas.polyline(&[end, (right, end.1), (right, turn), (7.0, turn)], COLD);
            canvas.polygon(&[(88.0, turn), (90.4, turn - 1.0), (90.4, turn + 1.0)], Pen::NONE, Fill::Grey(0.0));
            if let Some(main) = flow.main {
                pipe_words(&mut canvas, plan, main, (96.0, 140.0), turn);
            }
        }
    } else if at > 0 {
        y += 5.0;
    }
    flow.draw(&mut canvas, plan, page.blocks.clone(), y);
    y += blocks.iter().map(Block::height).sum::<f64>();
    y += list::draw(&mut canvas, plan, &entries[page.entries.clone()], y);
    if page.advice {
        y += advice.draw(&mut canvas, y);
    }
    key(&mut canvas, y + 3.5, &[("cold", COLD), ("hot", HOT), ("joined, the spec names no pipe", JOINED)]);
    canvas.set_height(y + KEY);
    let tail = if at == 0 { "supply".to_owned() } else { format!("supply-{}", at + 1) };
    Drawing::finish(&canvas, Subject::Water, &tail, "supply", &title, &words(plan))
}

/// What the lines on the sheet mean; those that it has none of are left out.
pub(super) fn key(canvas: &mut Canvas, y: f64, lines: &[(&str, Pen)]) {
    let mut x = 0.5;
    let drawn: Vec<_> = lines.iter().filter(|(_, pen)| canvas.has(*pen, Fill::None)).collect();
    // An arrow without a line is that of a symbol.
    let flows = !drawn.is_empty() && canvas.has(Pen::NONE, Fill::Grey(0.0));
    let outside = canvas.has(Pen::NONE, OUTSIDE);
    for (word, pen) in drawn {
        canvas.line((x, y), (x + 9.0, y), *pen);
        x = canvas.text((x + 10.5, y + 0.8), word, Type::of(2.3)).right + 5.0;
    }
    if flows {
        arrow(canvas, (x + 4.0, y), false);
        canvas.line((x, y), (x + 3.0, y), JOINED);
        x = canvas.text((x + 5.5, y + 0.8), "flow", Type::of(2.3)).right + 5.0;
    }
    if outside {
        canvas.rect(Area::at(x, y - 1.7, 7.0, 3.4), 0.0, Pen::NONE, OUTSIDE);
        canvas.text((x + 8.5, y + 0.8), "outside the heated space", Type::of(2.3));
    }
}

fn steps(plan: &Plan<'_>) -> Vec<String> {
    let build = plan.context.build;
    let name = |id: &str| name_and_place(build, id, Reader::Binder);
    let mut steps = Vec::new();
    for pump in plan.of_role(PlumbingRole::Pump) {
        let at = switched_at(plan, pump);
        steps.push(if at.is_empty() {
            format!("Stop {}.", name(&pump.id))
        } else {
            format!("Stop {}: {at}.", pump.name)
        });
    }
    for city in plan.of_role(PlumbingRole::CityInlet) {
        steps.push(format!("Shut the tap at the post and take the hose off {}.", name(&city.id)));
    }
    if steps.is_empty() {
        return steps;
    }
    if let Some(outlet) = plan.of_role(PlumbingRole::Outlet).next() {
        steps.push(format!("Open {} until nothing more comes: the pressure is off.", name(&outlet.id)));
    }
    for mark in plan.marks.all.iter().filter(|m| !m.waste && m.tag.starts_with('D')) {
        steps.push(format!("To empty it, open {} {}.", mark.tag, name(&mark.part.id)));
    }
    steps
}

fn words(plan: &Plan<'_>) -> String {
    let list = |role| plan.of_role(role).map(super::name_of).collect::<Vec<_>>().join(", ");
    let mut parts = Vec::new();
    for (word, role) in [
        ("tanks", PlumbingRole::FreshTank),
        ("pumps", PlumbingRole::Pump),
        ("filters", PlumbingRole::Filter),
        ("water heaters", PlumbingRole::Heater),
        ("outlets", PlumbingRole::Outlet),
        ("drains", PlumbingRole::DrainValve),
    ] {
        let names = list(role);
        if !names.is_empty() {
            parts.push(format!("{word}: {names}"));
        }
    }
    let pipes = plan.of_role(PlumbingRole::Pipe).filter(|p| p.roles.medium().text() != Some("waste")).count();
    format!("Diagram of the water supply from left to right, with {pipes} pipes. {}.", parts.join("; "))
}
