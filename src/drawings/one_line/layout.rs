//! What goes on which sheet.
//!
//! Where all fits on one sheet it is one. Else the first sheets show sources and distribution, and each panel has a
//! sheet of its own, continued on further ones.

use super::grounds::Grounds;
use super::legend;
use super::loose::{LOOSE, Loose};
use super::net::{Hub, Side, hubs};
use super::refs::Refs;
use super::rows::{HEAD, Rows, count};
use super::ways::Ways;
use super::words::LEADING;
use crate::build::Part;
use crate::drawings::symbols::Symbol;
use crate::drawings::{Context, PAGE};
use crate::kinds::Role;
use indexmap::IndexSet;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// Height of the title of a sheet, mm.
pub(super) const TITLE: f64 = 6.5;

/// Room between blocks, mm.
pub(super) const BETWEEN: f64 = 3.2;

/// Height for titles and blocks: a rim is left below them, mm.
const ROOM: f64 = PAGE.1 - 1.0;

/// A hub or a panel with its lines.
#[derive(Clone, Debug)]
pub(super) enum Block {
    /// Sources and distribution.
    Rows(Rows),
    /// Ways of a panel.
    Ways(Ways),
    /// What is on no line.
    Loose(Loose),
}

impl Block {
    /// Name, and what else its head says.
    pub(super) const fn head(&self) -> &(String, String) {
        match self {
            Self::Rows(rows) => &rows.head,
            Self::Ways(ways) => &ways.head,
            Self::Loose(loose) => &loose.head,
        }
    }

    fn len(&self) -> usize {
        match self {
            Self::Rows(rows) => rows.lines.len(),
            Self::Ways(ways) => ways.len(),
            Self::Loose(loose) => loose.len(),
        }
    }

    fn height(&self, at: usize) -> f64 {
        match self {
            Self::Rows(rows) => rows.height(at),
            Self::Ways(ways) => ways.height(at),
            Self::Loose(loose) => loose.height(at),
        }
    }

    /// Height of its head, mm; the further lines of a panel's head stand on its first sheet alone.
    pub(super) fn head_height(&self, continued: bool) -> f64 {
        match self {
            Self::Ways(ways) if !continued => HEAD + LEADING * count(ways.told.len()),
            _ => HEAD,
        }
    }

    fn symbols(&self) -> Vec<Symbol> {
        match self {
            Self::Rows(rows) => rows.symbols().collect(),
            Self::Ways(ways) => ways.symbols().collect(),
            Self::Loose(_) => Vec::new(),
        }
    }
}

/// Some rows of a block on a sheet.
#[derive(Clone, Debug)]
pub(super) struct Item {
    /// Which block.
    pub(super) block: usize,
    /// Which of its rows.
    pub(super) rows: Range<usize>,
}

/// A sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Sheet<'a> {
    /// Panel it is about; "" for sources and distribution.
    pub(super) about: &'a str,
    /// What is on it.
    pub(super) items: Vec<Item>,
    /// Room taken so far, mm.
    pub(super) height: f64,
}

/// A drawing laid out.
#[derive(Clone, Debug)]
pub(super) struct Layout<'a> {
    hubs: Vec<Hub<'a>>,
    slots: Vec<Slot<'a>>,
    /// What each sheet shows.
    pub(super) sheets: Vec<Sheet<'a>>,
    /// What stands at the foot of the first.
    pub(super) grounds: Grounds<'a>,
    /// What is on no line.
    loose: Option<Loose>,
    /// The symbols of all.
    pub(super) symbols: BTreeSet<Symbol>,
    /// Sheets of its hubs.
    pub(super) own: BTreeMap<String, usize>,
    /// Sheets of all its parts.
    pub(super) parts: BTreeMap<String, usize>,
}

/// The panel whose sheet a hub is on: none where it carries sources or spreads them.
fn group<'a>(context: &Context<'_>, hub: &Hub<'a>) -> &'a str {
    let role = context.build.parts.get(hub.id).and_then(Part::role);
    let spreads = matches!(role, Some(Role::Bus | Role::Transfer | Role::InverterCharger));
    let is_panel = role.is_some_and(Role::has_ways) && !hub.small;
    if !is_panel && (spreads || !hub.left.is_empty()) { "" } else { hub.group }
}

/// Where a block comes from: its hub, and what of it.
#[derive(Clone, Copy, Debug)]
struct Slot<'a> {
    /// Panel whose sheet it is on; "" for the overview.
    group: &'a str,
    /// Place of its hub.
    hub: usize,
    part: PartOf,
}

/// What of a hub a block shows.
#[derive(Clone, Copy, Debug)]
enum PartOf {
    /// All of it.
    All,
    /// The sources of a panel.
    Sources,
    /// The ways of a panel.
    Ways,
}

/// The blocks of a drawing, those of the overview first.
fn slots<'a>(context: &Context<'_>, hubs: &[Hub<'a>]) -> Vec<Slot<'a>> {
    let mut overview = Vec::new();
    let mut panels: Vec<Slot<'a>> = Vec::new();
    for (at, hub) in hubs.iter().enumerate() {
        let role = context.build.parts.get(hub.id).and_then(Part::role);
        let has_ways = role.is_some_and(Role::has_ways) && !hub.small;
        if !has_ways {
            let group = group(context, hub);
            let slot = Slot { group, hub: at, part: PartOf::All };
            if group.is_empty() {
                overview.push(slot);
            } else {
                panels.push(slot);
            }
            continue;
        }
        if !hub.left.is_empty() {
            overview.push(Slot { group: "", hub: at, part: PartOf::Sources });
        }
        panels.push(Slot { group: hub.id, hub: at, part: PartOf::Ways });
    }
    // What hangs behind a panel follows it.
    let order: IndexSet<&str> = panels.iter().map(|slot| slot.group).collect();
    panels.sort_by_key(|slot| order.get_index_of(slot.group));
    overview.into_iter().chain(panels).collect()
}

/// The block of a slot.
fn block(context: &Context<'_>, hubs: &[Hub<'_>], slot: Slot<'_>, refs: &Refs<'_>) -> Block {
    let hub = &hubs[slot.hub];
    match slot.part {
        PartOf::All => Block::Rows(Rows::of(context, hub, true, refs)),
        PartOf::Sources => {
            let only_left = Hub { fed: Vec::new(), ..hub.clone() };
            Block::Rows(Rows::of(context, &only_left, false, refs))
        }
        PartOf::Ways => Block::Ways(Ways::of(context, hub, refs)),
    }
}

