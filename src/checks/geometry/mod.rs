//! Checks of outer measures, angles and room.

mod limits;

mod aisle_narrow;
mod approach_angle_small;
mod breakover_angle_small;
mod built_in_size_missing;
mod departure_angle_small;
mod device_beyond_board;
mod device_too_near_on_board;
mod devices_overlap_on_board;
mod height_above_limit;
mod length_above_limit;
mod opening_blocked;
mod opening_of_nothing;
mod part_larger_than_place;
mod place_outside_vehicle;
mod places_overlap;
mod run_below_gap;
mod width_above_limit;

crate::checks::checks! {
    aisle_narrow
    approach_angle_small
    breakover_angle_small
    built_in_size_missing
    departure_angle_small
    device_beyond_board
    device_too_near_on_board
    devices_overlap_on_board
    height_above_limit
    length_above_limit
    opening_blocked
    opening_of_nothing
    part_larger_than_place
    place_outside_vehicle
    places_overlap
    run_below_gap
    width_above_limit
}
