//! Busbar that takes negatives together; its cable goes on to the source: the role `negative-bar`.

use super::contract::role;
use crate::fields::{Component, Places};
use crate::units::{Amps, Celsius, ConductorSize, Metres};

role! {
    /// Busbar that takes negatives together; its cable goes on to the source.
    NegativeBar = "negative-bar" in Other {
        /// Where its cable leads back to the bank: the battery monitor, the bank where there is none, or the negative busbar it returns to.
        returns_to: may Component;
        /// Positive busbar or fuse panel whose return current this bar carries.
        mirrors: may Component;
        /// Length of that cable, one way.
        run: may Metres;
        /// Size of that cable. Left out, that of the positive cable, or larger where this one needs it.
        conductor: may ConductorSize;
        /// Conductors side by side that share its current, each of its size and all of one length. Left out, one.
        conductors: may i64 { default = 1; min = 1; max = 4 };
        /// Continuous rating of the bar. Give it at least the rating of the positive bar.
        rating: must Amps { change = "replaced" };
        /// How many studs it has. Left out, nobody counts the lugs on them.
        studs: may i64 { min = 1; max = 40 };
        /// Rated temperature of its insulation. Left out, that of the rules in force.
        insulation: may Celsius;
        /// Conductors that carry current in the same bundle, this one included.
        bundle: may i64;
        /// That cable runs in a conduit or sheath all the way, apart from its ends.
        sheathed: may bool;
        /// Places that cable passes on its way.
        through: may Places;
    }
}
