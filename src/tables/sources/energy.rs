//! Sources of the energy account.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    ENERGY_ACCOUNT Computed "energy-account",
        "Energy account by the hour: what comes in less surplus is what the loads get, the losses and what the store gains",
        "";
    USE_OF_DAY CommonPractice "hours-of-the-day",
        "When loads are used: light in the evening, cooking at meals, washing morning and evening, the drive from 10:00; the stay begins at 18:00 with a full bank",
        "";
    TEMPERATURE_MODELS CommonPractice "loads-by-temperature",
        "Loads by outside temperature, straight lines: cold box from 4 °C up (duty declared at 25 °C), heating below 15 °C (duty at −15 °C), cooling above 24 °C (duty at 35 °C), frost thermostats below their switching point (duty 20 K below it)",
        "";
    LOADS_BY_DAY CommonPractice "loads-by-climate-day",
        "Loads by the heat of the day: cold box by the temperature inside (duty declared at 25 °C); pads and trace by what is lost over what they give; heater by its output, at its mean power down to a quarter of it, below that for a part of the time; at full power in proportion",
        "";
    DAY_TEMPERATURE CommonPractice "temperature-of-the-day",
        "Outside temperature as a cosine between the usual low and high, warmest at 15:00",
        "";
    CHARGE_EFFICIENCY CommonPractice "charge-efficiency",
        "Share of the energy put into a bank that comes out again: 95 % for lithium iron phosphate, 85 % for absorbed glass mat",
        "";
}
