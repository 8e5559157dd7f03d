//! Resistance of a conductor per metre.

use crate::tables::conductor_series::Finish;
use crate::tables::{copper, iec60228};
use crate::units::{Celsius, ConductorSize, Metres, Ohms};
use serde::Serialize;
use std::ops::Mul;

/// Largest resistance that IEC 60228 class 5 allows over that of solid copper of the nominal area (at 1.5 mm²):
/// stands in for areas the standard has no row for.
const LARGEST_OVER_SOLID: f64 = 1.1571;

/// Largest ratios of coated to uncoated conductors in NEC Chapter 9 Table 8: 18 and 16 AWG, and thicker.
const TINNED_THIN: f64 = 1.063;
const TINNED_THICK: f64 = 1.045;

/// Temperature of a cold conductor: at it a resistance is told, and a short draws most.
pub const COLD: Celsius = Celsius(20.0);

/// Resistance of one conductor, ohms per metre.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize)]
#[serde(transparent)]
pub struct OhmsPerMetre(pub f64);

impl Mul<Metres> for OhmsPerMetre {
    type Output = Ohms;
    fn mul(self, length: Metres) -> Ohms {
        Ohms(self.0 * length.0)
    }
}

/// Resistance per metre of one stranded copper conductor at a conductor temperature.
///
/// AWG: ASTM B258 area, IACS copper and 2 % lay, which is NEC Chapter 9 Table 8 (stranded, uncoated) within 0.5 %.
/// Metric: the largest resistance IEC 60228 class 5 allows, so the drop is not understated.
/// The skin effect is left out: below 1 % at 60 Hz up to 4/0.
#[must_use]
pub fn per_metre(size: ConductorSize, finish: Finish, at: Celsius) -> OhmsPerMetre {
    let square_metres = size.area().0 * 1e-6;
    let at_20 = match size {
        ConductorSize::Awg(gauge) => {
            let tinned = if gauge >= 15 { TINNED_THIN } else { TINNED_THICK };
            copper::LAY * copper::RHO_20 / square_metres * if finish == Finish::Tinned { tinned } else { 1.0 }
        }
        ConductorSize::Metric(area) => match (iec60228::class_5(area), finish) {
            (Some(row), Finish::Plain) => row.plain * 1e-3,
            (Some(row), Finish::Tinned) => row.tinned * 1e-3,
            (None, Finish::Plain) => LARGEST_OVER_SOLID * copper::RHO_20 / square_metres,
            (None, Finish::Tinned) => TINNED_THICK * LARGEST_OVER_SOLID * copper::RHO_20 / square_metres,
        },
    };
    OhmsPerMetre(at_20 * copper::temperature_factor(at.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::conductor_series::Series;
    use crate::tables::reference::{num, rows};

    const KILOFOOT: f64 = 304.8;

    fn kilofoot(awg: &str, finish: Finish) -> f64 {
        let size = ConductorSize::parse(&format!("{awg} AWG")).expect("size");
        (per_metre(size, finish, Celsius(75.0)) * Metres(KILOFOOT)).0
    }

    /// NEC Chapter 9 Table 8: stranded rows, and the solid ones without the lay; 21 rows.
    #[test]
    fn awg_agrees_with_nec_table_8_within_1_percent() {
        let table = rows("nec-ch9-table8");
        assert_eq!(table.len(), 21);
        for row in &table {
            let lay = if row["strands"] == "1" { copper::LAY } else { 1.0 };
            let printed = num(row, "cu_uncoated_ohm_kft_75C") * lay;
            let got = kilofoot(&row["awg"], Finish::Plain);
            assert!((got / printed - 1.0).abs() < 0.01, "{} AWG: {got} against {printed}", row["awg"]);
        }
    }

    /// NEC Chapter 9 Table 8, coated: never below by more than its rounding, and within 2 %.
    #[test]
    fn tinned_awg_is_on_the_safe_side_of_nec_table_8() {
        for row in rows("nec-ch9-table8").iter().filter(|r| r["strands"] != "1") {
            let over = kilofoot(&row["awg"], Finish::Tinned) / num(row, "cu_coated_ohm_kft_75C");
            assert!((0.995..1.02).contains(&over), "{} AWG: {over}", row["awg"]);
        }
    }

    /// The bare geometry at five temperatures, without lay: IEC 60287-1-1 constants on ASTM B258.
    #[test]
    fn awg_follows_the_temperature() {
        for row in rows("awg-geometry").iter().skip(1) {
            let size = ConductorSize::parse(&format!("{} AWG", row["awg"])).expect("size");
            for at in ["20", "30", "50", "75", "105"] {
                let printed = num(row, &format!("R{at}_ohm_km"));
                let got = per_metre(size, Finish::Plain, Celsius(at.parse().expect("number"))).0 * 1000.0;
                assert!((got / copper::LAY / printed - 1.0).abs() < 1e-4, "{size} at {at} °C");
            }
        }
    }

    /// IEC 60228 Table 3 class 5, plain and tinned, every row at its own 20 °C.
    #[test]
    fn metric_is_iec_60228_class_5() {
        for (row, size) in rows("iec60228-class5").iter().zip(Series::Metric.stocked()) {
            for (finish, column) in [(Finish::Plain, "plain_max_ohm_km_20C"), (Finish::Tinned, "tinned_max_ohm_km_20C")]
            {
                let got = per_metre(*size, finish, Celsius(20.0)).0 * 1000.0;
                assert!((got - num(row, column)).abs() < 1e-9, "{size} {finish:?}");
            }
        }
    }

    #[test]
    fn an_area_without_a_row_lies_between_its_neighbours() {
        let ohms = |mm2| per_metre(ConductorSize::Metric(mm2), Finish::Plain, Celsius(20.0)).0;
        assert!(ohms(4.0) > ohms(5.0) && ohms(5.0) > ohms(6.0));
    }
}
