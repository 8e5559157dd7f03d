//! A piece of work, several under one id, and why tasks make no order.

use serde::Serialize;
use std::fmt;

/// A piece of work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Task {
    /// Unique id, such as `fridge.fit`.
    pub id: String,
    /// Id of its stage.
    pub stage: String,
    /// How long it takes by the clock, in minutes.
    pub minutes: u32,
    /// How many people it takes for that time.
    pub people: u32,
    /// How long what it did cures, in minutes, before what waits for it may begin.
    pub cures: u64,
    /// Where it is done; "" where nobody says.
    pub place: String,
    /// Tools it takes.
    pub tools: Vec<String>,
    /// Ids of tasks that must be finished before it begins, and of joins that stand for several.
    pub after: Vec<String>,
}

/// Several tasks under one id, for tasks that wait for all of them: so many that wait for the same many need one edge
/// each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Join {
    /// Unique id, of no task.
    pub id: String,
    /// Ids of its tasks.
    pub after: Vec<String>,
}

impl Task {
    /// Minutes of work of all its people.
    #[must_use]
    pub fn person_minutes(&self) -> u64 {
        u64::from(self.minutes) * u64::from(self.people)
    }
}

/// Why there is no schedule.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TaskFault {
    /// Two tasks have one id.
    Duplicate {
        /// The id.
        id: String,
    },
    /// A task names a stage that is not in the plan.
    UnknownStage {
        /// Id of the task.
        task: String,
        /// The stage it names.
        stage: String,
    },
    /// A task waits for one that is not there.
    UnknownAfter {
        /// Id of the task.
        task: String,
        /// The id it names.
        after: String,
    },
    /// A task waits for one of a later stage.
    AfterLaterStage {
        /// Id of the task.
        task: String,
        /// Its stage.
        stage: String,
        /// The task it waits for.
        after: String,
        /// The stage of that.
        after_stage: String,
    },
    /// Tasks wait for each other.
    Cycle {
        /// Each once, in order of work: every one must come before the next, and the last before the first.
        ids: Vec<String>,
    },
}

impl fmt::Display for TaskFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Duplicate { id } => write!(f, "two tasks are called `{id}`"),
            Self::UnknownStage { task, stage } => write!(f, "`{task}` is in stage `{stage}`, which is not in the plan"),
            Self::UnknownAfter { task, after } => write!(f, "`{task}` comes after `{after}`, which is not there"),
            Self::AfterLaterStage { task, stage, after, after_stage } => {
                write!(f, "`{task}` ({stage}) can't come after `{after}`: that is in the later stage {after_stage}")
            }
            Self::Cycle { ids } => {
                let mut loop_: Vec<&str> = ids.iter().map(String::as_str).collect();
                loop_.extend(ids.first().map(String::as_str));
                write!(f, "tasks wait for each other: {}", loop_.join(" → "))
            }
        }
    }
}
