//! Figures for labels and papers: occupant and cargo capacity, added weight, mass in running order, least payload.

use crate::units::{Kilograms, Metres};

/// Mass of one person on a belted seat, 49 CFR 571.110: 150 lb, printed there as 68 kg.
pub const US_PERSON: Kilograms = Kilograms(68.0);

/// Mass of one person, Regulation (EU) No 1230/2012.
pub const EU_PERSON: Kilograms = Kilograms(75.0);

/// One hundred pounds.
const HUNDRED_POUNDS: Kilograms = Kilograms(45.359_237);

/// Mass of one person under a rule profile.
#[must_use]
pub fn person(rules: &str) -> Kilograms {
    if rules == "eu" { EU_PERSON } else { US_PERSON }
}

/// Combined mass of occupants and cargo, 49 CFR 571.110 S9: gross mass less the unloaded vehicle. Water is cargo.
#[must_use]
pub fn cargo_capacity(gross: Kilograms, unloaded: Kilograms) -> Kilograms {
    gross - unloaded
}

/// Added weight above which a label must tell of it, 49 CFR 571.110 S10: the lesser of 1.5 % of gross mass or 100 lb.
#[must_use]
pub fn disclosure_threshold(gross: Kilograms) -> Kilograms {
    (gross * 0.015).min(HUNDRED_POUNDS)
}

/// Least payload of a motor caravan, Regulation (EU) No 1230/2012, Annex I part A 2.6.4.1.2: 10 kg · (n + L),
/// `people` with the driver, `length` in metres.
#[must_use]
pub fn least_payload(people: f64, length: Metres) -> Kilograms {
    Kilograms(10.0 * (people + length.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published examples: four people, 7.45 m gives 114.5 kg; four people, 7 m gives 110 kg.
    #[test]
    fn least_payload_as_published() {
        assert!((least_payload(4.0, Metres(7.45)).0 - 114.5).abs() < 1e-9);
        assert!((least_payload(4.0, Metres(7.0)).0 - 110.0).abs() < 1e-9);
    }

    /// 1.5 % crosses 100 lb at a gross mass of 3024 kg; 2800 kg gives 42 kg, 3500 kg gives 45.36 kg.
    #[test]
    fn threshold_is_the_lesser_of_the_two() {
        assert!((disclosure_threshold(Kilograms(2800.0)).0 - 42.0).abs() < 1e-9);
        assert!((disclosure_threshold(Kilograms(3500.0)).0 - 45.36).abs() < 0.005);
        assert!((disclosure_threshold(Kilograms(3024.0)).0 - 45.36).abs() < 0.005);
    }

    #[test]
    fn a_person_weighs_as_the_rules_say() {
        assert_eq!((person("us"), person("eu")), (Kilograms(68.0), Kilograms(75.0)));
        assert_eq!(cargo_capacity(Kilograms(4490.0), Kilograms(3490.0)), Kilograms(1000.0));
    }
}
