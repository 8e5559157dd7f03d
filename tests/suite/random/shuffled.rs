//! The order of the components in a spec is the author's: what a part is told to hang on must not follow from it.

use super::draft::Draft;
use rigbinder::documents::fact_book::FactBook;
use rigbinder::documents::facts::Voice;
use rigbinder::pipeline;
use std::collections::BTreeMap;
use toml::Value;

/// Facts that name other parts, or come from them.
const FACTS: &[&str] = &[
    "main_disconnect",
    "disconnects",
    "cuts",
    "cuts_all",
    "is_main",
    "stays",
    "isolator",
    "other_valve",
    "switch",
    "off",
    "on",
    "switch_off",
    "switch_on",
    "volts_nominal",
    "house_panel",
    "lpg",
    "shore",
    "inverters",
    "monitor",
    "rcds",
    "hose",
    "engine",
    "sources_off",
    "sources_on",
];

/// Words of a fact, sorted: names in a row may stand in another order.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty() && *w != "and")
        .map(str::to_owned)
        .collect();
    words.sort();
    words
}

type Told = BTreeMap<(String, &'static str), Vec<String>>;

fn told(draft: &Draft) -> (Told, BTreeMap<String, u32>) {
    let loaded = draft.load();
    let worked = pipeline::work_out(&loaded).expect("profile");
    let facts = FactBook::of(&worked.build, &worked.electrical, &worked.ledger, Voice::Owner);
    let mut all = Told::new();
    for id in worked.build.parts.keys() {
        all.extend(FACTS.iter().map(|fact| ((id.clone(), *fact), words(&facts.part(id)[*fact]))));
    }
    let ways = worked.build.circuits.values().filter(|c| c.owner == c.id).filter_map(|c| Some((c.id.clone(), c.way?)));
    let ways = ways.collect();
    (all, ways)
}

/// The same build with its components the other way round, each on the way it had.
fn turned(draft: &Draft, ways: &BTreeMap<String, u32>) -> Draft {
    let mut turned = draft.clone();
    for table in turned.tables.iter_mut().filter(|t| t.section == "component") {
        if let Some(way) = table.id.as_ref().and_then(|id| ways.get(id)) {
            table.fields.insert("way".to_owned(), Value::Integer(i64::from(*way)));
        }
    }
    turned.tables.reverse();
    turned
}

/// Holds the facts of both orders against each other. Gives the number of facts that named something.
pub(super) fn tells_the_same(draft: &Draft) -> usize {
    let (first, ways) = told(draft);
    let (second, same_ways) = told(&turned(draft, &ways));
    // Where ways were asked for twice the order decides who gets another one: that is a finding, and no such build.
    if ways != same_ways {
        return 0;
    }
    assert_eq!(first.keys().collect::<Vec<_>>(), second.keys().collect::<Vec<_>>(), "other parts");
    for (key, words) in &first {
        assert_eq!(words, &second[key], "{key:?} follows from the order of the spec in {draft:?}");
    }
    first.values().filter(|w| !w.is_empty()).count()
}
