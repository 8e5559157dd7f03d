//! Which stud of a bar or bonding point each lug goes on, where it has several.

use crate::build::{Build, Part, Purpose};
use crate::units::ConductorSize;
use std::collections::BTreeMap;

/// A lug of a bar.
struct Lug<'a> {
    conductor: &'a str,
    end: usize,
    /// It is what feeds the bar, or takes all of its current back.
    is_main: bool,
    area: f64,
}

/// Number of the stud of each end on a bar of which somebody says how many studs it has: the main cable
/// first, next to it the thickest, and one on each stud before any gets a second. Common practice, no source.
pub(super) fn of_ends<'b>(
    build: &'b Build<'_>,
    size: impl Fn(&str) -> Option<ConductorSize>,
) -> BTreeMap<(&'b str, usize), usize> {
    let mut bars: BTreeMap<&str, Vec<Lug<'_>>> = BTreeMap::new();
    for conductor in build.wiring.conductors.values() {
        for (end, landing) in conductor.ends().into_iter().enumerate() {
            let Some(part) = build.parts.get(&landing.part).filter(|part| several(part).is_some()) else { continue };
            bars.entry(part.id.as_str()).or_default().push(Lug {
                conductor: &conductor.id,
                end,
                is_main: conductor.owner == part.id
                    && matches!(conductor.purpose, Purpose::Circuit | Purpose::Beside | Purpose::Bond),
                area: size(&conductor.id).map_or(0.0, |size| size.area().0),
            });
        }
    }
    let mut numbers = BTreeMap::new();
    for (bar, mut lugs) in bars {
        let Some(studs) = build.parts.get(bar).and_then(several) else { continue };
        lugs.sort_by(|a, b| b.is_main.cmp(&a.is_main).then(b.area.total_cmp(&a.area)));
        numbers.extend(lugs.iter().enumerate().map(|(nth, lug)| ((lug.conductor, lug.end), stud(nth, studs))));
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

#[cfg(test)]
mod tests {
    use super::stud;

    #[test]
    fn lugs_are_dealt_there_and_back() {
        let dealt: Vec<usize> = (0..8).map(|nth| stud(nth, 3)).collect();
        assert_eq!(dealt, [1, 2, 3, 3, 2, 1, 1, 2]);
    }
}
