//! The sun: where it stands, what reaches the ground, what falls on a tilted plane and what a module makes of it.
//!
//! Pure functions of latitude, day, hour and irradiation. Angles are in degrees, hours in solar time. Polar night and
//! polar day are answers: no sun, and sun around the clock.

pub mod day;
pub mod extraterrestrial;
pub mod geometry;
pub mod module;
pub mod split;
pub mod tilt;
