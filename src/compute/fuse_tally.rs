//! Fuses and breakers counted: what is fitted, and one spare of each fuse.

use super::network::{Device, DeviceAt};
use crate::tables::fuse_colours;
use crate::tables::fuse_series::Family;
use serde::Serialize;
use std::collections::BTreeSet;

/// Spares of each rating of a fuse. A breaker is reset, not replaced. Common practice, no source.
pub(crate) const SPARES: usize = 1;

/// A row of the fuse list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FuseRow {
    /// "15 A blade fuse".
    pub device: String,
    /// Colour, "" where the family has none.
    pub colour: String,
    /// How many are fitted.
    pub fitted: usize,
    /// How many lie in the van as spares.
    pub spare: usize,
    /// Panel in whose cover they lie, "" where no panel has a way for them.
    pub kept: String,
    /// Both together.
    pub total: usize,
    /// Labels of the circuits it protects.
    pub labels: String,
}

/// Colour of a blade fuse, "" where there is none for it.
#[must_use]
pub(crate) fn colour(device: &Device) -> String {
    let found = device.family.zip(device.rating).and_then(|(f, r)| fuse_colours::colour(f, r));
    found.map_or_else(String::new, |c| c.name.to_owned())
}

/// Devices counted by family and rating, small before large; a device of its own is counted once however many
/// circuits name it.
#[must_use]
pub(crate) fn tally<'d>(devices: impl IntoIterator<Item = (&'d str, &'d Device)>) -> Vec<FuseRow> {
    let mut rows: Vec<(Family, f64, FuseRow)> = Vec::new();
    let mut components = BTreeSet::new();
    for (label, device) in devices {
        let (Some(family), Some(rating), true) = (device.family, device.rating, device.is_own()) else { continue };
        let again = matches!(&device.at, DeviceAt::Component(id) if !components.insert(id.clone()));
        let shown = device.show();
        match rows.iter_mut().find(|(.., r)| r.device == shown) {
            Some((.., row)) => {
                row.fitted += usize::from(!again);
                row.labels = format!("{}, {label}", row.labels);
            }
            None => rows.push((
                family,
                rating.0,
                FuseRow {
                    device: shown,
                    colour: colour(device),
                    fitted: 1,
                    spare: if is_breaker(family) { 0 } else { SPARES },
                    kept: String::new(),
                    total: 0,
                    labels: label.to_owned(),
                },
            )),
        }
    }
    rows.sort_by(|(fa, ra, _), (fb, rb, _)| {
        (is_breaker(*fa), fa.word()).cmp(&(is_breaker(*fb), fb.word())).then(ra.total_cmp(rb))
    });
    let with_total = |mut row: FuseRow| {
        row.total = row.fitted + row.spare;
        row
    };
    rows.into_iter().map(|(.., row)| with_total(row)).collect()
}

const fn is_breaker(family: Family) -> bool {
    matches!(family, Family::DcBreaker | Family::AcBreakerUs | Family::AcBreakerEu)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::electrical::interrupting::Known;
    use crate::units::Amps;

    fn device(at: DeviceAt, family: Family, rating: f64) -> Device {
        Device {
            at,
            family: Some(family),
            rating: Some(Amps(rating)),
            given: false,
            curve: None,
            poles: None,
            breaks: Known::default(),
        }
    }

    #[test]
    fn each_fuse_has_one_spare_and_breakers_have_none() {
        let small = device(DeviceAt::Way, Family::Blade, 5.0);
        let large = device(DeviceAt::Way, Family::Blade, 15.0);
        let breaker = device(DeviceAt::Way, Family::AcBreakerEu, 16.0);
        let rows = tally([("outlet", &breaker), ("fridge", &large), ("lamp", &small), ("pump", &large)]);
        let counts: Vec<_> = rows.iter().map(|r| (r.device.as_str(), r.fitted, r.spare, r.total)).collect();
        assert_eq!(counts, [("5 A blade fuse", 1, 1, 2), ("15 A blade fuse", 2, 1, 3), ("16 A breaker", 1, 0, 1)]);
        assert_eq!(rows[1].labels, "fridge, pump");
    }

    #[test]
    fn devices_further_up_are_not_bought_again() {
        let main = device(DeviceAt::Component("main-fuse".to_owned()), Family::ClassT, 300.0);
        let behind = device(DeviceAt::Upstream("main-fuse".to_owned()), Family::ClassT, 300.0);
        let rows = tally([("main-fuse", &main), ("disconnect", &behind), ("other", &main)]);
        assert_eq!(rows.iter().map(|r| (r.fitted, r.spare)).collect::<Vec<_>>(), [(1, 1)]);
    }
}
