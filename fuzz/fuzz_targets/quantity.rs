//! A quantity that is read prints, reads back, and is the same to the digits in print.

#![no_main]

use libfuzzer_sys::fuzz_target;
use rigbinder::units::{Dimension, System, parse_quantity, print};

fuzz_target!(|text: &str| {
    for dimension in Dimension::ALL {
        let Ok(read) = parse_quantity(text, *dimension) else { continue };
        assert!(read.value.is_finite(), "{text:?} is {}", read.value);
        for system in [System::Metric, System::Us] {
            let shown = print(*dimension, read.value, system);
            let again = parse_quantity(&shown, *dimension)
                .unwrap_or_else(|e| panic!("{text:?} prints as {shown:?}, which does not read: {}", e.message));
            let twice = print(*dimension, again.value, system);
            assert_eq!(shown, twice, "{text:?}");
        }
    }
});
