//! Conductors that are on no line of their own: legs from fitting to fitting, links between batteries, leads that sense,
//! switch and tell. Two columns of short entries.

use super::net::Side;
use super::rows::{LEFT, RIGHT, count, tag};
use super::words::{LEADING, SMALL, marked_alone};
use crate::build::{Conductor, Purpose};
use crate::drawings::Context;
use crate::drawings::canvas::{Canvas, Type};
use crate::drawings::letters::{Weight, width, wrapped};
use crate::kinds::{Carries, Network};

/// Stands where the panel of a sheet stands: no component is called so, since ids are in small letters.
pub(super) const LOOSE: &str = "Loose";

/// What their sheet is about.
pub(super) const TITLE: &str = "legs, links and leads";

/// From column to column, mm.
const COLUMN: f64 = (RIGHT - LEFT) / 2.0;
/// Room of a column.
const ROOM: f64 = COLUMN - 4.0;
/// From the top of an entry to its first baseline.
const FIRST: f64 = 2.6;
/// From the frame to the texts below it.
const BELOW: f64 = 1.0;
/// Room between entries.
const GAP: f64 = 1.9;

/// A conductor, and those that lie beside it between the same two fittings.
#[derive(Clone, Debug)]
struct Entry {
    label: String,
    beside: String,
    told: Vec<String>,
}

/// The conductors ready to be drawn.
#[derive(Clone, Debug)]
pub(super) struct Loose {
    /// Head: name, then what else there is to say.
    pub(super) head: (String, String),
    lines: Vec<Vec<Entry>>,
}

/// Whether it is told on the sheets of that side: it has no line of its own and stands at no foot of a sheet.
fn is_loose(context: &Context<'_>, conductor: &Conductor, (side, other_is_drawn): (Side, bool)) -> bool {
    let build = context.build;
    let own = match conductor.carries {
        // Both kinds of bonds stand at the foot of the sheet whose bond they are, where there is that sheet.
        Carries::Bond if conductor.purpose == Purpose::Bond => side == Side::Dc,
        Carries::Bond | Carries::Line | Carries::LineTwo | Carries::Neutral | Carries::Earth => side == Side::Ac,
        _ => {
            let circuit = conductor.circuit.as_ref().and_then(|id| build.circuits.get(id));
            let is_ac = circuit.is_some_and(|c| c.network == Network::Ac);
            is_ac == (side == Side::Ac)
        }
    };
    match conductor.purpose {
        Purpose::Circuit => false,
        Purpose::Bond | Purpose::EquipmentBond => !own && !other_is_drawn,
        _ => own || !other_is_drawn,
    }
}

impl Loose {
    /// Those of one side of the build; `None` where there are none.
    pub(super) fn of(context: &Context<'_>, side: Side) -> Option<Self> {
        let other_is_drawn = context.build.circuits.values().any(|c| !side.has(c));
        let all = context.build.wiring.conductors.values();
        let all = all.filter(|c| is_loose(context, c, (side, other_is_drawn)));
        let mut groups: Vec<Vec<&Conductor>> = Vec::new();
        for conductor in all {
            match groups.last_mut().filter(|group| lies_beside(group[0], conductor)) {
                Some(group) => group.push(conductor),
                None => groups.push(vec![conductor]),
            }
        }
        let entries: Vec<Entry> = groups.iter().map(|group| entry(context, group)).collect();
        let lines: Vec<Vec<Entry>> = entries.chunks(2).map(<[Entry]>::to_vec).collect();
        let head = ("Legs, links and leads".to_owned(), "on no line of their own; each by its wire label".to_owned());
        (!lines.is_empty()).then_some(Self { head, lines })
    }

    /// Rows of two.
    pub(super) fn len(&self) -> usize {
        self.lines.len()
    }

    /// Height of a row with the room below it, mm.
    pub(super) fn height(&self, at: usize) -> f64 {
        let told = self.lines.get(at).into_iter().flatten().map(|entry| entry.told.len()).max().unwrap_or(0);
        FIRST + BELOW + LEADING * count(told) + GAP
    }

