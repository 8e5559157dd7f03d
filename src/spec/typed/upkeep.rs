//! `[upkeep.<id>]`: upkeep of this build alone.

use crate::fields::{Cautions, Choice, Component, Place, Readings, Text, Texts, typed};

typed! {
    /// `[upkeep.<id>]`: upkeep of this build alone.
    UpkeepSection = "upkeep" {
        /// What is done, beginning with a verb.
        title: Text;
        /// Component it is about; without one the van as a whole.
        component: Component;
        /// Where it is done, where that is not the place of its component.
        place: Place;
        /// How often, counted from the handover.
        every: Text;
        /// A single time, so long after the handover.
        once: Text;
        /// Season in which it falls due.
        season: Choice;
        /// Life after which the thing is replaced.
        replace: Text;
        /// Distance driven that may come first.
        distance: Text;
        /// Running hours that may come first.
        hours: Text;
        /// Who does it.
        by: Choice;
        /// Safety, warranty or law ask for it.
        essential: bool;
        /// Working time.
        minutes: i64;
        /// Its steps in order, one action each.
        steps: Texts;
        /// Safety messages, printed before the steps.
        cautions: Cautions;
        /// What is read at the end.
        readings: Readings;
        /// What must be so before the thing is used again.
        hold: Text;
    }
}
