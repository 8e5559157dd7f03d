//! Formulas of mechanics.

super::formulas! {
    /// Force that holds a heavy item.
    RESTRAINT "restraint", "Force that holds it when braking", "F = 0.8 · m · g, within n · S_p · A_s / √3",
        [("m", "mass with what it holds"), ("Bolts", "number and size, class 8.8; or how many are needed"), ("n", "bolts"), ("S_p, A_s", "proof stress and stress area of a bolt")], [CFR_393_102, ISO_898_1, SHEAR],
        judges "bolts hold", "bolts too weak", "sheet, rivet nut, plate and bearing not judged";
    /// Force that holds a heavy item, with what its bolts go into.
    FIXING "restraint-fixing", "Force that its fixing holds when braking", "F = 0.8 · m · g, within 1 / (1 / (n · V) + 2 · h / (b · n · N))",
        [("m", "mass with what it holds"), ("Bolts", "number n and size, class 8.8"), ("t", "sheet that they go through"), ("h", "its middle above them"), ("b", "from the foremost to the rearmost row"), ("Weakest", "what gives way first: V sideways, N pulled out, each the least of bolt, sheet, plate and rivet nut")],
        [CFR_393_102, ISO_898_1, SHEAR, SHEET_BEARING, PULL_THROUGH, RIVET_NUT, FIXING_ROWS],
        judges "fixing holds", "fixing too weak", "what the item itself is made of not judged";
    /// The same without its size.
    FIXING_SIDEWAYS "restraint-fixing-sideways", "Force sideways that its fixing holds when braking", "F = 0.8 · m · g, within n · V",
        [("m", "mass with what it holds"), ("Bolts", "number n and size, class 8.8"), ("t", "sheet that they go through"), ("h", "its middle above them"), ("b", "from the foremost to the rearmost row"), ("Weakest", "what gives way first: V sideways, the least of bolt, sheet and rivet nut")],
        [CFR_393_102, ISO_898_1, SHEAR, SHEET_BEARING, RIVET_NUT, FIXING_ROWS],
        judges "fixing holds sideways", "fixing too weak", "tipping over and what the item itself is made of not judged";
    /// Order of magnitude in a crash.
    CRASH "crash-force", "Force in a crash, order of magnitude", "F = 20 · m · g",
        [("m", "mass with what it holds")], [CRASH_20_G];
    /// Tightening torque.
    TORQUE "torque", "Tightening torque of its bolts, dry", "T = K · d · F, F = 0.75 · S_p · A_s",
        [("Bolt", "size and class"), ("K", "nut factor"), ("F", "clamp force"), ("d", "diameter"), ("S_p, A_s", "proof stress and stress area")], [TORQUE, ISO_898_1];
    /// Tie-downs.
    TIE_DOWN "tie-down", "Working load of the lashing points", "Σ W ≥ 0.5 · m · g",
        [("n", "points"), ("W", "working load limit of one", Most), ("m", "mass they hold")], [CFR_393_102, CFR_393_106],
        judges "points hold", "points too weak", "straps and the fixing of the rail not judged";
    /// Strut force.
    STRUT_FORCE "strut-force", "Force of one gas strut at 20 °C", "F = 1.1 · (m + m_l) · g · s · cos θ / (n · e · f)",
        [("m", "mass of the lid"), ("m_l", "mass of what lies on it"), ("s", "hinge to its centre of gravity"), ("n", "struts"), ("θ", "open lid above the level, seen from the hinge"), ("e", "lever arm, open"), ("F_h", "force that just holds it"), ("T", "coldest it must hold at"), ("f", "share of its force that a strut has left there"), ("1.1", "allowance of 10 % for age and friction")],
        [STRUT, STRUT_PRACTICE, STRUT_COLD], gives Least,
        judges "struts hold", "struts too weak", "brackets and screws not judged";
    /// Force to close the lid.
    CLOSING_FORCE "closing-force", "Largest force at the edge to close the lid, at 20 °C", "H = (n · F · e − (m + m_l) · g · s · cos θ) / l",
        [("F", "force of one strut, open"), ("l", "length of the lid")], [STRUT, STRUT_PRACTICE];
    /// The same in the heat.
    CLOSING_FORCE_HOT "closing-force-hot", "The same in the heat", "as above with F · f",
        [("F", "force of one strut, open, at 20 °C"), ("T", "hottest in the seasons of the spec"), ("f", "share of its force that a strut has there"), ("l", "length of the lid")], [STRUT, STRUT_PRACTICE, STRUT_COLD];
}
