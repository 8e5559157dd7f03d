//! Solar array: the role `array`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Amps, Celsius, Degrees, Metres, Ratio, Volts, Watts};

role! {
    /// Solar array.
    Array = "array" in Electric {
        /// Peak power of one module.
        power: must Watts { change = "replaced" };
        /// Open-circuit voltage of one module, from its plate.
        voc: must Volts;
        /// Short-circuit current of one module, from its plate.
        isc: must Amps;
        /// Voltage at peak power of one module, from its plate.
        vmp: must Volts;
        /// Current at peak power of one module, from its plate.
        imp: must Amps;
        /// Change of the open-circuit voltage per kelvin.
        voc_per_kelvin: must Ratio;
        /// Change of the peak power per kelvin.
        power_per_kelvin: must Ratio;
        /// Cell temperature at 800 W/m² and 20 °C, from the data sheet.
        noct: must Celsius;
        /// Modules in series in each string.
        series: must i64 { change = "replaced" };
        /// Strings in parallel.
        parallel: must i64 { change = "replaced" };
        /// Fuse in each string, where there are several.
        string_fuse: may Amps;
        /// Largest fuse in series that the module may have, from its plate.
        max_fuse: may Amps;
        /// Tilt from level.
        tilt: must Degrees;
        /// Share of the sun lost to shade, dirt and aim.
        shading: must Ratio;
        /// Share of the days that it is set up, of one that is folded away between.
        use_share: may Ratio;
        /// Length of the loose lead.
        lead: may Metres;
        /// How the modules are held. roof-bonded and bonnet: flexible modules, glued.
        mount: may Choice { choices = ["roof-rack", "roof-brackets", "roof-bonded", "bonnet"]; change = "replaced" };
    }
}
