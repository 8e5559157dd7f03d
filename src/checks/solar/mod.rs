//! Checks of solar arrays and their controllers.

mod module_data_inconsistent;
mod strings;
mod strings_without_fuses;

mod array_far_above_controller;
mod array_without_controller;
mod array_without_isolator;
mod isolator_below_string_voltage;
mod mixed_arrays_on_one_controller;
mod record_low_missing;
mod string_current_over_controller;
mod string_voltage_over_controller;

crate::checks::checks! {
    array_far_above_controller
    array_without_controller
    array_without_isolator
    isolator_below_string_voltage
    mixed_arrays_on_one_controller
    module_data_inconsistent
    record_low_missing
    string_current_over_controller
    string_voltage_over_controller
    strings_without_fuses
}
