//! `[stage.<id>]`: changes to a stage.

use crate::fields::{Prose, Text, typed};
use jiff::civil::Date;

typed! {
    /// `[stage.<id>]`: changes to a stage.
    StageSection = "stage" {
        /// What the shop calls the stage.
        title: Text;
        /// Day the work begins.
        start: Date;
        /// The stage is not done in this build.
        skip: bool;
        /// Note at the head of its install packet.
        note: Prose;
    }
}
