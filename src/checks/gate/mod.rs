//! Checks of what was recorded on the finished van: readings, serials, signatures.

mod reading_out_of_tolerance;
mod serial_twice;
mod signed_before_prerequisite;

crate::checks::checks! {
    reading_out_of_tolerance
    serial_twice
    signed_before_prerequisite
}
