//! The hours of the day in which loads run that are counted by hours of use.
//!
//! The table is common practice, no source: it decides when the energy is used, not how much.

use super::Hours;
use crate::kinds::DayPart;

/// Hour of the day at which the drive begins. Common practice, no source.
pub const DRIVE_STARTS: f64 = 10.0;

/// First hour of a stay off grid: the van arrives in the evening with a full bank.
pub const STAY_STARTS: usize = 18;

/// Hours of a part of the day and their weights, as (first hour, hours, weight).
const fn windows(part: DayPart) -> &'static [(u8, u8, f64)] {
    match part {
        DayPart::Always | DayPart::Driving => &[(0, 24, 1.0)],
        DayPart::Waking => &[(7, 16, 1.0)],
        DayPart::Day => &[(8, 10, 1.0)],
        // A quarter of the light is used before breakfast where the evening is long enough for the rest.
        DayPart::Evening => &[(18, 5, 1.0), (6, 1, 0.5)],
        DayPart::Night => &[(22, 2, 1.0), (0, 7, 1.0)],
        DayPart::Meals => &[(7, 1, 1.0), (12, 1, 1.0), (18, 2, 1.0)],
        DayPart::Washing => &[(7, 2, 1.0), (19, 2, 1.0)],
        DayPart::Hot => &[(11, 9, 1.0)],
    }
}

/// Share of each hour in which the van is driven for `hours` a day: in one go from [`DRIVE_STARTS`].
#[must_use]
pub fn driving(hours: f64) -> Hours {
    let hours = hours.clamp(0.0, 24.0);
    let end = DRIVE_STARTS + hours;
    let overlap = |from: f64| (end.min(from + 1.0) - DRIVE_STARTS.max(from)).max(0.0);
    let mut shares = [0.0; 24];
    for (hour, share) in (0..24_u8).zip(shares.iter_mut()) {
        // A drive past midnight goes on into the same typical day.
        *share = (overlap(f64::from(hour)) + overlap(f64::from(hour) + 24.0)).min(1.0);
    }
    shares
}

/// Share of each hour in which something runs that is used `hours` a day in a part of it. They add up to `hours`
/// (0 to 24): where the part of the day is too short, the rest falls evenly on the other hours. `drive` is the share
/// of each hour that is driven.
#[must_use]
pub fn shares(hours: f64, part: DayPart, drive: &Hours) -> Hours {
    let hours = if hours.is_finite() { hours.clamp(0.0, 24.0) } else { 0.0 };
    let mut weights = [0.0; 24];
    if part == DayPart::Driving && drive.iter().any(|s| *s > 0.0) {
        weights = *drive;
    } else {
        for &(first, count, weight) in windows(part) {
            weights.iter_mut().skip(usize::from(first)).take(usize::from(count)).for_each(|w| *w = weight);
        }
    }
    let mut filled = [0.0; 24];
    fill(&mut filled, &weights, hours);
    let rest = hours - filled.iter().sum::<f64>();
    if rest > 1e-12 {
        let free = filled.map(|share| 1.0 - share);
        fill(&mut filled, &free, rest);
    }
    filled
}

/// Spreads `hours` over the hours by weight, none above a whole one.
fn fill(filled: &mut Hours, weights: &Hours, hours: f64) {
    let mut left = hours;
    // Each turn fills at least one hour to the brim or ends.
    for _ in 0..24 {
        let open = |h: &usize| weights[*h] > 0.0 && filled[*h] < 1.0 - 1e-12;
        let open: Vec<usize> = (0..24).filter(open).collect();
        let sum: f64 = open.iter().map(|h| weights[*h]).sum();
        if left <= 1e-12 || sum <= 0.0 {
            return;
        }
        let mut used = 0.0;
        for hour in open {
            let take = (left * weights[hour] / sum).min(1.0 - filled[hour]);
            filled[hour] += take;
            used += take;
        }
        left -= used;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PARTS: [DayPart; 9] = [
        DayPart::Always,
        DayPart::Waking,
        DayPart::Day,
        DayPart::Evening,
        DayPart::Night,
        DayPart::Meals,
        DayPart::Washing,
        DayPart::Hot,
        DayPart::Driving,
    ];

    #[test]
    fn every_part_of_the_day_takes_all_hours_given() {
        let drive = driving(1.5);
        for part in PARTS {
            for tenths in 0..=240_u8 {
                let hours = f64::from(tenths) / 10.0;
                let shares = shares(hours, part, &drive);
                assert!((shares.iter().sum::<f64>() - hours).abs() < 1e-9, "{part:?} {hours}");
                assert!(shares.iter().all(|s| (0.0..=1.0 + 1e-12).contains(s)));
            }
        }
    }

    #[test]
    fn light_is_an_evening_thing() {
        let light = shares(3.0, DayPart::Evening, &driving(0.0));
        assert!(light[8..18].iter().all(|s| s.abs() < 1e-12));
        assert!(light[20] > 0.5 && light[6] > 0.2);
    }

    #[test]
    fn a_drive_begins_at_ten() {
        let drive = driving(1.5);
        assert!((drive[10] - 1.0).abs() < 1e-12 && (drive[11] - 0.5).abs() < 1e-12);
        assert!((drive.iter().sum::<f64>() - 1.5).abs() < 1e-12);
        assert!((driving(20.0).iter().sum::<f64>() - 20.0).abs() < 1e-9);
        assert!((driving(24.0).iter().sum::<f64>() - 24.0).abs() < 1e-9);
        assert!(driving(-3.0).iter().sum::<f64>().abs() < 1e-12);
    }

    #[test]
    fn no_hours_and_too_many() {
        assert!(shares(f64::NAN, DayPart::Meals, &driving(0.0)).iter().all(|s| s.abs() < 1e-12));
        assert!((shares(99.0, DayPart::Meals, &driving(0.0)).iter().sum::<f64>() - 24.0).abs() < 1e-9);
    }
}
