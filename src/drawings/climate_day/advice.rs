//! One sentence that a person can act on, of a usual day of a season.

use crate::compute::climate_day::Day;
use crate::compute::energy::pattern::STAY_STARTS;
use crate::compute::energy::{Season, Stay};
use crate::drawings::Context;
use crate::units::number;

/// Hour at which a night is over.
const MORNING: usize = 9;
/// More carbon dioxide than that is told, a share of the air. Common practice, no source: stale air is felt from here on.
const STALE: f64 = 0.0025;

/// Nights that a stay carries before the bank is below its reserve. `None` where it is never.
fn nights(stay: &Stay) -> Option<usize> {
    let first = 24 - STAY_STARTS + MORNING;
    Some(stay.below_reserve?.saturating_sub(first).div_ceil(24))
}

fn of_bank(season: &Season) -> Option<String> {
    let driving = season.driving.as_ref().and_then(nights);
    let parked = season.parked.as_ref().and_then(nights);
    Some(match (driving, parked) {
        (Some(0), _) => "Plug in on the first night: the bank does not carry it.".to_owned(),
        (Some(n), _) => format!("Plug in after night {n}, also where you drive every day."),
        (None, Some(0)) => "Drive or plug in on the first day: parked, the bank does not carry a night.".to_owned(),
        (None, Some(n)) => format!("Parked, drive or plug in after night {n}."),
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
    use crate::units::{Ratio, WattHours};

    fn stay(below_reserve: Option<usize>) -> Stay {
        Stay {
            hours: Vec::new(),
            lowest: Ratio(0.1),
            below_reserve,
            short_from: None,
            unserved: WattHours(0.0),
            surplus: WattHours(0.0),
            blocked: WattHours(0.0),
            full_again: false,
            lasts: None,
        }
    }

    /// Arrival at 18:00: the first night is over 15 hours later, each further one 24 hours after.
    #[test]
    fn a_night_counts_when_its_morning_is_reached() {
        for (hours, carried) in [(4, 0), (15, 0), (16, 1), (39, 1), (40, 2), (76, 3), (87, 3)] {
            assert_eq!(nights(&stay(Some(hours))), Some(carried), "{hours}");
        }
        assert_eq!(nights(&stay(None)), None);
    }
}
