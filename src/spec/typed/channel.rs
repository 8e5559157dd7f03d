//! `[channel.<id>]`: a conduit, duct or rail that cables share.

use crate::fields::{Choice, Points, Text, typed};
use crate::units::Metres;

typed! {
    /// `[channel.<id>]`: a conduit, duct or rail that cables share.
    Channel = "channel" {
        /// What it is, as a technician finds it.
        about: Text;
        /// What it is made as.
        form: Choice;
        /// Inside diameter of a conduit, or the shorter inside measure of a duct.
        inside: Metres;
        /// The longer inside measure of a duct; left out, it is as wide as it is high.
        inside_width: Metres;
        /// Surface of `[shell]` that closes over it.
        covered_by: Text;
        /// Bends and ends, one after the other: aft of the front axle, to the left of the middle, above the floor. Channels meet where they have a point in common.
        points: Points;
    }
}
