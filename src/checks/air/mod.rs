//! Checks of compressed air.

mod compressor_duty_exceeded;
mod compressor_pressure_low;

crate::checks::checks! {
    compressor_duty_exceeded
    compressor_pressure_low
}
