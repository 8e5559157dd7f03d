//! Which stud of a bar or bonding point each lug goes on, where it has several, and how long a bar these studs take.

use super::Electrical;
use crate::build::{Build, Circuit, Conductor, Landing, Part, Purpose};
use crate::tables::lug_width;
use crate::units::{ConductorSize, Metres};
use std::collections::BTreeMap;

/// A lug of a bar.
struct Lug<'a> {
    conductor: &'a str,
    end: usize,
    /// It is what feeds the bar, or takes all of its current back.
    is_main: bool,
    area: f64,
}

/// A bar: its part, and of those that collect the batteries of a bank which of them.
type Key<'a> = (&'a str, &'a str);

/// The bar that an end is on: one of which somebody says how many studs it has, or one that collects batteries.
fn bar_of<'b>(build: &'b Build<'_>, landing: &'b Landing) -> Option<Key<'b>> {
    let part = build.parts.get(&landing.part)?;
    if landing.is_collecting_bar() {
        return Some((&part.id, &landing.words));
    }
    several(part).map(|_| (part.id.as_str(), ""))
}

/// Number of the stud of each end on a bar: the main cable first, next to it the thickest, and one on each stud before any
/// gets a second. A bar that collects batteries has a stud for each. Common practice, no source.
pub(super) fn of_ends<'b>(
    build: &'b Build<'_>,
    size: impl Fn(&str) -> Option<ConductorSize>,
) -> BTreeMap<(&'b str, usize), usize> {
    let mut bars: BTreeMap<Key<'_>, Vec<Lug<'_>>> = BTreeMap::new();
    for conductor in build.wiring.conductors.values() {
        for (end, landing) in conductor.ends().into_iter().enumerate() {
            let Some(key) = bar_of(build, landing) else { continue };
            let whole = matches!(conductor.purpose, Purpose::Circuit | Purpose::Beside | Purpose::Bond);
            bars.entry(key).or_default().push(Lug {
                conductor: &conductor.id,
                end,
                is_main: whole && (conductor.owner == key.0 || !key.1.is_empty()),
                area: size(&conductor.id).map_or(0.0, |size| size.area().0),
            });
        }
    }
    let mut numbers = BTreeMap::new();
    for ((id, collecting), mut lugs) in bars {
        let Some(part) = build.parts.get(id) else { continue };
        let studs = if collecting.is_empty() { several(part) } else { Some(lugs.len()) };
        let Some(studs) = studs else { continue };
        lugs.sort_by(|a, b| b.is_main.cmp(&a.is_main).then(b.area.total_cmp(&a.area)));
        // A protective earth shares no nut with the negative of the bank: undone for the one, the other stays.
        let own = usize::from(part.roles.chassis_bond.is_some() && lugs.first().is_some_and(|lug| lug.is_main));
        let number = |nth: usize| if nth < own { 1 } else { own + stud(nth - own, studs - own) };
        numbers.extend(lugs.iter().enumerate().map(|(nth, lug)| ((lug.conductor, lug.end), number(nth))));
    }
    numbers
}

/// The studs of a part, where it has several.
fn several(part: &Part<'_>) -> Option<usize> {
    part.studs().filter(|studs| *studs > 1)
}

/// The stud of the nth lug: there and back along the bar, so that the thickest share theirs last and with the thinnest.
const fn stud(nth: usize, studs: usize) -> usize {
    let (turn, at) = (nth / studs, nth % studs);
    if turn % 2 == 0 { at + 1 } else { studs - at }
}

/// A bar with studs side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar<'b> {
    /// Id of its part; of a bar that collects batteries that of the bank.
    pub part: &'b str,
    /// Which of the bars that collect batteries it is; "" of a part.
    pub words: &'b str,
    /// How many lugs come to it.
    pub lugs: usize,
    /// How many studs it has.
    pub studs: usize,
    /// Thread of the studs, "" where nobody says.
    pub thread: String,
    /// Length that they take with these lugs; `None` where their thread is not known.
    pub length: Option<Metres>,
}

/// What comes to a bar: the thread of its studs, the conductors on each, and how many lugs these are.
#[derive(Default)]
struct Lugs {
    thread: String,
    on: BTreeMap<usize, Vec<ConductorSize>>,
    count: usize,
}

/// All bars of a build to which conductors come, in the order of their parts.
#[must_use]
pub fn bars<'b>(build: &'b Build<'_>, all: &Electrical) -> Vec<Bar<'b>> {
    let mut all_lugs: BTreeMap<Key<'_>, Lugs> = BTreeMap::new();
    for (conductor, figures) in build.wiring.conductors.values().filter_map(|c| Some((c, all.conductors.get(&c.id)?))) {
        for (landing, end) in conductor.ends().into_iter().zip(&figures.ends) {
            let (Some(key), Some(stud)) = (bar_of(build, landing), end.stud) else { continue };
            let lugs = all_lugs.entry(key).or_default();
            if lugs.thread.is_empty() {
                lugs.thread.clone_from(&end.thread);
            }
            lugs.on.entry(stud).or_default().extend(end.size);
            lugs.count += 1;
        }
    }
    let bar = |((part, words), lugs): (Key<'b>, Lugs)| {
        let told = build.parts.get(part).and_then(several).filter(|_| words.is_empty());
        let studs = told.unwrap_or(lugs.on.len());
        let none: &[ConductorSize] = &[];
        let each = (1..=studs).map(|n| lugs.on.get(&n).map_or(none, Vec::as_slice));
        let length = lug_width::of_studs(&lugs.thread, each);
        Bar { part, words, lugs: lugs.count, studs, thread: lugs.thread, length }
    };
    let mut bars: Vec<Bar<'_>> = all_lugs.into_iter().map(bar).collect();
    bars.sort_by_key(|bar| build.parts.get_index_of(bar.part));
    bars
}

/// The stud of a bar that the conductor of a circuit which brings the current ends on; `None` where the part has one alone.
#[must_use]
pub fn stud_of(build: &Build<'_>, all: &Electrical, circuit: &Circuit, part: &str) -> Option<usize> {
    let brings = |c: &&Conductor| c.purpose == Purpose::Circuit && !c.is_back();
    let conductor =
        build.conductors_of(circuit).filter(brings).find(|c| c.ends().iter().any(|end| end.part == part))?;
    let end = conductor.ends().iter().position(|end| end.part == part)?;
    all.conductors.get(&conductor.id)?.ends[end].stud
}

#[cfg(test)]
mod tests {
    use super::stud;

    #[test]
    fn lugs_are_dealt_there_and_back() {
        let dealt: Vec<usize> = (0..8).map(|nth| stud(nth, 3)).collect();
        assert_eq!(dealt, [1, 2, 3, 3, 2, 1, 1, 2]);
    }
}
