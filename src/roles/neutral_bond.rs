//! Joins neutral and protective earth: the role `neutral-bond`.

use super::contract::role;
use crate::fields::{Choice, Component};

role! {
    /// Joins neutral and protective earth.
    NeutralBond = "neutral-bond" in Other {
        /// Where it is made on shore power. at-supply is the rule for a vehicle on a campsite or house supply. isolation-transformer: on its secondary side, aboard. not-used: no shore power reaches what it is the bond of.
        on_shore: must Choice { choices = ["at-supply", "isolation-transformer", "not-used"] };
        /// Where it is made while the inverter supplies the van. inverter-fixed needs a transfer that switches the neutral. none: floating output, a residual-current device may not trip. not-used: there is no inverter.
        on_inverter: must Choice { choices = ["inverter-relay", "inverter-fixed", "transfer-switch", "none", "not-used"] };
        /// Where it is made on a portable generator.
        on_generator: must Choice { choices = ["not-used", "at-generator", "transfer-switch"] };
        /// Inverter, inverter-charger or transfer switch that makes and breaks it.
        switched_by: may Component;
        /// Residual-current device that proves it in each mode.
        proved_by: may Component;
    }
}
