//! Conductor sizes: AWG by ASTM B258, metric by IEC 60228.

use super::SquareMillimetres;
use serde::{Serialize, Serializer};
use std::cmp::Ordering;
use std::fmt;

/// A standard conductor size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ConductorSize {
    /// American wire gauge; 1/0 is 0, 2/0 is -1 … 4/0 is -3.
    Awg(i8),
    /// Nominal cross-section in mm² (IEC 60228).
    Metric(f64),
}

impl ConductorSize {
    /// Cross-section in mm²: nominal for metric sizes, `π/4 d²` with `d = 0.127 mm × 92^((36−n)/39)` for AWG
    /// (ASTM B258).
    #[must_use]
    pub fn area(self) -> SquareMillimetres {
        match self {
            Self::Metric(mm2) => SquareMillimetres(mm2),
            Self::Awg(_) => {
                let d = self.awg_diameter_mm();
                SquareMillimetres(std::f64::consts::FRAC_PI_4 * d * d)
            }
        }
    }

    /// Cross-section in circular mils (the square of the diameter in thousandths of an inch).
    #[must_use]
    pub fn circular_mils(self) -> f64 {
        self.area().0 / (std::f64::consts::FRAC_PI_4 * 0.0254 * 0.0254)
    }

    fn awg_diameter_mm(self) -> f64 {
        let Self::Awg(n) = self else { return 0.0 };
        0.127 * 92_f64.powf((36.0 - f64::from(n)) / 39.0)
    }

    /// Reads `"10 AWG"`, `"2/0 AWG"`, `"35 mm2"`; `None` where it is neither.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        if let Some(gauge) = text.strip_suffix("AWG").or_else(|| text.strip_suffix("awg")) {
            let gauge = gauge.trim();
            let n = match gauge.strip_suffix("/0") {
                Some(zeros) => 1 - zeros.parse::<i8>().ok().filter(|z| (1..=4).contains(z))?,
                None => gauge.parse::<i8>().ok().filter(|n| (1..=30).contains(n))?,
            };
            return Some(Self::Awg(n));
        }
        let area = text.strip_suffix("mm2").or_else(|| text.strip_suffix("mm²"))?;
        area.trim().parse::<f64>().ok().filter(|a| a.is_finite() && *a > 0.0 && *a <= 1000.0).map(Self::Metric)
    }
}

impl fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Awg(n) if *n <= 0 => write!(f, "{}/0 AWG", 1 - i16::from(*n)),
            Self::Awg(n) => write!(f, "{n} AWG"),
            Self::Metric(mm2) => write!(f, "{} mm²", super::number(*mm2)),
        }
    }
}

impl PartialOrd for ConductorSize {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        self.area().partial_cmp(&other.area())
    }
}

impl Serialize for ConductorSize {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_read_back_as_printed() {
        for text in ["18 AWG", "10 AWG", "1 AWG", "1/0 AWG", "2/0 AWG", "4/0 AWG", "0.75 mm²", "35 mm²"] {
            assert_eq!(ConductorSize::parse(text).map(|s| s.to_string()).as_deref(), Some(text));
        }
        for text in ["5/0 AWG", "0 AWG", "x AWG", "10", "-4 mm2", "NaN mm2", "inf mm2"] {
            assert_eq!(ConductorSize::parse(text), None, "{text}");
        }
    }

    /// ASTM B258: 36 AWG is 0.127 mm, 4/0 is 11.684 mm, exactly.
    #[test]
    fn gauge_follows_astm_b258() {
        assert!((ConductorSize::Awg(36).awg_diameter_mm() - 0.127).abs() < 1e-12);
        assert!((ConductorSize::Awg(-3).awg_diameter_mm() - 11.684).abs() < 1e-9);
        assert!((ConductorSize::Awg(-3).circular_mils() - 211_600.0).abs() < 0.01);
    }
}
