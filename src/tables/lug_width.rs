//! How wide a lug is across its stud, and the washer on it: what a bar of studs side by side must have room for. Common
//! practice, no source, so a verdict on it only warns. Source: [`super::sources::LUG_WIDTHS`].

use crate::units::{ConductorSize, Metres};

/// Thread of a stud, its name in inches, and the outside of its plain washer in mm.
const WASHERS: [(&str, &str, f64); 7] = [
    ("M3", "No. 4", 7.0),
    ("M4", "No. 8", 9.0),
    ("M5", "No. 10", 10.0),
    ("M6", "1/4 in", 12.0),
    ("M8", "5/16 in", 16.0),
    ("M10", "3/8 in", 20.0),
    ("M12", "1/2 in", 24.0),
];

/// Millimetres of width for each square root of a mm²: a tube that takes the strands, pressed flat.
const PRESSED_FLAT: f64 = 2.8;

/// Between two lugs side by side, so that neither turns the other, in mm.
const BESIDE: f64 = 2.0;

/// Width of the lug of a conductor.
#[must_use]
fn of_lug(size: ConductorSize) -> f64 {
    PRESSED_FLAT * size.area().0.sqrt()
}

/// Outside of the washer on a stud; `None` where its thread is not known.
#[must_use]
fn of_washer(thread: &str) -> Option<f64> {
    WASHERS.iter().find(|(metric, inch, _)| [*metric, *inch].contains(&thread.trim())).map(|(_, _, wide)| *wide)
}

/// Length that studs side by side take, each with the conductors on it; `None` where the thread is not known.
#[must_use]
pub(crate) fn of_studs<'a>(thread: &str, studs: impl Iterator<Item = &'a [ConductorSize]>) -> Option<Metres> {
    let washer = of_washer(thread)?;
    let widest = |lugs: &[ConductorSize]| lugs.iter().copied().map(of_lug).fold(washer, f64::max);
    let all: Vec<f64> = studs.map(widest).collect();
    #[expect(clippy::cast_precision_loss, reason = "a few dozen studs")]
    let between = BESIDE * all.len().saturating_sub(1) as f64;
    Some(Metres((all.iter().sum::<f64>() + between) / 1000.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::sources;

    /// Widths of tubular lugs by DIN 46235, from memory, within a tenth.
    #[test]
    fn lugs_are_as_wide_as_the_standard_has_them() {
        for (size, wide) in [("16 mm²", 11.0), ("35 mm²", 17.0), ("70 mm²", 24.0), ("95 mm²", 28.0), ("120 mm²", 32.0)]
        {
            let got = of_lug(ConductorSize::parse(size).expect("a size"));
            assert!((got / wide - 1.0).abs() < 0.1, "{size}: {got} for {wide}");
        }
        assert!(!sources::LUG_WIDTHS.status.may_carry_error());
    }

    #[test]
    fn studs_take_their_widest_lug_or_their_washer() {
        let size = |text: &str| ConductorSize::parse(text).expect("a size");
        let studs = [vec![size("100 mm²"), size("6 mm²")], vec![size("6 mm²")], Vec::new()];
        let length = of_studs("M8", studs.iter().map(Vec::as_slice)).expect("known");
        // 28 mm of the lug, two washers of 16 mm, twice 2 mm between.
        assert!((length.0 - 0.064).abs() < 1e-9, "{length:?}");
        assert_eq!(of_studs("5/16 in", studs.iter().map(Vec::as_slice)), Some(length));
        assert_eq!(of_studs("M7", studs.iter().map(Vec::as_slice)), None);
    }
}
