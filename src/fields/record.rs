//! A table of a spec, decoded by its declarations.

use super::declare::FieldDecl;
use crate::source::{Span, Spanned};
use crate::units::{ConductorSize, Dimension, Quantity, System, print};
use indexmap::IndexMap;
use jiff::civil::Date;
use serde::Serialize;
use std::collections::BTreeSet;

/// A decoded value.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Value {
    /// A number with a unit.
    Quantity(Quantity),
    /// Several numbers with units, as in `at = ["2.35 m", "-0.55 m", "0.60 m"]`.
    Quantities(Vec<Spanned<Quantity>>),
    /// Points of three lengths each.
    Points(Vec<Spanned<Vec<Quantity>>>),
    /// Plain text.
    Text(String),
    /// Text with inline Markdown.
    Prose(String),
    /// true or false.
    Flag(bool),
    /// A whole number.
    Count(i64),
    /// One of the declared words.
    Choice(String),
    /// A calendar date.
    Date(Date),
    /// Ids of components.
    Components(Vec<Spanned<String>>),
    /// Ids of places.
    Places(Vec<Spanned<String>>),
    /// Plain texts.
    Texts(Vec<Spanned<String>>),
    /// A conductor size.
    Conductor(ConductorSize),
    /// Currency (ISO 4217) and amount.
    Price {
        /// Three capital letters.
        currency: String,
        /// In the currency's main unit.
        amount: f64,
    },
    /// Small tables.
    Rows(Vec<Record>),
    /// Fields, each with one of the declared words, in the order of the spec.
    Choices(Vec<(Spanned<String>, Spanned<String>)>),
    /// What the part has several of, each by its id.
    Parts(Vec<(Spanned<String>, Record)>),
}

/// Values of one table, by field name, in the order of the file. Defaults are filled in with `given: false`.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Record {
    /// Where the table's header (or its key) stands.
    pub span: Span,
    /// Value by field name.
    pub fields: IndexMap<String, Entry>,
    /// Fields that the spec gives, but so that they cannot be read: a finding stands for each already.
    #[serde(skip)]
    pub faulty: BTreeSet<String>,
    /// Fields that stay in the shop and with the owner.
    #[serde(skip)]
    pub private: BTreeSet<String>,
}

/// A value, its place, and whether the spec gave it or the declaration's default stands in.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Entry {
    /// The value.
    pub value: Value,
    /// Place of the value; for a default, the table's place.
    pub span: Span,
    /// Whether the spec gave it.
    pub given: bool,
    /// Whether it tells where its part is: by the declaration of its field.
    #[serde(skip)]
    pub tells_place: bool,
}

impl Entry {
    /// A value of a field that is so declared.
    #[must_use]
    pub fn of(decl: &FieldDecl, value: Value, span: Span, given: bool) -> Self {
        Self { value, span, given, tells_place: decl.tells_place() }
    }
}

impl Record {
    /// Makes a default `times` as high, written anew; what the spec gave stays.
    pub fn scale_default(&mut self, field: &str, times: f64) {
        let Some(entry) = self.fields.get_mut(field).filter(|e| !e.given) else { return };
        if let Value::Quantity(quantity) = &mut entry.value {
            quantity.value *= times;
            quantity.written = print(quantity.dimension, quantity.value, System::Metric);
        }
    }

    /// The entry of `field`, given or default.
    #[must_use]
    pub fn get(&self, field: &str) -> Option<&Entry> {
        self.fields.get(field)
    }

    /// Whether the spec itself gave `field`.
    #[must_use]
    pub fn gave(&self, field: &str) -> bool {
        self.get(field).is_some_and(|e| e.given)
    }

    /// The fields that may stand in data and records: all that are not private.
    pub fn open(&self) -> impl Iterator<Item = (&String, &Entry)> {
        self.fields.iter().filter(|(name, _)| !self.private.contains(*name))
    }

    /// Place of `field` where it stands, else of the table.
    #[must_use]
    pub fn span_of(&self, field: &str) -> Span {
        self.get(field).map_or(self.span, |e| e.span)
    }

    /// The quantity in `field`, if it is one of `dimension`.
    #[must_use]
    pub fn quantity(&self, field: &str, dimension: Dimension) -> Option<&Quantity> {
        match &self.get(field)?.value {
            Value::Quantity(q) if q.dimension == dimension => Some(q),
            _ => None,
        }
    }

    /// The text, prose or choice in `field`.
    #[must_use]
    pub fn text(&self, field: &str) -> Option<&str> {
        match &self.get(field)?.value {
            Value::Text(t) | Value::Prose(t) | Value::Choice(t) => Some(t),
            _ => None,
        }
    }

    /// The flag in `field`; `false` where there is none.
    #[must_use]
    pub fn flag(&self, field: &str) -> bool {
        matches!(self.get(field).map(|e| &e.value), Some(Value::Flag(true)))
    }

    /// The whole number in `field`.
    #[must_use]
    pub fn count(&self, field: &str) -> Option<i64> {
        match self.get(field)?.value {
            Value::Count(n) => Some(n),
            _ => None,
        }
    }

    /// The date in `field`.
    #[must_use]
    pub fn date(&self, field: &str) -> Option<Date> {
        match self.get(field)?.value {
            Value::Date(d) => Some(d),
            _ => None,
        }
    }

    /// The conductor size in `field`.
    #[must_use]
    pub fn conductor(&self, field: &str) -> Option<ConductorSize> {
        match self.get(field)?.value {
            Value::Conductor(c) => Some(c),
            _ => None,
        }
    }

    /// The ids or texts in `field`; empty where there are none.
    #[must_use]
    pub fn list(&self, field: &str) -> &[Spanned<String>] {
        match self.get(field).map(|e| &e.value) {
            Some(Value::Components(l) | Value::Places(l) | Value::Texts(l)) => l,
            _ => &[],
        }
    }

    /// The small tables in `field`; empty where there are none.
    #[must_use]
    pub fn rows(&self, field: &str) -> &[Self] {
        match self.get(field).map(|e| &e.value) {
            Some(Value::Rows(rows)) => rows,
            _ => &[],
        }
    }

    /// What the part has several of in `field`, each by its id; empty where it has none.
    #[must_use]
    pub fn parts(&self, field: &str) -> &[(Spanned<String>, Self)] {
        match self.get(field).map(|e| &e.value) {
            Some(Value::Parts(parts)) => parts,
            _ => &[],
        }
    }
}

macro_rules! typed_getters {
    ($($name:ident $ty:ident;)*) => {
        impl Record {$(
            #[doc = concat!("`", stringify!($ty), "` in `field`, given or default.")]
            #[must_use]
            pub fn $name(&self, field: &str) -> Option<crate::units::$ty> {
                self.quantity(field, crate::units::$ty::DIMENSION).map(|q| crate::units::$ty(q.value))
            }
        )*}
    };
}

typed_getters! {
    amps Amps;
    watts Watts;
    metres Metres;
    celsius Celsius;
    kilograms Kilograms;
    ratio Ratio;
    volts Volts;
}
