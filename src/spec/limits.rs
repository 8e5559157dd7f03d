//! How large anything in a spec may be. No van comes near; a file that goes beyond is damaged, another kind of file, or
//! meant to harm, and is told so before it costs time or memory.
//!
//! Numbers with units end at 10¹² of the base unit (`units`), intervals at 200 years (`compute::time`).

/// Bytes of the file. The largest spec in `specs/` has a tenth of it.
pub(super) const LARGEST_FILE: usize = 1_000_000;

/// Levels of tables and lists, dots in names counted.
pub(super) const DEEPEST: usize = 32;

/// Entries of one section, table or list.
pub(super) const MOST_ENTRIES: usize = 1_000;

/// Components, counting each of a `count`.
pub(super) const MOST_PIECES: usize = 20_000;

/// Characters of a text that documents print as one thing: a name, an address, a step.
pub(super) const LONGEST_TEXT: usize = 1_000;

/// Characters of a text that may run over pages: a note.
pub(super) const LONGEST_PROSE: usize = 20_000;

/// Characters of an id, and of a word that another is looked for in its place.
pub(super) const LONGEST_ID: usize = 64;

/// Whole number, above and below zero, where the declaration sets no bound.
pub(super) const LARGEST_COUNT: i64 = 1_000_000;

/// Years a van may see.
pub(super) const YEARS: std::ops::RangeInclusive<i16> = 1950..=2150;

/// Components that one copies from, one through the other.
pub(super) const LONGEST_LIKE: usize = 16;
