//! Columns of numbers stand with their decimal points below each other: what a number lacks behind its point is room.

use super::tree::{Align, Inline, Table, plain_text};

/// More places than this are not made room for.
const MOST: usize = 4;

/// For each column the decimal places that its numbers take at most, where they differ; else `None`.
pub(super) fn places(table: &Table) -> Vec<Option<usize>> {
    (0..table.columns.len()).map(|column| of_column(table, column)).collect()
}

/// The same for one column.
pub(super) fn of_column(table: &Table, column: usize) -> Option<usize> {
    if table.columns[column] != Align::Right {
        return None;
    }
    let (mut least, mut most) = (usize::MAX, 0);
    let mut unit: Option<String> = None;
    for cell in table.rows.iter().filter_map(|row| row.get(column)) {
        let text = plain_text(cell);
        if text.trim().is_empty() {
            continue;
        }
        // Inside other marks the number could not be filled up.
        alone(cell)?;
        let (number, behind) = split(&text)?;
        if unit.get_or_insert_with(|| behind.to_owned()) != behind {
            return None;
        }
        let decimals = decimals(number);
        (least, most) = (least.min(decimals), most.max(decimals));
    }
    (least < most && most <= MOST).then_some(most)
}

/// The text of a cell that holds nothing else; it may be a link or strong.
fn alone(cell: &[Inline]) -> Option<&str> {
    match cell {
        [Inline::Text(text)] => Some(text),
        [Inline::Link { body, .. } | Inline::Strong(body)] => alone(body),
        _ => None,
    }
}

/// A number and what stands behind it.
fn split(text: &str) -> Option<(&str, &str)> {
    let digits = text.strip_prefix(['-', '−']).unwrap_or(text);
    let end = digits.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(digits.len());
    let number = &digits[..end];
    let whole = number.starts_with(|c: char| c.is_ascii_digit()) && number.ends_with(|c: char| c.is_ascii_digit());
    let behind = &digits[end..];
    // A second number behind it, as in feet and inches, has a point of its own.
    let plain = whole && number.matches('.').count() <= 1 && !behind.contains(|c: char| c.is_ascii_digit());
    plain.then(|| text.split_at(text.len() - behind.len()))
}

fn decimals(number: &str) -> usize {
    number.split_once('.').map_or(0, |(_, decimals)| decimals.len())
}

/// A text in three: the number, the room it leaves free, and the rest; `None` where nothing is free.
pub(super) fn filled(text: &str, places: usize) -> Option<(&str, String, &str)> {
    let (number, behind) = split(text)?;
    let has = decimals(number);
    if has >= places {
        return None;
    }
    let point = if has == 0 { "." } else { "" };
    Some((number, format!("{point}{}", "0".repeat(places - has)), behind))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(cells: &[&str]) -> Table {
        let rows = cells.iter().map(|c| vec![vec![Inline::Text((*c).to_owned())]]).collect();
        Table { caption: Vec::new(), columns: vec![Align::Right], widths: None, head: vec![Vec::new()], rows }
    }

    #[test]
    fn only_numbers_of_one_unit_are_lined_up() {
        for (cells, expected) in [
            (&["1.54 lb", "12 lb", "", "7.5 lb"][..], Some(2)),
            (&["-4", "0.5"], Some(1)),
            (&["1.5 A", "2.5 A"], None),
            (&["1.5 A", "2 V"], None),
            (&["5 ft 3.25 in", "2 ft 1 in"], None),
            (&["1/0 AWG", "2 AWG"], None),
            (&["3 × 4.5 m", "2 m"], None),
            (&["1.", "2.25"], None),
            (&["1.123456", "2"], None),
        ] {
            assert_eq!(places(&table(cells)), [expected], "{cells:?}");
        }
    }

    #[test]
    fn room_is_left_for_what_is_not_there() {
        assert_eq!(filled("12 lb", 2), Some(("12", ".00".to_owned(), " lb")));
        assert_eq!(filled("−7.5 lb", 2), Some(("−7.5", "0".to_owned(), " lb")));
        assert_eq!(filled("1.54 lb", 2), None);
        assert_eq!(filled("", 2), None);
    }
}
