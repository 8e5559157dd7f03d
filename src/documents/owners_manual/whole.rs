//! Facts of the whole van for the manual's own texts: where the parts that a word means are, on which ways and fuses they
//! hang.

use super::card::{Card, anchor_of};
use super::data::CardText;
use crate::build::{Build, Part};
use crate::compute::geometry::exits::exits;
use crate::compute::isolation::{listed, main_switches, switches_of};
use crate::documents::CautionView;
use crate::documents::alike::Teller;
use crate::documents::facts::{self, Facts, Voice};
use crate::kinds::Caution;
use indexmap::IndexMap;

/// A part is named with its place; of more parts than this the others are counted.
const NAMED: usize = 4;

/// Facts of the van, and what prints texts with them.
pub(super) struct Whole<'t, 'a> {
    teller: &'t Teller<'a>,
    facts: Facts,
}

impl<'t, 'a> Whole<'t, 'a> {
    /// `at_<word>`, `way_<word>`, `off_<word>`, `on_<word>`, `cut_<word>` for every word that means parts; "" where none of
    /// them is aboard. `<word>__<fact>`: where the parts differ, what it is for each.
    /// `at_main_switch`: what everything hangs on. `ways_out`: routes, windows and hatches, the free ones first.
    pub(super) fn of<'w>(teller: &'t Teller<'a>, words: impl Iterator<Item = &'w str>) -> Self {
        let build = teller.context().build;
        let mut facts = facts::of_the_van(build, &teller.context().ledger, Voice::Owner);
        let mains = main_switches(build);
        for name in words {
            let word = name.replace('-', "_");
            let parts: Vec<_> = called(teller, name).collect();
            facts.insert(format!("at_{word}"), places(teller, &parts));
            facts.insert(format!("way_{word}"), ways(teller, &parts));
            facts.insert(format!("off_{word}"), switched(teller, &parts, "switch_off"));
            facts.insert(format!("on_{word}"), switched(teller, &parts, "switch_on"));
            let switches = parts.iter().flat_map(|p| switches_of(build, &mains, p));
            let switches: IndexMap<&str, &Part<'_>> = switches.map(|p| (p.id.as_str(), p)).collect();
            facts.insert(format!("cut_{word}"), places(teller, &switches.into_values().collect::<Vec<_>>()));
            facts.insert(format!("{word}__name"), String::new());
            for (fact, _) in parts.iter().flat_map(|p| teller.facts_of(&p.id)) {
                if facts.contains_key(&format!("{word}__{fact}")) && fact != "name" {
                    continue;
                }
                facts.insert(format!("{word}__{fact}"), of_each(teller, &parts, fact));
            }
        }
        facts.insert("at_main_switch".to_owned(), places(teller, &mains));
        let mut ways_out = ways_out(build);
        ways_out.sort_by_key(|p| !teller.fact(&p.id, "barred_by").is_empty());
        facts.insert("ways_out".to_owned(), places(teller, &ways_out));
        Self { teller, facts }
    }

    /// `card_<id>` for every emergency card that can be: whether it is in this manual, so that a text links to it.
    pub(super) fn tell_cards(&mut self, texts: &[CardText], cards: &[Card]) {
        for text in texts {
            let here = cards.iter().any(|c| c.id == anchor_of(&text.id));
            let said = if here { "yes" } else { "" };
            self.facts.insert(format!("card_{}", text.id.replace('-', "_")), said.to_owned());
        }
    }

    /// Whether a part is aboard that one of `words` means; always where none is asked for.
    pub(super) fn has(&self, words: &[String]) -> bool {
        words.is_empty() || words.iter().any(|word| called(self.teller, word).next().is_some())
    }

    /// A text with the facts, as Markdown of one line.
    pub(super) fn text(&self, text: &str) -> String {
        self.teller.with(&self.facts, text)
    }

    /// Safety messages with the facts.
    pub(super) fn cautions(&self, cautions: &[Caution]) -> Vec<CautionView> {
        let said = cautions.iter().map(|c| CautionView {
            signal: c.signal.title(),
            hazard: self.text(&c.hazard),
            consequence: self.text(&c.consequence),
            avoid: self.text(&c.avoid),
        });
        said.filter(|c| !c.hazard.is_empty()).collect()
    }

    /// Texts with the facts, without those that do not apply.
    pub(super) fn texts(&self, texts: &[String]) -> Vec<String> {
        texts.iter().map(|t| self.text(t)).filter(|t| !t.is_empty()).collect()
    }
}

fn called<'p, 'a>(teller: &'p Teller<'a>, word: &'p str) -> impl Iterator<Item = &'a Part<'a>> + 'p {
    let parts = teller.context().build.parts.values();
    parts.filter(move |p| p.kind.is_called(word))
}

/// All ways out of a van, each once.
pub(super) fn ways_out<'a>(build: &'a Build<'a>) -> Vec<&'a Part<'a>> {
    exits(build).into_iter().map(|exit| exit.part).collect()
}

/// "Pump (garage)"; "Alarm, Sensor (aisle)" where they share a place.
fn places(teller: &Teller<'_>, parts: &[&Part<'_>]) -> String {
    let mut by_place: Vec<(String, Vec<&str>)> = Vec::new();
    for part in parts.iter().take(NAMED) {
        let control = teller.fact(&part.id, "control");
        let reached = teller.fact(&part.id, "reached_at");
        let also = |word: &str, at: &str| if at.is_empty() { String::new() } else { format!("{word}: {at}") };
        let place = [teller.place(part), also("control", control), also("also from", reached)];
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

/// A fact of parts: once where they share it, else with the name of each that has it. Names themselves stand in a row.
fn of_each(teller: &Teller<'_>, parts: &[&Part<'_>], fact: &str) -> String {
    let mut values: IndexMap<&str, Vec<&str>> = IndexMap::new();
    for part in parts {
        values.entry(teller.fact(&part.id, fact)).or_default().push(&part.name);
    }
    if fact == "name" {
        return listed(&values.into_keys().collect::<Vec<_>>());
    }
    match values.len() {
        0 | 1 => values.into_keys().next().unwrap_or_default().to_owned(),
        _ => {
            let told = values.into_iter().filter(|(value, _)| !value.is_empty());
            told.map(|(value, names)| format!("{value} ({})", names.join(", "))).collect::<Vec<_>>().join(", ")
        }
    }
}

/// How parts are switched, each once; with their names where they are several.
fn switched(teller: &Teller<'_>, parts: &[&Part<'_>], fact: &str) -> String {
    let small = |text: &str| {
        let mut letters = text.chars();
        letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
    };
    let mut told: IndexMap<String, Vec<&str>> = IndexMap::new();
    for part in parts {
        told.entry(small(teller.fact(&part.id, fact))).or_default().push(&part.name);
    }
    let several = told.len() > 1;
    let one = |(how, names): (String, Vec<&str>)| if several { format!("{}: {how}", names.join(", ")) } else { how };
    told.into_iter().filter(|(how, _)| !how.is_empty()).map(one).collect::<Vec<_>>().join("; ")
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
