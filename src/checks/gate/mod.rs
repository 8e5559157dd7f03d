//! Checks of what was recorded on the finished van: readings, serials, signatures.

mod reading_out_of_tolerance;
mod record_is_placeholder;
mod serial_twice;
mod signed_before_prerequisite;
mod signed_before_proof;

crate::checks::checks! {
    reading_out_of_tolerance
    record_is_placeholder
    serial_twice
    signed_before_prerequisite
    signed_before_proof
}
