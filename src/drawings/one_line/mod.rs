//! One-line diagrams of direct and of alternating current: from the bank outward to every way of every panel.
//!
//! Every circuit is on exactly one line of exactly one sheet, with its way, device, conductor, length, wire label, load
//! and current. Sources stand on the left of a busbar, what it feeds on its right.

mod grounds;
mod layout;
mod legend;
mod loose;
mod net;
mod refs;
mod rows;
mod ways;
mod words;

use super::canvas::{Canvas, Pen, Type};
use super::letters::{Weight, fitted, width};
use super::symbols::Standard;
use super::{Context, Drawing, PAGE, Subject};
use layout::{BETWEEN, Block, Layout, Sheet, TITLE};
use loose::LOOSE;
use net::Side;
use refs::Refs;
use rows::{HEAD, LEFT, RIGHT, count};
use std::collections::{BTreeMap, BTreeSet};
use words::{LEADING, SMALL};

/// The sheets of both diagrams, direct current first; none where a build has no circuits.
#[must_use]
pub(super) fn sheets(context: &Context<'_>) -> Vec<Drawing> {
    let touched = |side: Side| -> BTreeSet<&str> {
        let circuits = context.build.circuits.values().filter(|c| side.has(c));
        circuits.flat_map(|c| [c.from.as_str(), c.to.as_str()]).collect()
    };
    let dc = Layout::of(context, Side::Dc, &touched(Side::Ac));
    let ac = Layout::of(context, Side::Ac, &touched(Side::Dc));
    let nothing = BTreeMap::new();
    let parts_of = |plan: &Option<Layout<'_>>| plan.as_ref().map_or_else(|| nothing.clone(), |p| p.parts.clone());
    let (direct, alternating) = (parts_of(&dc), parts_of(&ac));
    let dc = dc.into_iter().flat_map(|plan| draw(context, &plan, Side::Dc, &alternating));
    let ac = ac.into_iter().flat_map(|plan| draw(context, &plan, Side::Ac, &direct));
    dc.chain(ac).collect()
}

fn draw(context: &Context<'_>, plan: &Layout<'_>, side: Side, other: &BTreeMap<String, usize>) -> Vec<Drawing> {
    let one = |at: usize, sheet: &Sheet<'_>| draw_sheet(context, plan, side, other, at, sheet);
    plan.sheets.iter().enumerate().map(|(at, sheet)| one(at, sheet)).collect()
}

fn draw_sheet(
    context: &Context<'_>,
    plan: &Layout<'_>,
    side: Side,
    other: &BTreeMap<String, usize>,
    at: usize,
    sheet: &Sheet<'_>,
) -> Drawing {
    let (subject, current, other_name) = match side {
        Side::Dc => (Subject::DcOneLine, "DC", "AC"),
        Side::Ac => (Subject::AcOneLine, "AC", "DC"),
    };
    let standard = Standard::of(&context.electrical.profile.id);
    let number = at + 1;
    let many = plan.sheets.len() > 1;
    let refs = Refs { own: &plan.own, other, other_name, sheet: number };
    let blocks = plan.blocks(context, sheet, &refs);
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let of = if many { format!("sheet {number} of {}", plan.sheets.len()) } else { String::new() };
    title(context, &mut canvas, &format!("{current} one-line diagram"), &of);
    let mut y = TITLE;
    let mut heads = Vec::new();
    for item in &sheet.items {
        let Some(block) = blocks.get(&item.block) else { continue };
        let continued = item.rows.start > 0;
        y += BETWEEN;
        head(&mut canvas, block, continued, y);
        heads.push(block.head().0.clone());
        y += block.head_height(continued);
        y = match block {
            Block::Rows(rows) => rows.draw(&mut canvas, standard, y, item.rows.clone()),
            Block::Ways(ways) => ways.draw(&mut canvas, standard, y, item.rows.clone()),
            Block::Loose(loose) => loose.draw(&mut canvas, y, item.rows.clone()),
        };
    }
    if at == 0 {
        y = foot(context, plan, &mut canvas, standard, y);
    }
    canvas.set_height((y + 1.0).ceil());
    let tail = if at == 0 { String::new() } else { number.to_string() };
    let what = if sheet.about.is_empty() {
        if many { "sources and distribution".to_owned() } else { String::new() }
    } else if sheet.about == LOOSE {
        loose::TITLE.to_owned()
    } else {
        context.build.name(sheet.about).to_owned()
    };
    let told = [of, what].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(": ");
    let told = if told.is_empty() { told } else { format!(", {told}") };
    let about = description(current, &heads, at == 0, sheet, &blocks);
    let panel = if sheet.about == LOOSE { "" } else { sheet.about };
    Drawing::finish(&canvas, subject, &tail, panel, &format!("{current} one-line diagram{told}"), &about)
}

