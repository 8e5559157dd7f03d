//! Temperature classes of conductor insulation, as 33 CFR 183.425 Table 5 names them.

use crate::units::Celsius;
use serde::Serialize;

/// A temperature class: the highest temperature the insulation stands for good.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Insulation {
    /// 60 °C.
    C60,
    /// 75 °C.
    C75,
    /// 80 °C.
    C80,
    /// 90 °C.
    C90,
    /// 105 °C.
    C105,
    /// 125 °C.
    C125,
    /// 200 °C.
    C200,
}

impl Insulation {
    /// All classes, lowest first.
    pub const ALL: &'static [Self] = &[Self::C60, Self::C75, Self::C80, Self::C90, Self::C105, Self::C125, Self::C200];

    /// The class's temperature.
    #[must_use]
    pub const fn limit(self) -> Celsius {
        Celsius(match self {
            Self::C60 => 60.0,
            Self::C75 => 75.0,
            Self::C80 => 80.0,
            Self::C90 => 90.0,
            Self::C105 => 105.0,
            Self::C125 => 125.0,
            Self::C200 => 200.0,
        })
    }

    /// The highest class not above `limit`, so that 70 °C insulation counts as 60 °C; `None` below 60 °C.
    #[must_use]
    pub fn from_limit(limit: Celsius) -> Option<Self> {
        Self::ALL.iter().rev().copied().find(|class| class.limit().0 <= limit.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_temperature_between_classes_counts_as_the_lower() {
        for class in Insulation::ALL {
            assert_eq!(Insulation::from_limit(class.limit()), Some(*class));
        }
        assert_eq!(Insulation::from_limit(Celsius(70.0)), Some(Insulation::C60));
        assert_eq!(Insulation::from_limit(Celsius(104.9)), Some(Insulation::C90));
        assert_eq!(Insulation::from_limit(Celsius(59.0)), None);
        assert_eq!(Insulation::from_limit(Celsius(f64::NAN)), None);
    }
}
