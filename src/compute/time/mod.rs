//! Time: calendar intervals, upkeep dates, the task graph. No clock: every date comes in.

pub mod interval;
pub mod season;
pub(crate) mod tasks;
pub(crate) mod upkeep;

mod cadence;
mod free;
mod task;
mod task_graph;
mod task_loops;
#[cfg(test)]
mod tasks_tests;

pub use cadence::{Cadence, CadenceFault, CadenceText};
pub use interval::CalendarInterval;
pub use season::{Hemisphere, MonthDay, Season};
pub use tasks::{Join, Schedule, ScheduledTask, StageTime, Task, TaskFault, hours, schedule};
pub(crate) use upkeep::is_without_date;
pub use upkeep::{Due, DueDates, DueKind, DueOptions, UpkeepItem, Warranty, WarrantyEnd, due_dates};

use serde::Serialize;
use std::fmt;
use std::ops::Range;

/// A fault in a short text, such as an interval.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct TextFault {
    /// What is wrong, as one clause.
    pub message: String,
    /// Bytes of the text it is about; may be empty at the end of the text.
    pub range: Range<usize>,
    /// What to write instead, where that is clear.
    pub help: Option<String>,
}

impl TextFault {
    pub(crate) fn new(range: Range<usize>, message: impl Into<String>) -> Self {
        Self { message: message.into(), range, help: None }
    }

    pub(crate) fn help(mut self, text: impl Into<String>) -> Self {
        self.help = Some(text.into());
        self
    }
}

impl fmt::Display for TextFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)?;
        self.help.as_ref().map_or(Ok(()), |help| write!(f, " ({help})"))
    }
}

impl std::error::Error for TextFault {}
