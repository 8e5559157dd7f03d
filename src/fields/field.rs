//! The value of one field as a struct holds it: typed, with its place and whether the spec gave it.

use super::{FieldType, Record, Value};
use crate::source::{Span, Spanned};
use crate::units::{self, ConductorSize, Quantity, System};
use jiff::civil::Date;
use serde::Serialize;

/// What a spec, or the kind's default, says in a field.
///
/// Without a value nothing is said, or a finding tells why it cannot be read: what is reckoned from it goes unsaid too.
/// What stands in where a spec says nothing is a default of the declaration, never of who reads it.
#[derive(Clone, Debug, Serialize)]
pub struct Field<T> {
    value: Option<T>,
    /// As the spec or the kind wrote it, for a number with a unit.
    #[serde(skip)]
    quantity: Option<Quantity>,
    /// Its name in specs; "" where a kind alone knows it.
    #[serde(skip)]
    pub name: &'static str,
    /// Where it stands; where it does not, the place of the table.
    #[serde(skip)]
    pub span: Span,
    /// Whether the spec itself gave it.
    pub given: bool,
    /// The spec gives it, but so that it cannot be read: a finding stands for it already.
    pub faulty: bool,
}

impl<T: FieldValue> Field<T> {
    /// The field `name` of a record.
    #[must_use]
    pub fn of(record: &Record, name: &'static str) -> Self {
        Self { name, ..Self::at(record, name) }
    }

    /// The field of a record that a kind names; nothing where it names none.
    #[must_use]
    pub fn named(record: &Record, name: Option<&str>) -> Self
    where
        T: Clone + 'static,
    {
        name.map_or_else(|| Self::NONE.clone(), |name| Self::at(record, name))
    }

    /// The field of a record that a kind names.
    #[must_use]
    pub fn at(record: &Record, name: &str) -> Self {
        let entry = record.get(name);
        Self {
            name: "",
            quantity: entry.and_then(|e| match &e.value {
                Value::Quantity(quantity) => Some(quantity.clone()),
                _ => None,
            }),
            value: entry.and_then(|e| T::of(&e.value)),
            span: entry.map_or(record.span, |e| e.span),
            given: entry.is_some_and(|e| e.given),
            faulty: record.faulty.contains(name),
        }
    }
}

impl<T: 'static> Field<T> {
    /// Nothing told, nowhere.
    pub const NONE: &'static Self =
        &Self { value: None, quantity: None, name: "", span: Span { start: 0, end: 0 }, given: false, faulty: false };
}

impl<T: Copy> Field<T> {
    /// The value, where there is one.
    #[must_use]
    pub fn get(&self) -> Option<T> {
        self.value
    }
}

impl<T> Field<T> {
    /// The value, where there is one.
    #[must_use]
    pub const fn as_ref(&self) -> Option<&T> {
        self.value.as_ref()
    }
}

impl<T> Field<T> {
    /// A number with a unit as documents print it; as written, where that is in their units.
    #[must_use]
    pub fn show(&self, system: System) -> Option<String> {
        self.quantity.as_ref().map(|q| q.show(system))
    }

    /// A number with a unit as it is written.
    #[must_use]
    pub fn written(&self) -> Option<&str> {
        self.quantity.as_ref().map(|q| q.written.as_str())
    }
}

impl Field<bool> {
    /// Whether it is said not to be so.
    #[must_use]
    pub fn is_off(&self) -> bool {
        self.value == Some(false)
    }

    /// Whether it is set; not where nothing says so.
    #[must_use]
    pub fn is_set(&self) -> bool {
        self.value == Some(true)
    }
}

/// A text, prose, or a word of a choice.
macro_rules! words {
    ($($name:ident $ty:ident $variant:ident $doc:literal;)*) => {$(
        #[doc = $doc]
        #[derive(Clone, Debug, PartialEq, Eq, Serialize)]
        #[serde(transparent)]
        pub struct $name(pub String);

        impl FieldValue for $name {
            const TYPE: FieldType = FieldType::$ty;
            fn of(value: &Value) -> Option<Self> {
                match value { Value::$variant(text) => Some(Self(text.clone())), _ => None }
            }
        }

        impl Field<$name> {
            /// The words, where there are some.
            #[must_use]
            pub fn text(&self) -> Option<&str> {
                self.value.as_ref().map(|v| v.0.as_str())
            }

            /// The words; "" where there are none.
            #[must_use]
            pub fn or_empty(&self) -> &str {
                self.text().unwrap_or_default()
            }

            /// Whether it is that word.
            #[must_use]
            pub fn is(&self, word: &str) -> bool {
                self.text() == Some(word)
            }
        }
    )*};
}

