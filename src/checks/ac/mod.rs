//! Checks of the AC network: shore, inverter, transfer, bond, residual-current protection.

mod bond;
mod chassis_bond_missing;
mod reach;

mod breaker_above_outlet;
mod breaker_above_small_conductor;
mod breaking_capacity_low;
mod cable_told_twice;
mod charger_on_its_own_inverter;
mod device_plugged_nowhere;
mod devices_over_supply;
mod generator_breaker_below_output;
mod generator_exhaust_near;
mod generator_neutral_unsettled;
mod generator_overloaded;
mod inlet_overloaded;
mod inverter_overloaded;
mod inverter_start_too_high;
mod line_not_there;
mod lines_unbalanced;
mod loop_impedance_high;
mod main_breaker_above_inlet;
mod main_breaker_below_load;
mod main_breaker_missing;
mod mains_cut_in_one_pole;
mod neutral_bond_unsettled;
mod neutral_bonded_twice;
mod outlet_on_wrong_voltage;
mod outlet_without_residual_current_protection;
mod residual_current_blind;
mod residual_current_trip_too_high;
mod shore_lead_unfit;
mod supply_below_load;
mod transfer_below_source;
mod transfer_with_one_source;
mod two_sources_without_transfer;
mod wet_outlet_unprotected;

crate::checks::checks! {
    breaker_above_outlet
    breaker_above_small_conductor
    breaking_capacity_low
    cable_told_twice
    charger_on_its_own_inverter
    chassis_bond_missing
    generator_breaker_below_output
    generator_exhaust_near
    generator_neutral_unsettled
    generator_overloaded
    device_plugged_nowhere
    devices_over_supply
    inlet_overloaded
    inverter_overloaded
    inverter_start_too_high
    line_not_there
    lines_unbalanced
    loop_impedance_high
    main_breaker_above_inlet
    main_breaker_below_load
    main_breaker_missing
    mains_cut_in_one_pole
    neutral_bond_unsettled
    neutral_bonded_twice
    outlet_on_wrong_voltage
    outlet_without_residual_current_protection
    residual_current_blind
    residual_current_trip_too_high
    shore_lead_unfit
    supply_below_load
    transfer_below_source
    transfer_with_one_source
    two_sources_without_transfer
    wet_outlet_unprotected
}
