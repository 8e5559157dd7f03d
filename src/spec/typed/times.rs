//! `[times]`: what the work on each conductor takes.

use crate::fields::typed;
use crate::units::Seconds;

typed! {
    /// `[times]`: what the work on each conductor takes.
    Times = "times" {
        /// To fetch a cable, draw it in and fix it, whatever its length.
        cable: Seconds;
        /// To lay one metre of a cable.
        metre: Seconds;
        /// To make, label and tighten one end of a conductor.
        end: Seconds;
        /// The same of one from 16 mm² or 6 AWG up.
        heavy_end: Seconds;
        /// To test one conductor dead: continuity, insulation, polarity.
        dead_test: Seconds;
        /// To measure one circuit while it carries its load.
        circuit_test: Seconds;
    }
}
