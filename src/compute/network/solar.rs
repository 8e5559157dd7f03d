//! Solar strings: voltage on the coldest morning and current, against the controller's limits.

use super::count;
use crate::build::{Build, Circuit, Part};
use crate::kinds::{Network, Role};
use crate::units::{Amps, Celsius, Ratio, Volts, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// An array's strings.
#[derive(Clone, Debug, Serialize)]
pub struct Strings {
    /// Peak power of all modules.
    pub power: Watts,
    /// Lowest cell temperature reckoned with, where the spec gives one.
    pub coldest: Option<Celsius>,
    /// Open-circuit voltage of a string at 25 °C.
    pub voc: Volts,
    /// The same at the coldest temperature.
    pub voc_cold: Option<Volts>,
    /// Share per kelvin it changes by.
    pub per_kelvin: Ratio,
    /// Short-circuit current of all strings.
    pub isc: Amps,
    /// Controller it reaches, if any.
    pub controller: Option<String>,
}

pub(super) fn strings(build: &Build<'_>) -> IndexMap<String, Strings> {
    let lows = build.climates.values().flat_map(|c| [c.record_low.get(), c.low.get()]);
    let coldest = lows.flatten().fold(None, |low: Option<Celsius>, t| Some(low.map_or(t, |l| l.min(t))));
    let arrays = build.parts.values().filter(|p| p.role() == Some(Role::Array));
    arrays.filter_map(|p| Some((p.id.clone(), string(build, p, coldest)?))).collect()
}

fn string(build: &Build<'_>, part: &Part<'_>, coldest: Option<Celsius>) -> Option<Strings> {
    let array = part.roles.array.as_ref()?;
    let series = count(array.series.get()?);
    let parallel = count(array.parallel.get()?) * part.times();
    let voc = array.voc.get()? * series;
    let per_kelvin = array.voc_per_kelvin.get()?;
    Some(Strings {
        power: array.power.get()? * (series * parallel),
        coldest,
        voc,
        // Data-sheet convention: Voc(T) = Voc(25 °C) · (1 + β·(T − 25 K)).
        voc_cold: coldest.map(|t| voc * (1.0 + per_kelvin.0 * (t.0 - 25.0))),
        per_kelvin,
        isc: array.isc.get()? * parallel,
        controller: controller(build, &part.id),
    })
}

/// The controller an array reaches through isolators.
fn controller(build: &Build<'_>, array: &str) -> Option<String> {
    let role = |id: &str| build.parts.get(id).and_then(Part::role);
    let ends = |c: &Circuit| !role(&c.to).is_some_and(Role::passes_through);
    let mut below = build.downstream(array).along(|c| c.network == Network::Pv).until(ends).parts();
    below.find(|p| p.role() == Some(Role::Charger)).map(|p| p.id.clone())
}
