//! Sources of the water formulas.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    IAPWS_VISCOSITY Computed "iapws-sr6-08",
        "IAPWS SR6-08: viscosity of liquid water at 0.1 MPa, −20 °C to 110 °C; checked against the library CoolProp 8.0.0",
        "2008, revised 2011";
    KELL_DENSITY Computed "kell-density",
        "Kell: density of liquid water at one atmosphere, 0 °C to 100 °C; checked against the library CoolProp 8.0.0",
        "1975";
    DARCY_WEISBACH Computed "darcy-weisbach",
        "Darcy–Weisbach: Δp = f · L/D · ρ v²/2; f by Colebrook–White, 64/Re below Re 2040; checked against the library fluids 1.3.1",
        "";
    CRANE_TP_410 Secondary "crane-tp-410",
        "Crane TP-410, worked examples as quoted in the documents of the library fluids",
        "examples 7.1, 7.15";
    RENNELS_BEND Computed "rennels-bend",
        "Rennels and Hudson: loss of a rounded bend; checked against the library fluids 1.3.1. A fitting counts as a 90° bend with a radius of one diameter",
        "Pipe Flow, 2012";
    PIPE_ROUGHNESS CommonPractice "pipe-roughness",
        "Roughness of drawn plastic and copper pipe: 0.0015 mm, of hose: 0.01 mm",
        "";
    PUMP_CURVE CommonPractice "pump-curve",
        "Diaphragm pump between its two named points, as a straight line: open flow at no pressure, no flow at the cut-out pressure",
        "";
    STATIC_HEAD Computed "static-head",
        "Weight of a column of water: p = ρ g h, g = 9.80665 m/s²",
        "";
    WATER_HEAT Computed "water-heat",
        "Heat of water: E = m · c · ΔT with c = 4182 J/(kg K); checked against the library CoolProp 8.0.0 within 0.3 %",
        "";
    COLD_SUPPLY CommonPractice "cold-supply",
        "Water comes from the tank at 10 °C, hot water runs in its pipe at 50 °C",
        "";
    WATER_SHARE CommonPractice "water-drunk",
        "2.5 L per person and day are drunk or cooked away and do not reach the grey tank",
        "";
    WATER_BALANCE Computed "water-balance",
        "What is in the tanks over what is used in a day",
        "";
    BLEACH_DOSE Secondary "bleach-dose",
        "50 mg/L of chlorine for four hours: owner instructions after ANSI A119.2, quoted. The strength on the bottle is read as grams in 100 mL, which reproduces the figures of the Oregon Health Authority (verified)",
        "";
    PIPE_VOLUME Computed "pipe-volume",
        "Volume of a round pipe: V = π/4 · D² · L",
        "";
    SCALD Memory "scald-49",
        "US Consumer Product Safety Commission: taps at 120 °F (49 °C) or less",
        "";
}
