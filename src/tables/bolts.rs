//! Bolts: proof stress by class, stress area by thread (ISO 898-1).

/// A metric coarse thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metric {
    /// As written, "M8".
    pub size: &'static str,
    /// Diameter in metres.
    pub diameter: f64,
    /// Pitch in metres.
    pub pitch: f64,
}

/// Coarse threads M4 to M12; pitches of ISO 261.
pub const METRIC: &[Metric] = &[
    Metric { size: "M4", diameter: 4e-3, pitch: 0.7e-3 },
    Metric { size: "M5", diameter: 5e-3, pitch: 0.8e-3 },
    Metric { size: "M6", diameter: 6e-3, pitch: 1.0e-3 },
    Metric { size: "M8", diameter: 8e-3, pitch: 1.25e-3 },
    Metric { size: "M10", diameter: 10e-3, pitch: 1.5e-3 },
    Metric { size: "M12", diameter: 12e-3, pitch: 1.75e-3 },
];

impl Metric {
    /// The thread of this size.
    #[must_use]
    pub fn named(size: &str) -> Option<Self> {
        METRIC.iter().copied().find(|m| m.size == size)
    }

    /// Stress area in square metres: π/4 · (d − 0.938194 p)².
    #[must_use]
    pub fn area(self) -> f64 {
        std::f64::consts::FRAC_PI_4 * (self.diameter - 0.938_194 * self.pitch).powi(2)
    }
}

/// Strength class of metric bolts, to 16 mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// 8.8.
    C88,
    /// 10.9.
    C109,
    /// Stainless A2-70: its 0.2 % limit (ISO 3506-1, from memory).
    A270,
}

impl Class {
    /// Proof stress in pascals.
    #[must_use]
    pub const fn proof(self) -> f64 {
        match self {
            Self::C88 => 580e6,
            Self::C109 => 830e6,
            Self::A270 => 450e6,
        }
    }

    /// As marked on the head.
    #[must_use]
    pub const fn mark(self) -> &'static str {
        match self {
            Self::C88 => "8.8",
            Self::C109 => "10.9",
            Self::A270 => "A2-70",
        }
    }
}

/// Nut factor of plain dry threads.
pub const DRY: f64 = 0.20;

/// Nut factor of stainless threads with paste, which gall when dry.
pub const PASTE: f64 = 0.15;

/// Share of the proof load a bolt is tightened to.
const CLAMP: f64 = 0.75;

/// Clamp force in newtons at 75 % of the proof load.
#[must_use]
pub fn clamp(bolt: Metric, class: Class) -> f64 {
    CLAMP * class.proof() * bolt.area()
}

/// Torque in N m: T = K · d · F.
#[must_use]
pub fn torque(factor: f64, diameter: f64, clamp: f64) -> f64 {
    factor * diameter * clamp
}

/// Torque in N m of a fastener by its words, which begin with the thread and name the class, and the rule it follows.
#[must_use]
pub fn tightening(what: &str) -> Option<(f64, &'static str)> {
    let bolt = Metric::named(what.split([' ', ',']).next()?)?;
    let (class, factor, rule) = if what.contains("class 8.8") {
        (Class::C88, DRY, "class 8.8, T = 0.20 × d × 75 % of the ISO 898-1 proof load")
    } else if what.contains("class 10.9") {
        (Class::C109, DRY, "class 10.9, T = 0.20 × d × 75 % of the ISO 898-1 proof load")
    } else if what.contains("A2-70") {
        (Class::A270, PASTE, "T = 0.15 × d × 75 % of the ISO 3506-1 yield load, from memory")
    } else {
        return None;
    };
    Some((torque(factor, bolt.diameter, clamp(bolt, class)), rule))
}
