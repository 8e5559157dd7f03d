//! A tightening torque of a kind: its own figure, or that of the bolt's size and class, which has one home.

use crate::tables::{bolts, terminal_torque};
use crate::units::{Dimension, System, print};
use serde::{Deserialize, Serialize};

/// Stands in a kind for the torque that follows from size and class in the words of the fastener: "M8 class 8.8 …".
const BY_CLASS: &str = "by class";

/// The same for the stud of an electrical connection: "M8 …".
const BY_STUD: &str = "by stud";

/// A tightening torque and where it comes from.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Torque {
    /// Which fastener.
    pub what: String,
    /// How tight: a figure, or words that stand for one.
    pub value: String,
    /// Source; beside words that stand for a figure, whose figure wins over it.
    pub source: String,
}

impl Torque {
    /// How tight, for a fastener in the words `what`, which may hold facts of the part. `None` where the words name no
    /// size and class that a table has.
    #[must_use]
    pub fn figure(&self, what: &str) -> Option<String> {
        let torque = match self.value.as_str() {
            BY_CLASS => bolts::tightening(what).map(|(torque, _)| torque)?,
            BY_STUD => terminal_torque::stud(what)?,
            _ => return Some(self.value.clone()),
        };
        Some(print(Dimension::Torque, torque, System::Metric))
    }

    /// Where that comes from.
    #[must_use]
    pub fn basis(&self, what: &str) -> String {
        let rule = match self.value.as_str() {
            BY_CLASS => bolts::tightening(what).map_or_else(String::new, |(_, rule)| rule.to_owned()),
            BY_STUD => "common practice, no source".to_owned(),
            _ => return self.source.clone(),
        };
        format!("{rule}; {}", self.source)
    }
}
