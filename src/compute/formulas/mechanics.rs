//! Formulas of mechanics.

super::formulas! {
    /// Force that holds a heavy item.
    RESTRAINT "restraint", "Force that holds it when braking", "F = 0.8 · m · g, within n · S_p · A_s / √3",
        [("m", "mass with what it holds"), ("Bolts", "number and size, class 8.8; or how many are needed"), ("n", "bolts"), ("S_p, A_s", "proof stress and stress area of a bolt")], [CFR_393_102, ISO_898_1, SHEAR];
    /// Order of magnitude in a crash.
    CRASH "crash-force", "Force in a crash, order of magnitude", "F = 20 · m · g",
        [("m", "mass with what it holds")], [CRASH_20_G];
    /// Tightening torque.
    TORQUE "torque", "Tightening torque of its bolts, dry", "T = K · d · F, F = 0.75 · S_p · A_s",
        [("Bolt", "size and class"), ("K", "nut factor"), ("F", "clamp force"), ("d", "diameter"), ("S_p, A_s", "proof stress and stress area")], [TORQUE, ISO_898_1];
    /// Tie-downs.
    TIE_DOWN "tie-down", "Working load of the lashing points", "Σ W ≥ 0.5 · m · g",
        [("n", "points"), ("W", "working load limit of one"), ("m", "mass they hold")], [CFR_393_102, CFR_393_106];
    /// Strut force.
    STRUT_FORCE "strut-force", "Force of one gas strut", "F = 1.1 · m · g · s · cos θ / (n · e)",
        [("m", "mass of the lid"), ("s", "hinge to its centre of gravity"), ("n", "struts"), ("e", "lever arm, open"), ("F_h", "force that just holds it"), ("θ", "angle of the open lid above the level"), ("1.1", "allowance of 10 %")],
        [STRUT, STRUT_PRACTICE];
    /// Force to close the lid.
    CLOSING_FORCE "closing-force", "Largest force at the edge to close the lid", "H = (n · F · e − m · g · s · cos θ) / l",
        [("F", "force of one strut, open"), ("l", "length of the lid")], [STRUT, STRUT_PRACTICE];
}
