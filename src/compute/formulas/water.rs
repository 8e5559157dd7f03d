//! Formulas of the water system.

super::formulas! {
    /// Days the fresh water lasts.
    WATER_DAYS "water-days", "How long the fresh water lasts", "t = V / (n · v)",
        [("V", "water that the outlets can reach"), ("n", "people"), ("v", "use of one person in a day")],
        [WATER_BALANCE];
    /// Days until the grey tank is full.
    GREY_DAYS "grey-days", "How long until the grey tank is full", "t = V / (n · (v − v_d))",
        [("V", "grey tanks"), ("n", "people"), ("v", "use of one person in a day"), ("v_d", "of it drunk or cooked away")],
        [WATER_BALANCE, WATER_SHARE];
    /// Pressure left at a cold outlet.
    COLD_PRESSURE "cold-pressure", "Pressure at the outlet, cold", "p = p_c · (1 − Q/Q_0) − Δp − Δp_f − ρ g h",
        [("Q", "flow of the outlet"), ("Q_0", "open flow of the pump"), ("p_c", "cut-out pressure"), ("p(Q)", "pressure of the pump at Q"), ("Δp", "friction of pipes and fittings"), ("Δp_f", "filters"), ("ρ g h", "height")],
        [PUMP_CURVE, DARCY_WEISBACH, RENNELS_BEND, PIPE_ROUGHNESS, STATIC_HEAD, KELL_DENSITY, IAPWS_VISCOSITY, COLD_SUPPLY];
    /// Pressure left at a hot outlet.
    HOT_PRESSURE "hot-pressure", "Pressure at the outlet, hot", "p = p_c · (1 − Q/Q_0) − Δp − Δp_f − ρ g h",
        [("Q", "flow of the outlet"), ("Q_0", "open flow of the pump"), ("p_c", "cut-out pressure"), ("p(Q)", "pressure of the pump at Q"), ("Δp", "friction of pipes and fittings"), ("Δp_f", "filters"), ("ρ g h", "height")],
        [PUMP_CURVE, DARCY_WEISBACH, RENNELS_BEND, PIPE_ROUGHNESS, STATIC_HEAD, KELL_DENSITY, IAPWS_VISCOSITY, COLD_SUPPLY];
    /// Pressure left at a cold outlet beside another.
    COLD_BESIDE "cold-beside", "Pressure at the outlet with a second one open, cold", "p(Q_1 + Q_2) − Δp_s = p_n1 · (Q_1/Q_n1)² + Δp_1 = p_n2 · (Q_2/Q_n2)² + Δp_2",
        [("with", "the other outlet that draws most"), ("Q_1", "flow that is left"), ("Δp_s", "pipes that both share"), ("Δp_1, Δp_2", "pipes of each, with their heights")],
        [PUMP_CURVE, DARCY_WEISBACH, STATIC_HEAD];
    /// Pressure left at a hot outlet beside another.
    HOT_BESIDE "hot-beside", "Pressure at the outlet with a second one open, hot", "p(Q_1 + Q_2) − Δp_s = p_n1 · (Q_1/Q_n1)² + Δp_1 = p_n2 · (Q_2/Q_n2)² + Δp_2",
        [("with", "the other outlet that draws most"), ("Q_1", "flow that is left"), ("Δp_s", "pipes that both share"), ("Δp_1, Δp_2", "pipes of each, with their heights")],
        [PUMP_CURVE, DARCY_WEISBACH, STATIC_HEAD];
    /// Flow of a cold outlet alone.
    COLD_FLOW "cold-flow", "Flow of the outlet when open alone, cold", "p(Q) = p_n · (Q/Q_n)²",
        [("Q_n", "flow named for it"), ("p_n", "pressure it needs for that"), ("p(Q)", "pressure left at the outlet at the flow Q")], [PUMP_CURVE, DARCY_WEISBACH];
    /// Flow of a hot outlet alone.
    HOT_FLOW "hot-flow", "Flow of the outlet when open alone, hot", "p(Q) = p_n · (Q/Q_n)²",
        [("Q_n", "flow named for it"), ("p_n", "pressure it needs for that"), ("p(Q)", "pressure left at the outlet at the flow Q")], [PUMP_CURVE, DARCY_WEISBACH];
    /// Energy of a tank of hot water.
    WATER_HEAT "water-heat", "Energy of a full tank of hot water", "E = ρ V c (T_h − T_c)",
        [("V", "tank"), ("T_c", "cold water"), ("T_h", "set temperature"), ("ρ, c", "density and specific heat of water")], [WATER_HEAT, KELL_DENSITY, COLD_SUPPLY];
    /// Time to heat it.
    RECOVERY "hot-water-recovery", "Time from cold to hot", "t = E / (P − P_l)",
        [("E", "energy"), ("P", "heat given to the water"), ("P_l", "standing loss while hot")], [WATER_HEAT];
    /// Mixed water.
    MIXED "mixed-water", "Mixed water from one full tank", "V_m = V (T_h − T_c) / (T_m − T_c)",
        [("V", "tank"), ("T_h", "set temperature"), ("T_c", "cold water"), ("T_m", "temperature in use")], [WATER_HEAT, COLD_SUPPLY];
    /// How long it runs.
    HOT_LASTS "warm-water-time", "Time a full tank gives warm water with one outlet open", "t = E / (q ρ c (T_m − T_c) − P)",
        [("E", "energy of the full tank"), ("q", "flow of the outlet that takes most"), ("T_m", "temperature in use"), ("P", "heat given to the water meanwhile")], [WATER_HEAT, COLD_SUPPLY];
    /// Bleach for the tank.
    BLEACH "sanitising-dose", "Bleach that sanitises the tank", "V_b = V · c / s",
        [("V", "tank filled full"), ("s", "strength on the bottle, grams in 100 mL"), ("c", "chlorine of the treatment")], [BLEACH_DOSE];
    /// Antifreeze for the pipes.
    WINTER_VOLUME "winterising-volume", "Water in the pipes, to be blown out or replaced by antifreeze", "V = Σ π/4 · D² · L",
        [("n", "pipe runs that hold water"), ("V_h", "heaters"), ("V + V_h", "with the heaters not by-passed"), ("D, L", "inside diameter and length of a run")], [PIPE_VOLUME];
    /// Mass of the water.
    WATER_MASS "water-mass", "Weight of a full load of water", "m = ρ · (V_t + V_p + V_h)",
        [("V_t", "fresh tanks"), ("V_p", "pipes"), ("V_h", "heaters"), ("ρ", "density of water")], [KELL_DENSITY];
}
