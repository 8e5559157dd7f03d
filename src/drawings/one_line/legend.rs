//! The symbols of a drawing and their names, at the foot of its first sheet.

use super::rows::{LEFT, RIGHT, count};
use super::words::SMALL;
use crate::drawings::canvas::{Canvas, Pen, Type};
use crate::drawings::letters::{Weight, fitted};
use crate::drawings::symbols::{Standard, Symbol};
use std::collections::BTreeSet;

/// Symbols in a row.
const COLUMNS: usize = 7;
/// Height of a row, mm.
const ROW: f64 = 7.6;

/// Its height, mm.
pub(super) fn height(symbols: &BTreeSet<Symbol>) -> f64 {
    5.5 + ROW * count(symbols.len().div_ceil(COLUMNS))
}

/// Draws it below `top`.
pub(super) fn draw(canvas: &mut Canvas, standard: Standard, symbols: &BTreeSet<Symbol>, top: f64) {
    canvas.line((LEFT, top), (RIGHT, top), Pen::of(0.18).grey(0.5));
    let after = match standard {
        Standard::Iec => "Symbols after IEC 60617.",
        Standard::Ieee => "Symbols after IEEE 315.",
    };
    let note = "One line stands for all conductors of its circuit; the wire label is in a frame.";
    canvas.text((LEFT, top + 3.2), &format!("{after} {note}"), Type::of(SMALL));
    let wide = (RIGHT - LEFT) / count(COLUMNS);
    for (at, symbol) in symbols.iter().enumerate() {
        let x = LEFT + wide * count(at % COLUMNS);
        let y = top + 5.5 + ROW * (count(at / COLUMNS) + 0.5);
        symbol.draw(canvas, standard, (x + 4.5, y), (true, true));
        let name = fitted(symbol.name(), SMALL, Weight::Regular, wide - 9.6);
        canvas.text((x + 9.2, y + 0.8), &name, Type::of(SMALL));
    }
}
