//! Geometry: measures for the card, angles over the ground, boxes in the cabin.

pub mod angles;
pub mod board;
pub mod boxes;
pub(crate) mod exits;
mod of_build;
pub mod openings;
pub(crate) mod outline;
pub(crate) mod room;
pub(crate) mod signs;
pub mod spots;
pub mod van;

use crate::units::Metres;
use outline::Card;
use room::{Blocked, Overlap, Passage, Room, TooLarge};
use serde::Serialize;

/// A low point of vehicle or component.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Point {
    /// Component; "" for the vehicle itself.
    pub part: String,
    /// Aft of the front axle.
    pub x: Metres,
    /// Above the ground.
    pub height: Metres,
}

/// An angle over the ground and the point that decides it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Angle {
    /// Degrees.
    pub degrees: f64,
    /// The point.
    pub point: Point,
}

/// The geometry figures of a build.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Geometry {
    /// Measures for the card.
    pub card: Card,
    /// Low points.
    pub points: Vec<Point>,
    /// Approach angle.
    pub approach: Option<Angle>,
    /// Departure angle.
    pub departure: Option<Angle>,
    /// Breakover angle.
    pub breakover: Option<Angle>,
    /// Places with their boxes.
    pub rooms: Vec<Room>,
    /// Places that reach into each other.
    pub overlaps: Vec<Overlap>,
    /// Narrowest aisle.
    pub aisle: Option<Passage>,
    /// Components larger than their place.
    pub too_large: Vec<TooLarge>,
    /// Parts for a bay that is built round them, without their size.
    pub unmeasured: Vec<String>,
    /// What opens into a place.
    pub blocked: Vec<Blocked>,
}
