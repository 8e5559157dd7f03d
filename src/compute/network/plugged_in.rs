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
    let mut largest: BTreeMap<&str, Watts> = BTreeMap::new();
    let mut sum = Watts(0.0);
    for (one_of, watts) in all {
        match one_of {
            Some(word) => {
                let most = largest.entry(word).or_default();
                *most = most.max(watts);
            }
            None => sum = sum + watts,
        }
    }
    largest.values().fold(sum, |sum, watts| sum + *watts)
}
