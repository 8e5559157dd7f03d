//! Declarations of the fields a spec may give, and the values read by them.
//!
//! Kinds (`templates/kinds/*.toml`) and the fixed sections (`templates/spec/sections.toml`) declare their fields in
//! the same form, so one decoder, one JSON Schema and one help text serve both.

mod declare;
mod field;
mod placeholder;
mod record;
mod rows;

pub use declare::{Change, Declarations, FieldDecl, FieldType, RowsOf};
pub(crate) use field::typed;
pub use field::{
    Choice, Choices, Component, Components, Field, FieldValue, Lengths2, Lengths3, MonthDay, Place, Places, Points,
    Price, Prose, Switch, Text, Texts,
};
pub use placeholder::is_placeholder;
pub use record::{Entry, Record, Value};
pub use rows::{Cautions, Readings, Troubles};

use crate::catalogue::Catalogue;
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// The fields of every kind that the spec reader may meet.
#[derive(Clone, Debug, Default)]
pub struct KindFields {
    /// Fields by kind: the common ones and the kind's own.
    pub kinds: IndexMap<String, Declarations>,
    /// Kinds of which the file does not read: nobody knows what fields they have.
    pub unread: BTreeSet<String>,
    /// Where the words of the kinds stand, to tell which is meant by one that is not known.
    pub catalogue: Option<Catalogue>,
}
