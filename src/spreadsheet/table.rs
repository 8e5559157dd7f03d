//! A table of texts, numbers and dates.

use jiff::civil::Date;

/// A cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing is known or applies.
    Empty,
    /// A text; never a formula, whatever it begins with.
    Text(String),
    /// A number in the unit of its column.
    Number(f64),
    /// A day.
    Date(Date),
}

/// A column: what its cells are, and the unit of its numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// What.
    pub name: &'static str,
    /// Unit of the numbers, "" where they have none.
    pub unit: String,
}

impl Column {
    /// The head of the column: "Design current (A)".
    #[must_use]
    pub fn head(&self) -> String {
        if self.unit.is_empty() { self.name.to_owned() } else { format!("{} ({})", self.name, self.unit) }
    }
}

/// A table. Every row has as many cells as there are columns.
#[derive(Clone, Debug, PartialEq)]
pub struct DataTable {
    /// Name of its file: plain letters and hyphens.
    pub id: &'static str,
    /// Name of its sheet, at most 31 characters.
    pub name: &'static str,
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows.
    pub rows: Vec<Vec<Cell>>,
}
