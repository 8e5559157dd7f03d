//! Quantities with units: how a spec writes them, what they are inside, how documents print them.
//!
//! Own newtypes rather than `uom`: its parser refuses most of what a shop writes
//! ("1000 Ah", "35 mm2", "12 ft 6 in", "1/2 in"), knows no AWG and gives no position of a fault.
//! At the call site `Amps * Ohms` giving `Volts` is all the algebra the trade needs.

mod bound;
mod conductor_size;
mod dimension;
mod in_words;
mod parse;
mod print;
mod quantity;
mod system;

pub use bound::Bound;
pub use conductor_size::ConductorSize;
pub use dimension::{Dimension, Unit};
pub use in_words::{UNITS as UNITS_OF_TEXTS, in_words, in_words_but_differences, in_words_of_hole, is_measure};
pub use parse::{ParseFault, parse_quantity};
pub use print::{
    number, print, print_bound, print_whole, said, said_bound, significant, significant_bound, significant_down,
    with_minus,
};
pub use quantity::{
    AmpHours, Amps, Celsius, Degrees, HeatTransfer, Irradiation, Kilograms, Kilometres, Kilopascals, Litres,
    LitresPerMinute, Metres, NewtonMetres, Newtons, Ohms, Quantity, Ratio, Seconds, SquareMetres, SquareMillimetres,
    Volts, WattHours, Watts, WattsPerMetreKelvin,
};
pub use system::System;