fn title(context: &Context<'_>, canvas: &mut Canvas, title: &str, of: &str) {
    let build = context.build;
    let revision = Some(build.about.revision.or_empty()).filter(|r| !r.is_empty()).map(|r| format!("revision {r}"));
    let right: Vec<String> = [Some(of.to_owned()), revision].into_iter().flatten().filter(|t| !t.is_empty()).collect();
    let right = right.join(" · ");
    canvas.text((LEFT, 3.6), title, Type::of(3.2).bold());
    canvas.text((RIGHT, 3.6), &right, Type::of(SMALL).end());
    let room = RIGHT - LEFT - width(title, 3.2, Weight::Semibold) - width(&right, SMALL, Weight::Regular) - 12.0;
    let name = fitted(build.about.title.or_empty(), 3.2, Weight::Regular, room);
    canvas.text((LEFT + width(title, 3.2, Weight::Semibold) + 4.0, 3.6), &name, Type::of(3.2));
    canvas.line((LEFT, 5.6), (RIGHT, 5.6), Pen::of(0.35));
}

fn head(canvas: &mut Canvas, block: &Block, continued: bool, top: f64) {
    let (name, about) = block.head();
    let name = if continued { format!("{name}, continued") } else { name.clone() };
    let name = fitted(&name, 2.8, Weight::Semibold, 90.0);
    let area = canvas.text((LEFT, top + 2.2), &name, Type::of(2.8).bold());
    let room = RIGHT - area.right - 3.0;
    canvas.text((area.right + 3.0, top + 2.2), &fitted(about, SMALL, Weight::Regular, room), Type::of(SMALL));
    if let (Block::Ways(ways), false) = (block, continued) {
        for (down, text) in ways.told.iter().enumerate() {
            canvas.text((LEFT, top + 2.2 + 3.2 + LEADING * count(down)), text, Type::of(SMALL));
        }
    }
}

fn foot(context: &Context<'_>, plan: &Layout<'_>, canvas: &mut Canvas, standard: Standard, from: f64) -> f64 {
    let mut y = from;
    let what = plan.grounds.head();
    if !what.is_empty() {
        y += BETWEEN;
        canvas.text((LEFT, y + 2.2), what, Type::of(2.8).bold());
        y += HEAD;
        plan.grounds.draw(context, canvas, standard, y);
        y += plan.grounds.height();
    }
    y += BETWEEN;
    legend::draw(canvas, standard, &plan.symbols, y);
    y + legend::height(&plan.symbols)
}

/// What can be seen, in words: the heads, and how many lines each has here.
fn description(
    current: &str,
    heads: &[String],
    first: bool,
    sheet: &Sheet<'_>,
    blocks: &BTreeMap<usize, Block>,
) -> String {
    let lines = |at: usize| match sheet.items.get(at).map(|i| i.rows.len()) {
        Some(1) => "1 line".to_owned(),
        rows => format!("{} lines", rows.unwrap_or(0)),
    };
    let parts: Vec<_> = heads.iter().enumerate().map(|(at, name)| format!("{name} with {}", lines(at))).collect();
    let all = |is: fn(&Block) -> bool| sheet.items.iter().all(|i| blocks.get(&i.block).is_some_and(is));
    let how = if all(|b| matches!(b, Block::Loose(_))) {
        "conductors that are on no line, each with its ends"
    } else if all(|b| matches!(b, Block::Ways(_))) {
        "each line from the bar through its fuse or breaker to its load"
    } else {
        "sources on the left, what they feed on the right"
    };
    let also =
        if first { " At the foot what returns and what is bonded, and the symbols with their names." } else { "" };
    format!("{current} one-line diagram: {how}. {}.{also}", parts.join("; "))
}
