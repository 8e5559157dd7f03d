//! The field that is being read: whose it is, what it takes, and how its faults are told.

use super::suggest::{ID, listed};
use super::tree::Item;
use crate::diag::Finding;
use crate::fields::{FieldDecl, FieldType};
use crate::source::{SourceFile, Span};
use crate::units::Dimension;

/// The field that is being read.
pub(super) struct Field<'a> {
    /// The spec, with the files of a shop behind it.
    pub(super) file: &'a SourceFile,
    /// Whose field it is, for headlines: `fridge`, `vehicle`.
    pub(super) owner: &'a str,
    /// Id of the component, place or task, for the finding.
    pub(super) subject: Option<&'a str>,
    /// Its name.
    pub(super) name: &'a str,
    /// Its declaration.
    pub(super) decl: &'a FieldDecl,
}

impl Field<'_> {
    /// An error about this field; `fault` completes the sentence that begins with its name.
    pub(super) fn error(&self, name: &'static str, fault: &str, span: Span, here: &str) -> Finding {
        about(Finding::error(name, format!("{}: `{}` {fault}", self.owner, self.name)).at(span, here), self.subject)
    }

    /// An id in it is none.
    pub(super) fn not_an_id(&self, id: &str, span: Span) -> Finding {
        self.error("id-not-plain", &format!("has the id \"{id}\", which is no id"), span, "not an id").help(ID)
    }

    /// The value is of another type than declared.
    pub(super) fn wrong_type(&self, item: &Item) -> Finding {
        let word = item.node.word();
        self.error("wrong-type", &format!("cannot be {word}"), item.span, word).help(format!("give {}", self.expects()))
    }

    /// What the field takes, as a clause.
    pub(super) fn expects(&self) -> String {
        expected(self.decl)
    }

    /// A likely spelling of such a quantity.
    pub(super) fn example(&self, dimension: Dimension) -> String {
        example(self.decl, dimension)
    }
}

/// What a field takes, in words, with an example.
pub(super) fn expected(decl: &FieldDecl) -> String {
    match decl.ty {
        FieldType::Quantity(d) => format!("{} in quotes, like \"{}\"", d.a_word(), example(decl, d)),
        FieldType::Lengths3 => "three lengths, like [\"2.35 m\", \"0.55 m\", \"0.60 m\"]".into(),
        FieldType::Lengths2 => "two lengths, like [\"250 mm\", \"400 mm\"]".into(),
        FieldType::Points => {
            "a list of points, like [[\"4.1 m\", \"0.8 m\", \"0.3 m\"], [\"4.1 m\", \"0.8 m\", \"0.9 m\"]]".into()
        }
        FieldType::Text | FieldType::Prose => "a text in quotes".into(),
        FieldType::Flag => "true or false".into(),
        FieldType::Count => "a whole number".into(),
        FieldType::Choice => format!("one of {}", listed(decl.choices.iter().map(String::as_str), 20)),
        FieldType::Date => "a date like 2027-05-14".into(),
        FieldType::MonthDay => "month and day, like \"10-15\"".into(),
        FieldType::Switch => "a component and a switch on it in quotes, like \"control-panel.pump\"".into(),
        FieldType::Component => "the id of a component in quotes".into(),
        FieldType::Components => "the id of a component in quotes, or a list of them".into(),
        FieldType::Place => "the id of a place in quotes".into(),
        FieldType::Places => "the id of a place in quotes, or a list of them".into(),
        FieldType::Texts => "a list of texts, like [\"first\", \"second\"]".into(),
        FieldType::Conductor => "a conductor size, like \"10 AWG\" or \"6 mm2\"".into(),
        FieldType::Price => "a price, like \"EUR 240\"".into(),
        FieldType::Rows(of) => format!("a list of tables, like [{}]", of.example()),
        FieldType::Parts => {
            let some = listed(decl.has.keys().map(String::as_str), 3);
            format!("a table for each by its id, like {{ first = {{ … }} }}, with {some}")
        }
        FieldType::ChoiceByField => {
            let words = listed(decl.choices.iter().map(String::as_str), 20);
            format!("fields of this table, each with one of {words}")
        }
    }
}

/// A likely spelling of such a quantity: the declared default or bound, else the dimension's example.
fn example(decl: &FieldDecl, dimension: Dimension) -> String {
    let declared = [&decl.default, &decl.max, &decl.min];
    declared.into_iter().flatten().find_map(toml::Value::as_str).unwrap_or(dimension.example()).to_owned()
}

/// The finding with its subject, if it has one.
pub(super) fn about(finding: Finding, subject: Option<&str>) -> Finding {
    match subject {
        Some(subject) => finding.about(subject),
        None => finding,
    }
}
