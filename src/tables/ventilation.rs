//! Openings for air that can't be shut, by the floor (EN 721).

/// Least free area of the openings high up and low down, m².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vents {
    /// In the roof, or at least 300 mm above the mattress of the topmost bed.
    pub high: f64,
    /// At most 100 mm above the floor.
    pub low: f64,
}

/// Openings of a living space of `floor` m², with something that burns and is not `sealed` from it or without. Source:
/// [`crate::tables::sources::EN_721`]. Above 10 m² no figure was read: the last one stands. High openings outside the roof
/// need the larger of two areas; it is asked for, since a spec does not say where they are.
#[must_use]
pub fn en_721(floor: f64, sealed: bool) -> Vents {
    let square_centimetres = |high: f64, low: f64| Vents { high: high * 1e-4, low: low * 1e-4 };
    match (sealed, floor <= 5.0) {
        (true, _) => square_centimetres(30.0, 5.0),
        (false, true) => square_centimetres(75.0, 10.0),
        (false, false) => square_centimetres(100.0, 15.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn openings_as_the_leaflet_has_them() {
        let table = rows("en721-ventilation");
        for (row, floor, sealed) in [(0, 4.9, false), (1, 9.9, false), (2, 9.9, true)] {
            let vents = en_721(floor, sealed);
            let cell = &table[row]["high_vent_cm2"];
            let figures: Vec<f64> = cell.split(|c: char| !c.is_ascii_digit()).filter_map(|n| n.parse().ok()).collect();
            // Of two figures the one for another opening than one in the roof.
            assert!((vents.high * 1e4 - figures.last().expect("a figure")).abs() < 1e-9, "{cell}");
            assert!((vents.low * 1e4 - num(&table[row], "low_vent_cm2")).abs() < 1e-9, "{cell}");
        }
    }
}
