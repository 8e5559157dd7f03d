//! Checks of the spec as a whole: places, names, order of work, what is recorded.

mod component_without_place;
mod count_without_places;
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
mod stage_skipped_with_work;
mod task_after_later_stage;
mod task_loop;
mod upkeep_unreadable;
mod vehicle_unknown;

crate::checks::checks! {
    component_without_place
    count_without_places
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
    stage_skipped_with_work
    task_after_later_stage
    task_loop
    upkeep_unreadable
    vehicle_unknown
}
