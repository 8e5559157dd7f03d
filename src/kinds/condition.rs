//! When a task, a reading or a piece of upkeep of a kind stands in a build: a flag is set, a choice is one of some, or there
//! are more than so many.

use crate::fields::{Declarations, FieldType, Record};
use serde::Deserialize;

/// `when` of a task, a reading or a piece of upkeep: `welding`, `fuel is lpg`, `fuel is not lpg`, `medium is cold or hot`,
/// `parallel above 1`.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(from = "String")]
pub struct Condition {
    field: String,
    /// Choices, and whether the field must be one of them; `None` for a flag or a count.
    choices: Option<(bool, Vec<String>)>,
    /// A count must be more than this.
    above: Option<i64>,
}

impl From<String> for Condition {
    fn from(text: String) -> Self {
        let list = |words: &str| words.split(" or ").map(|w| w.trim().to_owned()).collect();
        let count = text.split_once(" above ").and_then(|(field, least)| Some((field, least.trim().parse().ok()?)));
        if let Some((field, least)) = count {
            return Self { field: field.trim().to_owned(), choices: None, above: Some(least) };
        }
        let (field, choices) = match text.split_once(" is ") {
            None => return Self { field: text, choices: None, above: None },
            Some((field, words)) => match words.strip_prefix("not ") {
                Some(words) => (field, (false, list(words))),
                None => (field, (true, list(words))),
            },
        };
        Self { field: field.trim().to_owned(), choices: Some(choices), above: None }
    }
}

impl Condition {
    /// Whether it is so for a component with these fields.
    #[must_use]
    pub fn holds(&self, record: &Record) -> bool {
        match (&self.choices, self.above) {
            (None, Some(least)) => record.count(&self.field).is_some_and(|count| count > least),
            (None, None) => record.flag(&self.field),
            (Some((wanted, choices)), _) => {
                let is = record.text(&self.field).unwrap_or_default();
                choices.iter().any(|c| c == is) == *wanted
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
        let (Some((wanted, own)), Some((also, others))) = (&self.choices, &other.choices) else { return false };
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
        let (wanted, choices) = self.choices.as_ref().filter(|_| self.field == field)?;
        Some(choices.iter().any(|c| c == word) == *wanted)
    }

    /// What is wrong with it for a kind with these fields.
    pub(super) fn fault(&self, fields: &Declarations) -> Option<String> {
        let field = fields.get(&self.field);
        match (&self.choices, self.above) {
            (None, Some(_)) => field
                .is_none_or(|f| f.ty != FieldType::Count)
                .then(|| format!("`when` counts `{}`, which is no count field", self.field)),
            (None, None) if field.is_none_or(|f| f.ty != FieldType::Flag) => {
                Some(format!("`when = \"{}\"` names no flag field", self.field))
            }
            (None, None) => None,
            (Some((_, choices)), _) => {
                let unknown = |c: &&String| field.is_none_or(|f| f.ty != FieldType::Choice || !f.choices.contains(c));
                let unknown = choices.iter().find(unknown)?;
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
        let choices = |wanted, list: &[&str]| Some((wanted, list.iter().map(|c| (*c).to_owned()).collect()));
        assert_eq!(of("welding"), Condition { field: "welding".to_owned(), choices: None, above: None });
        let lpg = |wanted| Condition { field: "fuel".to_owned(), choices: choices(wanted, &["lpg"]), above: None };
        assert_eq!(of("fuel is lpg"), lpg(true));
        assert_eq!(of("fuel is not lpg"), lpg(false));
        let pressed = Condition { field: "medium".to_owned(), choices: choices(true, &["cold", "hot"]), above: None };
        assert_eq!(of("medium is cold or hot"), pressed);
        assert_eq!(of("parallel above 1"), Condition { field: "parallel".to_owned(), choices: None, above: Some(1) });
    }
}
