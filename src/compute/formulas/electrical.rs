//! Formulas of the electrical network.

super::formulas! {
    /// Current the circuit is laid out for.
    DESIGN_CURRENT "design-current", "Design current", "I_d = I + (k − 1) · I_c",
        [("I", "current of everything behind that runs together"), ("I_c", "part of it that lasts three hours or more"), ("k", "factor on the continuous part")],
        [NEC_CONTINUOUS];
    /// Current the conductor may carry where it lies.
    AMPACITY "ampacity", "Ampacity", "I_z = I_t · f_a · f_b",
        [("Size", "conductor"), ("Class", "insulation temperature"), ("I_t", "table value"), ("f_a", "ambient or engine-space factor"), ("f_b", "bundling factor"), ("Table", "tables, and the method of installation where they have one")],
        [CFR_TABLE_5, CFR_ENGINE_SPACE, CFR_BUNDLING, IEC_B_52_2, IEC_B_52_3, IEC_ANNEX_D, IEC_B_52_14, IEC_B_52_17, HEAT_BALANCE], gives Most;
    /// Rating of the device against the conductor.
    PROTECTION "protection", "Protection", "I_d ≤ I_n ≤ I_z",
        [("I_d", "design current"), ("I_z", "corrected ampacity", Most), ("Device", "family and place")],
        [FUSE_CAP, CFR_OVERCURRENT, ISO_8820_3];
    /// Largest rating that federal boat rules would allow; the outer bound.
    CFR_CAP "cfr-cap", "Outer bound of 33 CFR 183.455(c)", "I_max = 1.5 · I_z below 50 V",
        [("I_z", "corrected ampacity", Most)], [CFR_OVERCURRENT], gives Most;
    /// Largest device by the low-voltage table of recreational vehicles; told beside the verdict on ampacity.
    RV_TABLE "rv-low-voltage", "Largest device by NEC Table 552.10(E)(1), from memory: a second opinion that decides nothing", "I_max = I(Size)",
        [("Size", "conductor"), ("I_n", "rating of the device"), ("Says", "whether the device is within it")], [NEC_552_10_E, NEC_240_4_D], gives Most;
    /// Voltage lost in the conductors of one circuit.
    VOLTAGE_DROP "voltage-drop", "Voltage drop", "ΔV = 2 · L · R′ · I",
        [("L", "one-way length"), ("2·L·R′", "resistance of both conductors at their temperature"), ("I", "load current"), ("t", "conductor temperature"), ("ΔV", "drop in volts")],
        [OHM, COPPER, ASTM_B258, NEC_TABLE_8, IEC_60228, ABYC_DROP_LIMITS, ISO_10133_DROP, EN_1648_2];
    /// Voltage lost from the source to a load and back.
    TOTAL_DROP "total-drop", "Voltage lost from the source to the load and back", "ΔV = Σ R · I + Σ R_d · I",
        [("own", "share of its own circuit"), ("I", "load current"), ("ΔV", "lost in all: conductors by their own lengths, fuses, switches and shunt, negative bars")],
        [OHM, COPPER, JOINTS, ABYC_DROP_LIMITS, ISO_10133_DROP, EN_1648_2];
    /// Voltage lost on the whole way to a load by the formula of the standard for 12 V in motor caravans.
    EN_1648_DROP "en-1648-drop", "Voltage lost from source to load by EN 1648-2: a second opinion beside the verdict on the whole way", "ΔV = I · Σ ρ · 2 · L / A",
        [("I", "current of the load, running alone"), ("Σ", "all conductors from the source and back, ρ = 0.01989 Ω mm²/m"), ("Most", "what the standard allows, 0.8 V of 12 V", Most), ("Says", "whether the load is within it")], [EN_1648_2];
    /// What one conductor measures, and the most it may.
    CONTINUITY "continuity", "Resistance of one conductor, end to end", "R_20 = L · R′(20 °C) ≤ k · R_20 + 2 · R_e",
        [("L", "one-way length"), ("Size", "conductor"), ("R_e", "allowance for each end"), ("k", "meter, warm copper and spare length")],
        [COPPER, ASTM_B258, NEC_TABLE_8, IEC_60228, JOINTS];
    /// What one conductor drops that no meter at the van can tell by its resistance, and the most it may.
    CONDUCTOR_DROP "conductor-drop", "Drop over one conductor under load", "ΔV = R_w · I ≤ (k · R_w + 2 · R_e) · I",
        [("R_w", "one conductor at its temperature"), ("I", "current; at another, in proportion")],
        [OHM, COPPER, JOINTS];
    /// How far a load may lie below its source.
    BELOW_SOURCE "below-source", "Load below its source, running alone", "ΔV = R · I ≤ R_max · I + V_m",
        [("R", "all conductors from the source and back"), ("R_max", "the most, with joints, fuses, switches and busbars"), ("I", "current; at another, in proportion"), ("V_m", "both meters")],
        [OHM, COPPER, JOINTS];
    /// Current a fault at the device's place can draw.
    FAULT "fault-current", "Prospective fault current", "I_f = V / R",
        [("V", "bank voltage"), ("R", "resistance of the bank and of the cables both ways up to the device, at 20 °C; joints, fuses and switches, and what chargers add, are left out")],
        [FAULT_CURRENT, ABYC_LARGE_BANK, ISO_8820_3_BREAKS, ISO_8820_5_BREAKS, ISO_8820_6_BREAKS, UL_248_DC, SERIES_RATING];
    /// Fault current at the posts of a bank.
    BANK_FAULT "bank-fault-current", "Fault current of the bank", "I_f = V / R_b",
        [("V", "nominal voltage"), ("R_b", "internal resistance"), ("usual", "fault current that is usual for such a bank"), ("range", "what is plausible without a data sheet"), ("from", "source of the figure")], [FAULT_CURRENT, USUAL_INTERNAL_RESISTANCE];
    /// Current of each of several batteries in parallel.
    BATTERY_SHARE "battery-share", "Current of each battery in parallel, all sharing alike", "I = I_d / n",
        [("I_d", "design current of what leaves the bank"), ("n", "batteries")], [OHM];
    /// Current through the fuse of one battery that fails inside.
    BATTERY_FAULT "battery-fault-current", "Fault current through the fuse of one battery, from all others", "I = I_f · (n − 1) / n",
        [("I_f", "fault current of the bank"), ("n", "batteries")],
        [FAULT_CURRENT, ISO_8820_5_BREAKS, ISO_8820_6_BREAKS, UL_248_DC];
    /// Lug and torque where a circuit starts.
    END_AT_START "lug-at-start", "Lug and torque at the start", "T = T(maker) or T(conductor)",
        [("Size", "conductor"), ("Lug", "ring for a stud or screw, or ferrule in a clamp"), ("Basis", "source of the torque")],
        [UL_486];
    /// Lug and torque where a circuit ends.
    END_AT_END "lug-at-end", "Lug and torque at the end", "T = T(maker) or T(conductor)",
        [("Size", "conductor"), ("Lug", "ring for a stud or screw, or ferrule in a clamp"), ("Basis", "source of the torque")],
        [UL_486];
    /// Energy of a bank.
    BANK_ENERGY "bank-energy", "Energy of the bank", "E = C · V · u",
        [("C", "capacity"), ("V", "nominal voltage"), ("u", "share planned for use")], [ENERGY];
    /// Largest simultaneous draw.
    BANK_DISCHARGE "bank-discharge", "Largest draw from the bank", "I = Σ d · I_k",
        [("I_max", "limit of the bank", Most), ("I_k", "current of each branch"), ("d", "share that runs together")], [BUSBAR];
    /// Sum of all charge currents.
    BANK_CHARGE "bank-charge", "All charge currents together", "I = Σ I_charger",
        [("I_max", "limit of the bank", Most)], [BUSBAR];
    /// Current through a panel or busbar.
    LOADING "loading", "Loading of panels, busbars, switches", "I = max(I_in, I_out)",
        [("I_sum", "sum of the circuits behind"), ("d", "share that runs together"), ("I_in", "all that may flow in"), ("I_out", "all that may flow out, d · I_sum")], [BUSBAR];
    /// Input current of an inverter just above its cut-off.
    INVERTER_CURRENT "inverter-current", "Inverter current at low bank voltage", "I = P / (η · V_low)",
        [("P", "continuous output power"), ("η", "efficiency"), ("V_low", "cut-off voltage")], [POWER_BALANCE];
    /// Fixed AC load on a source.
    AC_LOAD "ac-load", "Fixed AC load on the source", "S = Σ S_k",
        [("S_max", "what the source gives", Most)], [NEC_CONTINUOUS];
    /// Load on the first line of a split-phase supply.
    LINE_ONE "line-1-load", "Load on line 1", "I = d · Σ I_k",
        [("d", "share that runs together")], [BUSBAR];
    /// Load on the second line of a split-phase supply.
    LINE_TWO "line-2-load", "Load on line 2", "I = d · Σ I_k",
        [("d", "share that runs together")], [BUSBAR];
    /// The most that line and earth from the supply to the end of a circuit may have together.
    LOOP_MOST "loop-impedance", "Largest impedance of the loop of line and earth, measured cold", "Z = c · U / (k · I_n)",
        [("c", "share for conductors that are warmer when they fail"), ("U", "voltage to earth"), ("k", "times its rating at which the breaker opens at once"), ("I_n", "rating of the breaker")],
        [IEC_60898_CURVES, LOOP_COLD], gives Most;
    /// What line and earth of the van and its lead have of that.
    LOOP_OWN "loop-own", "Line and earth of the van and its lead", "R = R_lead + Σ L · R′(20 °C)",
        [("R_lead", "the lead carried aboard, both ways")], [COPPER, LOOP_COLD],
        judges "leaves room for the supply", "over", "what the supply outside adds not judged";
    /// How long a generator runs on a tank.
    TANK_TIME "tank-time", "Running time of a full tank at half load", "t = V / q",
        [("V", "fuel in its own tank"), ("q", "fuel used in an hour at half load")], [FUEL_TIME];
    /// Open-circuit voltage of a string on the coldest morning.
    STRING_VOLTAGE "string-voltage", "String voltage at the record low", "V = V_oc · (1 + β · (T − 25 °C))",
        [("V_oc", "open-circuit voltage of the string at 25 °C"), ("β", "change per kelvin"), ("T", "lowest temperature")], [MODULE_DATA_SHEET];
    /// Short-circuit current of an array.
    STRING_CURRENT "string-current", "Array short-circuit current", "I = n · I_sc",
        [("I", "of all strings together"), ("n", "strings"), ("I_sc", "short-circuit current of one")], [MODULE_DATA_SHEET];
}
