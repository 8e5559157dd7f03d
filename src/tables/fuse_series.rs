//! Families of fuses and breakers: ratings, voltage, interrupting capacity.
//!
//! A maker's figure for the very device always wins over the family's.

use super::citation::Citation;
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

/// Fault current that every device of a family breaks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Breaks {
    /// Highest voltage in V it holds at.
    pub volts: f64,
    /// Highest in V for parts that bear that voltage as a mark of their own.
    pub marked_volts: f64,
    /// The current in A.
    pub amps: f64,
    /// Where that is read.
    pub source: &'static Citation,
}

const BLADE_BREAKS: Breaks =
    Breaks { volts: 32.0, marked_volts: 58.0, amps: 1000.0, source: &sources::ISO_8820_3_BREAKS };
const STRIP_BREAKS: Breaks =
    Breaks { volts: 32.0, marked_volts: 32.0, amps: 2000.0, source: &sources::ISO_8820_5_BREAKS };
const CUBE_BREAKS: Breaks =
    Breaks { volts: 58.0, marked_volts: 58.0, amps: 2000.0, source: &sources::ISO_8820_6_BREAKS };

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
    /// What every device of the family can break by a published rule; `None` where none was read: then only the data
    /// sheet of the device says it.
    pub breaks: Option<Breaks>,
    /// Source of the ratings.
    pub source: &'static Citation,
}

const fn series(family: Family, name: &'static str, rated: &'static [Rated], source: &'static Citation) -> FuseSeries {
    FuseSeries { family, name, ratings: rated, volts: Volts(32.0), breaks: None, source }
}

static BLADE: FuseSeries = FuseSeries {
    breaks: Some(BLADE_BREAKS),
    ..series(Family::Blade, "blade fuse", ratings::BLADE, &sources::ISO_8820_3)
};
static MINI_BLADE: FuseSeries = FuseSeries {
    breaks: Some(BLADE_BREAKS),
    ..series(Family::MiniBlade, "mini blade fuse", ratings::MINI_BLADE, &sources::ISO_8820_3)
};
static MAXI_BLADE: FuseSeries = FuseSeries {
    breaks: Some(BLADE_BREAKS),
    ..series(Family::MaxiBlade, "maxi blade fuse", ratings::MAXI_BLADE, &sources::ISO_8820_3)
};
static SMALL_BOLT_DOWN: FuseSeries = FuseSeries {
    breaks: Some(STRIP_BREAKS),
    ..series(Family::SmallBoltDown, "small bolt-down fuse", ratings::SMALL_BOLT_DOWN, &sources::ISO_8820_5)
};
static LARGE_BOLT_DOWN: FuseSeries = FuseSeries {
    breaks: Some(STRIP_BREAKS),
    ..series(Family::LargeBoltDown, "large bolt-down fuse", ratings::LARGE_BOLT_DOWN, &sources::ISO_8820_5)
};
static TERMINAL_CUBE: FuseSeries = FuseSeries {
    volts: Volts(58.0),
    breaks: Some(CUBE_BREAKS),
    ..series(Family::TerminalCube, "terminal cube fuse", ratings::TERMINAL_CUBE, &sources::TERMINAL_CUBE)
};
static CLASS_T: FuseSeries =
    FuseSeries { volts: Volts(125.0), ..series(Family::ClassT, "class T fuse", ratings::CLASS_T, &sources::UL_248_15) };
