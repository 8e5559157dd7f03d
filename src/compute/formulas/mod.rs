//! The formulas behind the figures, each with its symbols and sources, one file a field.
//!
//! One entry here is one table of the calculation sheet.

pub mod air;
pub mod electrical;
pub mod energy;
pub mod geometry;
pub mod heat;
pub mod mechanics;
pub mod solar;
pub mod water;
pub mod weight;

use super::ledger::Formula;

/// Declares the formulas of a field: name, id, title, expression, symbols, sources. A symbol that is a limit says so
/// (`("I_max", "limit of the bank", Most)`), a formula that gives one too (`gives Most`). One whose limit judges only
/// a part of the question says what (`judges "bolts hold", "bolts too weak", "sheet not judged"`).
macro_rules! formulas {
    (@maybe) => { None };
    (@maybe $some:expr) => { Some($some) };
    ($($(#[$doc:meta])* $name:ident $id:literal, $title:literal, $expression:literal, [$(($symbol:literal, $meaning:literal $(, $bound:ident)?)),* $(,)?], [$($source:ident),*] $(, gives $gives:ident)? $(, judges $holds:literal, $fails:literal, $open:literal)?;)*) => {
        use crate::compute::ledger::Formula;
        use crate::tables::sources as s;

        $($(#[$doc])* pub static $name: Formula = Formula {
            id: $id, name: $title, expression: $expression,
            symbols: &[$(($symbol, $meaning)),*],
            bounds: &[$(crate::compute::formulas::formulas!(@maybe $(crate::units::Bound::$bound)?)),*],
            sources: &[$(&s::$source),*],
            gives: crate::compute::formulas::formulas!(@maybe $(crate::units::Bound::$gives)?),
            judges: crate::compute::formulas::formulas!(@maybe $(crate::compute::ledger::Judges { holds: $holds, fails: $fails, open: $open })?),
        };)*

        /// The formulas of this field, in the order of the calculation sheet.
        pub static ALL: &[&Formula] = &[$(&$name),*];
    };
}
pub(crate) use formulas;

/// The fields with their titles, in the order of the calculation sheet.
pub static CHAPTERS: &[(&str, &[&Formula])] = &[
    ("Circuits, bank and arrays", electrical::ALL),
    ("Sun", solar::ALL),
    ("Energy of a day", energy::ALL),
    ("Water", water::ALL),
    ("Heat, cooling and frost", heat::ALL),
    ("Weight", weight::ALL),
    ("Measures and angles", geometry::ALL),
    ("Fastening and struts", mechanics::ALL),
    ("Compressed air", air::ALL),
];

/// All formulas, in the order of the calculation sheet.
pub fn all() -> impl Iterator<Item = &'static Formula> {
    CHAPTERS.iter().flat_map(|(_, formulas)| formulas.iter().copied())
}

/// The formula with this id.
#[must_use]
pub fn by_id(id: &str) -> Option<&'static Formula> {
    all().find(|f| f.id == id)
}
