//! Checks of the spec as a whole: places, names, order of work, what is recorded.

mod certificate_digest_mismatch;
mod certificate_digest_unreadable;
mod certificate_file_missing;
mod certificate_file_unusable;
mod component_without_place;
mod count_without_places;
mod deviation_of_nothing;
mod duplicate_name;
mod fed_without_supply;
mod known_on_new_part;
mod known_without_value;
mod letters_not_in_typeface;
mod markup_in_note;
mod names_removed;
mod no_contact;
mod no_handover_date;
mod reading_unreadable;
mod recorded_nothing;
mod refit_not_said;
mod riding_loop;
mod snag_done_before_found;
mod snag_open_at_handover;
mod stage_skipped_with_work;
mod task_after_later_stage;
mod task_loop;
mod upkeep_unreadable;
mod vehicle_unknown;
mod warranty_of_customers_part;

crate::checks::checks! {
    certificate_digest_mismatch
    certificate_digest_unreadable
    certificate_file_missing
    certificate_file_unusable
    component_without_place
    count_without_places
    deviation_of_nothing
    duplicate_name
    fed_without_supply
    known_on_new_part
    known_without_value
    letters_not_in_typeface
    markup_in_note
    names_removed
    no_contact
    no_handover_date
    reading_unreadable
    recorded_nothing
    refit_not_said
    riding_loop
    snag_done_before_found
    snag_open_at_handover
    stage_skipped_with_work
    task_after_later_stage
    task_loop
    upkeep_unreadable
    vehicle_unknown
    warranty_of_customers_part
}
