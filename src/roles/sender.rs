//! Measures the level of a tank: the role `sender`.

use super::contract::role;
use crate::fields::{Choice, Component};

role! {
    /// Measures the level of a tank.
    Sender = "sender" in Plumbing {
        /// Tank whose level it measures.
        tank: may Component;
        /// How it measures. A resistive one has no supply: its display measures it.
        technology: may Choice { choices = ["resistive", "capacitive", "ultrasonic", "pressure", "probes"] };
    }
}
