//! Load on an AC supply.

use crate::units::{Amps, Volts, Watts};

/// Volt-amperes of a single-phase supply.
#[must_use]
pub fn supply_capacity(rating: Amps, volts: Volts) -> Watts {
    volts * rating
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// NEC 551.73(A): a 30 A site counts its whole 3600 VA, a 50 A site 80 % of 50 A at 240 V.
    #[test]
    fn supplies_agree_with_nec_551_73() {
        let table = rows("nec-551-73-demand");
        let printed = |key: &str| num(table.iter().find(|r| r["key"] == key).expect("row"), "value");
        assert_eq!(supply_capacity(Amps(30.0), Volts(120.0)), Watts(printed("20A and 30A")));
        assert_eq!(supply_capacity(Amps(50.0), Volts(240.0)) * 0.8, Watts(printed("50A 120/240V")));
    }
}
