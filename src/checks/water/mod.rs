//! Checks of the water system.

mod antifreeze_below_lines;
mod basin_drains_nowhere;
mod grey_below_fresh;
mod hot_water_below_goal;
mod hot_water_scald;
mod outlet_pressure_low;
mod outlet_run_missing;
mod outlet_without_pipe;
mod pressure_above_heater;
mod pump_below_flow;
mod pump_lift_too_high;
mod resistive_sender_fed;
mod run_without_drain;
mod tank_without_drain;
mod valve_without_bypass;
mod water_short;

crate::checks::checks! {
    antifreeze_below_lines
    basin_drains_nowhere
    grey_below_fresh
    hot_water_below_goal
    hot_water_scald
    outlet_pressure_low
    outlet_run_missing
    outlet_without_pipe
    pressure_above_heater
    pump_below_flow
    pump_lift_too_high
    resistive_sender_fed
    run_without_drain
    tank_without_drain
    valve_without_bypass
    water_short
}
