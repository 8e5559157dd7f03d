//! Data tables: what the schedule, the calendar and the calculation sheet print, as plain tables with numbers.
//!
//! Texts come from the views of those documents, numbers from the figures they print: in the one unit of their column,
//! with six significant digits.

mod circuits;
mod figures;
mod parts;
mod resolve;
pub(crate) mod whole;
mod work;

pub(crate) use resolve::whole;

use super::Context;
use crate::spreadsheet::{Cell, Column, DataTable};
use crate::units::{Dimension, System, significant};
use jiff::civil::Date;

/// Tables that are also written as CSV.
pub(crate) const AS_CSV: &[&str] =
    &["components", "circuits", "conductors", "openings", "panel-stickers", "wire-labels"];

/// Every table of a build that has something in it, in a fixed order.
#[must_use]
pub(crate) fn tables(context: &Context<'_>) -> Vec<DataTable> {
    let all = [
        parts::components(context),
        parts::removed(context),
        circuits::circuits(context),
        circuits::panels(context),
        circuits::conductors(context),
        circuits::labels(context),
        circuits::cable(context),
        circuits::fuses(context),
        circuits::small_parts(context),
        parts::purchase(context),
        work::openings(context),
        work::tasks(context),
        work::upkeep(context),
        figures::ledger(context),
        figures::weights(context),
        parts::serials(context),
    ];
    all.into_iter().filter(|t| !t.rows.is_empty()).collect()
}

/// A table being made: one row for each of `rows`, columns added one by one.
struct Making<'r, R> {
    table: DataTable,
    rows: &'r [R],
}

fn table<'r, R>(id: &'static str, name: &'static str, rows: &'r [R]) -> Making<'r, R> {
    Making { table: DataTable { id, name, columns: Vec::new(), rows: vec![Vec::new(); rows.len()] }, rows }
}

impl<'r, R> Making<'r, R> {
    fn column(mut self, name: &'static str, unit: String, of: impl Fn(&'r R) -> Cell) -> Self {
        self.table.columns.push(Column { name, unit });
        for (row, from) in self.table.rows.iter_mut().zip(self.rows) {
            row.push(of(from));
        }
        self
    }

    /// A column of cells of any kind.
    fn cells(self, name: &'static str, of: impl Fn(&'r R) -> Cell) -> Self {
        self.column(name, String::new(), of)
    }

    /// A column of texts; "" leaves the cell empty.
    fn text<T: Into<String>>(self, name: &'static str, of: impl Fn(&'r R) -> T) -> Self {
        self.cells(name, |row| {
            let text: String = of(row).into();
            if text.is_empty() { Cell::Empty } else { Cell::Text(text) }
        })
    }

    /// A column of plain numbers in `unit`.
    fn number(self, name: &'static str, unit: &str, of: impl Fn(&'r R) -> Option<f64>) -> Self {
        self.column(name, unit.to_owned(), |row| of(row).map_or(Cell::Empty, number_cell))
    }

    /// A column of quantities, given in the inside unit of their dimension.
    fn quantity(
        self,
        name: &'static str,
        dimension: Dimension,
        system: System,
        of: impl Fn(&'r R) -> Option<f64>,
    ) -> Self {
        let unit = dimension.column_unit(system);
        self.number(name, &unit.printed(), |row| of(row).map(|value| unit.of_inside(value)))
    }

    /// A column of days.
    fn day(self, name: &'static str, of: impl Fn(&'r R) -> Option<Date>) -> Self {
        self.cells(name, |row| of(row).map_or(Cell::Empty, Cell::Date))
    }

    fn done(self) -> DataTable {
        self.table
    }
}

/// Six significant digits: more than any input has, without the tails of binary arithmetic.
fn number_cell(value: f64) -> Cell {
    significant(value, 6).parse().map_or(Cell::Empty, Cell::Number)
}

/// Numbers that count things.
fn count(n: usize) -> f64 {
    u32::try_from(n).map_or(f64::MAX, f64::from)
}

const fn yes(flag: bool) -> &'static str {
    if flag { "yes" } else { "" }
}
