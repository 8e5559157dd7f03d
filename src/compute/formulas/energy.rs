//! Formulas of the energy account.

super::formulas! {
    /// Energy a load takes in a day that is the same in every season.
    LOAD_DAY "load-day", "Energy of a load in a day", "E = P · t · d",
        [("P", "power"), ("t", "hours of use"), ("d", "share of that time it runs")], [USE_OF_DAY, ENERGY];
    /// Energy a load takes in a day by the outside temperature.
    LOAD_BY_TEMPERATURE "load-by-temperature", "Energy of a load that follows the temperature", "E = Σ P · d(T)",
        [("P", "power"), ("d", "declared duty"), ("T_low", "usual low"), ("T_high", "usual high"), ("d̄", "mean duty of the day"), ("d(T)", "duty at the temperature of the hour")],
        [TEMPERATURE_MODELS, DAY_TEMPERATURE];
    /// Energy of a day of a load that the climate day runs.
    LOAD_BY_DAY "load-by-climate-day", "Energy of a load that runs as the heat of the day asks", "E = P · t",
        [("P", "power"), ("t", "time at that power on the climate day")],
        [DAY_HEAT, LOADS_BY_DAY];
    /// Energy all loads take from the busbar in a day.
    NEED_DAY "need-day", "Energy needed in a day off grid", "E = E_dc + E_ac + E_loss + E_idle",
        [("E_dc", "DC loads"), ("E_ac", "AC loads on the inverter"), ("E_loss", "lost in the inverter under load"), ("E_idle", "its own use while it is on")],
        [ENERGY_ACCOUNT, POWER_BALANCE];
    /// Energy from the alternator in a day.
    DRIVE_DAY "alternator-day", "Energy from the alternator in a day", "E = P · t",
        [("t", "driving in a day"), ("P", "all chargers on the engine together")], [USE_OF_DAY, POWER_BALANCE];
    /// Lowest state of charge of a stay with driving.
    LOWEST "lowest-state", "Lowest state of charge over the nights off grid", "E(t+1) = E(t) + η·in − out",
        [("n", "nights"), ("E_need", "needed in a day"), ("E_in", "sun and alternator in a day"), ("E_short", "not served"), ("E(t)", "energy in the bank at the hour t"), ("in, out", "what comes in and goes out in that hour"), ("η", "charge efficiency")],
        [ENERGY_ACCOUNT, CHARGE_EFFICIENCY],
        judges "lasts in usual weather", "under", "a row of dark days not judged";
    /// The same without driving.
    LOWEST_PARKED "lowest-state-parked", "The same, parked: sun alone", "E(t+1) = E(t) + η·in − out",
        [("n", "nights"), ("E_need", "needed in a day"), ("E_in", "sun in a day"), ("E_short", "not served"), ("E(t)", "energy in the bank at the hour t"), ("in, out", "what comes in and goes out in that hour"), ("η", "charge efficiency")],
        [ENERGY_ACCOUNT, CHARGE_EFFICIENCY],
        judges "lasts in usual weather", "under", "a row of dark days not judged";
    /// Time until the reserve.
    LASTS "bank-lasts", "Time from a full bank at 18:00 to the reserve", "first hour with E < (1 − u)·E_full",
        [("Parked", "the same without driving"), ("u", "share planned for use"), ("E", "energy in the bank"), ("E_full", "when full")], [ENERGY_ACCOUNT, USE_OF_DAY], gives Most;
    /// Energy that found no place.
    SURPLUS "surplus", "Energy not stored over the nights", "E = Σ (offered − taken)",
        [("E_cold", "part of it refused for cold"), ("E_in", "offered")], [ENERGY_ACCOUNT];
    /// Charging time from a steady source.
    FILL "hours-to-full", "Time from the reserve to full, loads off", "t = (E_full − E_reserve) / (η · P)",
        [("E", "from the reserve to full"), ("P", "charging power within the limits"), ("η", "charge efficiency")],
        [ENERGY_ACCOUNT, CHARGE_EFFICIENCY];
    /// Charging time from the sun.
    FILL_SUN "hours-to-full-by-sun", "Time from the reserve to full by the sun, loads off", "t = (E_full − E_reserve) / (η · E_day) · 24 h",
        [("E", "from the reserve to full"), ("E_day", "solar energy in a day"), ("η", "charge efficiency")],
        [ENERGY_ACCOUNT, CHARGE_EFFICIENCY];
    /// How long the bank feeds one load alone.
    RUN_TIME "run-time", "Run time of a load alone on the bank", "t = E / P_bank, P_bank = P · d / η + P_idle",
        [("E", "planned for use"), ("P", "power"), ("d", "duty assumed"), ("P_bank", "mean power at the bank"), ("η, P_idle", "efficiency and own use of the inverter, for AC loads")], [ENERGY];
}
