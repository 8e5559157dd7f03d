//! `[place.<id>]`: where things are.

use crate::fields::{Choice, Lengths3, Text, typed};
use crate::units::Metres;

typed! {
    /// `[place.<id>]`: where things are.
    PlaceSection = "place" {
        /// What it is, as the owner would say.
        about: Text;
        /// Middle of its floor: aft of the front axle, to the left of the middle, above the floor.
        at: Lengths3;
        /// Its size: along the vehicle, across it, up.
        size: Lengths3;
        /// What surrounds things there. It decides the heat and water they must take.
        zone: Choice;
        /// A space other places may reach into, such as the whole floor or the inside of the shell.
        open: bool;
        /// A cavity filled with thermal insulation: cables that pass it carry less there.
        insulated: bool;
    }
}

impl PlaceSection {
    /// Half of its size along an axis; a place without a size is a point.
    #[must_use]
    pub fn half(&self, axis: usize) -> Option<Metres> {
        self.size.get().map_or(Some(Metres(0.0)), |size| size.0.get(axis).map(|whole| *whole / 2.0))
    }

    /// Its zone; where the word of the spec could not be read, what is declared for places that say nothing.
    #[must_use]
    pub fn zone(&self) -> &str {
        self.zone.text().unwrap_or("cabin")
    }
}
