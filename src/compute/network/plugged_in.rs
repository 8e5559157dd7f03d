//! What people plug into the outlets, and what of several loads runs together.

use crate::build::Build;
use crate::units::Watts;
use std::collections::BTreeMap;

/// What devices take at one time that are plugged into these outlets.
#[must_use]
pub fn plugged_in(build: &Build<'_>, outlet: impl Fn(&str) -> bool) -> Watts {
    at_one_time(devices_on(build, outlet))
}

/// The devices that are plugged into these outlets: the word of those of which one runs at a time, and the power.
pub(super) fn devices_on<'a>(
    build: &'a Build<'_>,
    outlet: impl Fn(&str) -> bool,
) -> impl Iterator<Item = (Option<&'a str>, Watts)> {
    let there = build.devices.values().filter(move |d| d.plugged_into.first().is_some_and(&outlet));
    there.filter_map(|d| Some((d.one_of.text(), d.power.get()?)))
}

/// The most that run together: of those with the same word the largest.
pub(super) fn at_one_time<'a>(all: impl Iterator<Item = (Option<&'a str>, Watts)>) -> Watts {
    in_turn(all, Watts::max).into_iter().sum()
}

/// All that have no word, then of those with the same word the largest.
pub(super) fn in_turn<'a, T: Copy>(
    all: impl Iterator<Item = (Option<&'a str>, T)>,
    larger: impl Fn(T, T) -> T,
) -> Vec<T> {
    let mut largest: BTreeMap<&str, T> = BTreeMap::new();
    let mut each = Vec::new();
    for (one_of, one) in all {
        match one_of {
            Some(word) => drop(largest.entry(word).and_modify(|most| *most = larger(*most, one)).or_insert(one)),
            None => each.push(one),
        }
    }
    each.extend(largest.into_values());
    each
}
