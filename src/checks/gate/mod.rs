//! Checks of what was recorded on the finished van: readings, serials, signatures.

mod calibration_lapsed;
mod people;
mod reading_out_of_tolerance;
mod record_is_placeholder;
mod serial_twice;
mod signed;
mod signed_alone;
mod signed_before_prerequisite;
mod signed_before_proof;
mod signed_without_proof;
mod signer_not_entitled;
mod unknown_instrument;

crate::checks::checks! {
    calibration_lapsed
    reading_out_of_tolerance
    record_is_placeholder
    serial_twice
    signed_alone
    signed_before_prerequisite
    signed_before_proof
    signed_without_proof
    signer_not_entitled
    unknown_instrument
}
