//! NEC Table 552.10(E)(1), park trailers: largest low-voltage fuse by conductor. From memory, so it may back a
//! note and never an error. Source: [`super::sources::NEC_552_10`].

use crate::units::{Amps, ConductorSize};

/// Largest overcurrent device of a low-voltage conductor, 18 AWG to 10 AWG; `None` for every other size.
#[must_use]
pub fn park_trailer_limit(size: ConductorSize) -> Option<Amps> {
    let ConductorSize::Awg(gauge) = size else { return None };
    Some(Amps(match gauge {
        18 => 6.0,
        16 => 8.0,
        14 => 15.0,
        12 => 20.0,
        10 => 30.0,
        _ => return None,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn rows_agree_and_say_they_are_from_memory() {
        for row in rows("nec-551-low-voltage") {
            let size = ConductorSize::parse(&format!("{} AWG", row["awg"])).expect("size");
            assert_eq!(park_trailer_limit(size), Some(Amps(num(&row, "max_overcurrent_A"))));
            assert_eq!(row["status"], "memory");
        }
        assert!(!crate::tables::sources::NEC_552_10.status.may_carry_error());
        assert_eq!(park_trailer_limit(ConductorSize::Awg(8)), None);
    }
}
