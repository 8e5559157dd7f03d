//! Plain tables as a workbook and as CSV. This room sees tables of texts and numbers, never the build.

mod comma;
mod table;
mod workbook;

pub use comma::{csv, guarded};
pub use table::{Cell, Column, DataTable};
pub use workbook::{About, workbook};
