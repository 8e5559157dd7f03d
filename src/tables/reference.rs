//! Test help: reads the tables of `tests/reference/`, which come from outside this project.

use std::collections::BTreeMap;

/// One row: cell by column name.
pub(crate) type Row = BTreeMap<String, String>;

/// Rows of `tests/reference/<name>.csv`; its first line is the source, its second the header.
pub(crate) fn rows(name: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    let mut lines = text.lines();
    assert!(lines.next().is_some_and(|l| l.starts_with("# source:")), "{name}: no source line");
    let header = cells(lines.next().unwrap_or(""));
    let rows: Vec<Row> = lines.map(|l| header.iter().cloned().zip(cells(l)).collect()).collect();
    assert!(!rows.is_empty(), "{name}: no rows");
    rows
}

/// The number in a cell.
pub(crate) fn num(row: &Row, column: &str) -> f64 {
    let cell = row.get(column).unwrap_or_else(|| panic!("no column {column}"));
    cell.parse().unwrap_or_else(|_| panic!("{column}: {cell} is not a number"))
}

fn cells(line: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => out.push(String::new()),
            _ => out.last_mut().into_iter().for_each(|cell| cell.push(c)),
        }
    }
    out
}
