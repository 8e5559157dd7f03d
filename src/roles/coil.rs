//! The coil that works a contact: the role `coil`, beside that of the contact.

use super::contract::role;
use crate::fields::{Component, Switch, Text};
use crate::units::{Amps, Volts};

role! {
    /// The coil that works a contact: the contact is in the path of the current, the coil is what closes it.
    Coil = "coil" in Other {
        /// Nominal voltage of the coil, as printed on it.
        coil_voltage: must Volts { min = "5 V"; max = "60 V"; change = "replaced" };
        /// Current of the coil.
        coil_current: must Amps { min = "0.01 A"; max = "10 A" };
        /// Switch that works it, like "control-panel.lights": a panel and a switch on it.
        worked_at: may Switch { tells_place = false };
        /// What works it where no switch of a panel does, in words: "ignition feed".
        worked_by: may Text { tells_place = false };
        /// Busbar, panel or fuse that the current of its coil comes from, over a small fuse. Left out, what feeds its contact.
        coil_from: may Component { tells_place = false };
        /// In-line fuse of the coil, where its current is taken.
        coil_fuse: must Amps { min = "0.1 A"; max = "15 A" };
        /// It takes current only as it opens and closes, and stays as it is without: no draw in the energy account.
        latching: may bool { change = "replaced" };
    }
}
