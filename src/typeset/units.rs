//! Keeps a number and its unit on one line: "30 A" gets a no-break space.

/// Unit signs that follow a number. "in" is left out: it is a common word too, and is treated apart.
const UNITS: &[&str] = &[
    "A", "mA", "kA", "V", "mV", "kV", "W", "kW", "mW", "Wh", "kWh", "Ah", "mAh", "VA", "Ω", "mΩ", "kΩ", "MΩ", "Hz",
    "kHz", "MHz", "mm", "cm", "m", "km", "µm", "ft", "yd", "mi", "mm²", "cm²", "m²", "ft²", "in²", "m³", "ft³", "L",
    "mL", "gal", "qt", "fl", "oz", "g", "mg", "kg", "t", "lb", "lbf", "N", "kN", "N·m", "Nm", "Pa", "kPa", "MPa",
    "bar", "psi", "°C", "°F", "K", "s", "min", "h", "d", "ms", "L/min", "gal/min", "W/m", "W/m²", "kWh/m²", "Wh/m²",
    "W/K", "kg/m³", "m/s", "km/h", "mph", "AWG", "%", "°", "ppm", "mg/L", "Btu", "Btu/h", "kJ", "MJ", "J", "lx", "lm",
    "dB", "in-lb", "ft-lb", "lb-ft", "g/L", "mL/L", "cfm", "m³/h", "A²s", "USD", "EUR",
];

/// Puts a no-break space between a number and the unit behind it.
#[must_use]
pub(super) fn bind_units(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        out.push_str(word);
        if let Some(following) = words.peek() {
            let number = word.ends_with(|c: char| c.is_ascii_digit() || "½¼¾⅓⅔⅛⅜⅝⅞".contains(c));
            out.push(if number && is_unit(following) { '\u{a0}' } else { ' ' });
        }
    }
    out
}

fn is_unit(word: &str) -> bool {
    let bare = word.trim_end_matches([',', '.', ';', ':', ')', '?', '!', ']']);
    // "12 in" at the end of a clause is a length; "12 in the box" is not.
    (bare == "in" && bare.len() < word.len()) || UNITS.contains(&bare)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_units() {
        assert_eq!(bind_units("fuse 30 A, 4.2 m long"), "fuse 30\u{a0}A, 4.2\u{a0}m long");
        assert_eq!(bind_units("put 2 in the box, cut 12 in."), "put 2 in the box, cut 12\u{a0}in.");
        assert_eq!(bind_units("Way 3 A lamp"), "Way 3\u{a0}A lamp");
        assert_eq!(bind_units("no unit 7 here "), "no unit 7 here ");
    }
}
