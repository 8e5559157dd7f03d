//! Checks of the energy account and of the sun it rests on.

mod words;

mod bank_empty_off_grid;
mod bank_without_charging;
mod charge_blocked_by_cold;
mod charge_never_full;
mod heater_battery_night;
mod inverter_idle_heavy;
mod irradiation_above_sky;
mod low_above_high;
mod no_season;
mod reserve_broken;
mod run_time_below_goal;
mod season_without_sun;
mod shore_charge_slow;
mod solar_below_need;

crate::checks::checks! {
    bank_empty_off_grid
    bank_without_charging
    charge_blocked_by_cold
    charge_never_full
    heater_battery_night
    inverter_idle_heavy
    irradiation_above_sky
    low_above_high
    no_season
    reserve_broken
    run_time_below_goal
    season_without_sun
    shore_charge_slow
    solar_below_need
}
