//! NEC Table 552.10(E)(1): largest overcurrent device by conductor in the low-voltage wiring of recreational vehicles.
//! From memory, so it is told beside the verdict on ampacity and decides nothing. Source: [`super::sources::NEC_552_10_E`].

use crate::units::{Amps, ConductorSize};

const ROWS: [(ConductorSize, f64); 5] = [
    (ConductorSize::Awg(18), 6.0),
    (ConductorSize::Awg(16), 8.0),
    (ConductorSize::Awg(14), 15.0),
    (ConductorSize::Awg(12), 20.0),
    (ConductorSize::Awg(10), 30.0),
];

/// The largest device for a conductor of AWG; `None` for sizes that are in no row.
#[must_use]
pub(crate) fn largest_device(size: ConductorSize) -> Option<Amps> {
    ROWS.iter().find(|(row, _)| *row == size).map(|(_, amps)| Amps(*amps))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};
    use crate::tables::sources;

    #[test]
    fn rows_are_those_remembered_and_carry_no_error() {
        let table = rows("nec-552-10-E-1");
        assert_eq!(table.len(), ROWS.len());
        for row in &table {
            let size = ConductorSize::parse(&format!("{} AWG", row["awg"])).expect("size");
            assert_eq!(largest_device(size), Some(Amps(num(row, "max_ocpd_A"))), "{size}");
            assert_eq!(row["status"], "M");
        }
        assert!(!sources::NEC_552_10_E.status.may_carry_error());
        assert_eq!(largest_device(ConductorSize::Awg(8)), None);
    }
}
