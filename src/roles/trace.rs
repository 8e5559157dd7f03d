//! Heats a pipe: the role `trace`.

use super::contract::role;
use crate::fields::Components;
use crate::units::{Celsius, Metres, Watts};

role! {
    /// Heats a pipe.
    Trace = "trace" in Plumbing {
        /// Pipe runs and valves it protects.
        protects: may Components;
        /// Heated length of the pipe.
        length: must Metres { change = "replaced" };
        /// Electrical power of the whole cable: heated length times power per metre.
        draw: must Watts;
        /// Thickness of insulation round pipe and cable.
        insulation_thickness: must Metres;
        /// Thermostat switches on below this.
        on_below: must Celsius;
    }
}
