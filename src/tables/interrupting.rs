//! ABYC E-11 Table V-A: what an overcurrent device must be able to break.
//! Sources: [`super::sources::ABYC_INTERRUPTING`], [`super::sources::ABYC_LARGE_BANK`].

use crate::units::{AmpHours, Amps};
use serde::Serialize;

/// Least interrupting capacity of the devices on a bank.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AbycMinimum {
    /// Main device.
    pub main: Amps,
    /// Branch devices.
    pub branch: Amps,
}

/// Table V-A by the total cold cranking amperes `cca` of the connected batteries. It does not reach to large banks
/// ([`is_large_bank`]).
#[must_use]
pub fn abyc(cca: f64) -> AbycMinimum {
    let (main, branch) = if cca <= 650.0 {
        (1500.0, 750.0)
    } else if cca <= 1100.0 {
        (3000.0, 1500.0)
    } else {
        (5000.0, 2500.0)
    };
    AbycMinimum { main: Amps(main), branch: Amps(branch) }
}

/// Whether a bank is above 2200 CCA or 500 Ah, so that its short-circuit current counts instead of Table V-A.
#[must_use]
pub fn is_large_bank(cca: Option<f64>, capacity: AmpHours) -> bool {
    cca.is_some_and(|cca| cca > 2200.0) || capacity.0 > 500.0
}

/// Least interrupting capacity of the main device of a large bank: its short-circuit current, or 20 kA at 125 V DC
/// where that current exceeds 10 kA.
#[must_use]
pub fn abyc_large_bank(short_circuit: Amps) -> Amps {
    if short_circuit.0 > 10_000.0 { Amps(20_000.0) } else { short_circuit }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn steps_are_those_of_table_v_a() {
        let table = rows("abyc-aic");
        let expected = |i: usize| AbycMinimum {
            main: Amps(num(&table[i], "main_aic_A")),
            branch: Amps(num(&table[i], "branch_aic_A")),
        };
        for (cca, row) in [(0.0, 0), (650.0, 0), (651.0, 1), (1100.0, 1), (1101.0, 2), (2200.0, 2)] {
            assert_eq!(abyc(cca), expected(row), "{cca} CCA");
        }
    }

    #[test]
    fn large_banks_count_by_their_short_circuit_current() {
        assert!(!is_large_bank(Some(2200.0), AmpHours(500.0)));
        assert!(is_large_bank(Some(2201.0), AmpHours(100.0)));
        assert!(is_large_bank(None, AmpHours(500.5)));
        assert_eq!(abyc_large_bank(Amps(7200.0)), Amps(7200.0));
        assert_eq!(abyc_large_bank(Amps(10_000.0)), Amps(10_000.0));
        assert_eq!(abyc_large_bank(Amps(12_800.0)), Amps(20_000.0));
    }
}
