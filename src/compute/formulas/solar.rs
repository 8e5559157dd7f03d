//! Formulas of the sun.

super::formulas! {
    /// Irradiation above the air on the mean day of the month.
    ABOVE_AIR "irradiation-above-air", "Irradiation above the air", "H0 = 24·Gsc/π·(1 + 0.033·cos(360°·n/365))·(cos φ·cos δ·sin ωs + ωs·sin φ·sin δ)",
        [("φ", "latitude"), ("n", "mean day of the month"), ("δ", "declination"), ("N", "hours from sunrise to sunset"), ("Gsc", "solar constant, 1367 W/m²"), ("ωs", "hour angle of sunset")],
        [DUFFIE_BECKMAN, COOPER];
    /// Diffuse share.
    DIFFUSE "diffuse-share", "Diffuse share of the day", "Hd/H = 1.391 − 3.560·K + 4.189·K² − 2.137·K³ (ωs ≤ 81.4°), 1.311 − 3.022·K + 3.427·K² − 1.821·K³ (ωs > 81.4°)",
        [("H", "irradiation of the level ground"), ("K", "share of the irradiation above the air"), ("Hd", "its diffuse part"), ("ωs", "hour angle of sunset")], [ERBS];
    /// Irradiation on an array.
    ON_ARRAY "irradiation-on-array", "Irradiation on an array", "I = Ib·Rb + Id·(1 + cos β)/2 + (Ib + Id)·ρ·(1 − cos β)/2, summed over the hours",
        [("H", "irradiation of the level ground"), ("β", "tilt"), ("ρ", "share that the ground throws back"), ("s", "shading, taken off in the tables that follow"), ("Ib", "beam on the level"), ("Id", "diffuse on the level"), ("Rb", "beam on the array over beam on the level")],
        [COLLARES_PEREIRA, LIU_JORDAN, ANY_DIRECTION];
    /// Highest cell temperature of the day.
    CELL "cell-temperature", "Highest cell temperature of the day", "Tc = Ta + (NOCT − 20 °C)·G/800 W/m²",
        [("G", "light on the cells in that hour, W/m²"), ("Ta", "air in that hour"), ("NOCT", "cell temperature at 800 W/m² and 20 °C")], [ROSS];
    /// Energy an array gives in a day.
    ARRAY_DAY "array-day", "Energy of an array in a day", "E = s·Σ P·G/1000·(1 + γ·(Tc − 25 °C))",
        [("P", "peak power"), ("γ", "change per kelvin"), ("s", "share of the days it is set up"), ("G", "light on the cells, W/m², shading taken off"), ("Tc", "cell temperature")], [ROSS];
    /// Energy that reaches the busbar.
    SOLAR_DAY "solar-day", "Solar energy at the busbar in a day", "E = Σ min(η·P, I_max·V)",
        [("E_arrays", "given by the arrays"), ("E_cut", "cut off by the limits of the controllers"), ("η", "efficiency of the controller"), ("I_max", "its output limit"), ("V", "bank voltage")], [POWER_BALANCE, LIU_JORDAN];
}
