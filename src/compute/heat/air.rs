//! Air that comes in and must be warmed.

use super::psychrometrics;

/// Heat capacity of air, J/(kg K).
const HEAT_CAPACITY: f64 = 1006.0;

/// Outside air at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outside {
    /// Temperature, °C.
    pub celsius: f64,
    /// Relative humidity, a share.
    pub humidity: f64,
    /// Height above the sea, m.
    pub altitude: f64,
}

impl Outside {
    /// Density, kg/m³.
    #[must_use]
    pub fn density(&self) -> Option<f64> {
        psychrometrics::density(self.celsius, self.humidity, psychrometrics::pressure(self.altitude)?)
    }
}

/// Heat loss per kelvin in W/K of `volume` m³ of air that change `changes` times an hour.
///
/// Source: [`crate::tables::sources::INFILTRATION`].
#[must_use]
pub fn per_kelvin(volume: f64, changes: f64, outside: &Outside) -> Option<f64> {
    (volume >= 0.0 && changes >= 0.0).then_some(())?;
    Some(outside.density()? * HEAT_CAPACITY * volume * changes / 3600.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn infiltration_as_computed_outside() {
        for row in rows("infiltration") {
            let outside = Outside {
                celsius: num(&row, "T_out_C"),
                humidity: num(&row, "RH_out"),
                altitude: num(&row, "altitude_m"),
            };
            let ua = per_kelvin(num(&row, "volume_m3"), num(&row, "air_changes_per_h"), &outside).expect("air");
            let q = ua * (num(&row, "T_in_C") - outside.celsius);
            assert!((q / num(&row, "Q_infiltration_W") - 1.0).abs() < 1e-4, "{q}");
        }
        assert_eq!(per_kelvin(-1.0, 1.0, &Outside { celsius: 0.0, humidity: 0.5, altitude: 0.0 }), None);
    }
}
