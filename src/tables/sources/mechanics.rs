//! Sources of the mechanics.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    CFR_393_102 Verified "49-cfr-393-102",
        "49 CFR 393.102(a): cargo is held against 0.8 g forward, 0.5 g rearward and 0.5 g to each side within the breaking strength, and 0.435 g, 0.5 g, 0.25 g within the working load limit. Written for cargo on commercial vehicles; used here as a public figure for braking and turning, not for a crash",
        "text in force";
    CFR_393_106 Secondary "49-cfr-393-106",
        "49 CFR 393.106: the working load limits of all tie-downs together are at least half the weight of the cargo",
        "quoted";
    CRASH_20_G Memory "crash-20-g",
        "49 CFR 571.207 S4.2: a seat is held against 20 times its weight; used here as an order of magnitude for heavy things near people",
        "";
    ISO_898_1 Secondary "iso-898-1",
        "ISO 898-1: proof stress of class 8.8 (to 16 mm) 580 N/mm², of class 10.9 830 N/mm²; stress area by diameter less 0.938194 of the pitch",
        "2013, reprint";
    TORQUE Secondary "torque-k-d-f",
        "T = K · d · F, F at 75 % of the proof load, K = 0.20 for plain dry threads, 0.15 to 0.18 oiled or plated. The component maker's figure wins",
        "reprint of SAE J429 torque tables";
    SHEAR Computed "shear-of-a-bolt",
        "Shear at the proof stress by the distortion-energy criterion: stress area × proof stress / √3. The bolt alone: sheet metal, rivet nuts and wood around it hold less, spread their load with plates",
        "";
    SHEET_BEARING Secondary "en-1993-1-3-bearing",
        "EN 1993-1-3 table 8.4: bolts in bearing in sheet, 2.5 · α · k · f · d · t / 1.25, α the least of 1 and e / (3 d), k = (0.8 t + 1.5) / 2.5 up to 1.25 mm; f of 270 N/mm² as the least strength of mild body sheet. Made for M6 and thicker bolts, sheet of 0.75 to 3 mm, an edge distance e of one hole at least",
        "two reprints that agree";
    PULL_THROUGH Memory "en-1993-1-3-pull-through",
        "EN 1993-1-3: a washer or head is drawn through sheet at d · t · f / 1.25, d its outer diameter; used here for plates too. Washer of 3 bolts (ISO 7093-1)",
        "";
    RIVET_NUT Secondary "rivet-nut-push-out",
        "Push-out of rivet nuts from the thickest sheet they are made for, a vehicle maker's fastener standard of 1993, the lesser of round and hexagonal: M5 1.2, M6 1.7, M8 1.5, M10 2.6 kN. The strength of their thread, five times that, says nothing in thin sheet",
        "reprint";
    FIXING_ROWS CommonPractice "fixing-rows",
        "Where nobody measured: sheet of 0.8 mm, plates of 50 mm, an edge 1.5 bolts away, the weight in the middle of the height, outer rows of bolts over 0.8 of the length",
        "";
    STRUT Computed "strut-moments",
        "Balance of moments about the hinge: n · F · e = m · g · s · cos θ, e by the law of cosines from the two arms",
        "";
    STRUT_PRACTICE CommonPractice "strut-practice",
        "Gas struts: a tenth more force than holds the lid, for age and friction (published: 1.10 to 1.20); force rises by a third as the strut goes in; no more than 100 N at the edge to close. The strut maker's curve wins",
        "";
    STRUT_COLD Computed "strut-temperature",
        "Ideal gas at a constant volume: the force of a gas strut goes with its absolute temperature, 0.341 % of that at 20 °C for each kelvin; makers publish 3 to 4 % for 10 K",
        "";
}
