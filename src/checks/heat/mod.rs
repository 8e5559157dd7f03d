//! Checks of heating, cooling and frost.

mod below_loss;
mod carbon_dioxide_high;
mod cooler_too_small;
mod fixed_vents_small;
mod fuel_short_for_nights;
mod fuel_use_implausible;
mod heater_above_altitude;
mod heater_too_small;
mod inside_cold_at_record;
mod no_low_temperature;
mod pad_below_loss;
mod pane_below_dew_point;
mod run_unprotected;
mod shell_area_short;
mod shell_missing;
mod surface_below_dew_point;
mod surface_without_u_value;
mod trace_below_loss;

crate::checks::checks! {
    carbon_dioxide_high
    cooler_too_small
    fixed_vents_small
    fuel_short_for_nights
    fuel_use_implausible
    heater_above_altitude
    heater_too_small
    inside_cold_at_record
    no_low_temperature
    pad_below_loss
    pane_below_dew_point
    run_unprotected
    shell_area_short
    shell_missing
    surface_below_dew_point
    surface_without_u_value
    trace_below_loss
}
