//! Checks of weights, ratings and labels.

mod over;
mod rated;

mod axle_over_limit;
mod cargo_label_below_belted_seats;
mod carrier_over_rating;
mod empty_weights_missing;
mod front_axle_light;
mod gross_mass_over_limit;
mod left_right_unbalanced;
mod legs_over_rating;
mod mass_missing;
mod mass_without_position;
mod measured_off_computed;
mod payload_below_minimum;
mod roof_over_limit;
mod storage_over_limit;
mod tray_over_rating;
mod weighed_as_not_said;
mod zero_mass;

crate::checks::checks! {
    axle_over_limit
    cargo_label_below_belted_seats
    carrier_over_rating
    empty_weights_missing
    front_axle_light
    gross_mass_over_limit
    left_right_unbalanced
    legs_over_rating
    mass_missing
    mass_without_position
    measured_off_computed
    payload_below_minimum
    roof_over_limit
    storage_over_limit
    tray_over_rating
    weighed_as_not_said
    zero_mass
}
