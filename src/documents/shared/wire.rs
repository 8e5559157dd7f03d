//! The wire that the ampacities assume: told once a document, beside what is cut, bought or crimped.

use super::worked;
use crate::documents::Context;
use crate::kinds::Network;
use crate::tables::insulation::Insulation;
use crate::tables::profile::WireType;
use crate::units::{Celsius, System};
use serde::Serialize;
use std::collections::BTreeMap;

/// One type of wire.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WireRow {
    /// "DC" or "AC".
    pub used: String,
    /// Circuits, where they are not all of their network.
    pub circuits: Vec<String>,
    /// What to buy.
    pub what: String,
}

/// The wire of the circuits that are worked on, by network: that of the rules first, then what the spec gives others.
#[must_use]
pub(crate) fn types(context: &Context<'_>) -> Vec<WireRow> {
    let profile = &context.electrical.profile;
    let prints = context.build.prints();
    let mut by_class: BTreeMap<(bool, bool, Insulation), Vec<String>> = BTreeMap::new();
    for (circuit, figures) in worked(context).filter(|(_, f)| f.conductor().is_some()) {
        let is_ac = circuit.network == Network::Ac;
        let usual = if is_ac { &profile.wire.ac } else { &profile.wire.dc };
        let class = figures.installation.insulation;
        by_class.entry((is_ac, class != usual.insulation, class)).or_default().push(circuit.id.clone());
    }
    let row = |((is_ac, is_other, class), circuits): ((bool, bool, Insulation), Vec<String>)| {
        let usual = if is_ac { &profile.wire.ac } else { &profile.wire.dc };
        WireRow {
            used: (if is_ac { "AC" } else { "DC" }).to_owned(),
            circuits: if is_other { circuits } else { Vec::new() },
            what: if is_other { least(class, prints) } else { usual_words(usual, prints) },
        }
    };
    by_class.into_iter().map(row).collect()
}

/// "105 °C": wire is marked in degrees Celsius everywhere; beside them those of the units in print.
fn marked(limit: Celsius, prints: System) -> String {
    let marked = limit.show(System::Metric);
    let printed = limit.show(prints);
    if printed == marked { marked } else { format!("{marked} ({printed})") }
}

fn least(class: Insulation, prints: System) -> String {
    format!("stranded copper, insulation for at least {}", marked(class.limit(), prints))
}

fn usual_words(wire: &WireType, prints: System) -> String {
    let least = least(wire.insulation, prints);
    format!("{least}, such as {}; not {}, for {}", wire.sold_as, wire.not, marked(wire.not_stands, prints))
}
