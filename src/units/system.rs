//! The units that documents print.

use serde::Serialize;

/// Unit system of printed documents.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum System {
    /// Metres, kilograms, litres, °C.
    Metric,
    /// Feet and inches, pounds, US gallons, °F.
    Us,
}
