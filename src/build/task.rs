//! A task of the build, and what it waits for.

use super::Part;
use crate::kinds::{Reading, Stage, States, TaskTemplate};
use crate::source::Span;
use crate::units::Kilograms;
use serde::{Serialize, Serializer};
use std::sync::Arc;

/// What a task waits for. Many tasks wait for the same state of the van: the ids that bring it are kept once for all.
#[derive(Clone, Debug, Default)]
pub struct After {
    /// Ids that only this task names.
    pub single: Vec<String>,
    /// Tasks by what they bring.
    pub every: Vec<Arc<Every>>,
    /// Where a task of the spec asks for one.
    pub asked: Vec<(String, Span)>,
}

/// All tasks that bring a state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Every {
    /// The state, and by which stage where the rest comes later.
    pub name: String,
    /// Ids of the tasks, in the order of the parts.
    pub ids: Vec<String>,
}

impl After {
    /// Takes in what brings states of the van: no task waits for itself.
    pub(super) fn wait(&mut self, id: &str, waits: Vec<Arc<Every>>) {
        self.single.retain(|a| a != id);
        for every in waits {
            if every.ids.iter().any(|a| a == id) {
                self.single.extend(every.ids.iter().filter(|a| *a != id).cloned());
            } else if !self.every.iter().any(|e| e.name == every.name) {
                self.every.push(every);
            }
        }
    }

    /// All ids.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.single.iter().chain(self.every.iter().flat_map(|every| &every.ids)).map(String::as_str)
    }
}

impl Serialize for After {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.ids())
    }
}

/// What one person lifts: anything heavier takes two, whatever its kind says. Common practice of workshops, no source; for
/// a load held close at the height of the hip.
pub const ONE_LIFTS: Kilograms = Kilograms(25.0);

/// A task of the build.
#[derive(Clone, Debug, Serialize)]
pub struct Task<'k> {
    /// Id: `<component>.<task>`, or the key of `[task.…]`.
    pub id: String,
    /// Stage.
    pub stage: Stage,
    /// Part it belongs to; `None` for a task of the build that is about none.
    pub part: Option<String>,
    /// Tasks that come before.
    pub after: After,
    /// What the kind says; `None` for a task of the build.
    #[serde(skip)]
    pub template: Option<&'k TaskTemplate>,
    /// Readings of a task of the build, which names no field of a kind.
    #[serde(skip)]
    pub readings: Vec<Reading>,
    /// Minutes of one person.
    pub minutes: u32,
    /// Hands needed.
    pub people: u32,
    /// How long it cures before what it brings is so, in minutes.
    #[serde(skip_serializing_if = "is_none")]
    pub cures: u64,
    /// Where the spec brings it in.
    pub span: Span,
}

impl<'k> Task<'k> {
    /// That of a kind or a register, of a part.
    pub(super) fn of_part(
        part: &Part<'_>,
        template: &'k TaskTemplate,
        id: String,
        (after, states): (After, &States),
    ) -> Self {
        let lifts = template.brings.iter().filter_map(|state| states.get(state)).any(|state| state.lifted);
        let heavy = lifts && part.own_mass().is_some_and(|mass| mass.0 > ONE_LIFTS.0);
        Self {
            id,
            stage: template.stage,
            part: Some(part.id.clone()),
            after,
            template: Some(template),
            readings: Vec::new(),
            minutes: template.minutes,
            people: template.people.max(if heavy { 2 } else { 1 }),
            cures: template.cures.as_ref().map_or(0, |cures| cures.minutes(part.record)),
            span: part.span,
        }
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the form serde asks for")]
const fn is_none(minutes: &u64) -> bool {
    *minutes == 0
}