    /// Draws some rows below `top`; gives where they end.
    pub(super) fn draw(&self, canvas: &mut Canvas, top: f64, range: std::ops::Range<usize>) -> f64 {
        let mut y = top;
        for at in range {
            for (column, entry) in self.lines.get(at).into_iter().flatten().enumerate() {
                let x = LEFT + COLUMN * count(column) + 0.6;
                tag(canvas, std::slice::from_ref(&entry.label), (x, y + FIRST));
                let right = x + width(&entry.label, SMALL, Weight::Regular) + 2.2;
                canvas.text((right, y + FIRST), &entry.beside, Type::of(SMALL));
                for (down, text) in entry.told.iter().enumerate() {
                    let base = y + FIRST + BELOW + LEADING * count(down + 1);
                    canvas.text((x, base), text, Type::of(SMALL));
                }
            }
            y += self.height(at);
        }
        y
    }
}

/// Whether a conductor lies beside another one: it takes that one's current back, or is the earth beside it.
fn lies_beside(first: &Conductor, other: &Conductor) -> bool {
    let bodies = |c: &Conductor| {
        let mut ends = c.ends().map(|end| (end.part.clone(), end.words.clone()));
        ends.sort();
        ends
    };
    let is_leg = first.purpose == Purpose::Leg && other.purpose == Purpose::Leg;
    is_leg && other.is_back() && first.owner == other.owner && bodies(first) == bodies(other)
}

/// "House bank, plus → Battery monitor, sense"; "Galley lights: fitting 1 → fitting 2".
fn between(context: &Context<'_>, conductor: &Conductor) -> String {
    let build = context.build;
    let [from, to] = conductor.ends();
    let [first, last] = [from, to].map(|end| end.terminal(build));
    if from.part == to.part && !first.is_empty() && !last.is_empty() {
        format!("{}: {first} → {last}", build.name(&from.part))
    } else {
        format!("{} → {}", from.show(build), to.show(build))
    }
}

/// What is said of conductors side by side.
fn entry(context: &Context<'_>, group: &[&Conductor]) -> Entry {
    let build = context.build;
    let first = group[0];
    let figures = context.electrical.conductors.get(&first.id);
    let size = figures.and_then(|f| f.size).map(|size| size.to_string());
    let unsized_as = if first.is_cut() { "no size found" } else { "maker’s" };
    let cores: Vec<&str> = group.iter().map(|c| c.carries.show()).collect();
    let mut told = vec![cores.join(", ")];
    told.push(size.unwrap_or_else(|| unsized_as.to_owned()));
    told.extend(first.route.length.or(first.makers).map(|length| length.show(build.prints())));
    told.extend(first.fuse.map(|fuse| format!("{} fuse", fuse.show(build.prints()))));
    let others: Vec<&str> = group[1..].iter().map(|c| c.local.as_str()).collect();
    let others = if others.is_empty() { String::new() } else { format!("with {}", others.join(", ")) };
    let between = between(context, first);
    let together = format!("{between}, {others}");
    let lines = match others.as_str() {
        "" => vec![between],
        _ if width(&together, SMALL, Weight::Regular) <= ROOM => vec![together],
        _ => vec![between, others],
    };
    let label = wrapped(&marked_alone(context.build, first), SMALL, Weight::Regular, ROOM - 3.0, 1).join("");
    let beside_room = ROOM - width(&label, SMALL, Weight::Regular) - 3.0;
    let beside = told.join(" · ");
    let mut below: Vec<String> = Vec::new();
    // What finds no room beside the label stands below it.
    let beside = if width(&beside, SMALL, Weight::Regular) <= beside_room {
        beside
    } else {
        below.extend(wrapped(&beside, SMALL, Weight::Regular, ROOM, 2));
        String::new()
    };
    below.extend(lines.iter().flat_map(|line| wrapped(line, SMALL, Weight::Regular, ROOM, 2)));
    Entry { label, beside, told: below }
}
