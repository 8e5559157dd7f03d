//! Bolts: shear, and how many hold a load.

use crate::tables::bolts::{Class, Metric};

/// Standard gravity in m/s².
pub const G: f64 = 9.806_65;

/// Shear one bolt holds, in newtons, by the distortion-energy criterion.
#[must_use]
pub fn shear(bolt: Metric, class: Class) -> f64 {
    class.proof() * bolt.area() / 3.0_f64.sqrt()
}

/// Bolts needed for `force` newtons in shear; at least two, so that none lets a thing turn.
#[must_use]
pub fn needed(force: f64, bolt: Metric, class: Class) -> f64 {
    (force / shear(bolt, class)).ceil().max(2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::bolts::{DRY, PASTE, clamp, tightening, torque};
    use crate::tables::reference::{num, rows};

    /// Proof stress in psi of SAE J429 grades 2, 5 and 8, 1/4 to 3/4 in.
    const fn sae_proof_psi(grade: u8) -> Option<f64> {
        match grade {
            2 => Some(55_000.0),
            5 => Some(85_000.0),
            8 => Some(120_000.0),
            _ => None,
        }
    }

    /// Stress area in square inches of an inch thread: 0.7854 · (d − 0.9743/n)², n threads an inch.
    fn inch_area(diameter: f64, threads: f64) -> f64 {
        std::f64::consts::FRAC_PI_4 * (diameter - 0.9743 / threads).powi(2)
    }

    fn inches(text: &str) -> f64 {
        match text.split_once('/') {
            Some((a, b)) => a.parse::<f64>().expect("numerator") / b.parse::<f64>().expect("denominator"),
            None => text.parse().expect("inches"),
        }
    }

    /// SAE J429 torque and clamp table, as published: every row within one unit of its last digit.
    #[test]
    fn inch_torques_as_published() {
        for row in rows("torque") {
            let (d, threads) = (inches(&row["size_in"]), num(&row, "tpi"));
            let grade = row["sae_grade"].parse().expect("grade");
            let area = inch_area(d, threads);
            assert!((area - num(&row, "At_in2")).abs() < 1e-5, "{} area {area}", row["size_in"]);
            let clamp = 0.75 * sae_proof_psi(grade).expect("grade") * area;
            assert!((clamp - num(&row, "clamp_lbf_published")).abs() <= 1.0, "{} clamp {clamp}", row["size_in"]);
            let pounds = torque(num(&row, "K"), d, clamp);
            let got = if row["unit"] == "ft-lb" { pounds / 12.0 } else { pounds };
            assert!((got - num(&row, "torque_published")).abs() <= 1.0, "{} grade {grade}: {got}", row["size_in"]);
        }
    }

    /// ISO 898-1: stress areas to the rounding of the table (0.03 mm²), torques follow.
    #[test]
    fn metric_torques_as_the_reference_has_them() {
        for row in rows("torque-metric") {
            let (class, words, factor) = match row["class"].as_str() {
                "8.8" => (Class::C88, "class 8.8", DRY),
                "10.9" => (Class::C109, "class 10.9", DRY),
                _ => (Class::A270, "A2-70", PASTE),
            };
            let bolt = Metric::named(&row["size"]).expect("size");
            assert!((bolt.area() * 1e6 - num(&row, "As_formula_mm2")).abs() < 6e-4, "{}", row["size"]);
            assert!((bolt.area() * 1e6 - num(&row, "As_mm2")).abs() < 0.04, "{}", row["size"]);
            let force = clamp(bolt, class);
            // The reference takes the rounded area of the table: 0.13 % at M5.
            assert!((force / 1e3 / num(&row, "F_75pct_kN") - 1.0).abs() < 1.5e-3, "{}", row["size"]);
            for (k, column) in [(0.20, "T_K020_Nm"), (0.15, "T_K015_Nm")] {
                assert!((torque(k, bolt.diameter, force) / num(&row, column) - 1.0).abs() < 1.5e-3, "{}", row["size"]);
            }
            let column = if (factor - DRY).abs() < 1e-9 { "T_K020_Nm" } else { "T_K015_Nm" };
            let (told, _) = tightening(&format!("{} {words} bolts", row["size"])).expect("a table has it");
            assert!((told / num(&row, column) - 1.0).abs() < 1.5e-3, "{} {words}: {told}", row["size"]);
        }
    }

    #[test]
    fn bolts_needed_are_never_fewer_than_two() {
        let m6 = Metric::named("M6").expect("M6");
        assert!((needed(0.0, m6, Class::C88) - 2.0).abs() < 1e-12);
        assert!((needed(30_000.0, m6, Class::C88) - 5.0).abs() < 1e-12, "30 kN / 6.74 kN");
        assert_eq!(Metric::named("M7"), None);
    }
}
