//! The smallest standard conductor that does, and what governed the choice.

use super::ampacity::Ampacity;
use super::size_candidate::try_size;
pub use super::size_request::{Candidate, Criterion, Protection, SizeRequest};
use super::voltage_drop::VoltageDrop;
use crate::tables::conductor_series::Series;
use crate::units::System::Metric;
use crate::units::{Amps, Celsius, ConductorSize, SquareMillimetres};
use serde::Serialize;
use std::fmt;

/// A conductor with its figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sized {
    /// The size.
    pub size: ConductorSize,
    /// Conductors of that size side by side that share the current.
    pub side_by_side: u32,
    /// Its ampacity, of all side by side together; `None` only for a given size below 18 AWG.
    pub ampacity: Option<Ampacity>,
    /// Its voltage drop at the load current, warm.
    pub drop: VoltageDrop,
    /// Its temperature at the load current.
    pub conductor_temperature: Celsius,
    /// Rating of the device it was sized for.
    pub protection: Option<Amps>,
    /// What governed the choice.
    pub governed_by: Criterion,
    /// What it fails by: only a given size can.
    pub fails: Vec<Criterion>,
    /// All sizes tried, in order; the last is the one chosen.
    pub tried: Vec<Candidate>,
}

impl Sized {
    /// "2/0 AWG"; of several side by side "2 × 2/0 AWG".
    #[must_use]
    pub fn show(&self) -> String {
        let size = self.size;
        if self.side_by_side > 1 { format!("{} × {size}", self.side_by_side) } else { size.to_string() }
    }

    /// How many share the current.
    #[must_use]
    pub fn shares(&self) -> f64 {
        f64::from(self.side_by_side.max(1))
    }

    /// One conductor that has the area of all together, the next thicker one where there is none; the thickest where there
    /// is no such.
    #[must_use]
    pub fn as_one(&self) -> ConductorSize {
        if self.side_by_side <= 1 {
            return self.size;
        }
        Series::of(self.size).at_least(self.size.area().0 * self.shares())
    }

    /// Temperature that the drop is told at: its own at the load current, at most the `limit` of its insulation. A
    /// conductor that would get hotter carries less than its load, which is told for itself.
    #[must_use]
    pub fn drop_temperature(&self, limit: Celsius) -> Celsius {
        self.conductor_temperature.min(limit)
    }
}

/// Why there is no size.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoSize {
    /// No fuse of the family carries the design current.
    NoRating {
        /// Design current.
        needed: Amps,
        /// Largest rating that is made.
        largest: Amps,
    },
    /// The largest size of the series fails.
    TooLarge {
        /// That size.
        largest: ConductorSize,
        /// Ampacity the circuit needs.
        needed_ampacity: Amps,
        /// Ampacity of the largest size.
        offered: Amps,
        /// Area that would hold the voltage drop, where that fails; else the area of the largest size.
        needed_area: SquareMillimetres,
        /// What it fails by.
        fails: Vec<Criterion>,
    },
    /// This input is negative or no number.
    BadInput(&'static str),
}

impl fmt::Display for NoSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoRating { needed, largest } => {
                write!(
                    f,
                    "no fuse of the family carries {}; the largest is {}",
                    needed.show(Metric),
                    largest.show(Metric)
                )
            }
            Self::TooLarge { largest, needed_ampacity, offered, needed_area, fails } => {
                write!(f, "{largest}, the largest, is not enough")?;
                if fails.iter().any(|c| matches!(c, Criterion::Ampacity | Criterion::Protection)) {
                    write!(f, "; it carries {}, needed are {}", offered.show(Metric), needed_ampacity.show(Metric))?;
                }
                if fails.contains(&Criterion::VoltageDrop) {
                    write!(f, "; the voltage drop needs {}", needed_area.show(Metric))?;
                }
                Ok(())
            }
            Self::BadInput(what) => write!(f, "the {what} is negative or no number"),
        }
    }
}

impl std::error::Error for NoSize {}

