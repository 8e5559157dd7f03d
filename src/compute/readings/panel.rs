//! Which circuit's insulation test proves that of others: measured at a panel with every way connected, all that leaves
//! it is measured.

use crate::build::{Build, Circuit};
use std::collections::BTreeSet;

/// The circuit at which one insulation test proves this one too: the feed of the panel, busbar or bank that it leaves, or
/// of the one that it leads to, as far as no converter, charger or inverter stands between.
pub(super) fn proved_at(build: &Build<'_>, circuit: &Circuit, tested: &BTreeSet<&str>) -> String {
    let at = joined_at(build, circuit);
    let is_tested = |c: &&Circuit| tested.contains(c.id.as_str()) && c.network == circuit.network;
    let feed = build.arriving(at).filter(|c| !c.end.is_output()).find(is_tested);
    let lead = feed.or_else(|| build.leaving(at).find(is_tested));
    lead.map_or_else(|| circuit.id.clone(), |c| c.id.clone())
}

/// The part where a circuit meets others, else where its line ends.
fn joined_at<'b>(build: &'b Build<'_>, circuit: &'b Circuit) -> &'b str {
    let many = |part: &str| build.leaving(part).filter(|c| !c.end.is_output()).nth(1).is_some();
    if many(&circuit.from) && !circuit.end.is_output() {
        return &circuit.from;
    }
    let (mut at, mut seen) = (circuit.to.as_str(), BTreeSet::new());
    while seen.insert(at) && !many(at) {
        match build.leaving(at).next().filter(|c| !c.end.is_output() && c.network == circuit.network) {
            Some(next) => at = &next.to,
            None => break,
        }
    }
    at
}
