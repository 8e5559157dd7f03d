//! Temperature classes of conductor insulation, as 33 CFR 183.425 Table 5 and IEC 60364-5-52 name them.

use crate::units::Celsius;
use serde::Serialize;

/// A temperature class: the highest temperature the insulation stands for good.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Insulation {
    /// 60 °C.
    C60,
    /// 70 °C.
    C70,
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
    /// Those of 33 CFR 183.425 Table 5, lowest first.
    pub const CFR: &'static [Self] = &[Self::C60, Self::C75, Self::C80, Self::C90, Self::C105, Self::C125, Self::C200];
    /// Those of IEC 60364-5-52, lowest first; 60 °C is no class of its tables, but comes out of one by the heat balance.
    pub const IEC: &'static [Self] = &[Self::C60, Self::C70, Self::C90];

    /// The class's temperature.
    #[must_use]
    pub const fn limit(self) -> Celsius {
        Celsius(match self {
            Self::C60 => 60.0,
            Self::C70 => 70.0,
            Self::C75 => 75.0,
            Self::C80 => 80.0,
            Self::C90 => 90.0,
            Self::C105 => 105.0,
            Self::C125 => 125.0,
            Self::C200 => 200.0,
        })
    }

    /// The highest of `classes` not above `limit`, so that 70 °C insulation counts as 60 °C where there is no class of
    /// 70 °C; `None` below 60 °C.
    #[must_use]
    pub fn from_limit(limit: Celsius, classes: &[Self]) -> Option<Self> {
        classes.iter().rev().copied().find(|class| class.limit().0 <= limit.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_temperature_between_classes_counts_as_the_lower() {
        for classes in [Insulation::CFR, Insulation::IEC] {
            let from = |celsius| Insulation::from_limit(Celsius(celsius), classes);
            for class in classes {
                assert_eq!(from(class.limit().0), Some(*class));
            }
            assert!(classes.windows(2).all(|w| w[0] < w[1]));
            assert_eq!(from(104.9), Some(Insulation::C90));
            assert_eq!(from(59.0), None);
            assert_eq!(from(f64::NAN), None);
        }
        assert_eq!(Insulation::from_limit(Celsius(70.0), Insulation::CFR), Some(Insulation::C60));
        assert_eq!(Insulation::from_limit(Celsius(70.0), Insulation::IEC), Some(Insulation::C70));
        assert_eq!(Insulation::from_limit(Celsius(200.0), Insulation::IEC), Some(Insulation::C90));
    }
}
