//! Which rings a shop can buy: by stud, the conductors that there are barrels for; and the thickest for a push-on. Common practice, no source, so a
//! verdict on it only warns. Source: [`super::sources::RINGS`].

use super::conductor_series::Series;
use crate::units::ConductorSize;

/// Stud, its name in inches, least and largest cross-section of the conductor in mm².
const SOLD: [(&str, &str, f64, f64); 7] = [
    ("M3", "No. 4", 0.2, 2.6),
    ("M4", "No. 8", 0.2, 6.7),
    ("M5", "No. 10", 0.2, 26.0),
    ("M6", "1/4 in", 0.2, 36.0),
    ("M8", "5/16 in", 0.5, 121.0),
    // Rings of thin wire end at M8: their tongue would be wider than the barrel is long.
    ("M10", "3/8 in", 3.2, 300.0),
    ("M12", "1/2 in", 8.3, 300.0),
];

/// Largest cross-section that a push-on receptacle for a blade of 6.3 mm takes, in mm²; source
/// [`super::sources::PUSH_ONS`].
const PUSH_ON: f64 = 6.7;

/// Whether there is a push-on receptacle for a conductor.
#[must_use]
pub(crate) fn has_push_on(size: ConductorSize) -> bool {
    size.area().0 <= PUSH_ON
}

/// The thickest conductor of a series that there is a push-on receptacle for.
#[must_use]
pub(crate) fn thickest_push_on(series: Series) -> Option<ConductorSize> {
    series.stocked().iter().copied().rfind(|size| has_push_on(*size))
}

/// What there is for a stud.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Rings {
    least: f64,
    most: f64,
}

/// The rings for a stud; `None` where its thread is not known.
#[must_use]
pub(crate) fn of_stud(thread: &str) -> Option<Rings> {
    let (_, _, least, most) = SOLD.iter().find(|(metric, inch, _, _)| [*metric, *inch].contains(&thread.trim()))?;
    Some(Rings { least: *least, most: *most })
}

impl Rings {
    /// Whether there is one for a conductor.
    #[must_use]
    pub(crate) fn take(self, size: ConductorSize) -> bool {
        (self.least..=self.most).contains(&size.area().0)
    }

    /// Whether a conductor is too thin for all of them.
    #[must_use]
    pub(crate) fn are_above(self, size: ConductorSize) -> bool {
        size.area().0 < self.least
    }

    /// The thinnest and the thickest conductor of a series that there is one for.
    #[must_use]
    pub(crate) fn range(self, series: Series) -> Option<(ConductorSize, ConductorSize)> {
        let mut sizes = series.stocked().iter().copied().filter(|size| self.take(*size));
        let first = sizes.next()?;
        Some((first, sizes.next_back().unwrap_or(first)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::sources;

    #[test]
    fn the_rows_are_told_as_the_source_says_and_only_warn() {
        assert!(!sources::RINGS.status.may_carry_error());
        for (stud, word) in
            [("M3", "to 2.5 mm²"), ("M4", "to 6 mm²"), ("M5", "to 25 mm²"), ("M6", "to 35 mm²"), ("M8", "to 120 mm²")]
        {
            let (_, most) = of_stud(stud).and_then(|r| r.range(Series::Metric)).expect("rings");
            assert_eq!(word, format!("to {most}"));
            assert!(sources::RINGS.text.contains(&format!("{stud} {word}")), "{stud}");
        }
        for (stud, metric, awg) in [("M10", "4 mm²", "12 AWG"), ("M12", "10 mm²", "8 AWG")] {
            let least = |series| of_stud(stud).and_then(|r| r.range(series)).expect("rings").0.to_string();
            assert_eq!((least(Series::Metric).as_str(), least(Series::Awg).as_str()), (metric, awg));
            assert!(sources::RINGS.text.contains(&format!("{stud} from {metric} ({awg})")), "{stud}");
        }
    }

    #[test]
    fn push_ons_end_where_the_source_says() {
        let told = [Series::Metric, Series::Awg].map(|series| thickest_push_on(series).expect("one").to_string());
        assert_eq!(told, ["6 mm²", "10 AWG"]);
        assert!(sources::PUSH_ONS.text.contains(&format!("to {} ({})", told[0], told[1])));
        assert!(!sources::PUSH_ONS.status.may_carry_error());
    }

    #[test]
    fn studs_go_by_both_names() {
        let size = |text: &str| ConductorSize::parse(text).expect("size");
        for (thread, conductor, sold) in [
            ("M10", "16 AWG", false),
            ("3/8 in", "16 AWG", false),
            ("M10", "10 AWG", true),
            ("M6", "50 mm²", false),
            ("1/4 in", "35 mm²", true),
            ("M8", "4/0 AWG", true),
        ] {
            assert_eq!(of_stud(thread).map(|r| r.take(size(conductor))), Some(sold), "{conductor} × {thread}");
        }
        assert_eq!(of_stud("M7"), None);
        assert_eq!(of_stud(""), None);
    }
}
