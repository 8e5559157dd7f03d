//! Moist air after the ASHRAE Handbook: pressure at altitude, saturation, dew point, density.
//!
//! Source of all of it: [`crate::tables::sources::ASHRAE_PSYCHROMETRICS`].

const ZERO: f64 = 273.15;

/// Pressure of the standard atmosphere in Pa at `altitude` m. `None` above 20 km or below −5 km.
#[must_use]
pub fn pressure(altitude: f64) -> Option<f64> {
    (-5000.0..=20_000.0).contains(&altitude).then(|| 101_325.0 * (1.0 - 2.255_77e-5 * altitude).powf(5.2559))
}

/// Saturation pressure in Pa over ice up to 0.01 °C and over water above. `None` outside −100 °C to 200 °C.
#[must_use]
pub fn saturation(celsius: f64) -> Option<f64> {
    if !(-100.0..=200.0).contains(&celsius) {
        return None;
    }
    let t = celsius + ZERO;
    let log = if celsius <= 0.01 {
        -5.674_535_9e3 / t + 6.392_524_7 - 9.677_843e-3 * t + 6.221_570_1e-7 * t * t + 2.074_782_5e-9 * t.powi(3)
            - 9.484_024e-13 * t.powi(4)
            + 4.163_501_9 * t.ln()
    } else {
        -5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t * t - 1.445_209_3e-8 * t.powi(3)
            + 6.545_967_3 * t.ln()
    };
    Some(log.exp())
}

/// Moisture in kg per kg of dry air at `humidity` (a share) and `pressure` Pa.
#[must_use]
pub fn humidity_ratio(celsius: f64, humidity: f64, pressure: f64) -> Option<f64> {
    let vapour = humidity.clamp(0.0, 1.0) * saturation(celsius)?;
    (pressure > vapour).then(|| 0.621_945 * vapour / (pressure - vapour))
}

/// Relative humidity, a share, of air with `ratio` kg of moisture per kg of dry air; 1 where it holds no more.
#[must_use]
pub fn relative(celsius: f64, ratio: f64, pressure: f64) -> Option<f64> {
    let vapour = ratio.max(0.0) * pressure / (0.621_945 + ratio.max(0.0));
    Some((vapour / saturation(celsius)?).clamp(0.0, 1.0))
}

/// Density of moist air in kg/m³.
#[must_use]
pub fn density(celsius: f64, humidity: f64, pressure: f64) -> Option<f64> {
    let ratio = humidity_ratio(celsius, humidity, pressure)?;
    let volume = 287.042 * (celsius + ZERO) * (1.0 + 1.607_858 * ratio) / pressure;
    (volume > 0.0).then(|| (1.0 + ratio) / volume)
}

/// Temperature in °C at which air of `celsius` and `humidity` (a share) is saturated. `None` for dry air.
#[must_use]
pub fn dew_point(celsius: f64, humidity: f64) -> Option<f64> {
    let humidity = humidity.clamp(0.0, 1.0);
    let vapour = humidity * saturation(celsius)?;
    if vapour <= saturation(-100.0)? {
        return None;
    }
    let (mut low, mut high) = (-100.0, celsius);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if saturation(middle)? < vapour { low = middle } else { high = middle }
    }
    Some(high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn moist_air_as_the_library_has_it() {
        for row in rows("air-psychrometrics") {
            let (t, rh) = (num(&row, "T_db_C"), num(&row, "RH"));
            let p = pressure(num(&row, "altitude_m")).expect("in range");
            for (got, column) in [
                (Some(p), "p_Pa"),
                (saturation(t), "p_ws_Pa"),
                (humidity_ratio(t, rh, p), "W_kg_kg"),
                (density(t, rh, p), "rho_moist_kg_m3"),
            ] {
                let got = got.expect("in range");
                assert!((got / num(&row, column) - 1.0).abs() < 1e-4, "{t} °C {column}: {got}");
            }
            let back = relative(t, num(&row, "W_kg_kg"), p).expect("in range");
            assert!((back / rh - 1.0).abs() < 1e-4, "{t} °C: {back}");
            let dew = dew_point(t, rh).expect("moist");
            assert!((dew - num(&row, "T_dew_C")).abs() < 0.01, "{t} °C: dew {dew}");
        }
    }

    #[test]
    fn saturated_air_is_at_its_dew_point_and_dry_air_has_none() {
        assert!((dew_point(18.0, 1.0).expect("moist") - 18.0).abs() < 1e-6);
        assert_eq!(dew_point(18.0, 0.0), None);
        assert_eq!(saturation(f64::NAN), None);
        assert_eq!(pressure(1e6), None);
        assert_eq!(density(20.0, 0.5, 0.0), None);
    }
}
