//! What is usual for a bank of a chemistry, where its spec says nothing of it. Common practice, no source.

use crate::units::{Ratio, Volts};

/// What is usual for a bank of a chemistry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chemistry {
    /// The word of a spec.
    pub word: &'static str,
    /// Share of the capacity planned for use.
    pub usable: Ratio,
    /// Share of the energy put in that comes out again. Source: [`crate::tables::sources::CHARGE_EFFICIENCY`].
    pub charge_efficiency: Ratio,
    /// Resistance inside times capacity, Ω Ah, at `nominal`. Low on purpose: the electronics of a lithium battery and its
    /// links add to it, so the real fault current is smaller. Source: [`crate::tables::sources::USUAL_INTERNAL_RESISTANCE`].
    pub ohm_amp_hours: f64,
    /// The voltage of that.
    pub nominal: Volts,
    /// How it stands, at 12 V nominal.
    pub standing: StandingVolts,
    /// Between which shares of the fault current by that resistance that of a real bank lies: electronics, links and a
    /// low charge take from it, many small batteries side by side add. Source:
    /// [`crate::tables::sources::USUAL_INTERNAL_RESISTANCE`].
    pub plausible: [Ratio; 2],
    /// Charging it in the cold plates metal, and it is lost.
    pub charge_harms_in_cold: bool,
}

/// Voltages of a battery of 12 V nominal that a meter reads at its posts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandingVolts {
    /// At rest, when it should be charged.
    pub rest_low: Volts,
    /// At rest, full.
    pub rest_full: Volts,
    /// How far a full one may be off.
    pub rest_within: Volts,
    /// After ten minutes of load.
    pub loaded: Volts,
    /// How far that may be off.
    pub loaded_within: Volts,
}

/// A vehicle's starter battery. Common practice, no source.
pub(crate) const STARTER: StandingVolts = StandingVolts {
    rest_low: Volts(12.2),
    rest_full: Volts(12.6),
    rest_within: Volts(0.3),
    loaded: Volts(12.3),
    loaded_within: Volts(0.3),
};
/// A third to twice what is usual.
const PLAUSIBLE: [Ratio; 2] = [Ratio(1.0 / 3.0), Ratio(2.0)];

/// All of them.
pub(crate) const ALL: [Chemistry; 2] = [
    Chemistry {
        word: "lfp",
        usable: Ratio(0.8),
        charge_efficiency: Ratio(0.95),
        ohm_amp_hours: 0.20,
        nominal: Volts(12.8),
        standing: StandingVolts {
            rest_low: Volts(13.0),
            rest_full: Volts(13.4),
            rest_within: Volts(0.2),
            loaded: Volts(13.0),
            loaded_within: Volts(0.3),
        },
        plausible: PLAUSIBLE,
        charge_harms_in_cold: true,
    },
    Chemistry {
        word: "agm",
        usable: Ratio(0.5),
        charge_efficiency: Ratio(0.85),
        ohm_amp_hours: 0.45,
        nominal: Volts(12.0),
        standing: StandingVolts {
            rest_low: Volts(12.2),
            rest_full: Volts(12.8),
            rest_within: Volts(0.2),
            loaded: Volts(12.3),
            loaded_within: Volts(0.3),
        },
        plausible: PLAUSIBLE,
        charge_harms_in_cold: false,
    },
];

/// The chemistry of a spec's word.
#[must_use]
pub(crate) fn of(word: &str) -> Option<&'static Chemistry> {
    ALL.iter().find(|chemistry| chemistry.word == word)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::sources;

    #[test]
    fn what_is_usual_alone_carries_no_error_and_is_told_as_its_sources_say() {
        for source in [&sources::CHARGE_EFFICIENCY, &sources::USUAL_INTERNAL_RESISTANCE] {
            assert!(!source.status.may_carry_error(), "{}", source.id);
        }
        for chemistry in ALL {
            let share = format!("{:.0} %", chemistry.charge_efficiency.0 * 100.0);
            assert!(sources::CHARGE_EFFICIENCY.text.contains(&share), "{share}");
            let inside = format!("{} Ω Ah", chemistry.ohm_amp_hours);
            assert!(sources::USUAL_INTERNAL_RESISTANCE.text.contains(&inside), "{inside}");
            assert!(sources::USUAL_INTERNAL_RESISTANCE.text.contains("a third to twice"));
            let [low, high] = chemistry.plausible.map(|share| share.0);
            assert!((low - 1.0 / 3.0).abs() < 1e-12 && (high - 2.0).abs() < 1e-12);
            assert_eq!(of(chemistry.word), Some(&chemistry));
        }
        assert_eq!(of("nicd"), None);
    }
}
