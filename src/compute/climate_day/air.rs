//! Outside temperature through a typical day.

use super::Hours;
use crate::units::Celsius;

/// Hour of the day at which it is warmest. Common practice, no source; the coldest hour is then three at night.
const WARMEST: f64 = 15.0;

/// Mean outside temperature by hour in °C: a cosine between the usual low and high of the day, warmest at 15:00.
/// Common practice, no source.
#[must_use]
pub fn temperatures(low: Celsius, high: Celsius) -> Hours {
    let (mean, swing) = (f64::midpoint(low.0, high.0), (high.0 - low.0) / 2.0);
    let mut hours = [0.0; 24];
    for (hour, t) in (0..24_u8).zip(hours.iter_mut()) {
        *t = mean + swing * (std::f64::consts::TAU * (f64::from(hour) + 0.5 - WARMEST) / 24.0).cos();
    }
    hours
}

/// Outside temperature above which people cool, °C. Common practice, no source.
pub const COOLING_ABOVE: f64 = 24.0;

/// The hottest hours of the day that are warm enough to cool, `hours` of them at most.
#[must_use]
pub fn hottest(hours: f64, air: &Hours) -> Hours {
    let mut order: Vec<usize> = (0..24).filter(|h| air[*h] > COOLING_ABOVE).collect();
    order.sort_by(|a, b| air[*b].total_cmp(&air[*a]).then(a.cmp(b)));
    let mut left = if hours.is_finite() { hours.max(0.0) } else { 0.0 };
    let mut on = [0.0; 24];
    for hour in order {
        on[hour] = left.min(1.0);
        left -= on[hour];
    }
    on
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_low_and_high_about_their_middle() {
        let t = temperatures(Celsius(-14.0), Celsius(-3.0));
        assert!((t.iter().sum::<f64>() / 24.0 - -8.5).abs() < 1e-9);
        assert!(t.iter().all(|t| (-14.0..=-3.0).contains(t)));
        assert!(t[14] > -3.2 && t[15] > -3.2 && t[2] < -13.8 && t[3] < -13.8);
    }
}
