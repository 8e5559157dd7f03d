//! Least conductors of a shore lead by the rating of the inlet.

use super::citation::Citation;
use super::conductor_series::Series;
use super::sources;
use crate::units::{Amps, ConductorSize};

/// Rating up to which a size may be used, smallest first (IEC 60364-7-721 Table 721.1).
const METRIC: &[(f64, f64)] = &[(16.0, 2.5), (25.0, 4.0), (32.0, 6.0), (63.0, 16.0), (100.0, 35.0)];
/// The same by NEC 551.46.
const AWG: &[(f64, i8)] = &[(30.0, 10), (50.0, 6)];

/// What was read of the standard itself in reprints ends here.
const READ_UP_TO: Amps = Amps(16.0);

/// The least conductor of a lead, and its source. `None` above the largest rating.
#[must_use]
pub(crate) fn least(rating: Amps, series: Series) -> Option<(ConductorSize, &'static Citation)> {
    let fits = |limit: f64| rating.0 <= limit * (1.0 + 1e-9);
    match series {
        Series::Metric => {
            let (_, area) = METRIC.iter().find(|(limit, _)| fits(*limit))?;
            let read = rating <= READ_UP_TO;
            let source = if read { &sources::SHORE_LEAD_721 } else { &sources::SHORE_LEAD_LARGER };
            Some((ConductorSize::Metric(*area), source))
        }
        Series::Awg => {
            let (_, gauge) = AWG.iter().find(|(limit, _)| fits(*limit))?;
            Some((ConductorSize::Awg(*gauge), &sources::SHORE_LEAD_US))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::rows;

    /// IEC 60364-7-721 as its reprints have it, and from memory above 16 A.
    #[test]
    fn leads_are_as_thick_as_the_reprints_say() {
        let rows = rows("iec60364-7-721");
        let value = |rule: &str| rows.iter().find(|r| r["rule"].starts_with(rule)).expect("row")["value"].clone();
        let least = |amps: f64| least(Amps(amps), Series::Metric).expect("size").0.to_string();
        let at_16 = value("supply lead cross-section 16 A");
        assert!(at_16.starts_with("2.5 mm2"), "{at_16}");
        assert_eq!(least(16.0), "2.5 mm²");
        let larger: Vec<String> = [25.0, 32.0, 63.0, 100.0].map(least).into_iter().collect();
        let printed = value("supply lead cross-section 25/32/63/100 A");
        let sizes: Vec<&str> = printed.split(" mm2").next().expect("sizes").split(" / ").collect();
        assert_eq!(larger, sizes.iter().map(|s| format!("{s} mm²")).collect::<Vec<_>>());
    }

    /// NEC 551.46, from memory: it is no error by itself.
    #[test]
    fn what_is_from_memory_carries_no_error() {
        for (amps, series) in [(32.0, Series::Metric), (50.0, Series::Awg)] {
            assert!(!least(Amps(amps), series).expect("size").1.status.may_carry_error());
        }
        assert!(least(Amps(16.0), Series::Metric).expect("size").1.status.may_carry_error());
        assert_eq!(least(Amps(101.0), Series::Metric), None);
    }
}
