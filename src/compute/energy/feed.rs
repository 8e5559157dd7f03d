//! What a load is fed by: the bank, the bank through an inverter, or shore power alone.

use crate::build::{Build, Circuit, Feeding, Part, system};
use crate::kinds::{Network, Role};
use crate::units::{Ratio, Volts, Watts};
use std::collections::BTreeSet;

/// Where a load's energy comes from off grid.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Feed {
    /// The bank.
    Bank,
    /// The bank, through the inverter of this id.
    Inverter(String),
    /// Shore power or a generator only.
    Shore,
    /// Nothing in this account: not connected, or on the starter battery.
    Other,
}

/// What feeds `part` on one of its networks.
pub(super) fn of(build: &Build<'_>, part: &Part<'_>, network: Network) -> Feed {
    match network {
        Network::Dc if on_bank(build, &part.id) => Feed::Bank,
        Network::Ac => ac(build, &part.id),
        _ => Feed::Other,
    }
}

/// Whether `id` is a bank or hangs on one.
pub(super) fn on_bank(build: &Build<'_>, id: &str) -> bool {
    above(build, id, Network::Dc).iter().any(|p| build.parts.get(p).and_then(Part::role) == Some(Role::Bank))
}

/// Share of what leaves the bank for `id` that arrives there, through the converters before it.
pub(super) fn through_converters(build: &Build<'_>, id: &str) -> Ratio {
    let feeds = |c: &Circuit| c.network == Network::Dc && c.feeding == Feeding::Supply;
    let above = build.upstream(id).along(feeds).single().parts();
    let shares = above.filter_map(|p| p.roles.converter.as_ref()?.efficiency.get());
    Ratio(shares.map(|share| share.0.clamp(0.1, 1.0)).product())
}

/// Share of what leaves the bank that arrives in what leaves `id`: through it as well, where it is a converter.
pub(super) fn leaving_converters(build: &Build<'_>, id: &str) -> Ratio {
    let arrives = through_converters(build, id);
    match build.parts.get(id).and_then(|p| p.roles.converter.as_ref()?.efficiency.get()) {
        Some(own) => Ratio(arrives.0 * own.0.clamp(0.1, 1.0)),
        None => arrives,
    }
}

/// Voltage per 12 V at which a full battery is kept. Common practice, no source.
const KEPT: Volts = Volts(13.5);

/// Whether a charger takes from the bank and gives to a starter battery.
pub(super) fn is_maintainer(build: &Build<'_>, part: &Part<'_>) -> bool {
    let on_dc = part.electric().is_some_and(|e| e.network == Network::Dc && e.role == Role::Charger);
    on_dc && build.leaving(&part.id).any(|c| c.feeding == Feeding::Output && c.network == Network::Start)
}

/// What such a charger takes from the bank at its rated current.
pub(super) fn maintained(build: &Build<'_>, part: &Part<'_>) -> Option<Watts> {
    let charger = part.roles.charger.as_ref()?;
    let volts = KEPT * build.dc_given_by(&part.id)?.twelves();
    Some((volts * charger.output_current.get()?) * (1.0 / charger.efficiency.get()?.0.max(0.1)))
}

/// Voltage at `id`, where the bank of the house has `house`: as many times of it as its network has.
pub(super) fn at(build: &Build<'_>, id: &str, house: Volts) -> Volts {
    house * (build.dc_network_of(id).nominal / system(house))
}

fn ac(build: &Build<'_>, id: &str) -> Feed {
    let parts = above(build, id, Network::Ac);
    let role = |p: &String| build.parts.get(p).and_then(Part::role);
    let inverter = |p: &&String| matches!(role(p), Some(Role::Inverter | Role::InverterCharger)) && on_bank(build, p);
    match parts.iter().find(inverter) {
        Some(inverter) => Feed::Inverter(inverter.clone()),
        None if parts.iter().any(|p| matches!(role(p), Some(Role::Inlet | Role::Generator))) => Feed::Shore,
        None => Feed::Other,
    }
}

/// `id` and everything its current comes through in one network.
fn above(build: &Build<'_>, id: &str, network: Network) -> BTreeSet<String> {
    // A charger's output is no way up: the bank feeds what hangs beside it.
    let feeds = |c: &Circuit| c.network == network && (network == Network::Ac || c.feeding == Feeding::Supply);
    let above = build.upstream(id).along(feeds).map(|c| c.from.clone());
    std::iter::once(id.to_owned()).chain(above).collect()
}