words! {
    Text Text Text "Plain text.";
    Switch Switch Text "A component and a switch on it, as written: \"control-panel.pump\".";
    Prose Prose Prose "Inline Markdown.";
    Choice Choice Choice "One of the words a kind knows.";
    MonthDay MonthDay Text "Month and day of any year, as written: \"10-15\".";
}

/// Ids or texts, one or a list of them.
macro_rules! lists {
    ($($name:ident $ty:ident $variant:ident $doc:literal;)*) => {$(
        #[doc = $doc]
        #[derive(Clone, Debug, PartialEq, Serialize)]
        #[serde(transparent)]
        pub struct $name(pub Vec<Spanned<String>>);

        impl FieldValue for $name {
            const TYPE: FieldType = FieldType::$ty;
            fn of(value: &Value) -> Option<Self> {
                match value { Value::$variant(list) => Some(Self(list.clone())), _ => None }
            }
        }

        impl Field<$name> {
            /// All of them; none where nothing is said.
            #[must_use]
            pub fn all(&self) -> &[Spanned<String>] {
                self.value.as_ref().map_or(&[], |v| &v.0)
            }

            /// The first.
            #[must_use]
            pub fn first(&self) -> Option<&str> {
                self.all().first().map(|id| id.value.as_str())
            }

            /// Whether it is among them.
            #[must_use]
            pub fn names(&self, id: &str) -> bool {
                self.all().iter().any(|one| one.value == id)
            }
        }
    )*};
}

lists! {
    Component Component Components "Id of a component.";
    Components Components Components "Ids of components.";
    Place Place Places "Id of a place.";
    Places Places Places "Ids of places.";
    Texts Texts Texts "Plain texts.";
}

/// One of some words for each of some fields.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Choices(pub Vec<(Spanned<String>, Spanned<String>)>);

impl FieldValue for Choices {
    const TYPE: FieldType = FieldType::ChoiceByField;
    fn of(value: &Value) -> Option<Self> {
        match value {
            Value::Choices(words) => Some(Self(words.clone())),
            _ => None,
        }
    }
}

impl Field<Choices> {
    /// Fields with their words, in the order of the spec.
    #[must_use]
    pub fn all(&self) -> &[(Spanned<String>, Spanned<String>)] {
        self.value.as_ref().map_or(&[], |v| &v.0)
    }

    /// The word for a field.
    #[must_use]
    pub fn word(&self, field: &str) -> Option<&str> {
        self.all().iter().find(|(name, _)| name.value == field).map(|(_, word)| word.value.as_str())
    }
}

/// What a field of a struct can hold.
pub trait FieldValue: Sized {
    /// How such a field is declared.
    const TYPE: FieldType;
    /// The value, if it is one of these.
    fn of(value: &Value) -> Option<Self>;
}

macro_rules! quantities {
    ($($ty:ident)*) => {$(
        impl FieldValue for units::$ty {
            const TYPE: FieldType = FieldType::Quantity(units::$ty::DIMENSION);
            fn of(value: &Value) -> Option<Self> {
                match value {
                    Value::Quantity(q) if q.dimension == units::$ty::DIMENSION && q.value.is_finite() => Some(Self(q.value)),
                    _ => None,
                }
            }
        }
    )*};
}

quantities! {
    Amps Volts Ohms Watts WattHours AmpHours Metres Celsius Kilograms Seconds Ratio
    SquareMetres Litres Kilometres Kilopascals LitresPerMinute Newtons NewtonMetres Degrees WattsPerMetreKelvin Irradiation HeatTransfer
}

macro_rules! plain {
    ($($ty:ty, $kind:ident;)*) => {$(
        impl FieldValue for $ty {
            const TYPE: FieldType = FieldType::$kind;
            fn of(value: &Value) -> Option<Self> {
                match value { Value::$kind(v) => Some(*v), _ => None }
            }
        }
    )*};
}

