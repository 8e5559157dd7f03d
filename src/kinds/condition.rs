//! When a task, a reading or a piece of upkeep of a kind stands in a build: a flag is set or not, a choice is one of some, or there
//! are more than so many.

use crate::fields::{Declarations, FieldType, Record};
use serde::Deserialize;

/// `when` of a task, a reading or a piece of upkeep: `welding`, `not dry`, `fuel is lpg`, `fuel is not lpg`, `medium is cold or hot`,
/// `parallel above 1`.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(from = "String")]
pub struct Condition {
    field: String,
    asks: Asks,
}

/// What is asked of a field.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Asks {
    /// A flag is set, or is not.
    Set(bool),
    /// A choice is one of these, or none of them.
    Choice { wanted: bool, of: Vec<String> },
    /// A count is more than this.
    Above(i64),
}

impl From<String> for Condition {
    fn from(text: String) -> Self {
        let list = |words: &str| words.split(" or ").map(|w| w.trim().to_owned()).collect();
        let count = text.split_once(" above ").and_then(|(field, least)| Some((field, least.trim().parse().ok()?)));
        let (field, asks) = match (count, text.split_once(" is ")) {
            (Some((field, least)), _) => (field, Asks::Above(least)),
            (None, Some((field, words))) => match words.strip_prefix("not ") {
                Some(words) => (field, Asks::Choice { wanted: false, of: list(words) }),
                None => (field, Asks::Choice { wanted: true, of: list(words) }),
            },
            (None, None) => match text.strip_prefix("not ") {
                Some(field) => (field, Asks::Set(false)),
                None => (text.as_str(), Asks::Set(true)),
            },
        };
        Self { field: field.trim().to_owned(), asks }
    }
}

impl Condition {
    /// Whether it is so for a component with these fields.
    #[must_use]
    pub fn holds(&self, record: &Record) -> bool {
        match &self.asks {
            Asks::Set(wanted) => record.flag(&self.field) == *wanted,
            Asks::Above(least) => record.count(&self.field).is_some_and(|count| count > *least),
            Asks::Choice { wanted, of } => {
                let is = record.text(&self.field).unwrap_or_default();
                of.iter().any(|c| c == is) == *wanted
            }
        }
    }

    /// Whether what has this `when` stands for a component with these fields: without one it always does.
    #[must_use]
    pub fn lets(when: Option<&Self>, record: &Record) -> bool {
        when.is_none_or(|when| when.holds(record))
    }

    /// Whether it can't hold together with another.
    pub(super) fn excludes(&self, other: &Self) -> bool {
        if let (Asks::Set(one), Asks::Set(other_one)) = (&self.asks, &other.asks) {
            return self.field == other.field && one != other_one;
        }
        let Asks::Choice { wanted, of: own } = &self.asks else { return false };
        let Asks::Choice { wanted: also, of: others } = &other.asks else { return false };
        let all_in = |some: &[String], of: &[String]| some.iter().all(|c| of.contains(c));
        self.field == other.field
            && match (wanted, also) {
                (true, true) => !own.iter().any(|c| others.contains(c)),
                (true, false) => all_in(own, others),
                (false, true) => all_in(others, own),
                (false, false) => false,
            }
    }

    /// Whether it is so where the choice `field` is `word`; `None` where it asks for another field.
    pub(super) fn allows(&self, field: &str, word: &str) -> Option<bool> {
        match &self.asks {
            Asks::Choice { wanted, of } if self.field == field => Some(of.iter().any(|c| c == word) == *wanted),
            _ => None,
        }
    }

    /// What is wrong with it for a kind with these fields.
    pub(super) fn fault(&self, fields: &Declarations) -> Option<String> {
        let field = fields.get(&self.field);
        let is = |ty: FieldType| field.is_some_and(|f| f.ty == ty);
        match &self.asks {
            Asks::Set(_) => (!is(FieldType::Flag)).then(|| format!("`when = \"{}\"` names no flag field", self.field)),
            Asks::Above(_) => {
                (!is(FieldType::Count)).then(|| format!("`when` counts `{}`, which is no count field", self.field))
            }
            Asks::Choice { of, .. } => {
                let unknown = |c: &&String| field.is_none_or(|f| f.ty != FieldType::Choice || !f.choices.contains(c));
                let unknown = of.iter().find(unknown)?;
                Some(format!("`when` asks for {} `{unknown}`, which no field of the kind can be", self.field))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_condition_names_a_flag_or_choices() {
        let of = |text: &str| Condition::from(text.to_owned());
        let asks = |field: &str, asks| Condition { field: field.to_owned(), asks };
        let choice =
            |wanted, list: &[&str]| Asks::Choice { wanted, of: list.iter().map(|c| (*c).to_owned()).collect() };
        assert_eq!(of("welding"), asks("welding", Asks::Set(true)));
        assert_eq!(of("fuel is lpg"), asks("fuel", choice(true, &["lpg"])));
        assert_eq!(of("fuel is not lpg"), asks("fuel", choice(false, &["lpg"])));
        assert_eq!(of("medium is cold or hot"), asks("medium", choice(true, &["cold", "hot"])));
        assert_eq!(of("parallel above 1"), asks("parallel", Asks::Above(1)));
        assert_eq!(of("not dry"), asks("dry", Asks::Set(false)));
        assert!(of("not dry").excludes(&of("dry")) && !of("dry").excludes(&of("dry")));
        let wet = Record::default();
        assert!(of("not dry").holds(&wet) && !of("dry").holds(&wet));
    }
}
