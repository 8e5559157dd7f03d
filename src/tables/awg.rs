//! AWG sizes that a build uses: 18 AWG to 4/0, the rows of 33 CFR 183.425 Table 5.

use crate::units::ConductorSize::{self, Awg};

/// The sizes a shop can buy, smallest first: all but 3 AWG, which SAE J1127 does not have. 5 AWG and 7 AWG are not made for
/// vehicles.
pub(crate) const STOCKED: &[ConductorSize] = &[
    Awg(18),
    Awg(16),
    Awg(14),
    Awg(12),
    Awg(10),
    Awg(8),
    Awg(6),
    Awg(4),
    Awg(2),
    Awg(1),
    Awg(0),
    Awg(-1),
    Awg(-2),
    Awg(-3),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// ASTM B258, all rows of the computed table but 20 AWG, which no build uses.
    #[test]
    fn geometry_is_that_of_astm_b258() {
        let table = rows("awg-geometry");
        let mut sizes = STOCKED.to_vec();
        let at = sizes.iter().position(|size| *size == Awg(2)).expect("2 AWG");
        sizes.insert(at, Awg(3));
        assert_eq!(table.len(), sizes.len() + 1);
        for (row, size) in table.iter().skip(1).zip(&sizes) {
            assert_eq!(format!("{} AWG", row["awg"]), size.to_string());
            assert!((size.area().0 / num(row, "area_mm2") - 1.0).abs() < 1e-4, "{size}");
            assert!((size.circular_mils() / num(row, "circular_mils") - 1.0).abs() < 1e-4, "{size}");
            let in_sae = !row["sae_min_cm"].is_empty();
            assert_eq!(STOCKED.contains(size), in_sae, "{size}");
        }
    }
}
