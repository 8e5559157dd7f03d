//! QR symbols (ISO/IEC 18004) as one path of an SVG.

use super::area::Area;
use fast_qr::{ECL, QRBuilder};
use std::fmt::Write as _;

/// Light modules that must stay around a symbol (ISO/IEC 18004: four on every side).
pub(crate) const QUIET: f64 = 4.0;

/// Modules on a side of the symbol for `text`, the quiet zone on both sides included; `None` where no symbol holds it.
#[must_use]
pub(crate) fn modules(text: &str) -> Option<f64> {
    symbol(text).map(|s| side(s.size))
}

/// The symbol for `text` with its upper left corner, quiet zone included, at a point; `module` is the side of one
/// module in mm (0.4 mm and above reads well from a laser print). Gives the dark modules as a path to be filled, and
/// the area of the symbol with its quiet zone, which must stay white. `None` where no symbol holds so much.
///
/// Level M mends 15 % of the symbol. Text beyond ASCII is written as UTF-8, as readers expect it today.
#[must_use]
pub(crate) fn path(text: &str, at: (f64, f64), module: f64) -> Option<(String, Area)> {
    let symbol = symbol(text)?;
    let mut path = String::new();
    for row in 0..symbol.size {
        let dark: Vec<bool> = symbol[row].iter().map(|m| m.value()).collect();
        let mut column = 0;
        while column < symbol.size {
            let length = dark[column..].iter().take_while(|d| **d).count();
            if length > 0 {
                let (x, y) = (at.0 + (QUIET + number(column)) * module, at.1 + (QUIET + number(row)) * module);
                let _ = write!(
                    path,
                    "M{} {}h{}v{}h-{}z",
                    short(x),
                    short(y),
                    short(number(length) * module),
                    short(module),
                    short(number(length) * module)
                );
            }
            column += length.max(1);
        }
    }
    let side = side(symbol.size) * module;
    Some((path, Area::at(at.0, at.1, side, side)))
}

fn symbol(text: &str) -> Option<fast_qr::QRCode> {
    QRBuilder::new(text).ecl(ECL::M).build().ok()
}

fn side(modules: usize) -> f64 {
    number(modules) + 2.0 * QUIET
}

/// A count of modules: 177 at most.
fn number(n: usize) -> f64 {
    u32::try_from(n).map_or(0.0, f64::from)
}

/// Three decimals: rows of modules must not drift apart.
fn short(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What an independent reader finds in the path, drawn with `scale` pixels a module.
    fn decoded(text: &str, scale: usize) -> Option<String> {
        let (path, area) = path(text, (0.0, 0.0), 1.0)?;
        let side = modules(text)?;
        assert_eq!((area.width(), area.height()), (side, side));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred pixels")]
        let pixels = |mm: f64| mm as usize * scale;
        let mut dark = vec![false; pixels(side) * pixels(side)];
        for run in path.split('z').filter(|r| !r.is_empty()) {
            let numbers: Vec<f64> = run.split(['M', ' ', 'h', 'v']).filter_map(|n| n.parse().ok()).collect();
            let [x, y, wide, high, back] = numbers[..] else { panic!("{run}") };
            assert_eq!((high, wide), (1.0, -back), "{run}");
            assert!(x >= QUIET && x + wide <= side - QUIET && y >= QUIET && y + high <= side - QUIET, "{run}");
            for py in pixels(y)..pixels(y + high) {
                for px in pixels(x)..pixels(x + wide) {
                    dark[py * pixels(side) + px] = true;
                }
            }
        }
        let shade = |x: usize, y: usize| if dark[y * pixels(side) + x] { 0 } else { 255 };
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(pixels(side), pixels(side), shade);
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1, "{text}");
        grids[0].decode().ok().map(|(_, read)| read)
    }

    #[test]
    fn another_reader_reads_what_was_written() {
        for text in [
            "fridge\nOwner's manual: Fridge",
            "a",
            "7",
            "Température extérieure – 12 °C",
            &"roof-controller.out ".repeat(20),
        ] {
            assert_eq!(decoded(text, 4).as_deref(), Some(text));
        }
    }

    #[test]
    fn what_no_symbol_holds_gives_none() {
        // ISO/IEC 18004, table 7: version 40 at level M holds 2331 bytes.
        assert!(path(&"é".repeat(1165), (0.0, 0.0), 1.0).is_some());
        assert!(path(&"é".repeat(1166), (0.0, 0.0), 1.0).is_none());
    }
}
