//! Ratings that are made, by series of fuse or breaker, each with how well it was checked.

use super::citation::Status::{self, CommonPractice, Memory, Secondary};
use serde::Serialize;

/// A rating in amperes and how well it was checked.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Rated {
    /// Amperes.
    pub amps: f64,
    /// How well it was checked.
    pub status: Status,
}

const fn all<const N: usize>(amps: [f64; N], status: Status) -> [Rated; N] {
    let mut out = [Rated { amps: 0.0, status }; N];
    let mut i = 0;
    while i < N {
        out[i].amps = amps[i];
        i += 1;
    }
    out
}

/// ISO 8820-3 type C; 35 A is from memory.
pub(crate) const BLADE: &[Rated] = &{
    let mut out = all([1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0], Secondary);
    out[11].status = Memory;
    out
};

/// ISO 8820-3 type F.
pub(crate) const MINI_BLADE: &[Rated] = &all([2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0], Secondary);

/// ISO 8820-3 type E.
pub(crate) const MAXI_BLADE: &[Rated] = &all([20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0], Secondary);

/// ISO 8820-5, the small strip.
pub(crate) const SMALL_BOLT_DOWN: &[Rated] =
    &all([23.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0, 125.0, 150.0, 175.0, 200.0], Memory);

/// ISO 8820-5, the large strip.
pub(crate) const LARGE_BOLT_DOWN: &[Rated] = &all(
    [40.0, 60.0, 80.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0],
    Memory,
);

/// Cube fuse on a battery terminal.
pub(crate) const TERMINAL_CUBE: &[Rated] =
    &all([30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 90.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0], Memory);

/// UL 248-15 class T.
pub(crate) const CLASS_T: &[Rated] = &all(
    [
        1.0, 3.0, 6.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0,
        125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0, 700.0, 800.0, 1000.0,
        1200.0,
    ],
    Memory,
);

/// Panel breakers for direct current.
pub(crate) const DC_BREAKER: &[Rated] = &all(
    [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0, 125.0, 150.0, 175.0, 200.0],
    CommonPractice,
);

/// NEC 240.6(A).
pub(crate) const NEC_240_6: &[Rated] = &all(
    [
        15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0, 150.0, 175.0,
        200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0,
    ],
    Memory,
);

/// IEC 60898-1 preferred values.
pub(crate) const IEC_60898: &[Rated] = &all([6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0], Memory);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::rows;

    #[test]
    fn ratings_are_those_of_the_reference() {
        let table = rows("fuse-ratings");
        let series =
            [BLADE, MINI_BLADE, MAXI_BLADE, SMALL_BOLT_DOWN, LARGE_BOLT_DOWN, CLASS_T, TERMINAL_CUBE, NEC_240_6];
        assert_eq!(table.len(), series.len());
        for (row, ratings) in table.iter().zip(series) {
            let printed: Vec<f64> = row["ratings_A"].split(' ').map(|a| a.parse().expect("rating")).collect();
            let own: Vec<f64> = ratings.iter().map(|r| r.amps).collect();
            assert_eq!(own, printed, "{}", row["series"]);
            let memory = row["status"].starts_with("from memory");
            assert_eq!(ratings[0].status == Memory, memory, "{}", row["series"]);
        }
    }

    #[test]
    fn ratings_rise_and_the_remembered_one_says_so() {
        for ratings in [DC_BREAKER, IEC_60898, BLADE, CLASS_T] {
            assert!(ratings.windows(2).all(|w| w[0].amps < w[1].amps));
        }
        let memory: Vec<f64> = BLADE.iter().filter(|r| r.status == Memory).map(|r| r.amps).collect();
        assert_eq!(memory, [35.0]);
    }
}
