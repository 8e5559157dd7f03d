//! Voltage drop of a circuit. The published circular-mil rule for it holds our sizes and their resistances in the tests.

use super::positive;
use super::resistance::OhmsPerMetre;
use crate::units::{Amps, Metres, Ohms, Ratio, Volts};
use serde::Serialize;

/// A voltage drop.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VoltageDrop {
    /// Drop over both conductors.
    pub volts: Volts,
    /// Share of the nominal voltage; 0 where that is not above zero.
    pub share: Ratio,
    /// Resistance of both conductors.
    pub loop_resistance: Ohms,
}

/// Drop over a circuit of two equal conductors of `one_way` length. Connections and fuses are not in it.
/// For AC the reactance is left out; it counts for little in the short and thin conductors of a van.
/// Source: [`crate::tables::sources::OHM`].
#[must_use]
pub fn voltage_drop(resistance: OhmsPerMetre, one_way: Metres, current: Amps, nominal: Volts) -> VoltageDrop {
    let loop_resistance = resistance * (one_way * 2.0);
    let volts = current * loop_resistance;
    let share = positive(nominal.0).map_or(0.0, |nominal| volts.0 / nominal);
    VoltageDrop { volts, share: Ratio(share), loop_resistance }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::electrical::resistance::per_metre;
    use crate::tables::conductor_series::{Finish, Series};
    use crate::tables::copper;
    use crate::tables::reference::{Row, num, rows};
    use crate::units::{Celsius, ConductorSize};

    /// `K` of the published 12 V tables, ohm circular mil per foot: solid copper at 29.3 °C.
    /// Source: [`crate::tables::sources::ABYC_CIRCULAR_MILS`].
    const K_PUBLISHED: f64 = 10.75;

    const METRES_PER_FOOT: f64 = 0.3048;

    /// `K` of stranded copper at a conductor temperature: 10.371 · (1 + α·(T − 20 °C)) · 1.02. At 75 °C it is the 12.9
    /// of NEC practice.
    fn k_at(conductor: Celsius) -> f64 {
        copper::RHO_20_CIRCULAR_MIL * copper::temperature_factor(conductor.0) * copper::LAY
    }

    /// Circular mils a circuit needs: `CM = K·I·L/E` with `loop_length` that of both conductors and `allowed` the drop.
    /// `None` where the allowed drop is not above zero or an input is no number.
    /// Source: [`crate::tables::sources::ABYC_CIRCULAR_MILS`].
    fn circular_mils_needed(current: Amps, loop_length: Metres, allowed: Volts, k: f64) -> Option<f64> {
        let mils = k * current.0 * (loop_length.0 / METRES_PER_FOOT) / positive(allowed.0)?;
        mils.is_finite().then_some(mils)
    }

    /// The smallest AWG in stock (3 AWG is not) with at least `circular_mils` by ASTM B258 geometry; `None` above 4/0.
    fn smallest_awg(circular_mils: f64) -> Option<ConductorSize> {
        Series::Awg.stocked().iter().copied().find(|size| size.circular_mils() * (1.0 + 1e-9) >= circular_mils)
    }

    fn feet(feet: f64) -> Metres {
        Metres(feet * METRES_PER_FOOT)
    }

    fn pick(row: &Row) -> Option<ConductorSize> {
        let (current, length) = (Amps(num(row, "current_A")), feet(num(row, "round_trip_length_ft")));
        let mils = circular_mils_needed(current, length, Volts(0.36), K_PUBLISHED).expect("number");
        assert!((mils - num(row, "required_cm_K10.75")).abs() < 0.06);
        smallest_awg(mils)
    }

    fn size(cell: &str) -> Option<ConductorSize> {
        ConductorSize::parse(&format!("{cell} AWG"))
    }

    /// The 12 V, 3 % table of ABYC E-11: every cell on which both conventions in use agree.
    ///
    /// Two conventions exist: AWG areas by ASTM B258 geometry (used here, as it belongs to the very size that is
    /// named on the reel and to NEC Table 8), or the 5 % to 11 % smaller minimum areas of SAE J1127/J1128 that the
    /// table was drawn up with. Where they pick different sizes (24 cells) a resistance, not a convention, has to
    /// decide, and `size_conductor` takes the resistance.
    #[test]
    fn picks_of_the_12_volt_table_agree() {
        let table = rows("voltage-drop-12v-3pct");
        assert_eq!(table.len(), 143);
        let agreed: Vec<_> = table.iter().filter(|r| r["rules_agree"] == "yes").collect();
        assert_eq!(agreed.len(), 119);
        for row in agreed {
            let at = format!("{} A, {} ft", row["current_A"], row["round_trip_length_ft"]);
            assert_eq!(pick(row), size(&row["awg_by_AWG_area"]), "{at}");
            assert_eq!(pick(row), size(&row["awg_by_SAE_min_area"]), "{at}");
        }
    }

    /// Of the published cells all but ten follow one of the two conventions. The ten are misprints: five print a
    /// conductor thinner than the formula asks by either convention, five one thicker; from 25 ft to 30 ft at 30 A
    /// and at 50 A the printed conductor even grows thinner with the length.
    #[test]
    fn ten_published_cells_follow_neither_convention() {
        let table = rows("voltage-drop-12v-3pct");
        let odd: Vec<_> =
            table.iter().filter(|r| r["pub_eq_awg_area"] == "no" && r["pub_eq_sae_area"] == "no").collect();
        assert_eq!(odd.len(), 10);
        assert!(odd.iter().all(|r| size(&r["published_awg"]) != pick(r)));
        let thinner = odd.iter().filter(|r| size(&r["published_awg"]) < pick(r)).count();
        assert_eq!(thinner, 5);
        for current in ["30", "50"] {
            let printed = |feet: &str| {
                let row = odd.iter().find(|r| r["current_A"] == current && r["round_trip_length_ft"] == feet);
                size(&row.expect("cell")["published_awg"]).expect("size")
            };
            assert!(printed("30") < printed("25"), "{current} A");
        }
    }

    /// Four worked values from public texts on the rule, with the size each prints.
    #[test]
    fn published_worked_values_come_out() {
        // (A, round trip in ft, V allowed, circular mils, printed size, size by ASTM B258 area)
        let cases = [
            (10.0, 21.0, 0.36, 6271.0, 10, 12),
            (10.0, 21.0, 1.2, 1881.0, 16, 16),
            (45.0, 40.0, 1.2, 16_125.0, 8, 8),
            (100.0, 10.0, 0.72, 14_931.0, 6, 8),
        ];
        for (amps, length, allowed, printed_mils, printed, by_area) in cases {
            let mils = circular_mils_needed(Amps(amps), feet(length), Volts(allowed), K_PUBLISHED).expect("number");
            assert!((mils - printed_mils).abs() < 0.6, "{mils}");
            let got = smallest_awg(mils).expect("size");
            assert_eq!(got, ConductorSize::Awg(by_area));
            // The first prints 10 AWG by the SAE areas; the last 6 AWG because of ampacity, not of drop.
            assert!(got <= ConductorSize::Awg(printed));
        }
    }

    #[test]
    fn k_agrees_with_practice_and_with_ohms_law() {
        assert!((k_at(Celsius(75.0)) - 12.9).abs() < 0.05, "NEC practice, 75 °C with lay");
        assert!((k_at(Celsius(29.3)) / copper::LAY - K_PUBLISHED).abs() < 0.01);
        let size = ConductorSize::Awg(10);
        let drop = voltage_drop(per_metre(size, Finish::Plain, Celsius(50.0)), Metres(4.0), Amps(20.0), Volts(12.0));
        let mils = circular_mils_needed(Amps(20.0), Metres(8.0), drop.volts, k_at(Celsius(50.0))).expect("number");
        assert!((mils / size.circular_mils() - 1.0).abs() < 1e-4);
        assert!((drop.share.0 - drop.volts.0 / 12.0).abs() < 1e-12);
    }

    #[test]
    fn inputs_without_an_answer_have_none() {
        assert_eq!(circular_mils_needed(Amps(10.0), Metres(4.0), Volts(0.0), K_PUBLISHED), None);
        assert_eq!(circular_mils_needed(Amps(f64::INFINITY), Metres(4.0), Volts(0.3), K_PUBLISHED), None);
        assert_eq!(smallest_awg(211_601.0), None);
        assert_eq!(smallest_awg(f64::NAN), None);
        let still = voltage_drop(OhmsPerMetre(0.01), Metres(2.0), Amps(5.0), Volts(0.0));
        assert_eq!(still.share, Ratio(0.0));
    }
}
