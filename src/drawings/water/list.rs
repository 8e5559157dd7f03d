//! The list under a water diagram: drains, heat, senders and pipes that are on none of its lines; and what to do.

use super::{Plan, SHEET, block, bubbles, symbols};
use crate::build::Part;
use crate::compute::wording::{Reader, place_of, protection};
use crate::drawings::canvas::{Area, Canvas, Fill, Pen, Type};
use crate::drawings::letters::{self, Weight};
use crate::kinds::{PlumbingRole, Role};

/// Marks stand so far above the middle of a symbol, mm (downwards is positive).
pub(super) const BUBBLES: f64 = -8.8;

/// One entry of the list.
pub(super) struct Entry<'a> {
    /// Its mark, "" where it has none.
    pub(super) tag: &'a str,
    /// The part.
    pub(super) part: &'a Part<'a>,
    /// What it does, one sentence.
    pub(super) does: String,
}

/// Height of an entry, and width of a column of them, mm.
const HIGH: f64 = 14.5;
const WIDE: f64 = SHEET / 2.0;

/// The entries of the sheets of supply or of waste water.
pub(super) fn entries<'a>(plan: &'a Plan<'a>, waste: bool, loose: &[&'a Part<'a>]) -> Vec<Entry<'a>> {
    let build = plan.context.build;
    let marked = plan.marks.all.iter().filter(|m| m.waste == waste).map(|m| {
        let all = format!("all that is marked {}", m.tag);
        let does = match super::role_of(m.part) {
            _ if m.on.is_empty() => "The spec does not say on what.".to_owned(),
            Some(PlumbingRole::Trace | PlumbingRole::Pad) => format!("Warms {all}."),
            Some(PlumbingRole::Sender) => format!("Measures {all}."),
            _ => format!("Opened, it empties {all}."),
        };
        Entry { tag: &m.tag, part: m.part, does }
    });
    let pipe = |part: &&'a Part<'a>| {
        let end = |word: &str, id: Option<&str>| id.map(|id| format!("{word} {}", build.name(id)));
        let ends: Vec<_> = [end("from", part.roles.from().first()), end("to", part.roles.to().first())]
            .into_iter()
            .flatten()
            .collect();
        let medium = part.roles.medium().text().unwrap_or("pipe");
        Entry { tag: "", part, does: format!("{medium} {}", ends.join(" ")) }
    };
    marked.chain(loose.iter().map(pipe)).collect()
}

/// Height that so many entries take.
#[expect(clippy::cast_precision_loss, reason = "a list on a sheet")]
pub(super) fn height(entries: usize) -> f64 {
    if entries == 0 { 0.0 } else { (entries.div_ceil(2) as f64).mul_add(HIGH, 3.0) }
}

/// Draws them in two columns; gives the height they take.
#[expect(clippy::cast_precision_loss, reason = "a list on a sheet")]
pub(super) fn draw(canvas: &mut Canvas, plan: &Plan<'_>, entries: &[Entry<'_>], top: f64) -> f64 {
    if entries.is_empty() {
        return 0.0;
    }
    canvas.line((0.5, top), (SHEET - 0.5, top), Pen::of(0.18).grey(0.5));
    let rows = entries.len().div_ceil(2);
    for (at, entry) in entries.iter().enumerate() {
        let left = if at / rows == 0 { 0.0 } else { WIDE };
        let y = ((at % rows) as f64).mul_add(HIGH, top + 4.5);
        bubbles(canvas, &if entry.tag.is_empty() { vec![] } else { vec![entry.tag] }, (left + 1.0, y + 3.0));
        if let Some(role) = super::role_of(entry.part) {
            if plan.is_outside(entry.part) {
                canvas.rect(Area::at(left + 6.6, y - 2.6, 10.8, 11.2), 0.0, Pen::NONE, super::OUTSIDE);
            }
            symbols::draw(canvas, role, (left + 12.0, y + 3.0));
        }
        let room = WIDE - 21.0;
        let place = place_of(plan.context.build, &entry.part.id, Reader::Binder);
        let short = Short { plan, entry, place: &place };
        short.draw(canvas, (left + 19.0, y), room);
    }
    height(entries.len())
}

