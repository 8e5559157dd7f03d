//! What does not hold in the file of a kind, and where.

use crate::catalogue;
use crate::fields::{Declarations, FieldType};
use crate::source::Span;
use std::fmt;
use toml::de::{DeArray, DeTable, DeValue};

/// A kind file that does not hold together. Embedded ones are covered by tests.
#[derive(Clone, Debug)]
pub struct KindError {
    /// Kind; "" where it is not one kind that is at fault, but what all stand on.
    pub kind: String,
    /// Line and column, both from 1.
    pub at: Option<(usize, usize)>,
    /// What is wrong.
    pub message: String,
    /// Whether it bears the name of a built-in kind without being like it.
    pub shadows: bool,
}

impl fmt::Display for KindError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.kind.is_empty() {
            return f.write_str(&self.message);
        }
        write!(f, "kinds/{}.toml", self.kind)?;
        if let Some((line, column)) = self.at {
            write!(f, ":{line}:{column}")?;
        }
        write!(f, ": {}", self.message)
    }
}

impl std::error::Error for KindError {}

/// Of what all kinds stand on.
impl From<catalogue::Fault> for KindError {
    fn from(fault: catalogue::Fault) -> Self {
        Self { kind: String::new(), at: None, message: fault.to_string(), shadows: false }
    }
}

/// What is wrong with a kind, and where.
#[derive(Debug)]
pub(super) struct Fault {
    pub(super) at: Place,
    pub(super) message: String,
}

/// A key and what is wrong with it.
pub(super) type Wrong = (&'static str, String);

/// What is wrong with a setting `key` that names the field `name`: it must be there, and be of one of these types.
pub(super) fn misnamed(fields: &Declarations, key: &str, name: &str, types: &[FieldType]) -> Option<String> {
    match fields.get(name) {
        Some(there) if types.contains(&there.ty) => None,
        Some(there) => {
            Some(format!("`{key}` needs a field that is {}; `{name}` is {}", types[0].word(), there.ty.word()))
        }
        None => Some(format!("`{key}` names `{name}`, which is no field of this kind")),
    }
}

/// A place in the file of a kind.
#[derive(Debug)]
pub(super) enum Place {
    /// Keys from the top of the file, the number of an entry for lists.
    Keys(Vec<String>),
    /// A byte.
    Byte(usize),
}

impl Fault {
    pub(super) fn at(path: &[&str], message: String) -> Self {
        Self { at: Place::Keys(path.iter().map(|&key| key.to_owned()).collect()), message }
    }

    pub(super) const fn of_text(span: Span, message: String) -> Self {
        Self { at: Place::Byte(span.start), message }
    }
}

impl Place {
    /// The byte; of keys that of the deepest one that the table of the kind has.
    pub(super) fn byte_in(&self, table: &DeTable<'_>) -> Option<usize> {
        let keys = match self {
            Self::Byte(byte) => return Some(*byte),
            Self::Keys(keys) => keys,
        };
        let mut found = None;
        let mut inside: Inside<'_, '_> = Inside::Table(table);
        for key in keys {
            let next = match inside {
                Inside::Table(table) => {
                    let Some((name, value)) = table.iter().find(|(k, _)| k.get_ref() == key) else { break };
                    found = Some(name.span().start);
                    value
                }
                Inside::List(list) => {
                    let Some(value) = key.parse().ok().and_then(|n: usize| list.get(n)) else { break };
                    found = Some(value.span().start);
                    value
                }
            };
            match next.get_ref() {
                DeValue::Table(table) => inside = Inside::Table(table),
                DeValue::Array(list) => inside = Inside::List(list),
                _ => break,
            }
        }
        found
    }
}

enum Inside<'a, 'i> {
    Table(&'a DeTable<'i>),
    List(&'a DeArray<'i>),
}
