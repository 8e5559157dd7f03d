//! Converters: what they take, what they give at most, and what hangs on them.

use super::demand::supply;
use super::{Electrical, nominal};
use crate::build::{Build, Part};
use crate::compute::electrical::inverter;
use crate::kinds::{Network, Role};
use crate::units::{Amps, Ratio, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// Load on the converters that feed one part together.
#[derive(Clone, Debug, Serialize)]
pub struct ConverterLoad {
    /// The converters.
    pub converters: Vec<String>,
    /// What they give together without end.
    pub rating: Amps,
    /// What hangs on them and runs together.
    pub load: Amps,
}

/// Output current of a converter, all of its count together.
#[must_use]
pub fn rating(part: &Part<'_>) -> Option<Amps> {
    let converter = part.roles.converter.as_ref()?;
    let by_power = || Some(converter.power.get()? / converter.output_voltage.get()?);
    let own = if converter.rating.given { converter.rating.get() } else { by_power().or(converter.rating.get()) };
    own.map(|amps| amps * part.times())
}

/// Current that it drives into a short, and that its output cable has to carry until somebody comes.
pub(super) fn limit(part: &Part<'_>) -> Option<Amps> {
    let share = part.roles.current_limit().get()?;
    rating(part).map(|amps| amps * share.0)
}

/// Current it takes at full output, at the voltage just above its cut-off.
pub(super) fn input(part: &Part<'_>) -> Option<Amps> {
    let roles = &part.roles;
    let power = Watts((roles.output_voltage().get()? * rating(part)?).0);
    let draw = inverter::draw(power, None, Ratio(roles.efficiency().get()?.0), roles.low_cutoff().get()?)?;
    Some(draw.continuous)
}

/// The largest current that any one source sends through the output cable of a converter: its own limit, or what the
/// others on the same part together send into a short in it.
pub(super) fn through_output(build: &Build<'_>, part: &Part<'_>, to: &Part<'_>) -> Option<Amps> {
    let others = to.supply.fed_from.all().iter().filter(|other| other.value != part.id);
    let others: Amps = others.filter_map(|other| limit(build.parts.get(&other.value)?)).sum();
    limit(part).map(|own| own.max(others))
}

/// Loads on converters, by the part they feed.
pub(super) fn loads(build: &Build<'_>, all: &Electrical) -> IndexMap<String, ConverterLoad> {
    let mut loads: IndexMap<String, ConverterLoad> = IndexMap::new();
    let known = |id: &str| all.circuits.get(id).map(|c| c.demand);
    for part in build.parts.values().filter(|p| p.role() == Some(Role::Converter)) {
        for circuit in build.leaving(&part.id).filter(|c| c.network == Network::Dc && c.feeding.draws()) {
            let (Some(to), Some(rating)) = (build.parts.get(&circuit.to), rating(part)) else { continue };
            let volts = nominal(build, circuit, &all.profile);
            // Those that feed several parts by themselves are held to the sum.
            let several = to.supply.fed_from.all().len() > 1;
            let key = if several { to.id.clone() } else { part.id.clone() };
            let load = supply(build, to, volts, &known).load;
            let entry = loads.entry(key);
            let sum =
                entry.or_insert_with(|| ConverterLoad { converters: Vec::new(), rating: Amps(0.0), load: Amps(0.0) });
            if !sum.converters.contains(&part.id) {
                sum.converters.push(part.id.clone());
                sum.rating = sum.rating + rating;
            }
            sum.load = if several { sum.load.max(load) } else { sum.load + load };
        }
    }
    loads
}
