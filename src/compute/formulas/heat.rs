//! Formulas of heating, cooling and frost.

super::formulas! {
    /// Loss of one surface per kelvin.
    SURFACE "surface-loss", "Loss through a surface", "U A; U = 1 / (R_si + d/λ + 0.04 m²K/W) where not given",
        [("A", "area"), ("U", "heat transfer"), ("R_si", "inside surface resistance"), ("d, λ", "thickness and conductivity of a layer")],
        [ISO_6946, ISO_6946_VERTICAL, HEAT_LOSS];
    /// Area of all surfaces.
    SHELL_AREA "shell-area", "Area of all surfaces against a body that they close", "Σ A ≥ 0.9 · 2 (L W + L H + W H)",
        [("L", "length of the heated body inside"), ("W", "width"), ("H", "height")],
        [CLOSED_BODY],
        judges "surfaces can close the body", "short", "whether each is as large as it is not judged";
    /// What ribs add.
    RIBS "rib-bridging", "Surface with its ribs", "U = (1 − a) U_c + a U_r; a = s (1 + 2 max(d, 13 mm) / w) for metal; wood by the combined method",
        [("U_c", "heat transfer between the ribs"), ("U_r", "heat transfer straight through a rib"), ("s", "share of the area that ribs take"), ("a", "share whose heat they take"), ("d", "insulation over a rib"), ("w", "its width")],
        [RIB_ZONE, ISO_6946_COMBINED, WOOD];
    /// Openings high up.
    VENT_HIGH "fixed-vents-high", "Openings high up that can't be shut", "A ≥ A_min(A_f)",
        [("A_f", "floor")], [EN_721];
    /// Openings low down.
    VENT_LOW "fixed-vents-low", "Openings low down that can't be shut", "A ≥ A_min(A_f)",
        [("A_f", "floor")], [EN_721];
    /// Loss with the air per kelvin.
    INFILTRATION "infiltration", "Loss with the air", "ρ c n V / 3600",
        [("ρ", "outside air at its altitude"), ("n", "air changes"), ("V", "air inside"), ("c", "specific heat of air, 1006 J/(kg K)")],
        [INFILTRATION, ASHRAE_PSYCHROMETRICS, AIR_CHANGE];
    /// Loss at the design low.
    HEAT_LOSS "heat-loss", "Heat loss on the coldest usual night", "Q = (Σ U A + ρ c n V) · (T_i − T_o)",
        [("Σ U A", "all surfaces and windows"), ("ρ c n V", "air"), ("T_i", "inside"), ("T_o", "lowest usual low of the seasons")],
        [HEAT_LOSS, INFILTRATION];
    /// Heater against it.
    HEATER "heater-output", "Output of all heaters", "P ≥ Q",
        [("Q", "heat loss on the coldest usual night")], [HEAT_LOSS],
        judges "holds on the usual coldest night", "under", "frames not judged";
    /// Heater at the lowest temperature on record.
    HELD_AT_RECORD "inside-at-record", "What all heaters hold inside at the lowest temperature on record", "T = min(T_i, T_r + P / (Σ U A + ρ c n V))",
        [("P", "output of all heaters"), ("Σ U A + ρ c n V", "surfaces, windows and air"), ("T_r", "lowest outside on record"), ("T_i", "wanted inside")], [HEAT_LOSS, INFILTRATION],
        judges "holds what must be held", "under", "frames not judged";
    /// Heat of the coldest usual day.
    HEATING_DAY "heating-day", "Heat of all heaters on the coldest usual day", "E = ∫ (K (T_i − T_e) − G) dt, hour by hour",
        [("T_low", "usual low"), ("T_high", "usual high"), ("∫ K (T_i − T_e)", "through shell and air, less the sun on the sheet"), ("∫ G", "people, appliances and sun through glass"), ("t", "time at full output, E / P")],
        [DAY_HEAT, INFILTRATION, SOL_AIR, PEOPLE, GAINS, LIGHT];
    /// Fuel of a day.
    DAY_FUEL "day-fuel", "Fuel of a heater on the coldest usual day", "V = E / (η H)",
        [("E", "heat of the heater in that day"), ("η", "heat given over heat in the fuel, by the heater's own figures"), ("H", "lower heating value")],
        [DAY_HEAT, DIESEL_LHV, PETROL_LHV, PROPANE_LHV];
    /// Fuel of all nights.
    FUEL_NEED "fuel-need", "Heat in the fuel for the days without supply", "E = (E_h + E_o) · n",
        [("E_h", "air heaters, the coldest usual day"), ("E_o", "other burners, one day"), ("n", "nights off grid, each with its day")],
        [DAY_HEAT, DIESEL_LHV, PETROL_LHV, PROPANE_LHV, PROPANE_LHV_MASS],
        judges "lasts on usual days", "over", "colder days not judged";
    /// Gas of an hour against the regulator.
    GAS_DEMAND "gas-demand", "Gas of all flames at full", "m = Σ m_i; LPG told in litres by the heat in it",
        [("m_i", "gas of one appliance in an hour, by its plate")], [PROPANE_LHV, PROPANE_LHV_MASS],
        judges "regulator passes it", "over", "pressure lost in the lines not judged";
    /// Temperature of an inner face.
    INNER_FACE "inner-face", "Inner face against the dew point", "T = T_i − U R_si (T_i − T_o)",
        [("T_i", "inside"), ("φ", "humidity inside"), ("T_o", "outside")], [ISO_6946, ASHRAE_PSYCHROMETRICS],
        judges "face stays dry", "under", "frames and fixings in it not judged";
    /// Temperature of the inner face at a rib.
    RIB_FACE "rib-face", "Inner face at a rib against the dew point", "T = T_i − U_r R_si (T_i − T_o)",
        [("T_i", "inside"), ("U_r", "heat transfer straight through a rib"), ("T_o", "outside")], [ISO_6946, ASHRAE_PSYCHROMETRICS, RIB_ZONE],
        judges "face stays dry", "under", "frames and fixings not judged";
    /// Temperature of a pane behind its cover.
    PANE_FACE "pane-face", "Pane behind its cover against the dew point", "T = T_o + U_c (1/U_p − R_si) (T_i − T_o)",
        [("T_i", "inside"), ("U_c", "heat transfer of pane and cover"), ("U_p", "heat transfer of the pane alone"), ("T_o", "outside")], [ISO_6946, ASHRAE_PSYCHROMETRICS],
        judges "pane stays dry", "under", "how tight the cover shuts at its edges not judged";
    /// Hours in which a face is wet.
    WET_HOURS "condensation-hours", "Hours of the coldest usual day in which a face is below the dew point", "t = Σ 1 h where T_o + f (T_i − T_o) < T_d",
        [("t_p", "the same of the pane behind its cover, from 22:00 to 7:00"), ("f", "1 − U R_si of the face, by day without covers; U_c (1/U_p − R_si) of the pane"), ("T_i, T_o", "inside and outside in that hour"), ("T_d", "dew point of the air inside in that hour")],
        [ISO_6946, ASHRAE_PSYCHROMETRICS, PEOPLE, AIR_BALANCE];
    /// Humidity inside.
    HUMIDITY "inside-humidity", "Most humidity inside on the coldest usual day", "w = w_o + G / (ρ n V), hour by hour; φ of w at the temperature held",
        [("N", "people: 50 g/h awake, 40 g/h asleep"), ("n", "air changes"), ("V", "air inside")],
        [PEOPLE, ASHRAE_PSYCHROMETRICS, AIR_BALANCE];
    /// Carbon dioxide inside.
    CARBON_DIOXIDE "carbon-dioxide", "Most carbon dioxide inside on the coldest usual day", "c = c_o + S / (n V), hour by hour",
        [("N", "people: 18.6 L/h awake, 11 L/h asleep"), ("n", "air changes"), ("V", "air inside")],
        [PEOPLE, CARBON_DIOXIDE, AIR_BALANCE];
    /// Heat to take out.
    COOLING_LOAD "cooling-load", "Most heat to take out on the hottest usual day", "Q = Q_t + Q_s + Q_g with Q_t = Σ U A (T_e − T_i) + ρ c n V (T_o − T_i), T_e = T_o + α I / h_o − 4 K (roof)",
        [("T_o", "outside in that hour"), ("T_i", "inside"), ("Q_t", "through lit sheet and air"), ("Q_s", "sun through glass, Σ A g I"), ("Q_g", "people and appliances")],
        [HEAT_LOSS, INFILTRATION, SOL_AIR, PEOPLE, GAINS],
        judges "holds on the usual hottest day", "over", "the record high not judged";
    /// Time the coolers run in a day.
    COOLING_HOURS "cooling-hours", "Time the compressor runs on the hottest usual day", "t = E / Q_c",
        [("t_on", "time it is on"), ("E", "heat taken in that day"), ("Q_c", "cooling output"), ("d", "share of the time on")],
        [DAY_HEAT, AIRED, LIGHT];
    /// Time to zero of a pipe.
    TO_ZERO "pipe-to-zero", "Time of standing water from 10 °C to 0 °C", "t = m c R ln((10 °C − T)/(0 °C − T))",
        [("Lies", "outside or inside the heated body; inside counts as unheated here"), ("Protection", "against frost"), ("T", "air"), ("q", "heat that holds one metre at 5 °C, 10 % on top"), ("m, c, R", "water, its specific heat and the resistance of the wall and the air around, of one metre")],
        [FREEZING, CYLINDER_LOSS, PIPE_FILM, COLD_SUPPLY];
    /// Time to ice of a pipe.
    TO_ICE "pipe-to-ice", "Time from there until all of it is ice", "t = m · 334 kJ/kg · R / (0 °C − T)",
        [("T", "air"), ("m, R", "as above")], [FREEZING, CYLINDER_LOSS, PIPE_FILM];
    /// Time to 0 °C of a pipe, at the lowest temperature on record.
    TO_ZERO_RECORD "pipe-to-zero-record", "The same time to 0 °C, at the lowest temperature on record", "t = m c R ln((10 °C − T)/(0 °C − T))",
        [("T", "air"), ("m, c, R", "as above")], [FREEZING, CYLINDER_LOSS, PIPE_FILM, COLD_SUPPLY];
    /// Time to ice of a pipe, at the lowest temperature on record.
    TO_ICE_RECORD "pipe-to-ice-record", "Time from there until all of it is ice, at the lowest temperature on record", "t = m · 334 kJ/kg · R / (0 °C − T)",
        [("T", "air"), ("m, R", "as above")], [FREEZING, CYLINDER_LOSS, PIPE_FILM];
    /// Lowest temperature outside at which trace or pad still holds what it protects.
    HOLDS_TO "holds-to", "Lowest temperature outside at which its heat still keeps up", "T = T_h − P (T_h − T_d) / Q_d",
        [("T_h", "temperature held"), ("P", "power there is"), ("T_d", "lowest outside on record, else the usual low"), ("Q_d", "heat needed there")],
        [CYLINDER_LOSS, PIPE_FILM, TANK_LOSS];
    /// Heat trace.
    TRACE "trace-power", "Power of the heat trace", "P ≥ q L",
        [("T_h", "temperature held"), ("T", "lowest outside on record, else the usual low"), ("q", "loss of one metre, 10 % on top"), ("L", "length"), ("q L", "heat needed"), ("T_u", "usual low"), ("Q_u", "heat needed there")],
        [CYLINDER_LOSS, PIPE_FILM];
    /// Tank pad.
    PAD "pad-power", "Power of the tank pad", "P ≥ A ΔT / (s/k + 1/25)",
        [("A", "outside of the tank"), ("s", "insulation"), ("T_h", "temperature held"), ("T", "lowest outside on record, else the usual low"), ("Q", "heat needed"), ("T_u", "usual low"), ("Q_u", "heat needed there"), ("k", "conductivity of the insulation")],
        [TANK_LOSS];
}
