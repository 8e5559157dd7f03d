//! Terminal plans: which conductor ends on which post of a panel, bar, shunt or fuse, with its lug and its torque.
//!
//! Each part is drawn as its face with posts on both sides: toward the source on the left, toward the loads on the right;
//! of a panel its ways on the left, its negative, neutral and earth bars on the right. The conductors of one circuit
//! stand beside each other. The tables of the packet say the same post by post; here it is seen where it goes.

mod block;
mod ends;

use super::canvas::{Canvas, Pen, Type};
use super::letters::{Weight, fitted, width};
use super::{Context, Drawing, PAGE, Subject};
use crate::compute::network::is_worked_on;
use crate::kinds::Role;
use block::Block;
use std::ops::Range;

/// Left and right rim of a sheet, mm.
const LEFT: f64 = 1.0;
const RIGHT: f64 = 175.0;

/// Height of the title with the line that tells how to read the sheet, mm.
const TITLE: f64 = 10.5;

/// Height for title and blocks: a rim is left below them, mm.
const ROOM: f64 = PAGE.1 - 1.0;

/// Room between blocks, mm.
const BETWEEN: f64 = 4.5;

/// Size of plain text, mm.
const SMALL: f64 = 2.2;

/// Some rows of a block on a sheet.
struct Item {
    block: usize,
    rows: Range<usize>,
}

/// Whether a part has a plan of its own: its posts take several conductors, or the current of all goes through it.
fn has_plan(context: &Context<'_>, id: &str) -> bool {
    use Role::{Bank, Bus, Disconnect, Protection, Rcd, Shunt, Transfer};
    let Some(part) = context.build.parts.get(id) else { return false };
    let by_role = part.role().is_some_and(|role| {
        role.has_ways() || matches!(role, Bank | Bus | Disconnect | Protection | Rcd | Shunt | Transfer)
    });
    by_role || part.roles.negative_bar.is_some() || !part.switches().is_empty()
}

/// The sheets; none where no such part has a conductor that this job terminates.
#[must_use]
pub(super) fn sheets(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let mut worked: Vec<&str> = Vec::new();
    for conductor in build.wiring.conductors.values().filter(|c| is_worked_on(build, c)) {
        worked.extend(conductor.ends().map(|end| end.part.as_str()));
    }
    let mut parts: Vec<&str> = build.parts.keys().map(String::as_str).collect();
    worked.sort_unstable();
    parts.retain(|id| worked.binary_search(id).is_ok() && has_plan(context, id));
    let wires = ends::Wires::of(build);
    let mut blocks: Vec<Block> = parts.into_iter().filter_map(|id| Block::of(context, id, &wires)).collect();
    // The large ones first, each in the order of the build; what has two posts fills what they leave.
    blocks.sort_by_key(|block| block.len() < 3);
    let sheets = paginate(&blocks);
    sheets.iter().enumerate().map(|(at, items)| draw(context, &blocks, items, (at, sheets.len()))).collect()
}

/// Deals the blocks out to sheets. One that fits on a sheet of its own is not split; a small one goes where room is left.
fn paginate(blocks: &[Block]) -> Vec<Vec<Item>> {
    let mut sheets: Vec<(f64, Vec<Item>)> = Vec::new();
    for (at, block) in blocks.iter().enumerate() {
        let whole = block.height(0..block.len());
        let fits = |used: f64| used + BETWEEN + whole <= ROOM;
        if TITLE + BETWEEN + whole <= ROOM {
            let item = Item { block: at, rows: 0..block.len() };
            match sheets.iter_mut().find(|(used, _)| fits(*used)) {
                Some((used, items)) => {
                    *used += BETWEEN + whole;
                    items.push(item);
                }
                None => sheets.push((TITLE + BETWEEN + whole, vec![item])),
            }
            continue;
        }
        let mut from = 0;
        while from < block.len() {
            let mut to = from + 1;
            while to < block.len() && TITLE + BETWEEN + block.height(from..to + 1) <= ROOM {
                to += 1;
            }
            sheets.push((TITLE + BETWEEN + block.height(from..to), vec![Item { block: at, rows: from..to }]));
            from = to;
        }
    }
    sheets.into_iter().map(|(_, items)| items).collect()
}

fn draw(context: &Context<'_>, blocks: &[Block], items: &[Item], (at, all): (usize, usize)) -> Drawing {
    let build = context.build;
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let of = if all > 1 { format!("sheet {} of {all}", at + 1) } else { String::new() };
    let revision = Some(build.about.revision.or_empty()).filter(|r| !r.is_empty()).map(|r| format!("revision {r}"));
    let right: Vec<String> = [Some(of.clone()), revision].into_iter().flatten().filter(|t| !t.is_empty()).collect();
    let right = right.join(" · ");
    canvas.text((LEFT, 3.6), "Terminal plan", Type::of(3.2).bold());
    canvas.text((RIGHT, 3.6), &right, Type::of(SMALL).end());
    let taken = width("Terminal plan", 3.2, Weight::Semibold);
    let room = RIGHT - LEFT - taken - width(&right, SMALL, Weight::Regular) - 12.0;
    let name = fitted(build.about.title.or_empty(), 3.2, Weight::Regular, room);
    canvas.text((LEFT + taken + 4.0, 3.6), &name, Type::of(3.2));
    canvas.line((LEFT, 5.6), (RIGHT, 5.6), Pen::of(0.35));
    let how = "Left: from the source, or a way. Right: to the load, or a bar. In a frame the wire label, below it lug and \
               torque; where no torque stands, it is the maker’s.";
    canvas.text((LEFT, 9.0), &fitted(how, SMALL, Weight::Regular, RIGHT - LEFT), Type::of(SMALL));
    let mut y = TITLE;
    let mut names: Vec<String> = Vec::new();
    let mut counted = 0;
    for item in items {
        let block = &blocks[item.block];
        y += BETWEEN;
        block.draw(&mut canvas, y, item.rows.clone());
        y += block.height(item.rows.clone());
        names.push(block.name.clone());
        counted += block.ends(item.rows.clone());
    }
    canvas.set_height((y + 1.0).ceil());
    let tail = if at == 0 { String::new() } else { (at + 1).to_string() };
    let of = if of.is_empty() { of } else { format!(", {of}") };
    let title = format!("Terminal plan{of}: {}", shortened(&names));
    let description = format!(
        "Terminal plan of {}: {counted} ends of conductors on their posts, each with its wire label, lug and torque.",
        names.join(", ")
    );
    Drawing::finish(&canvas, Subject::Terminals, &tail, "", &title, &description)
}

/// The first names of several.
fn shortened(names: &[String]) -> String {
    match names {
        [first, second, third, rest @ ..] if !rest.is_empty() => {
            format!("{first}, {second}, {third} and {} more", rest.len())
        }
        few => few.join(", "),
    }
}
