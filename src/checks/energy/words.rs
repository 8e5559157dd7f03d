//! Words and places that the checks of the energy account share.

use crate::checks::Context;
use crate::compute::energy::{Season, Stay};
use crate::source::Span;
use crate::units::{Bound, Seconds, WattHours, said_bound};

/// What an account of a season rests on.
pub(super) const BASIS: &str =
    "energy account of the typical day; hours of the day and loads by temperature: common practice, no source";

/// What helps a bank that does not last.
pub(super) const MORE: &str = "a larger bank, more solar, more driving or fewer nights; \
     the calculation sheet lists what each load takes";

/// Where the season stands in the spec.
pub(super) fn season_span(context: &Context<'_>, id: &str) -> Span {
    context.build.climates.get(id).map(|c| c.span).unwrap_or_default()
}

/// Where the first bank stands in the spec.
pub(super) fn bank_span(context: &Context<'_>) -> Span {
    let bank = context.electrical.banks.keys().next().and_then(|id| context.part(id));
    bank.map(|b| b.span).unwrap_or_default()
}

/// Hours since arrival as a clock time of a numbered day: the stay begins at 18:00 of day 1.
pub(super) fn clock(hours: usize) -> String {
    let at = 18 + hours;
    format!("day {}, {}:00", at / 24 + 1, at % 24)
}

/// Nights in words.
pub(super) fn nights(nights: usize) -> String {
    if nights == 1 { "1 night".to_owned() } else { format!("{nights} nights") }
}

/// Need and supply of a day in one clause.
pub(super) fn balance(context: &Context<'_>, season: &Season, driving: bool) -> String {
    let show = |wh: WattHours| wh.show(context.build.prints());
    let need = show(Season::day(&season.need.total()));
    let sun = show(Season::day(&season.solar.hours));
    let engine = if driving { show(Season::day(&season.engine)) } else { "nothing".to_owned() };
    format!("a day needs {need}; the sun brings {sun}, the engine {engine}")
}

/// How long a stay lasts, in words.
pub(super) fn lasts(context: &Context<'_>, stay: &Stay) -> String {
    stay.lasts.map_or_else(
        || "more than 60 days".to_owned(),
        |t: Seconds| said_bound(Seconds::DIMENSION, t.0, context.build.prints(), Bound::Most),
    )
}

/// Whether loads went short because the bank was empty, not only because its discharge limit was reached.
pub(super) fn emptied(stay: &Stay) -> bool {
    stay.hours.iter().any(|h| h.unserved > 1e-6 && h.state < 1e-6)
}
