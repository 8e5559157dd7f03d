//! Fuels: lower heating values, and what a heater burns.

/// A fuel of a burner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fuel {
    /// Diesel.
    Diesel,
    /// Petrol.
    Petrol,
    /// Liquefied petroleum gas, as propane.
    Lpg,
}

impl Fuel {
    /// The fuel of a spec's word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        match word {
            "diesel" => Some(Self::Diesel),
            "petrol" => Some(Self::Petrol),
            "lpg" => Some(Self::Lpg),
            _ => None,
        }
    }

    /// Lower heating value in kWh per litre of liquid.
    ///
    /// Sources: [`crate::tables::sources::DIESEL_LHV`], [`crate::tables::sources::PETROL_LHV`],
    /// [`crate::tables::sources::PROPANE_LHV`].
    #[must_use]
    pub const fn per_litre(self) -> f64 {
        match self {
            Self::Diesel => 9.9477,
            Self::Petrol => 8.9878,
            Self::Lpg => 6.5227,
        }
    }

    /// Most of the lower heating value that a burner can give. Gas is burnt in condensing heaters too: they take back heat
    /// of the steam, up to the higher heating value. Vehicle heaters for liquid fuel let their steam go; their 95 % is
    /// common practice, no source.
    ///
    /// Source of the higher value: [`crate::tables::sources::PROPANE_LHV_MASS`].
    #[must_use]
    pub const fn most_efficient(self) -> f64 {
        match self {
            Self::Diesel | Self::Petrol => 0.95,
            Self::Lpg => PROPANE_HIGHER_PER_KILOGRAM / PROPANE_PER_KILOGRAM,
        }
    }
}

/// Higher heating value of propane in kWh/kg, the heat of its steam with it. Source:
/// [`crate::tables::sources::PROPANE_LHV_MASS`].
const PROPANE_HIGHER_PER_KILOGRAM: f64 = 13.9782;

/// Lower heating value of propane in kWh/kg. Source: [`crate::tables::sources::PROPANE_LHV_MASS`].
pub const PROPANE_PER_KILOGRAM: f64 = 12.8692;

/// Share of a fuel's heat that a heater gives, by its own figures: `watts` from `litres` an hour. `None` without fuel.
#[must_use]
pub fn efficiency(fuel: Fuel, watts: f64, litres: f64) -> Option<f64> {
    (watts > 0.0 && litres > 0.0).then(|| watts / 1000.0 / (litres * fuel.per_litre()))
}

/// Litres that give `watts` for `seconds` at `efficiency`.
#[must_use]
pub fn litres(fuel: Fuel, watts: f64, seconds: f64, efficiency: f64) -> Option<f64> {
    (efficiency > 0.0 && watts >= 0.0 && seconds >= 0.0)
        .then(|| watts / 1000.0 * seconds / 3600.0 / (efficiency * fuel.per_litre()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn heating_values_are_the_lower_ones_of_the_table() {
        let table = rows("fuel-heating-values");
        for (fuel, name) in
            [(Fuel::Diesel, "diesel (LHV)"), (Fuel::Petrol, "gasoline (LHV)"), (Fuel::Lpg, "propane (LHV)")]
        {
            let row = table.iter().find(|r| r["fuel"] == name).expect("row");
            assert!((fuel.per_litre() - num(row, "kWh_per_L_or_kg")).abs() < 1e-9, "{name}");
            let from_btu = num(row, "Btu_per_US_gal") * 1_055.055_85 / 3.785_411_784 / 3.6e6;
            assert!((from_btu - fuel.per_litre()).abs() < 1e-4, "{name}");
        }
        let gas = table.iter().find(|r| r["fuel"].starts_with("propane gas")).expect("row");
        let lower: f64 =
            gas["kWh_per_L_or_kg"].split('/').nth(1).and_then(|v| v.trim().parse().ok()).expect("two values");
        assert!((lower - PROPANE_PER_KILOGRAM).abs() < 1e-4);
        let higher: f64 =
            gas["kWh_per_L_or_kg"].split('/').next().and_then(|v| v.trim().parse().ok()).expect("two values");
        assert!((higher - PROPANE_HIGHER_PER_KILOGRAM).abs() < 1e-4);
        // The factors of the two sources agree: 91333 / 84250 Btu/US gal.
        let by_volume = 91_333.0 / 84_250.0;
        assert!((Fuel::Lpg.most_efficient() - by_volume).abs() < 0.003, "{by_volume}");
    }

    #[test]
    fn fuel_and_efficiency_agree() {
        let share = efficiency(Fuel::Diesel, 4000.0, 0.5).expect("burns");
        assert!((share - 0.8042).abs() < 1e-4, "{share}");
        let hour = litres(Fuel::Diesel, 4000.0, 3600.0, share).expect("burns");
        assert!((hour - 0.5).abs() < 1e-12);
        assert_eq!(efficiency(Fuel::Lpg, 2000.0, 0.0), None);
        assert_eq!(Fuel::parse("wood"), None);
    }
}
