//! Converters: what they take and what they give at most.

use crate::build::{Build, Part};
use crate::compute::electrical::inverter;
use crate::units::{Amps, Ratio, Watts};

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
