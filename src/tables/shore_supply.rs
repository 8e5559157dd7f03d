//! NEC 551.73(A): the load a recreational-vehicle site counts for. Source: [`super::sources::NEC_551_73`].

use crate::units::{Amps, Watts};

/// Volt-amperes of a site whose largest receptacle is rated `rating` (20 A, 30 A or 50 A); `None` for any other.
///
/// 30 A is the whole of 30 A at 120 V. 50 A is 80 % of 50 A at 240 V, as the code prints it: a load figure for
/// the park, not a limit of the van's inlet.
#[must_use]
pub fn site_va(rating: Amps) -> Option<Watts> {
    let near = |amps: f64| (rating.0 - amps).abs() < 1e-9;
    let va = if near(20.0) {
        2400.0
    } else if near(30.0) {
        3600.0
    } else if near(50.0) {
        9600.0
    } else {
        return None;
    };
    Some(Watts(va))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// NEC 551.73(A), and the sum of the published example of 42 sites before its demand factor.
    #[test]
    fn sites_count_as_printed() {
        let table = rows("nec-551-73-demand");
        let printed = |key: &str| num(table.iter().find(|r| r["key"] == key).expect("row"), "value");
        let va = |amps| site_va(Amps(amps)).expect("rating").0;
        assert!((va(50.0) - printed("50A 120/240V")).abs() < 1e-9);
        assert!((va(30.0) - printed("20A and 30A")).abs() < 1e-9);
        assert!((va(20.0) - printed("20A only")).abs() < 1e-9);
        let example = table.iter().find(|r| r["key"].starts_with("42 sites")).expect("example");
        let sum = 3.0 * va(50.0) + 30.0 * va(30.0) + 9.0 * va(20.0);
        let factor = printed("36 plus") / 100.0;
        assert!((sum * factor - num(example, "value")).abs() < 0.5);
        assert_eq!(site_va(Amps(16.0)), None);
    }
}
