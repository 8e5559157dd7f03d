//! How long what a task did cures before it is so: a time, or the field of the kind that tells it.

use super::Condition;
use crate::fields::{Declarations, Field, FieldType, Record};
use crate::units::{Dimension, Seconds, parse_quantity};
use serde::Deserialize;

/// `cures` of a task: `24 h`, `cure`, or `cure when bonded`.
#[derive(Clone, Debug, Deserialize)]
#[serde(from = "String")]
pub struct Cures {
    time: String,
    when: Option<Condition>,
}

impl From<String> for Cures {
    fn from(text: String) -> Self {
        match text.split_once(" when ") {
            Some((time, when)) => Self { time: time.trim().to_owned(), when: Some(when.trim().to_owned().into()) },
            None => Self { time: text, when: None },
        }
    }
}

impl Cures {
    /// Minutes for a part with these fields, rounded up; 0 where it cures nothing or nobody says how long.
    #[must_use]
    pub fn minutes(&self, record: &Record) -> u64 {
        if !Condition::lets(self.when.as_ref(), record) {
            return 0;
        }
        let given = parse_quantity(&self.time, Dimension::Duration).ok().map(|q| Seconds(q.value));
        let told = given.or_else(|| Field::<Seconds>::at(record, &self.time).get());
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the reader bounds durations")]
        let minutes = told.map_or(0, |time| (time.0.max(0.0) / 60.0).ceil() as u64);
        minutes
    }

    /// What is wrong with it in a kind with these fields.
    pub(super) fn fault(&self, fields: &Declarations) -> Option<String> {
        let is_time = parse_quantity(&self.time, Dimension::Duration).is_ok();
        let is_field = || fields.get(&self.time).is_some_and(|f| f.ty == FieldType::Quantity(Dimension::Duration));
        if !is_time && !is_field() {
            return Some(format!(
                "`{}` is neither a time such as \"24 h\" nor a field of this kind with one",
                self.time
            ));
        }
        self.when.as_ref().and_then(|when| when.fault(fields))
    }
}
