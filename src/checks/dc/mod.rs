//! Checks of the DC network, and of conductors and devices in any network.

mod alternator_overloaded;
mod bank_charge_over_limit;
mod bank_discharge_over_limit;
mod bank_limits_unknown;
mod bank_of_no_system;
mod bank_without_disconnect;
mod bar_too_short;
mod battery_cable_below_fuse;
mod battery_fuse_below_load;
mod battery_fuse_unproven;
mod battery_without_fuse;
mod bond_too_thin;
mod busbar_over_rating;
mod channel_leads_nowhere;
mod channel_outside_van;
mod channel_overfull;
mod charger_charges_its_feeder;
mod charger_for_other_voltage;
mod charger_on_load_path;
mod charger_return_without_bond;
mod charger_without_output;
mod circuit_without_protection;
mod coil_for_other_voltage;
mod coil_without_feed;
mod cold_charge_unguarded;
mod combined_on_one_path;
mod conductor_below_load;
mod conductor_too_thin;
mod converter_overloaded;
mod converter_without_output;
mod current_without_source;
mod dimmer_on_undimmable;
mod existing_circuit_untold;
mod exterior_panel_without_master;
mod fault_current_implausible;
mod fault_current_unsourced;
mod fed_from_two_voltages;
mod feeder_cannot_feed;
mod fuse_above_conductor;
mod fuse_above_way;
mod fuse_below_load;
mod fuse_below_network;
mod fuse_far_from_source;
mod fuse_not_standard;
mod fuse_voltage_untold;
mod fuses_in_parallel;
mod fuses_not_selective;
mod interrupting_below_fault;
mod interrupting_unproven;
mod key_without_output;
mod lead_leads_nowhere;
mod lead_too_short;
mod lead_unknown;
mod leg_length_unknown;
mod load_fed_twice;
mod load_on_charge_path;
mod load_on_other_voltage;
mod load_without_draw;
mod main_negative_unknown;
mod negative_bar_below_positive;
mod negative_bar_missing;
mod network_mismatch;
mod no_conductor_fits;
mod not_fed;
mod output_to_nowhere;
mod over_rating;
mod panel_out_of_ways;
mod panel_over_rating;
mod parallel_conductor_too_thin;
mod place;
mod post_unknown;
mod protection_unreadable;
mod push_on_not_sold;
mod rating_below_network;
mod return_below_positive;
mod return_to_no_negative;
mod ring_not_sold;
mod run_missing;
mod source_not_stopped;
mod stud_crowded;
mod switch_below_load;
mod switch_over_rating;
mod switch_unknown;
mod two_way_pairs_in_series;
mod voltage_drop_over_limit;
mod voltage_rating_untold;
mod way_given_twice;
mod way_without_panel;
mod words;

crate::checks::checks! {
    alternator_overloaded
    bank_charge_over_limit
    bank_discharge_over_limit
    bank_limits_unknown
    bank_of_no_system
    bank_without_disconnect
    bar_too_short
    battery_cable_below_fuse
    battery_fuse_below_load
    battery_fuse_unproven
    battery_without_fuse
    bond_too_thin
    busbar_over_rating
    channel_leads_nowhere
    channel_outside_van
    channel_overfull
    charger_charges_its_feeder
    charger_for_other_voltage
    charger_on_load_path
    charger_return_without_bond
    charger_without_output
    circuit_without_protection
    coil_for_other_voltage
    coil_without_feed
    cold_charge_unguarded
    combined_on_one_path
    conductor_below_load
    conductor_too_thin
    converter_overloaded
    converter_without_output
    current_without_source
    dimmer_on_undimmable
    existing_circuit_untold
    exterior_panel_without_master
    fault_current_implausible
    fault_current_unsourced
    fed_from_two_voltages
    feeder_cannot_feed
    fuse_above_conductor
    fuse_above_way
    fuse_below_load
    fuse_below_network
    fuse_far_from_source
    fuse_not_standard
    fuse_voltage_untold
    fuses_in_parallel
    fuses_not_selective
    interrupting_below_fault
    interrupting_unproven
    key_without_output
    lead_leads_nowhere
    lead_too_short
    lead_unknown
    leg_length_unknown
    load_fed_twice
    load_on_charge_path
    load_on_other_voltage
    load_without_draw
    main_negative_unknown
    negative_bar_below_positive
    negative_bar_missing
    network_mismatch
    no_conductor_fits
    not_fed
    output_to_nowhere
    panel_out_of_ways
    panel_over_rating
    parallel_conductor_too_thin
    post_unknown
    protection_unreadable
    rating_below_network
    return_below_positive
    return_to_no_negative
    push_on_not_sold
    ring_not_sold
    run_missing
    source_not_stopped
    stud_crowded
    switch_below_load
    switch_over_rating
    switch_unknown
    two_way_pairs_in_series
    voltage_drop_over_limit
    voltage_rating_untold
    way_given_twice
    way_without_panel
}
