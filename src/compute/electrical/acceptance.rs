//! What a good conductor measures, and the most that its joints, its spare length and the devices on its way may add.
//!
//! Resistances of joints and devices: [`crate::tables::sources::JOINTS`].

use super::positive;
use super::resistance::{COLD, per_metre};
use crate::tables::conductor_series::Finish;
use crate::units::{Amps, ConductorSize, Metres, Ohms, Volts};

/// A good crimp with its screw, stud or clamp adds no more than this length of its own conductor,
const END: Metres = Metres(0.1);

/// but a stud with a washer under it adds this much even to the thickest,
const LEAST_END: Ohms = Ohms(0.1e-3);

/// and more than this is a bad joint on the thinnest.
const MOST_END: Ohms = Ohms(1e-3);

/// Length a piece of cable may be longer than its route, both ends together: strip, second crimp, dressing.
const SPARE: Metres = Metres(0.3);

/// Share of the route that the spare length may be: nobody leaves as much slack as there is way.
const SPARE_SHARE: f64 = 0.5;

/// Error of the meter, and copper that is 10 K warmer than 20 °C (4 %).
const METER: f64 = 1.1;

/// Resistance of a conductor below which no meter at the van tells a good one from a bad one: its own leads and
/// contacts differ by as much from one reading to the next.
pub const TELLABLE: Ohms = Ohms(5e-3);

/// Voltage that a closed fuse or breaker with its contacts drops at its rating, at most.
const FUSE: Volts = Volts(0.1);

/// Voltage that a closed switch, a relay, a busbar or a shunt drops at its rating, at most.
const CONTACT: Volts = Volts(0.05);

/// What a closed fuse or breaker usually drops at its rating.
pub const USUAL_FUSE: Volts = Volts(0.07);

/// What a closed switch or relay usually drops at its rating; of a busbar or panel there is nothing to tell.
pub const USUAL_SWITCH: Volts = Volts(0.02);

/// What a shunt drops at its rating: that is what it measures by.
const SHUNT: Volts = Volts(0.05);

/// Resistance of one conductor from end to end at 20 °C, without its joints.
#[must_use]
pub fn conductor(size: ConductorSize, length: Metres) -> Ohms {
    per_metre(size, Finish::Plain, COLD) * length
}

/// The most that one end of a conductor may add: crimp, and screw, stud or clamp.
#[must_use]
pub fn end(size: ConductorSize) -> Ohms {
    conductor(size, END).max(LEAST_END).min(MOST_END)
}

/// By how much a conductor may be longer than its `route`, and read too high: a factor.
#[must_use]
pub fn stretch(route: Metres) -> f64 {
    let spare = SPARE.0.min(route.0 * SPARE_SHARE);
    METER * positive(route.0).map_or(1.0, |route| (route + spare) / route)
}

/// The most that a good conductor of a `route` measures with both its ends, where its copper has `resistance`.
#[must_use]
pub fn most(size: ConductorSize, route: Metres, resistance: Ohms) -> Ohms {
    resistance * stretch(route) + end(size) * 2.0
}

/// The most that a closed fuse or breaker adds, its contacts included.
#[must_use]
pub fn fuse(rating: Amps) -> Ohms {
    positive(rating.0).map_or(Ohms(0.0), |rating| Ohms(FUSE.0 / rating))
}

/// What a closed fuse or breaker usually adds.
#[must_use]
pub fn usual_fuse(rating: Amps) -> Ohms {
    positive(rating.0).map_or(Ohms(0.0), |rating| Ohms(USUAL_FUSE.0 / rating))
}

/// What a closed switch or relay usually adds.
#[must_use]
pub fn usual_switch(rating: Amps) -> Ohms {
    positive(rating.0).map_or(Ohms(0.0), |rating| Ohms(USUAL_SWITCH.0 / rating))
}

