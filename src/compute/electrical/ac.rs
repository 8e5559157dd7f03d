//! Load on an AC supply.

use crate::units::{Amps, Ohms, Volts, Watts};

/// What a loop has cold, as a share of what it has when it fails. Common practice, no source.
pub const COLD: f64 = 0.8;

/// The most that line and earth may have together, measured cold, where a breaker opens at once at `opens_at` times its
/// rating.
#[must_use]
pub fn loop_most(volts: Volts, rating: Amps, opens_at: f64) -> Option<Ohms> {
    let current = super::positive((rating * opens_at).0)?;
    Some(Ohms(volts.0 / current * COLD))
}

/// Volt-amperes of a single-phase supply.
#[must_use]
pub fn supply_capacity(rating: Amps, volts: Volts) -> Watts {
    volts * rating
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::breaker_curve::Curve;
    use crate::tables::reference::{num, rows};

    /// BS 7671 Table 41.3 at 230 V, from memory: it takes 0.95 of the voltage, which common practice for a test leaves out.
    #[test]
    fn loops_agree_with_the_table_of_british_wiring_rules() {
        for (curve, rating, table) in [
            (Curve::B, 6.0, 7.28),
            (Curve::B, 16.0, 2.73),
            (Curve::B, 32.0, 1.37),
            (Curve::C, 16.0, 1.37),
            (Curve::C, 32.0, 0.68),
        ] {
            let most = loop_most(Volts(230.0), Amps(rating), curve.opens_at()).expect("current");
            let printed = table / 0.95 * COLD;
            assert!((most.0 / printed - 1.0).abs() < 0.01, "{curve}{rating}: {} and {printed}", most.0);
        }
        assert_eq!(loop_most(Volts(230.0), Amps(0.0), 5.0), None);
    }

    /// NEC 551.73(A): a 30 A site counts its whole 3600 VA, a 50 A site 80 % of 50 A at 240 V.
    #[test]
    fn supplies_agree_with_nec_551_73() {
        let table = rows("nec-551-73-demand");
        let printed = |key: &str| num(table.iter().find(|r| r["key"] == key).expect("row"), "value");
        assert_eq!(supply_capacity(Amps(30.0), Volts(120.0)), Watts(printed("20A and 30A")));
        assert_eq!(supply_capacity(Amps(50.0), Volts(240.0)) * 0.8, Watts(printed("50A 120/240V")));
    }
}
