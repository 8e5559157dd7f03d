//! Families of fuses and breakers: ratings, voltage, interrupting capacity.
//!
//! A maker's figure for the very device always wins over the family's.

use super::citation::{Citation, Status};
use super::fuse_ratings::{self as ratings, Rated};
use super::sources;
use crate::units::{Amps, Volts};
use serde::Serialize;

/// Amperes by which a computed current may exceed a rating through rounding of its last bits alone.
const TOLERANCE: f64 = 1e-9;

/// A family of overcurrent devices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    /// Blade fuse (ISO 8820-3 type C).
    Blade,
    /// Mini blade fuse (type F).
    MiniBlade,
    /// Maxi blade fuse (type E).
    MaxiBlade,
    /// Small bolt-down strip fuse (ISO 8820-5).
    SmallBoltDown,
    /// Large bolt-down strip fuse (ISO 8820-5).
    LargeBoltDown,
    /// Cube fuse on a battery terminal.
    TerminalCube,
    /// Class T fuse (UL 248-15).
    ClassT,
    /// Breaker for direct current.
    #[serde(rename = "breaker")]
    DcBreaker,
    /// AC breaker, NEC ratings.
    AcBreakerUs,
    /// AC breaker, IEC 60898 ratings.
    AcBreakerEu,
}

/// What a family offers.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct FuseSeries {
    /// The family.
    pub family: Family,
    /// What documents call one piece.
    pub name: &'static str,
    /// Ratings that are made, lowest first.
    pub ratings: &'static [Rated],
    /// Highest voltage it is made for (DC, but for AC breakers).
    pub volts: Volts,
    /// Interrupting capacity in A, by the highest voltage in V it holds at; voltages rise.
    pub interrupting: &'static [(f64, f64)],
    /// How well the interrupting capacity was checked.
    pub interrupting_status: Status,
    /// Whether it limits the peak of a fault current.
    pub current_limiting: bool,
    /// Source of the ratings.
    pub source: &'static Citation,
}

const fn series(family: Family, name: &'static str, rated: &'static [Rated], source: &'static Citation) -> FuseSeries {
    FuseSeries {
        family,
        name,
        ratings: rated,
        volts: Volts(32.0),
        interrupting: &[(32.0, 1000.0)],
        interrupting_status: Status::Memory,
        current_limiting: false,
        source,
    }
}

static BLADE: FuseSeries = series(Family::Blade, "blade fuse", ratings::BLADE, &sources::ISO_8820_3);
static MINI_BLADE: FuseSeries = series(Family::MiniBlade, "mini blade fuse", ratings::MINI_BLADE, &sources::ISO_8820_3);
static MAXI_BLADE: FuseSeries = FuseSeries {
    interrupting_status: Status::Secondary,
    ..series(Family::MaxiBlade, "maxi blade fuse", ratings::MAXI_BLADE, &sources::ISO_8820_3)
};
static SMALL_BOLT_DOWN: FuseSeries =
    series(Family::SmallBoltDown, "small bolt-down fuse", ratings::SMALL_BOLT_DOWN, &sources::ISO_8820_5);
static LARGE_BOLT_DOWN: FuseSeries = FuseSeries {
    interrupting: &[(32.0, 2000.0)],
    ..series(Family::LargeBoltDown, "large bolt-down fuse", ratings::LARGE_BOLT_DOWN, &sources::ISO_8820_5)
};
static TERMINAL_CUBE: FuseSeries = FuseSeries {
    volts: Volts(58.0),
    interrupting: &[(14.0, 10_000.0), (32.0, 5000.0), (58.0, 2000.0)],
    ..series(Family::TerminalCube, "terminal cube fuse", ratings::TERMINAL_CUBE, &sources::TERMINAL_CUBE)
};
static CLASS_T: FuseSeries = FuseSeries {
    volts: Volts(125.0),
    interrupting: &[(125.0, 20_000.0)],
    current_limiting: true,
    ..series(Family::ClassT, "class T fuse", ratings::CLASS_T, &sources::UL_248_15)
};
static DC_BREAKER: FuseSeries = FuseSeries {
    interrupting: &[(32.0, 3000.0)],
    interrupting_status: Status::CommonPractice,
    ..series(Family::DcBreaker, "DC breaker", ratings::DC_BREAKER, &sources::DC_BREAKER)
};
static AC_BREAKER_US: FuseSeries = FuseSeries {
    volts: Volts(240.0),
    interrupting: &[(240.0, 5000.0)],
    ..series(Family::AcBreakerUs, "AC breaker", ratings::NEC_240_6, &sources::NEC_240_6)
};
static AC_BREAKER_EU: FuseSeries = FuseSeries {
    volts: Volts(400.0),
    interrupting: &[(400.0, 6000.0)],
    ..series(Family::AcBreakerEu, "AC breaker", ratings::IEC_60898, &sources::IEC_60898)
};