impl<'a> Layout<'a> {
    /// Lays out one side of the build; `None` where there is nothing on it. `other` tells which parts the other side
    /// shows.
    pub(super) fn of(context: &'a Context<'a>, side: Side, other: &BTreeSet<&str>) -> Option<Self> {
        let hubs = hubs(context.build, &context.electrical, side);
        let grounds = Grounds::of(context, side);
        if hubs.is_empty() {
            return None;
        }
        // The text of a reference takes one line whatever its number: heights are those of a first, provisional one.
        let own = hubs.iter().map(|h| (h.id.to_owned(), 10)).collect();
        let others = other.iter().map(|id| ((*id).to_owned(), 10)).collect();
        let refs = Refs { own: &own, other: &others, other_name: "AC", sheet: 0 };
        let slots = slots(context, &hubs);
        let of_slot = |slot: &Slot<'a>| (slot.group, hubs[slot.hub].id, block(context, &hubs, *slot, &refs));
        let loose = Loose::of(context, side);
        let mut blocks: Vec<_> = slots.iter().map(of_slot).collect();
        blocks.extend(loose.clone().map(|loose| (LOOSE, "", Block::Loose(loose))));
        let mut symbols: BTreeSet<Symbol> = blocks.iter().flat_map(|(.., b)| b.symbols()).collect();
        symbols.extend(grounds.symbols());
        let foot = BETWEEN + HEAD + grounds.height();
        let foot = if grounds.head().is_empty() { 0.0 } else { foot } + BETWEEN + legend::height(&symbols);
        let sheets = paginate(&blocks, foot);
        let mut own = BTreeMap::new();
        for (number, sheet) in sheets.iter().enumerate() {
            for item in &sheet.items {
                let Some((_, hub, block)) = blocks.get(item.block).filter(|(.., b)| !matches!(b, Block::Loose(_)))
                else {
                    continue;
                };
                // A panel is where its ways are.
                let known = own.contains_key(*hub);
                if item.rows.start == 0 && (!known || matches!(block, Block::Ways(_))) {
                    own.insert((*hub).to_owned(), number + 1);
                }
            }
        }
        let mut parts = own.clone();
        for hub in &hubs {
            let sheet = own.get(hub.id).copied().unwrap_or(1);
            for circuit in hub.left.iter().chain(&hub.right).flat_map(|c| &c.circuits) {
                for end in [&circuit.from, &circuit.to] {
                    parts.entry(end.clone()).or_insert(sheet);
                }
            }
        }
        Some(Self { hubs, slots, sheets, grounds, loose, symbols, own, parts })
    }

    /// The blocks of a sheet by their places, as it shows them.
    pub(super) fn blocks(&self, context: &Context<'_>, sheet: &Sheet<'_>, refs: &Refs<'_>) -> BTreeMap<usize, Block> {
        let one = |item: &Item| match self.slots.get(item.block) {
            Some(slot) => Some((item.block, block(context, &self.hubs, *slot, refs))),
            None => Some((item.block, Block::Loose(self.loose.clone()?))),
        };
        sheet.items.iter().filter_map(one).collect()
    }
}

/// Deals the blocks out to sheets; `foot` is kept free on the first.
fn paginate<'a>(blocks: &[(&'a str, &'a str, Block)], foot: f64) -> Vec<Sheet<'a>> {
    let whole =
        |block: &Block| BETWEEN + block.head_height(false) + (0..block.len()).map(|at| block.height(at)).sum::<f64>();
    let on_one = TITLE + foot + blocks.iter().map(|(.., b)| whole(b)).sum::<f64>() <= ROOM;
    let first = blocks.first().map_or("", |(group, ..)| group);
    let about = if on_one { "" } else { first };
    let mut sheets = vec![Sheet { about, items: Vec::new(), height: TITLE + foot }];
    for (at, (group, _, block)) in blocks.iter().enumerate() {
        let now = sheets.last().map_or("", |s| s.about);
        let mut begin = !on_one && now != *group;
        let mut from = 0;
        while from < block.len() {
            let head = BETWEEN + block.head_height(from > 0);
            let used = sheets.last().map_or(0.0, |s| s.height);
            let is_empty = sheets.last().is_none_or(|s| s.items.is_empty());
            // A block that would be split is begun on a fresh sheet where it fits whole.
            let splits = from == 0 && used + whole(block) > ROOM && TITLE + whole(block) <= ROOM;
            begin |= !is_empty && (splits || used + head + block.height(from) > ROOM);
            if begin {
                sheets.push(Sheet { about: group, items: Vec::new(), height: TITLE });
                begin = false;
            }
            let Some(sheet) = sheets.last_mut() else { break };
            sheet.height += head + block.height(from);
            let mut to = from + 1;
            while to < block.len() && sheet.height + block.height(to) <= ROOM {
                sheet.height += block.height(to);
                to += 1;
            }
            sheet.items.push(Item { block: at, rows: from..to });
            begin = to < block.len();
            from = to;
        }
    }
    sheets
}
