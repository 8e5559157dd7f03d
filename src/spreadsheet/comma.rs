//! Tables as comma-separated values: RFC 4180, UTF-8 without a byte order mark.

use super::{Cell, DataTable};
use std::borrow::Cow;

/// The table with a line of column heads.
///
/// Numbers are in the shortest form that reads back the same, dates as ISO 8601. Texts are [`guarded`].
///
/// # Errors
/// Where a row has another number of cells than there are columns.
pub fn csv(table: &DataTable) -> Result<Vec<u8>, String> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let heads: Vec<String> = table.columns.iter().map(super::Column::head).collect();
    writer.write_record(&heads).map_err(|e| e.to_string())?;
    for row in &table.rows {
        let cells: Vec<Cow<'_, str>> = row.iter().map(shown).collect();
        writer.write_record(cells.iter().map(|c| c.as_bytes())).map_err(|e| e.to_string())?;
    }
    writer.into_inner().map_err(|e| e.to_string())
}

fn shown(cell: &Cell) -> Cow<'_, str> {
    match cell {
        Cell::Empty => Cow::Borrowed(""),
        Cell::Text(text) => guarded(text),
        Cell::Number(number) => Cow::Owned(number.to_string()),
        Cell::Date(date) => Cow::Owned(date.to_string()),
    }
}

/// A text that no spreadsheet program takes for a formula: one that begins with `=`, `+`, `-`, `@` (or their full-width
/// forms), a tab or a line end gets a single quote before it, as OWASP's page "CSV Injection" advises. Numbers are never
/// guarded, so they stay numbers.
#[must_use]
pub fn guarded(text: &str) -> Cow<'_, str> {
    let starts = ['=', '+', '-', '@', '\t', '\r', '\n', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];
    if text.starts_with(starts) { Cow::Owned(format!("'{text}")) } else { Cow::Borrowed(text) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spreadsheet::Column;

    fn table(rows: Vec<Vec<Cell>>) -> DataTable {
        let column = |name, unit: &str| Column { name, unit: unit.to_owned() };
        DataTable { id: "t", name: "T", columns: vec![column("Name", ""), column("Load", "A")], rows }
    }

    #[test]
    fn a_formula_is_kept_from_being_one_and_numbers_stay_numbers() {
        let text = |t: &str| Cell::Text(t.to_owned());
        let rows = vec![
            vec![text("=cmd|' /C calc'!A0"), Cell::Number(-2.5)],
            vec![text("@SUM(1,2)"), Cell::Empty],
            vec![text("a \"b\"\r\nc"), Cell::Date(jiff::civil::date(2027, 5, 14))],
        ];
        let written = String::from_utf8(csv(&table(rows)).unwrap()).unwrap();
        let expected =
            "Name,Load (A)\r\n'=cmd|' /C calc'!A0,-2.5\r\n\"'@SUM(1,2)\",\r\n\"a \"\"b\"\"\r\nc\",2027-05-14\r\n";
        assert_eq!(written, expected);
        for start in ["+1", "-1", "\t=1", "\r=1", "\n=1", "＝1", "＠x"] {
            assert!(guarded(start).starts_with('\''), "{start:?}");
        }
        assert_eq!(guarded("A=1"), "A=1");
    }

    #[test]
    fn a_row_of_another_length_is_refused() {
        assert!(csv(&table(vec![vec![Cell::Empty]])).is_err());
    }
}
