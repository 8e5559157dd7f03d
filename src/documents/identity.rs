//! Which vehicle it is. It stands on the packets, so that nobody cuts into the wrong van, and on the private leaf of the
//! binder; in nothing else that is written.

use crate::build::Build;

/// What is known of the vehicle's papers, each with what it is; empty where nothing is.
#[must_use]
pub(crate) fn of(build: &Build<'_>) -> Vec<[String; 2]> {
    let vehicle = &build.vehicle;
    let told = [
        ("identification number", vehicle.identification.text().map(str::to_owned)),
        ("plate", vehicle.plate.text().map(str::to_owned)),
        ("odometer at intake", vehicle.odometer.show(build.prints())),
    ];
    told.into_iter().filter_map(|(what, value)| Some([what.to_owned(), value?])).collect()
}