/// The words of an entry.
struct Short<'a> {
    plan: &'a Plan<'a>,
    entry: &'a Entry<'a>,
    place: &'a str,
}

impl Short<'_> {
    fn draw(&self, canvas: &mut Canvas, (x, y): (f64, f64), room: f64) {
        let part = self.entry.part;
        let id = Type::of(2.2).grey(0.25);
        let id_wide = letters::width(&part.id, id.size, id.weight).min(room / 2.0);
        let name = letters::fitted(&super::name_of(part), 2.4, Weight::Semibold, room - id_wide - 2.0);
        let drawn = canvas.text((x, y), &name, Type::of(2.4).bold());
        canvas.text(
            (drawn.right + 1.6, y),
            &letters::fitted(&part.id, id.size, id.weight, x + room - drawn.right - 1.6),
            id,
        );
        let detail = self.plan.detail(part);
        let facts = [detail.as_str(), self.place].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
        let mut at = y + 3.0;
        for line in [facts, self.entry.does.clone()].iter().filter(|l| !l.is_empty()) {
            canvas.text((x, at), &letters::fitted(line, 2.3, Weight::Regular, room), Type::of(2.3));
            at += 3.0;
        }
    }
}

/// What to do, in numbered lines within a frame.
pub(super) struct Advice {
    head: &'static str,
    lines: Vec<String>,
}

impl Advice {
    pub(super) fn new(head: &'static str, steps: &[String]) -> Self {
        let step = |(n, text): (usize, &String)| {
            letters::lines(&format!("{}. {text}", n + 1), 2.6, Weight::Regular, SHEET - 8.0)
        };
        Self { head, lines: steps.iter().enumerate().flat_map(step).collect() }
    }

    #[expect(clippy::cast_precision_loss, reason = "a few lines")]
    pub(super) fn height(&self) -> f64 {
        if self.lines.is_empty() { 0.0 } else { (self.lines.len() as f64).mul_add(3.4, 10.0) }
    }

    pub(super) fn draw(&self, canvas: &mut Canvas, top: f64) -> f64 {
        if self.lines.is_empty() {
            return 0.0;
        }
        let high = self.height();
        canvas.rect(Area::at(0.3, top, SHEET - 0.6, high - 1.0), 1.2, Pen::of(0.35), Fill::None);
        canvas.text((3.0, top + 4.4), self.head, Type::of(2.8).bold());
        for (line, at) in self.lines.iter().zip(0_u8..) {
            canvas.text((3.0, f64::from(at).mul_add(3.4, top + 8.2)), line, Type::of(2.6));
        }
        high
    }
}

/// How to make a part dead: what switches it, and its way.
pub(super) fn switched_at(plan: &Plan<'_>, part: &Part<'_>) -> String {
    let build = plan.context.build;
    let Some(circuit) = build.circuits.get(&part.id) else { return String::new() };
    let Some(from) = build.parts.get(&circuit.from).filter(|p| !p.confidential) else { return String::new() };
    let device =
        plan.context.electrical.circuits.get(&circuit.id).map(|f| protection(build, &f.device)).unwrap_or_default();
    match (circuit.way, from.role()) {
        (Some(way), Some(Role::SwitchPanel)) => format!("switch {way} of {}", from.name),
        (Some(way), _) => format!("way {way} of {} ({device})", from.name),
        (None, Some(Role::Control)) => from.name.clone(),
        (None, _) => device,
    }
}

/// A symbol with its words under it.
pub(super) fn item(canvas: &mut Canvas, plan: &Plan<'_>, part: &Part<'_>, at: (f64, f64), room: f64) {
    let Some(role) = super::role_of(part) else { return };
    if plan.is_outside(part) {
        canvas.rect(Area::at(at.0 - room / 2.0 + 0.4, at.1 - 7.6, room - 0.8, 24.0), 0.0, Pen::NONE, super::OUTSIDE);
    }
    symbols::draw(canvas, role, at);
    let marks = plan.marks.on(&part.id);
    block(canvas, plan, part, (at.0, at.1 + 8.6), room - 1.5, true);
    bubbles(canvas, &marks, (at.0 - super::bubbles_width(&marks) / 2.0 + 0.3, at.1 + BUBBLES));
}