plain! {
    bool, Flag;
    i64, Count;
    Date, Date;
    ConductorSize, Conductor;
}

/// Three lengths along the axes of the vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Lengths3(pub [units::Metres; 3]);

impl Field<Lengths3> {
    /// The three in metres.
    #[must_use]
    pub fn metres(&self) -> Option<[f64; 3]> {
        self.get().map(|lengths| lengths.0.map(|metres| metres.0))
    }
}

impl FieldValue for Lengths3 {
    const TYPE: FieldType = FieldType::Lengths3;
    fn of(value: &Value) -> Option<Self> {
        lengths(value).map(Self)
    }
}

/// Two lengths, to the right and up.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Lengths2(pub [units::Metres; 2]);

impl Field<Lengths2> {
    /// The two in metres.
    #[must_use]
    pub fn metres(&self) -> Option<[f64; 2]> {
        self.get().map(|lengths| lengths.0.map(|metres| metres.0))
    }
}

impl FieldValue for Lengths2 {
    const TYPE: FieldType = FieldType::Lengths2;
    fn of(value: &Value) -> Option<Self> {
        lengths(value).map(Self)
    }
}

/// So many lengths.
fn lengths<const N: usize>(value: &Value) -> Option<[units::Metres; N]> {
    let Value::Quantities(list) = value else { return None };
    let metres: Vec<_> = list.iter().map(|q| units::Metres(q.value.value)).collect();
    metres.try_into().ok()
}

/// Points along a way, each by three lengths along the axes of the vehicle, in metres.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Points(pub Vec<[f64; 3]>);

impl Field<Points> {
    /// All of them; none where nothing is said.
    #[must_use]
    pub fn all(&self) -> &[[f64; 3]] {
        self.as_ref().map_or(&[], |points| &points.0)
    }

    /// Length from the first to the last, in metres.
    #[must_use]
    pub fn length(&self) -> units::Metres {
        let between = |two: &[[f64; 3]]| -> f64 {
            let squares = (0..3).map(|axis| (two[1][axis] - two[0][axis]).powi(2));
            squares.sum::<f64>().sqrt()
        };
        units::Metres(self.all().windows(2).map(between).sum())
    }
}

impl FieldValue for Points {
    const TYPE: FieldType = FieldType::Points;
    fn of(value: &Value) -> Option<Self> {
        let Value::Points(list) = value else { return None };
        let point = |p: &Spanned<Vec<Quantity>>| {
            let metres: Vec<f64> = p.value.iter().map(|q| q.value).collect();
            metres.try_into().ok()
        };
        list.iter().map(point).collect::<Option<_>>().map(Self)
    }
}

/// Currency and amount.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Price {
    /// Three capital letters (ISO 4217).
    pub currency: String,
    /// In the currency's main unit.
    pub amount: f64,
}

impl FieldValue for Price {
    const TYPE: FieldType = FieldType::Price;
    fn of(value: &Value) -> Option<Self> {
        match value {
            Value::Price { currency, amount } => Some(Self { currency: currency.clone(), amount: *amount }),
            _ => None,
        }
    }
}

/// Declares a struct of a section: a [`Field`] for each of its fields, read from its record.
macro_rules! typed {
    (
        $(#[doc = $about:literal])+
        $name:ident = $section:literal { $($(#[doc = $what:literal])+ $field:ident: $ty:ty;)* }
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, Debug)]
        pub struct $name {
            /// Where it stands.
            pub span: crate::source::Span,
            $($(#[doc = $what])+ pub $field: crate::fields::Field<$ty>,)*
        }

        impl $name {
            /// Names and types of its fields.
            #[cfg(test)]
            pub(super) const FIELDS: &[(&str, crate::fields::FieldType)] =
                &[$((stringify!($field), <$ty as crate::fields::FieldValue>::TYPE),)*];

            /// The section with these values.
            #[must_use]
            pub fn of(record: &crate::fields::Record) -> Self {
                Self { span: record.span, $($field: crate::fields::Field::of(record, stringify!($field)),)* }
            }
        }
    };
}
pub(crate) use typed;