impl Family {
    /// All families, in a fixed order.
    pub const ALL: &'static [Self] = &[
        Self::Blade,
        Self::MiniBlade,
        Self::MaxiBlade,
        Self::SmallBoltDown,
        Self::LargeBoltDown,
        Self::TerminalCube,
        Self::ClassT,
        Self::DcBreaker,
        Self::AcBreakerUs,
        Self::AcBreakerEu,
    ];

    /// The word a spec uses for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Blade => "blade",
            Self::MiniBlade => "mini-blade",
            Self::MaxiBlade => "maxi-blade",
            Self::SmallBoltDown => "small-bolt-down",
            Self::LargeBoltDown => "large-bolt-down",
            Self::TerminalCube => "terminal-cube",
            Self::ClassT => "class-t",
            Self::DcBreaker => "breaker",
            Self::AcBreakerUs => "ac-breaker-us",
            Self::AcBreakerEu => "ac-breaker-eu",
        }
    }

    /// The family of a spec's word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|family| family.word() == word)
    }

    /// What the family offers.
    #[must_use]
    pub fn series(self) -> &'static FuseSeries {
        match self {
            Self::Blade => &BLADE,
            Self::MiniBlade => &MINI_BLADE,
            Self::MaxiBlade => &MAXI_BLADE,
            Self::SmallBoltDown => &SMALL_BOLT_DOWN,
            Self::LargeBoltDown => &LARGE_BOLT_DOWN,
            Self::TerminalCube => &TERMINAL_CUBE,
            Self::ClassT => &CLASS_T,
            Self::DcBreaker => &DC_BREAKER,
            Self::AcBreakerUs => &AC_BREAKER_US,
            Self::AcBreakerEu => &AC_BREAKER_EU,
        }
    }
}

impl FuseSeries {
    /// The smallest rating that is made and not below `current`, and its status; `None` above the series or where
    /// `current` is no number.
    #[must_use]
    pub fn rated_at_least(&self, current: Amps) -> Option<Rated> {
        self.ratings.iter().copied().find(|r| r.amps + TOLERANCE >= current.0)
    }

    /// The smallest rating not below `current`; `None` above the series.
    #[must_use]
    pub fn at_least(&self, current: Amps) -> Option<Amps> {
        self.rated_at_least(current).map(|r| Amps(r.amps))
    }

    /// Whether `rating` is made in this series.
    #[must_use]
    pub fn has(&self, rating: Amps) -> bool {
        self.ratings.iter().any(|r| (r.amps - rating.0).abs() <= TOLERANCE)
    }

    /// The largest rating that is made.
    #[must_use]
    pub fn largest(&self) -> Amps {
        Amps(self.ratings.last().map_or(0.0, |r| r.amps))
    }

    /// Interrupting capacity at a nominal voltage; `None` where the series is not made for it.
    #[must_use]
    pub fn interrupting_at(&self, nominal: Volts) -> Option<Amps> {
        self.interrupting.iter().find(|(volts, _)| nominal.0 <= *volts).map(|(_, amps)| Amps(*amps))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_read_back_and_series_know_their_family() {
        for family in Family::ALL {
            assert_eq!(Family::parse(family.word()), Some(*family));
            assert_eq!(family.series().family, *family);
            assert_eq!(serde_json::to_value(family).expect("json"), family.word());
            assert!(family.series().interrupting_at(Volts(12.8)).is_some());
        }
        assert_eq!(Family::parse("glass"), None);
    }

    #[test]
    fn the_next_rating_is_found() {
        let blade = Family::Blade.series();
        assert_eq!(blade.at_least(Amps(0.0)), Some(Amps(1.0)));
        assert_eq!(blade.at_least(Amps(7.5)), Some(Amps(7.5)));
        assert_eq!(blade.at_least(Amps(7.6)), Some(Amps(10.0)));
        assert_eq!(blade.at_least(Amps(40.1)), None);
        assert_eq!(blade.at_least(Amps(f64::NAN)), None);
        assert_eq!(blade.largest(), Amps(40.0));
        assert!(blade.has(Amps(15.0)) && !blade.has(Amps(12.0)));
    }

    #[test]
    fn interrupting_capacity_falls_with_voltage() {
        let cube = Family::TerminalCube.series();
        assert_eq!(cube.interrupting_at(Volts(12.8)), Some(Amps(10_000.0)));
        assert_eq!(cube.interrupting_at(Volts(25.6)), Some(Amps(5000.0)));
        assert_eq!(cube.interrupting_at(Volts(120.0)), None);
        assert_eq!(Family::Blade.series().interrupting_at(Volts(51.2)), None);
    }
}