static DC_BREAKER: FuseSeries = series(Family::DcBreaker, "DC breaker", ratings::DC_BREAKER, &sources::DC_BREAKER);
static AC_BREAKER_US: FuseSeries = FuseSeries {
    volts: Volts(240.0),
    ..series(Family::AcBreakerUs, "AC breaker", ratings::NEC_240_6, &sources::NEC_240_6)
};
static AC_BREAKER_EU: FuseSeries = FuseSeries {
    volts: Volts(400.0),
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

    /// Its holder has studs: it goes in with a spanner.
    #[must_use]
    pub const fn is_bolted(self) -> bool {
        matches!(self, Self::SmallBoltDown | Self::LargeBoltDown | Self::TerminalCube | Self::ClassT)
    }

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

    /// The largest rating of the family that is not above `most`; `None` below the series.
    #[must_use]
    pub fn largest_within(self, most: Amps) -> Option<Amps> {
        let ratings = self.series().ratings.iter().map(|r| r.amps).filter(|amps| *amps <= most.0);
        ratings.reduce(f64::max).map(Amps)
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

    /// The next rating above one; `None` above the series.
    #[must_use]
    pub fn above(&self, rating: Amps) -> Option<Amps> {
        self.ratings.iter().map(|r| r.amps).find(|amps| *amps > rating.0 + TOLERANCE).map(Amps)
    }

    /// The next rating below one; `None` below the series.
    #[must_use]
    pub fn below(&self, rating: Amps) -> Option<Amps> {
        self.ratings.iter().rev().map(|r| r.amps).find(|amps| *amps < rating.0 - TOLERANCE).map(Amps)
    }

    /// Whether `rating` is made in this series.
    #[must_use]
    pub fn has(&self, rating: Amps) -> bool {
        self.ratings.iter().any(|r| (r.amps - rating.0).abs() <= TOLERANCE)
    }

    /// The smallest rating that is made.
    #[must_use]
    pub fn smallest(&self) -> Amps {
        Amps(self.ratings.first().map_or(0.0, |r| r.amps))
    }

    /// The largest rating that is made.
    #[must_use]
    pub fn largest(&self) -> Amps {
        Amps(self.ratings.last().map_or(0.0, |r| r.amps))
    }

    /// What every device of the series, or one with that voltage `marked` on it, breaks at a voltage by a published rule;
    /// `None` where none was read.
    #[must_use]
    pub fn breaks_at(&self, volts: Volts, marked: Option<Volts>) -> Option<Breaks> {
        let marked = marked.map_or(0.0, |marked| marked.0);
        self.breaks.filter(|breaks| volts.0 <= breaks.volts || volts.0 <= marked.min(breaks.marked_volts))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn words_read_back_and_series_know_their_family() {
        for family in Family::ALL {
            assert_eq!(Family::parse(family.word()), Some(*family));
            assert_eq!(family.series().family, *family);
            assert_eq!(serde_json::to_value(family).expect("json"), family.word());
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

    /// Scope of ISO 8820-3, -5 and -6 as reprinted: 1000 A and 2000 A at 32 V, 2000 A at 58 V. UL 248 leaves the DC
    /// rating of a class T fuse to its marking, and no figure for panel breakers was read.
    #[test]
    fn a_family_breaks_what_its_standard_asks_for() {
        let table = rows("fuse-interrupting");
        let of = |standard: &str, volts: &str| {
            let row = table.iter().find(|r| r["standard"].starts_with(standard)).expect("row");
            assert!(row["voltage_dc_V"].starts_with(volts), "{standard}");
            num(row, "interrupting_A")
        };
        let blade = of("ISO 8820-3:2015", "32");
        let strip = of("ISO 8820-5:2015", "32");
        let cube = of("ISO 8820-6:2019", "58");
        let sourced = |family: Family, nominal| family.series().breaks_at(Volts(nominal), None).map(|b| b.amps);
        for family in [Family::Blade, Family::MiniBlade, Family::MaxiBlade] {
            assert_eq!([12.8, 51.2].map(|v| sourced(family, v)), [Some(blade), None]);
        }
        for family in [Family::SmallBoltDown, Family::LargeBoltDown] {
            assert_eq!([25.6, 51.2].map(|v| sourced(family, v)), [Some(strip), None]);
        }
        assert_eq!([12.8, 51.2, 120.0].map(|v| sourced(Family::TerminalCube, v)), [Some(cube), Some(cube), None]);
        for family in [Family::ClassT, Family::DcBreaker, Family::AcBreakerUs, Family::AcBreakerEu] {
            assert_eq!(sourced(family, 12.8), None, "{family:?}");
        }
        // ISO 8820-3 covers blade fuses for 58 V where that stands on them; strips above 32 V are outside ISO 8820-5.
        let marked = |family: Family, volts| family.series().breaks_at(Volts(volts), Some(Volts(58.0))).map(|b| b.amps);
        assert_eq!([56.8, 58.4].map(|v| marked(Family::Blade, v)), [Some(blade), None]);
        assert_eq!(marked(Family::LargeBoltDown, 56.8), None);
        let stated = Family::ALL.iter().filter_map(|f| f.series().breaks);
        assert!(stated.into_iter().all(|b| b.source.status.may_carry_error()));
    }
}
