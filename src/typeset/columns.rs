//! Column widths of tables, from the length of their text: numbers as wide as they are, texts share the rest.

use super::decimals;
use super::tree::{Align, Inline, Meta, Table, plain_text, walk};

/// Width of an average character, as a share of the text size (Source Sans Pro, mixed text).
const CHARACTER: f64 = 0.51;
/// Space at the two sides of a cell, in points; `style.typ` has the same.
const INSET: f64 = 10.0;
/// The same in packets.
const INSET_MONO: f64 = 6.0;
/// Text size of tables as in `style.typ`, in points.
const SIZE: f64 = 9.8;
/// The same in compact documents.
const SIZE_COMPACT: f64 = 9.0;
/// The same in packets and the service file.
const SIZE_MONO: f64 = 8.6;
/// Never smaller than this, in points.
const SMALLEST: f64 = 7.4;
/// A column of this many characters or fewer is never shared out.
const SHORT: f64 = 9.0;

/// Widths for Typst and the text size that they are made for.
#[derive(Debug, PartialEq)]
pub(super) struct Widths {
    /// One Typst length each: `auto`, points or a fraction.
    pub(super) columns: Vec<String>,
    /// Text size in points.
    pub(super) size: f64,
    /// Even at the smallest size some word is too long for its column.
    pub(super) crowded: bool,
}

/// Finds widths for a table on `available` points.
pub(super) fn widths(table: &Table, available: f64, meta: &Meta) -> Widths {
    let full = match (meta.mono, meta.compact) {
        (true, true) => SIZE_MONO,
        (false, true) => SIZE_COMPACT,
        (_, false) => SIZE,
    };
    if let Some(forced) = &table.widths {
        let columns =
            forced.iter().map(|w| w.map_or_else(|| "auto".to_owned(), |share| format!("{share}fr"))).collect();
        return Widths { columns, size: full, crowded: false };
    }
    let needs: Vec<Need> = (0..table.columns.len()).map(|i| need(table, i)).collect();
    let inset = if meta.mono { INSET_MONO } else { INSET };
    let insets = inset * as_f64(needs.len());
    let least: f64 = needs.iter().map(|n| n.least).sum();
    let room = (available - insets).max(1.0);
    let wanted = room / (least * CHARACTER).max(1.0);
    let size = full.min(wanted).max(SMALLEST);
    let character = size * CHARACTER;
    let natural: f64 = needs.iter().map(|n| n.longest * character).sum();
    let columns =
        if natural <= room { roomy(table, &needs) } else { shared(&needs, room / character, character, inset) };
    Widths { columns, size: (size * 10.0).round() / 10.0, crowded: wanted < SMALLEST * 0.97 }
}

/// What a column needs, in characters.
struct Need {
    /// The longest cell on one line.
    longest: f64,
    /// The longest part that cannot be broken.
    least: f64,
    /// Keep on one line: numbers and short codes.
    firm: bool,
}

fn need(table: &Table, column: usize) -> Need {
    let empty = Vec::new();
    let mut body = Length::default();
    for row in &table.rows {
        body.add(row.get(column).unwrap_or(&empty));
    }
    if let Some(places) = decimals::of_column(table, column) {
        for cell in table.rows.iter().filter_map(|row| row.get(column)) {
            let text = plain_text(cell);
            if let Some((_, room, _)) = decimals::filled(&text, places) {
                body.longest = body.longest.max(as_f64(text.chars().count() + room.len()));
            }
        }
    }
    let mut head = Length::default();
    head.add(table.head.get(column).unwrap_or(&empty));
    // The head is set in semibold, a little wider.
    let head_word = head.word * 1.06;
    let numbers = table.columns[column] == Align::Right && body.longest <= 16.0;
    let firm = numbers || body.longest <= SHORT;
    let least = if firm { body.longest.max(head_word) } else { body.word.min(18.0).max(head_word) };
    Need { longest: if firm { least } else { body.longest.max(head.longest.min(body.longest.max(14.0))) }, least, firm }
}

/// Everything fits: short columns and numbers as they are, the texts share what is left by their length.
fn roomy(table: &Table, needs: &[Need]) -> Vec<String> {
    let text = |i: usize| table.columns[i] == Align::Left && !needs[i].firm;
    let any_text = (0..needs.len()).any(text);
    (0..needs.len())
        .map(|i| {
            // Without a long text, the short ones fill the line.
            if text(i) || (!any_text && table.columns[i] == Align::Left) {
                format!("{:.0}fr", needs[i].longest.max(1.0))
            } else {
                "auto".to_owned()
            }
        })
        .collect()
}

/// Not everything fits: firm columns get what they need, the others share the rest by the length of their text.
fn shared(needs: &[Need], room: f64, character: f64, inset: f64) -> Vec<String> {
    let least: f64 = needs.iter().map(|n| n.least).sum();
    let spare = (room - least).max(0.0);
    let wish = |n: &Need| {
        if n.firm { 0.0 } else { (n.longest - n.least).max(0.0).sqrt() }
    };
    let wishes: f64 = needs.iter().map(wish).sum::<f64>().max(1e-9);
    needs
        .iter()
        .map(|n| {
            let width = n.least + spare * wish(n) / wishes;
            let points = width * character + inset;
            if n.firm && needs.iter().any(|n| !n.firm) {
                // A little more than the estimate, so that a number never breaks.
                format!("{:.1}pt", points * 1.04)
            } else {
                format!("{points:.1}fr")
            }
        })
        .collect()
}

/// Lengths in characters.
#[derive(Default)]
struct Length {
    longest: f64,
    word: f64,
}

impl Length {
    fn add(&mut self, cell: &[Inline]) {
        let mut total = 0.0_f64;
        let mut word = 0.0_f64;
        let mut longest_word = 0.0_f64;
        walk(cell, &mut |inline| match inline {
            Inline::Text(text) | Inline::Code(text) => {
                let wide = if matches!(inline, Inline::Code(_)) { 1.15 } else { 1.0 };
                for c in text.chars() {
                    let width = wide * character_width(c);
                    total += width;
                    word += width;
                    longest_word = longest_word.max(word);
                    if matches!(c, ' ' | '-' | '/' | '_' | '–' | '—') {
                        word = 0.0;
                    }
                }
            }
            // About 2 mm for each underscore.
            Inline::Blank(n) => {
                total += as_f64(*n) * 1.15;
                longest_word = longest_word.max(as_f64(*n) * 1.15);
            }
            Inline::Tick(_) => {
                total += 2.6;
                longest_word = longest_word.max(2.6);
            }
            Inline::Break => word = 0.0,
            _ => {}
        });
        self.longest = self.longest.max(total);
        self.word = self.word.max(longest_word);
    }
}

fn character_width(c: char) -> f64 {
    match c {
        'i' | 'l' | 'j' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | ' ' | '\u{a0}' => 0.52,
        'm' | 'w' | 'M' | 'W' | '—' | '%' | '@' => 1.6,
        'A'..='Z' => 1.16,
        _ => 1.0,
    }
}

#[expect(clippy::cast_precision_loss, reason = "counts of characters and columns are small")]
fn as_f64(n: usize) -> f64 {
    n as f64
}
