//! What hangs on parts of the water system: drains, heat, senders. Each has a mark that its parts carry.

use super::{named, role_of};
use crate::build::Part;
use crate::drawings::Context;
use crate::kinds::PlumbingRole;
use std::collections::BTreeMap;

/// A part with its mark.
pub(super) struct Mark<'a> {
    /// "D1".
    pub(super) tag: String,
    /// The part.
    pub(super) part: &'a Part<'a>,
    /// Ids of what it empties, warms or measures.
    pub(super) on: Vec<&'a str>,
    /// It stands on the sheet of waste water.
    pub(super) waste: bool,
}

/// All marks of a build.
pub(super) struct Marks<'a> {
    /// In the order of the spec.
    pub(super) all: Vec<Mark<'a>>,
    by_part: BTreeMap<&'a str, Vec<usize>>,
}

impl<'a> Marks<'a> {
    pub(super) fn of(context: &'a Context<'a>) -> Self {
        let parts = &context.build.parts;
        let mut counts: BTreeMap<char, usize> = BTreeMap::new();
        let mut all: Vec<Mark<'a>> = Vec::new();
        for part in parts.values() {
            let (letter, fields): (char, &[&str]) = match role_of(part) {
                Some(PlumbingRole::DrainValve) => ('D', &["drains"]),
                Some(PlumbingRole::HandValve | PlumbingRole::MotorValve) if !is_waste_valve(context, part) => {
                    ('D', &["tank"])
                }
                Some(PlumbingRole::Trace) => ('H', &["protects"]),
                Some(PlumbingRole::Pad) => ('H', &["tank"]),
                Some(PlumbingRole::Sender) => ('L', &["tank"]),
                _ => continue,
            };
            let count = counts.entry(letter).or_default();
            *count += 1;
            let listed = |f: &&'static str| part.record.list(f).iter().map(|s| s.value.as_str());
            let on: Vec<&str> = fields.iter().flat_map(listed).filter(|id| parts.contains_key(*id)).collect();
            let waste = on.first().and_then(|id| parts.get(*id)).is_some_and(is_waste);
            all.push(Mark { tag: format!("{letter}{count}"), part, on, waste });
        }
        let mut by_part: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (at, mark) in all.iter().enumerate() {
            for id in &mark.on {
                let own = by_part.entry(id).or_default();
                if !own.contains(&at) {
                    own.push(at);
                }
            }
        }
        Self { all, by_part }
    }

    /// The marks that a part carries.
    pub(super) fn on(&self, id: &str) -> Vec<&str> {
        self.by_part.get(id).into_iter().flatten().filter_map(|i| self.all.get(*i)).map(|m| m.tag.as_str()).collect()
    }
}

/// Whether a part belongs to the waste water by itself.
fn is_waste(part: &Part<'_>) -> bool {
    match role_of(part) {
        Some(PlumbingRole::GreyTank | PlumbingRole::Basin) => true,
        Some(PlumbingRole::Pipe) => part.roles.medium().text() == Some("waste"),
        _ => false,
    }
}

/// Whether a valve lets waste water out: it stands at a grey tank, by-passes one that does, or names nothing.
pub(super) fn is_waste_valve(context: &Context<'_>, valve: &Part<'_>) -> bool {
    let parts = &context.build.parts;
    let of = |part: &Part<'_>| named(part, "tank").and_then(|id| parts.get(id)).map(is_waste);
    let passed = || named(valve, "bypass_of").and_then(|id| parts.get(id)).and_then(of);
    of(valve).or_else(passed).unwrap_or(true)
}