/// Sizes a conductor, or tries the one the spec gives. A size does where its corrected ampacity covers the design
/// current and the rating of its protection, its drop at the load current and its own warm temperature is within
/// the limit, and it is not below the mechanical minimum. Several side by side are tried where they are asked for, and not
/// proposed; nor is 3 AWG, which no one stocks.
///
/// Sources: those of [`super::ampacity`], [`super::voltage_drop`], [`super::conductor_temperature`] and
/// [`super::protection`].
///
/// # Errors
/// [`NoSize`] where no rating or no size of the series does, or an input is negative or no number.
pub fn size_conductor(request: &SizeRequest) -> Result<Sized, NoSize> {
    check(request)?;
    let rating = match request.protection {
        Protection::None => None,
        Protection::Given(rating) => Some(rating),
        Protection::Smallest(family) => {
            let series = family.series();
            let none = NoSize::NoRating { needed: request.design_current, largest: series.largest() };
            Some(series.at_least(request.design_current).ok_or(none)?)
        }
    };
    if let Some(given) = request.given {
        let (candidate, ampacity) = try_size(given, request, rating);
        return Ok(sized(request, candidate, ampacity, rating, Criterion::Given, Vec::new()));
    }
    let mut tried: Vec<Candidate> = Vec::new();
    for size in request.series.stocked() {
        let (candidate, ampacity) = try_size(*size, request, rating);
        if candidate.fails.is_empty() {
            // The size below says what governed: the first of its faults in the order of the criteria.
            let governed_by = tried.last().and_then(|c| c.fails.first()).copied().unwrap_or(Criterion::Mechanical);
            return Ok(sized(request, candidate, ampacity, rating, governed_by, tried));
        }
        tried.push(candidate);
    }
    Err(too_large(request, rating, tried.last()))
}

fn check(request: &SizeRequest) -> Result<(), NoSize> {
    let inputs = [
        (request.design_current.0, "design current"),
        (request.load_current.0, "load current"),
        (request.one_way.0, "length"),
        (request.nominal.0, "voltage"),
        (request.fuse_cap.0, "fuse cap"),
        (request.drop_limit.map_or(0.0, |limit| limit.0), "drop limit"),
        (if let Protection::Given(rating) = request.protection { rating.0 } else { 0.0 }, "rating"),
    ];
    match inputs.iter().find(|(value, _)| !(value.is_finite() && *value >= 0.0)) {
        Some((_, what)) => Err(NoSize::BadInput(what)),
        None if !request.installation.surroundings.ambient().0.is_finite() => Err(NoSize::BadInput("air temperature")),
        None => Ok(()),
    }
}

fn sized(
    request: &SizeRequest,
    candidate: Candidate,
    ampacity: Option<Ampacity>,
    protection: Option<Amps>,
    governed_by: Criterion,
    mut tried: Vec<Candidate>,
) -> Sized {
    tried.push(candidate.clone());
    let Candidate { size, drop, conductor_temperature, fails, .. } = candidate;
    let side_by_side = request.side_by_side.max(1);
    Sized { size, side_by_side, ampacity, drop, conductor_temperature, protection, governed_by, fails, tried }
}

fn too_large(request: &SizeRequest, rating: Option<Amps>, last: Option<&Candidate>) -> NoSize {
    let Some(last) = last else { return NoSize::BadInput("series") };
    let share = super::positive(request.fuse_cap.0).unwrap_or(1.0);
    let for_rating = rating.map_or(Amps(0.0), |rating| rating / share);
    // Resistance goes with one over the area.
    let over = request.drop_limit.and_then(|l| super::positive(l.0)).map_or(1.0, |limit| last.drop.share.0 / limit);
    NoSize::TooLarge {
        largest: last.size,
        needed_ampacity: request.design_current.max(for_rating),
        offered: last.ampacity.unwrap_or_default(),
        needed_area: last.size.area() * over.max(1.0),
        fails: last.fails.clone(),
    }
}

#[cfg(test)]
#[path = "size_tests.rs"]
mod tests;
