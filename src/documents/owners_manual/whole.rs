//! Facts of the whole van for the manual's own texts: where the parts of a kind are, on which ways and fuses they hang.

use crate::build::Part;
use crate::documents::alike::Teller;
use crate::documents::facts::{self, Facts, Voice};
use crate::kinds::Library;
use std::collections::BTreeMap;

/// A part is named with its place; of more parts than this the others are counted.
const NAMED: usize = 4;

/// Facts of the van, and what prints texts with them.
pub(super) struct Whole<'t, 'a> {
    teller: &'t Teller<'a>,
    facts: Facts,
}

impl<'t, 'a> Whole<'t, 'a> {
    /// `at_<kind>`, `way_<kind>` for every kind there is and every group of kinds; "" where no part is of it.
    /// `<kind>__<fact>` for the first part of a kind.
    pub(super) fn of(teller: &'t Teller<'a>, groups: &BTreeMap<String, Vec<String>>) -> Self {
        let mut facts = facts::of_the_van(teller.context().build, teller.context().ledger, Voice::Owner);
        let kinds = Library::ids().into_iter().map(|id| (id.to_owned(), vec![id.to_owned()]));
        for (name, kinds) in kinds.chain(groups.iter().map(|(name, kinds)| (name.clone(), kinds.clone()))) {
            let word = name.replace('-', "_");
            let parts: Vec<_> = of_kinds(teller, &kinds).collect();
            facts.insert(format!("at_{word}"), places(teller, &parts));
            facts.insert(format!("way_{word}"), ways(teller, &parts));
            for (fact, value) in parts.first().map(|p| teller.facts_of(&p.id)).into_iter().flatten() {
                facts.insert(format!("{word}__{fact}"), value.clone());
            }
        }
        Self { teller, facts }
    }

    /// Whether a part is of one of `kinds`; always where none is asked for.
    pub(super) fn has(&self, kinds: &[String]) -> bool {
        kinds.is_empty() || of_kinds(self.teller, kinds).next().is_some()
    }

    /// A text with the facts, as Markdown of one line.
    pub(super) fn text(&self, text: &str) -> String {
        self.teller.with(&self.facts, text)
    }

    /// Texts with the facts, without those that do not apply.
    pub(super) fn texts(&self, texts: &[String]) -> Vec<String> {
        texts.iter().map(|t| self.text(t)).filter(|t| !t.is_empty()).collect()
    }
}

fn of_kinds<'p, 'a>(teller: &'p Teller<'a>, kinds: &'p [String]) -> impl Iterator<Item = &'a Part<'a>> + 'p {
    let parts = teller.context().build.parts.values();
    parts.filter(move |p| kinds.contains(&p.kind.id))
}

/// "Pump (garage)"; "Alarm, Sensor (aisle)" where they share a place.
fn places(teller: &Teller<'_>, parts: &[&Part<'_>]) -> String {
    let mut by_place: Vec<(String, Vec<&str>)> = Vec::new();
    for part in parts.iter().take(NAMED) {
        let control = teller.fact(&part.id, "control");
        let place =
            [teller.place(part), if control.is_empty() { String::new() } else { format!("control: {control}") }];
        let place = place.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join("; ");
        match by_place.iter_mut().find(|(p, _)| *p == place) {
            Some((_, names)) => names.push(&part.name),
            None => by_place.push((place, vec![&part.name])),
        }
    }
    let one = |(place, names): &(String, Vec<&str>)| match place.as_str() {
        "" => names.join(", "),
        place => format!("{} ({place})", names.join(", ")),
    };
    let mut named: Vec<_> = by_place.iter().map(one).collect();
    if let more @ 1.. = parts.len().saturating_sub(NAMED) {
        named.push(format!("{more} more"));
    }
    named.join("; ")
}

/// "way 5 in House panel, 15 A blade fuse", each once.
fn ways(teller: &Teller<'_>, parts: &[&Part<'_>]) -> String {
    let mut ways: Vec<String> = Vec::new();
    for part in parts {
        let fact = |name: &str| teller.fact(&part.id, name);
        let (way, panel, fuse) = (fact("way"), fact("panel"), fact("fuse"));
        if way.is_empty() || panel.is_empty() {
            continue;
        }
        let comma = if fuse.is_empty() { "" } else { ", " };
        let way = format!("way {way} in {panel}{comma}{fuse}");
        if !ways.contains(&way) {
            ways.push(way);
        }
    }
    ways.join("; ")
}
