//! Formulas of weights.

super::formulas! {
    /// Front axle without what was aboard when it was weighed.
    BARE_FRONT "bare-front", "Front axle without what was fitted before", "R_f0 = R_f − Σ m · (1 − x/L)",
        [("R_f", "as weighed"), ("m_s", "mass aboard then that stays"), ("m_o", "mass aboard then that comes out"), ("L", "wheelbase"), ("Σ m, x", "both, and the place of each mass, aft of the front axle")],
        [STATICS];
    /// Rear axle without what was aboard when it was weighed.
    BARE_REAR "bare-rear", "Rear axle without what was fitted before", "R_r0 = R_r − Σ m · x/L",
        [("R_r", "as weighed"), ("m_s", "mass aboard then that stays"), ("m_o", "mass aboard then that comes out"), ("L", "wheelbase"), ("Σ m, x", "both, and the place of each mass, aft of the front axle")],
        [STATICS];
    /// Front axle load of a case.
    FRONT_AXLE "front-axle", "Load on the front axle", "R_f = R_f0 + Σ m · (1 − x/L)",
        [("R_f0", "empty load"), ("Σ m", "mass added"), ("L", "wheelbase"), ("m_0", "part of it without a place, half counted here"), ("x", "place of a mass, aft of the front axle")],
        [STATICS, PLATE];
    /// Rear axle load of a case.
    REAR_AXLE "rear-axle", "Load on the rear axle", "R_r = R_r0 + Σ m · x/L",
        [("R_r0", "empty load"), ("Σ m", "mass added"), ("L", "wheelbase"), ("m_0", "part of it without a place, half counted here"), ("x", "place of a mass, aft of the front axle")],
        [STATICS, PLATE];
    /// Mass of a case.
    TOTAL_MASS "total-mass", "Mass of the whole van", "M = R_f + R_r",
        [("R_f", "front axle"), ("R_r", "rear axle")], [STATICS, PLATE];
    /// Load on the left wheels.
    LEFT_SIDE "left-side", "Load on the left wheels", "R_l = M/2 + Σ m · y / t",
        [("M", "whole van"), ("t", "track"), ("y", "place left of the middle")], [STATICS];
    /// Load on the right wheels.
    RIGHT_SIDE "right-side", "Load on the right wheels", "R_d = M − R_l",
        [("M", "whole van"), ("R_l", "left wheels")], [STATICS];
    /// Difference of the sides.
    SIDES_APART "sides-apart", "Difference of the sides", "d = abs(2 · R_l − M) / M",
        [("R_l", "left wheels"), ("M", "whole van")], [AXLE_BALANCE];
    /// Centre of gravity along the vehicle.
    CENTRE_AFT "centre-aft", "Centre of gravity behind the front axle", "x = L · R_r / M",
        [("L", "wheelbase"), ("R_r", "rear axle"), ("M", "whole van")], [STATICS];
    /// Centre of gravity above the ground.
    CENTRE_HEIGHT "centre-height", "Centre of gravity above the ground", "h = Σ m · z / Σ m",
        [("h_0", "of the empty vehicle, raised by the lift"), ("S", "static stability factor, t / 2h"), ("m, z", "each mass and its height")], [STATICS];
    /// Mass on the roof.
    ROOF_LOAD "roof-load", "Load on the roof while driving", "m = Σ m_k",
        [("m_max", "roof load limit", Most)], [PLATE];
    /// Load on a carrier, tray or store.
    RATED_LOAD "rated-load", "Load on carriers, trays and in stores", "m = Σ m_k",
        [("m_max", "rated load", Most)], [COMPONENT_RATING],
        judges "within its rating", "above its rating", "its own fixing not judged";
    /// What a rack may carry on the road.
    DRIVING_LIMIT "driving-limit", "Largest load on a rack while driving", "m = min(m_rated, m_roof − Σ m_k)",
        [("m_rated", "rating of the rack while driving", Most), ("m_parked", "rating of the rack while parked, never for driving", Most), ("m_left", "roof load limit less the rack and what else is on the roof", Most)], [PLATE, COMPONENT_RATING], gives Most;
    /// Occupant and cargo capacity.
    CARGO_CAPACITY "cargo-capacity", "Combined mass of occupants and cargo", "m = m_gross − m_unloaded",
        [("m_gross", "gross mass", Most), ("m_unloaded", "finished van, fuel full, no water"), ("m_water", "full load of fresh water, counts as cargo"), ("m_belted", "belted seats × mass of a person")],
        [CFR_571_110], gives Most;
    /// Added mass and the threshold for a label.
    ADDED_MASS "added-mass", "Mass the build adds", "m = Σ m_k",
        [("m_t", "lesser of 1.5 % of gross mass and 100 lb"), ("Label", "whether it must be told")], [CFR_571_110_S10];
    /// Mass in running order.
    RUNNING_ORDER "running-order", "Mass in running order", "m = m_built + m_water + m_driver",
        [("m_built", "as built, fuel full"), ("m_water", "fresh water"), ("m_driver", "driver")], [EU_1230_2012];
    /// Payload.
    PAYLOAD "payload", "Payload beside the passengers", "m = m_gross − m_order − (n − 1) · 75 kg; at least 10 kg · (n + L)",
        [("m_gross", "gross mass", Most), ("m_order", "mass in running order"), ("n", "people with the driver"), ("L", "length")],
        [EU_PAYLOAD], gives Most;
    /// Weighed against computed.
    WEIGHED "weighed", "Weighed less computed", "Δ = m_weighed − m_computed",
        [("m_weighed", "weighbridge"), ("m_computed", "computed for the same state"), ("t", "tolerance")], [STATICS];
}
