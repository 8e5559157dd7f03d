//! rigbinder: one TOML spec of a camper van build → checked figures, install packets, schedules, calendar, manual.

pub mod diag;
pub mod fields;
pub mod source;
pub mod spec;
pub mod units;
