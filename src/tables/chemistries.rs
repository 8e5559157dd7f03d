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
    /// Charging it in the cold plates metal, and it is lost.
    pub charge_harms_in_cold: bool,
}

/// All of them.
pub(crate) const ALL: [Chemistry; 2] = [
    Chemistry {
        word: "lfp",
        usable: Ratio(0.8),
        charge_efficiency: Ratio(0.95),
        ohm_amp_hours: 0.20,
        nominal: Volts(12.8),
        charge_harms_in_cold: true,
    },
    Chemistry {
        word: "agm",
        usable: Ratio(0.5),
        charge_efficiency: Ratio(0.85),
        ohm_amp_hours: 0.45,
        nominal: Volts(12.0),
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
            assert_eq!(of(chemistry.word), Some(&chemistry));
        }
        assert_eq!(of("nicd"), None);
    }
}
