//! Whether a device can break the fault current at its place.

use crate::units::Amps;
use serde::Serialize;

/// Share by which a computed current may exceed a rating through rounding of its last bits alone.
const ROUNDING: f64 = 1e-9;

/// What is known of the fault current a device can break.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Known {
    /// What the spec gives for the very device.
    pub given: Option<Amps>,
    /// A data sheet is named for what the spec gives.
    pub sourced: bool,
    /// What the spec gives holds behind a device upstream that it was tested with, and that device is there.
    pub pair: bool,
    /// What its family breaks by a published rule.
    pub family: Option<Amps>,
}

impl Known {
    /// Nothing is known.
    pub const NONE: Self = Self { given: None, sourced: false, pair: false, family: None };

    /// The current the device is credited with.
    #[must_use]
    pub fn credited(&self) -> Option<Amps> {
        match (self.given, self.sourced, self.family) {
            // A figure without a source can only take away.
            (Some(given), false, Some(family)) if family < given => Some(family),
            (Some(given), ..) => Some(given),
            (None, _, family) => family,
        }
    }
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Interrupting {
    /// The device breaks the fault by itself.
    Enough,
    /// It does together with the device upstream that it was tested with.
    TestedPair,
    /// Nothing that was read says so: the fault is above what its family breaks, and no data sheet is named.
    Unproven,
    /// By its own figure it does not.
    NotEnough,
}

impl Interrupting {
    /// Whether the device is shown to break the fault.
    #[must_use]
    pub const fn is_kept(self) -> bool {
        matches!(self, Self::Enough | Self::TestedPair)
    }

    /// In a word or two, the same in every document.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Enough => "kept",
            Self::TestedPair => "tested pair",
            Self::Unproven => "not proven",
            Self::NotEnough => "over",
        }
    }
}

/// Judges a device against the `fault` current at its place. A fuse further up takes nothing off that current: what it
/// lets through is published for no family, so only a pair that was tested counts.
/// Numbers that are none count against the device. Source: [`crate::tables::sources::SERIES_RATING`].
#[must_use]
pub fn judge(fault: Amps, known: &Known) -> Interrupting {
    let fault = fault * (1.0 - ROUNDING);
    match known.given {
        // Not "below": a figure that is no number does not hold.
        Some(given) if given.partial_cmp(&fault).is_none_or(std::cmp::Ordering::is_lt) => Interrupting::NotEnough,
        Some(_) if known.sourced && known.pair => Interrupting::TestedPair,
        Some(_) if known.sourced => Interrupting::Enough,
        _ if known.family.is_some_and(|family| family >= fault) => Interrupting::Enough,
        _ => Interrupting::Unproven,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::fuse_series::Family;
    use crate::units::Volts;

    fn of(family: Family) -> Known {
        let breaks = family.series().breaks_at(Volts(12.8), None);
        Known { family: breaks.map(|b| Amps(b.amps)), ..Known::default() }
    }

    /// ISO 8820-3 and -6 as reprinted: 1000 A and 2000 A.
    #[test]
    fn above_its_family_a_device_is_unproven_until_a_data_sheet_says_more() {
        let blade = of(Family::Blade);
        assert_eq!(judge(Amps(1000.0), &blade), Interrupting::Enough);
        assert_eq!(judge(Amps(1001.0), &blade), Interrupting::Unproven);
        assert_eq!(judge(Amps(2001.0), &of(Family::TerminalCube)), Interrupting::Unproven);
        let given = Known { given: Some(Amps(5000.0)), ..blade };
        assert_eq!(judge(Amps(3000.0), &given), Interrupting::Unproven, "no source");
        assert_eq!(judge(Amps(3000.0), &Known { sourced: true, ..given }), Interrupting::Enough);
        assert_eq!(judge(Amps(3000.0), &Known { sourced: true, pair: true, ..given }), Interrupting::TestedPair);
        assert_eq!(judge(Amps(5001.0), &Known { sourced: true, ..given }), Interrupting::NotEnough);
        assert_eq!(judge(Amps(5001.0), &given), Interrupting::NotEnough);
    }

    /// UL 248: without a marked DC rating a class T fuse has none.
    #[test]
    fn a_class_t_fuse_has_no_rating_of_its_family() {
        let class_t = of(Family::ClassT);
        assert_eq!(judge(Amps(100.0), &class_t), Interrupting::Unproven);
        let marked = Known { given: Some(Amps(20_000.0)), sourced: true, ..class_t };
        assert_eq!(judge(Amps(20_000.0), &marked), Interrupting::Enough);
    }

    #[test]
    fn a_figure_without_a_source_can_only_take_away() {
        let known = Known { family: Some(Amps(2000.0)), ..Known::default() };
        assert_eq!(known.credited(), Some(Amps(2000.0)));
        assert_eq!(Known { given: Some(Amps(10_000.0)), ..known }.credited(), Some(Amps(2000.0)));
        assert_eq!(Known { given: Some(Amps(500.0)), ..known }.credited(), Some(Amps(500.0)));
        assert_eq!(Known { given: Some(Amps(10_000.0)), sourced: true, ..known }.credited(), Some(Amps(10_000.0)));
    }

    #[test]
    fn what_is_no_number_counts_against_the_device() {
        let given = Known { given: Some(Amps(20_000.0)), sourced: true, ..Known::default() };
        assert_eq!(judge(Amps(f64::NAN), &given), Interrupting::NotEnough);
        assert_eq!(judge(Amps(f64::NAN), &of(Family::Blade)), Interrupting::Unproven);
        assert_eq!(judge(Amps(1.0), &Known { given: Some(Amps(f64::NAN)), ..given }), Interrupting::NotEnough);
    }
}
