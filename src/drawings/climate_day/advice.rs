//! One sentence that a person can act on, of a usual day of a season.

use crate::compute::climate_day::Day;
use crate::compute::energy::pattern::STAY_STARTS;
use crate::compute::energy::{Season, Stay, Uncooled};
use crate::drawings::Context;
use crate::units::number;

/// Hour at which a night is over.
const MORNING: usize = 9;
/// More carbon dioxide than that is told, a share of the air. Common practice, no source: stale air is felt from here on.
const STALE: f64 = 0.0025;

/// Nights that are over when the bank first stands below its reserve, so many hours after arrival. `None` where it never does.
fn nights(below_reserve: Option<usize>) -> Option<usize> {
    let first = 24 - STAY_STARTS + MORNING;
    Some(below_reserve?.saturating_sub(first).div_ceil(24))
}

/// What would be without the air conditioner, where that is better: the sentence goes on with it.
fn cooler_off(with: usize, uncooled: Option<&Uncooled>, stay: fn(&Uncooled) -> Option<usize>) -> String {
    let Some(uncooled) = uncooled else { return String::new() };
    match nights(stay(uncooled)) {
        None => "; with the air conditioner off the bank lasts".to_owned(),
        Some(n) if n > with => format!("; with the air conditioner off, only after night {n}"),
        Some(_) => String::new(),
    }
}

fn of_bank(season: &Season) -> Option<String> {
    let of = |stay: &Option<Stay>| stay.as_ref().and_then(|s| nights(s.below_reserve));
    let driving = |with| cooler_off(with, season.uncooled.as_ref(), |u| u.driving);
    let parked = |with| cooler_off(with, season.uncooled.as_ref(), |u| u.parked);
    Some(match (of(&season.driving), of(&season.parked)) {
        (Some(0), _) => format!("Plug in on the first night: the bank does not carry it{}.", driving(0)),
        (Some(n), _) => format!("Plug in after night {n}, also where you drive every day{}.", driving(n)),
        (None, Some(0)) => {
            format!("Drive or plug in on the first day: parked, the bank does not carry a night{}.", parked(0))
        }
        (None, Some(n)) => format!("Parked, drive or plug in after night {n}{}.", parked(n)),
        (None, None) => return None,
    })
}

/// What counts most: the bank, then panes that are wet, then stale air.
pub(super) fn of(context: &Context<'_>, id: &str, day: &Day) -> String {
    if let Some(bank) = context.energy.seasons.get(id).and_then(of_bank) {
        return bank;
    }
    let wet = day.wet.iter().filter(|(id, _)| context.build.parts.contains_key(*id));
    let wet = wet.map(|(_, w)| w.face + w.pane).fold(0.0, f64::max);
    if wet > 0.0 {
        return format!(
            "Wipe the panes and air the van in the morning: they are wet for about {} h a day.",
            number(wet)
        );
    }
    let stale = day.inside.as_ref().is_some_and(|i| i.carbon_dioxide.iter().any(|c| *c > STALE));
    if stale {
        return "Leave a vent open at night: the air inside grows stale.".to_owned();
    }
    if context.energy.seasons.get(id).is_some_and(|s| s.parked.is_some()) {
        return "The bank lasts for all nights planned. Nothing else is needed.".to_owned();
    }
    "Nothing has to be done on such a day.".to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Arrival at 18:00: the first night is over 15 hours later, each further one 24 hours after.
    #[test]
    fn a_night_counts_when_its_morning_is_reached() {
        for (hours, carried) in [(4, 0), (15, 0), (16, 1), (39, 1), (40, 2), (76, 3), (87, 3)] {
            assert_eq!(nights(Some(hours)), Some(carried), "{hours}");
        }
        assert_eq!(nights(None), None);
    }

    #[test]
    fn the_air_conditioner_is_named_where_it_is_what_is_too_much() {
        let off = |with, below| {
            let uncooled = Uncooled { driving: below, parked: None };
            cooler_off(with, Some(&uncooled), |u| u.driving)
        };
        assert_eq!(cooler_off(1, None, |u| u.parked), "");
        assert_eq!(off(1, Some(16)), "");
        assert_eq!(off(1, Some(76)), "; with the air conditioner off, only after night 3");
        assert_eq!(off(0, None), "; with the air conditioner off the bank lasts");
    }
}
