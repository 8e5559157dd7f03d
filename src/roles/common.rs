//! What every component can say: the role `common`, which no kind claims by name.

use super::contract::role;
use crate::fields::{Choice, Choices, Component, Lengths2, Lengths3, Place, Places, Price, Prose, Text};
use crate::units::{Kilograms, Seconds};
use jiff::civil::Date;

role! {
    /// What every component can say.
    Common = "common" in Other {
        /// What it is. `rigbinder kinds` lists them all.
        kind: may Text { required = true; change = "replaced"; tells_place = false };
        /// Whether it is new, stays as it is (existing), is worked on (altered) or comes out (removed). Left out: new.
        scope: may Choice { choices = ["new", "existing", "altered", "removed"] };
        /// How what is said of an existing or altered part is known: { conductor = "assumed", protection = "read" }. Left out: read.
        known: may Choices { choices = ["read", "measured", "assumed"] };
        /// Copies what that component gives: every field but its place, also that on the board, its way and its scope. Fields given here win.
        like: may Component;
        /// Item of the shop's stock that it is, in place of `kind`. Fields given here win over those of the item.
        stock: may Text { change = "replaced"; tells_place = false };
        /// What people call it. Left out, the name of its kind.
        name: may Text { tells_place = false };
        /// Where it sits.
        place: may Place { change = "moved" };
        /// Where each one sits, if there are several.
        places: may Places { change = "moved" };
        /// Where it is switched on and off, where that is not on itself.
        control_at: may Place;
        /// From where else it is switched off in danger: a flap or a pull handle that is reached without going in.
        reached_at: may Place;
        /// How one gets at that past what stands before it outside, like "tilt the bike carrier away first".
        reached_past: may Prose;
        /// How many there are.
        count: may i64 { default = 1; min = 1; max = 500 };
        /// Mass of one, as fitted and dry.
        mass: may Kilograms { min = "0 kg"; max = "3000 kg" };
        /// Carrier, rack, tray, locker or lashing rail it rides on; its mass, with what it holds, counts against the rating of that one.
        on: may Component { change = "moved" };
        /// Outer size as it is fitted: along the van, across, high.
        size: may Lengths3 { change = "replaced" };
        /// Its lower left corner on the board it stands on, seen from before the board: to the right of the board's lower left corner, and up from it.
        on_board: may Lengths2 { change = "moved" };
        /// Middle of the opening in the vehicle's skin that it is fitted through, by the two edges of the opening schedule: aft of the front axle and above the floor in a side, to the left of the middle and above the floor in the rear, aft of the front axle and to the left of the middle in roof and floor.
        opening_at: may Lengths2 { change = "moved" };
        /// Note for the technician.
        note: may Prose;
        /// Note for the owner, printed in the manual.
        owner_note: may Prose;
        /// Note printed in the install packets that fit this component.
        stage_note: may Prose;
        /// What its maker calls it, as on the order.
        maker_ref: may Text { change = "replaced"; tells_place = false };
        /// Who delivers it.
        supplier: may Text { tells_place = false };
        /// Part number of the supplier.
        part: may Text { change = "replaced"; tells_place = false };
        /// Time from order to arrival.
        lead_time: may Seconds { max = "2 years" };
        /// Warranty from the handover on.
        warranty: may Seconds { max = "30 years" };
        /// Last day of the warranty, where it does not count from the handover.
        warranty_until: may Date;
        /// The customer brings it: it is tested at receipt, is not bought, and the shop gives no warranty for it.
        from_customer: may bool;
        /// Price of one.
        price: may Price;
        /// Handover needs its serial number under [recorded.serials]. Left out, what its kind says.
        serial_expected: may bool;
    }
}
