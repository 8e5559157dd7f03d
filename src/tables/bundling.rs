//! 33 CFR 183.425 Table 5 note 2: factors for conductors that lie together. Source: [`super::sources::CFR_BUNDLING`].

use crate::units::{Ratio, Volts};

/// Circuits below this voltage need no factor by 33 CFR 183.435(b); source: [`super::sources::CFR_BUNDLING_SCOPE`].
pub(crate) const SCOPE_FROM: f64 = 50.0;

/// Share of the ampacity left to each of `conductors` current-carrying conductors in one bundle, 0.4 to 1.
///
/// The regulation asks for it from 50 V up. Heat does not know the voltage: with `at_all_voltages` a house rule
/// applies it below 50 V as well.
#[must_use]
pub(crate) fn factor(conductors: u32, volts: Volts, at_all_voltages: bool) -> Ratio {
    if !at_all_voltages && volts.0 < SCOPE_FROM {
        return Ratio(1.0);
    }
    Ratio(match conductors {
        0..=2 => 1.0,
        3 => 0.7,
        4..=6 => 0.6,
        7..=24 => 0.5,
        _ => 0.4,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn steps_are_those_of_note_2() {
        let table = rows("cfr-33-183-425-table5-notes");
        let steps: Vec<_> = table.iter().filter(|r| r["note"].starts_with('2')).collect();
        assert_eq!(steps.len(), 4);
        for row in steps {
            let key = row["key"].trim_end_matches('+');
            for end in key.split('-') {
                let got = factor(end.parse().expect("count"), Volts(120.0), false);
                assert_eq!(got, Ratio(num(row, "factor")), "{key}");
            }
        }
        assert_eq!(factor(25, Volts(120.0), false), factor(1000, Volts(120.0), false));
        assert_eq!(factor(2, Volts(120.0), true), Ratio(1.0));
    }

    #[test]
    fn scope_begins_at_50_volts() {
        assert_eq!(factor(7, Volts(49.9), false), Ratio(1.0));
        assert_eq!(factor(7, Volts(50.0), false), Ratio(0.5));
        assert_eq!(factor(7, Volts(12.8), true), Ratio(0.5));
    }
}
