//! A tightening torque of a kind: its own figure, or that of the bolt's size and class, which has one home.

use crate::tables::bolts;
use crate::units::{Dimension, System, print};
use serde::{Deserialize, Serialize};

/// Stands in a kind for the torque that follows from size and class in the words of the fastener: "M8 class 8.8 …".
const BY_CLASS: &str = "by class";

/// The same for an electrical connection: no rule of thumb is as good as the sheet of the maker, who alone knows metal and
/// thread. A part or a stock item gives the figure, and where none does, the packet leaves a blank.
const BY_MAKER: &str = "by maker";

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
    /// How tight, for a fastener in the words `what`, which may hold facts of the part. `None` where its maker alone says so,
    /// or where the words name no size and class that a table has.
    #[must_use]
    pub fn figure(&self, what: &str) -> Option<String> {
        let torque = match self.value.as_str() {
            BY_CLASS => bolts::tightening(what).map(|(torque, _)| torque)?,
            BY_MAKER => return None,
            _ => return Some(self.value.clone()),
        };
        Some(print(Dimension::Torque, torque, System::Metric))
    }

    /// Where that comes from.
    #[must_use]
    pub fn basis(&self, what: &str) -> String {
        let rule = match self.value.as_str() {
            BY_CLASS => bolts::tightening(what).map_or_else(String::new, |(_, rule)| rule.to_owned()),
            _ => return self.source.clone(),
        };
        format!("{rule}; {}", self.source)
    }
}