/// What a shunt adds.
#[must_use]
pub fn shunt(rating: Amps) -> Ohms {
    positive(rating.0).map_or(Ohms(0.0), |rating| Ohms(SHUNT.0 / rating))
}

/// The most that a closed switch, relay, busbar or shunt adds.
#[must_use]
pub fn contact(rating: Amps) -> Ohms {
    positive(rating.0).map_or(Ohms(0.0), |rating| Ohms(CONTACT.0 / rating))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::conductor_series::Series;
    use crate::tables::reference::{num, rows};

    fn awg(size: &str) -> ConductorSize {
        ConductorSize::parse(&format!("{size} AWG")).expect("size")
    }

    /// NEC Chapter 9 Table 8, stranded copper, its 75 °C values brought to 20 °C by the coefficient of its own note:
    /// R2 = R1 · (1 + 0.00323 · (T2 − 75)), within 1 %.
    #[test]
    fn awg_at_20_degrees_agrees_with_nec_table_8() {
        for row in rows("nec-ch9-table8").iter().filter(|r| r["strands"] != "1") {
            let at_20 = num(row, "cu_uncoated_ohm_kft_75C") * (1.0 + 0.00323 * (20.0 - 75.0));
            let got = conductor(awg(&row["awg"]), Metres(304.8)).0;
            assert!((got / at_20 - 1.0).abs() < 0.01, "{} AWG: {got} against {at_20}", row["awg"]);
        }
    }

    /// IEC 60228 Table 3 class 5, every row at its own 20 °C.
    #[test]
    fn metric_at_20_degrees_is_iec_60228_class_5() {
        for (row, size) in rows("iec60228-class5").iter().zip(Series::Metric.stocked()) {
            let got = conductor(*size, Metres(1000.0)).0;
            assert!((got - num(row, "plain_max_ohm_km_20C")).abs() < 1e-9, "{size}");
        }
    }

    /// What passes and what does not, over every size and route: the conductor itself and one with its spare length
    /// pass; three times its resistance does not where a meter can tell, nor a joint of 10 mΩ where it can't.
    #[test]
    fn a_limit_lies_between_a_good_conductor_and_a_bad_one() {
        let sizes = Series::Awg.stocked().iter().chain(Series::Metric.stocked());
        let mut judged = [0, 0];
        for size in sizes.filter(|s| s.area().0 > 0.8) {
            for tenths in 1..150 {
                let route = Metres(f64::from(tenths) / 10.0);
                let copper = conductor(*size, route);
                let most = most(*size, route, copper);
                let spare = conductor(*size, Metres(route.0 + SPARE.0.min(route.0 / 2.0)));
                assert!(copper < most && spare + end(*size) * 2.0 < most, "{size}, {route:?}: {most:?}");
                let told = copper >= TELLABLE;
                judged[usize::from(told)] += 1;
                let bad = if told { copper * 3.0 } else { copper + Ohms(10e-3) };
                assert!(bad > most, "{size}, {route:?}: {most:?} passes {bad:?}");
            }
        }
        assert!(judged.iter().all(|n| *n > 500), "{judged:?}");
    }

    /// The case that a limit of one ohm passed: 0.3 Ω in 0.8 m of 1/0.
    #[test]
    fn a_third_of_an_ohm_in_a_main_cable_is_refused() {
        let main = awg("1/0");
        let copper = conductor(main, Metres(0.8));
        assert!((copper.0 * 1e3 - 0.26).abs() < 0.01, "{copper:?}");
        assert!(copper < TELLABLE && most(main, Metres(0.8), copper) < Ohms(1e-3));
    }

    #[test]
    fn a_device_adds_by_its_rating() {
        assert!((fuse(Amps(15.0)).0 - 6.67e-3).abs() < 1e-5);
        assert!((contact(Amps(500.0)).0 - 0.1e-3).abs() < 1e-9);
        assert_eq!(fuse(Amps(0.0)), Ohms(0.0));
    }
}
