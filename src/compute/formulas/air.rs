//! Formulas of compressed air.

super::formulas! {
    /// Time to fill tyres.
    FILL_TIME "fill-time", "Time to fill the tyres, compressor running", "t = N · V · (p_2 − p_1) / (p_0 · Q)",
        [("N", "tyres"), ("V", "air space of one"), ("p_1", "mean pressure before"), ("p_2", "mean pressure after"), ("Q", "free air delivery"), ("p_0", "pressure of the air, 101.3 kPa")], [BOYLE];
    /// The same with pauses.
    FILL_TIME_PAUSES "fill-time-with-pauses", "Time to fill the tyres with pauses", "t / d where t is longer than one run",
        [("t", "running time"), ("t_max", "longest run", Most), ("d", "duty limit", Most)], [DUTY];
}
