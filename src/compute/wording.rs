//! How parts, circuits and their devices are called: the same words in documents and drawings.

use super::isolation::listed;
use super::network::{CircuitFigures, Device, DeviceAt, Electrical};
use crate::build::{Build, Circuit, Part};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// Who holds the sheet. The place of a hidden switch stands in the shop's sheets alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reader {
    /// Technicians of the shop.
    Shop,
    /// Whoever opens the binder.
    Binder,
}

/// What people call the seasons.
const SEASONS: [&str; 5] = ["spring", "summer", "autumn", "fall", "winter"];

/// The name of a season for people, from its id: `late-spring` is "late spring", `spring-autumn` "spring and autumn".
#[must_use]
pub fn season(id: &str) -> String {
    let words: Vec<&str> = id.split('-').collect();
    if words.iter().all(|word| SEASONS.contains(word)) { listed(&words) } else { words.join(" ") }
}

/// Places of a part for people: "galley", or "left bunk, right bunk".
#[must_use]
pub fn places(build: &Build<'_>, part: &Part<'_>) -> String {
    part.places.iter().map(|p| build.place_name(p)).collect::<Vec<_>>().join(", ")
}

/// Places of a part for people, "" where it has none or is unknown.
#[must_use]
pub fn place_of(build: &Build<'_>, id: &str, reader: Reader) -> String {
    let known = build.parts.get(id).filter(|p| reader == Reader::Shop || !p.confidential);
    known.map_or_else(String::new, |p| places(build, p))
}

/// "Fuse panel (garage left)"; the name alone where no place is given.
#[must_use]
pub fn name_and_place(build: &Build<'_>, id: &str, reader: Reader) -> String {
    let place = place_of(build, id, reader);
    if place.is_empty() { build.name(id).to_owned() } else { format!("{} ({place})", build.name(id)) }
}

/// Way number, "" where the circuit leaves no panel.
#[must_use]
pub fn way(circuit: &Circuit) -> String {
    circuit.way.map_or_else(String::new, |w| w.to_string())
}

/// Conductor size, or why there is none.
#[must_use]
pub fn conductor(figures: &CircuitFigures) -> String {
    match &figures.sized {
        Ok(sized) => sized.show(),
        Err(why) => format!("none: {why}"),
    }
}

/// What protects a circuit, and where that is.
#[must_use]
pub fn protection(build: &Build<'_>, device: &Device) -> String {
    let shown = device.show();
    match &device.at {
        DeviceAt::Way => shown,
        DeviceAt::InLine => format!("{shown}, in line"),
        DeviceAt::Component(id) => format!("{shown}, {}", build.name(id)),
        DeviceAt::Upstream(id) if shown.is_empty() => format!("by {}", build.name(id)),
        DeviceAt::Upstream(id) => format!("by the {shown} of {}", build.name(id)),
        DeviceAt::Source => match device.rating {
            Some(rating) => format!("by its supply, {}", rating.show(build.prints())),
            None => "none needed: the source limits the current".to_owned(),
        },
        DeviceAt::Return => "return: by the device in the positive".to_owned(),
        DeviceAt::Vehicle => "as the vehicle's maker built it".to_owned(),
        DeviceAt::Nothing => "none".to_owned(),
    }
}

/// Circuits that the shop wires, with their figures: the vehicle's own cables are left out.
pub fn wired<'c>(build: &'c Build<'_>, electrical: &'c Electrical) -> impl Iterator<Item = Wired<'c>> {
    let with_figures = move |c: &'c Circuit| Some((c, electrical.circuits.get(&c.id)?));
    build.circuits.values().filter_map(with_figures).filter(|(_, f)| f.device.at != DeviceAt::Vehicle)
}

/// Of those the ones that this job pulls, labels and tests.
pub fn worked<'c>(build: &'c Build<'_>, electrical: &'c Electrical) -> impl Iterator<Item = Wired<'c>> {
    wired(build, electrical).filter(|(circuit, _)| build.is_worked_on(circuit))
}

/// Of those the ones that this job tests: what it pulls, and what stays and is joined to that.
pub fn tested<'c>(build: &'c Build<'_>, electrical: &'c Electrical) -> impl Iterator<Item = Wired<'c>> {
    wired(build, electrical).filter(|(circuit, _)| build.is_worked_on(circuit) || build.is_joined(circuit))
}

/// Of those the ones whose fuse this job puts in: what it pulls, and what stays and hangs on what it fits.
pub fn protected<'c>(build: &'c Build<'_>, electrical: &'c Electrical) -> impl Iterator<Item = Wired<'c>> {
    let by_new = |c: &Circuit| build.parts.get(&c.from).is_some_and(Part::is_worked_on);
    wired(build, electrical).filter(move |(circuit, _)| build.is_worked_on(circuit) || by_new(circuit))
}

/// A circuit and its figures.
pub type Wired<'c> = (&'c Circuit, &'c CircuitFigures);

/// Circuits by the part they leave, parts in the order of the network, circuits by way.
#[must_use]
pub fn by_source<'c>(build: &'c Build<'_>, electrical: &'c Electrical) -> IndexMap<&'c str, Vec<Wired<'c>>> {
    let mut groups: IndexMap<&str, Vec<_>> = IndexMap::new();
    for (circuit, figures) in wired(build, electrical) {
        groups.entry(circuit.from.as_str()).or_default().push((circuit, figures));
    }
    for group in groups.values_mut() {
        group.sort_by_key(|(c, _)| c.way.unwrap_or(u32::MAX));
    }
    groups
}

/// Numbers for people: "3, 5–8".
#[must_use]
pub fn ranges(numbers: &BTreeSet<usize>) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for &n in numbers {
        match runs.last_mut() {
            Some((_, end)) if *end + 1 == n => *end = n,
            _ => runs.push((n, n)),
        }
    }
    let show = |(from, to): &(usize, usize)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from}–{to}"),
    };
    runs.iter().map(show).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seasons_are_told_as_people_tell_them() {
        let said = ["winter", "spring-autumn", "late-spring", "spring-summer-fall", "southern-winter"].map(season);
        let wanted = ["winter", "spring and autumn", "late spring", "spring, summer and fall", "southern winter"];
        assert_eq!(said, wanted);
    }

    #[test]
    fn numbers_in_a_row_print_as_a_range() {
        assert_eq!(ranges(&BTreeSet::from([1, 3, 4, 7, 8, 9])), "1, 3, 4, 7–9");
        assert_eq!(ranges(&BTreeSet::new()), "");
    }
}
