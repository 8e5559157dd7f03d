//! What hangs on parts of the water system: drains, heat, senders. Each has a mark that its parts carry.

use super::role_of;
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
            let (letter, on) = match role_of(part) {
                Some(PlumbingRole::DrainValve) => ('D', part.roles.drains().all()),
                Some(PlumbingRole::HandValve | PlumbingRole::MotorValve) if !is_waste_valve(context, part) => {
                    ('D', part.roles.tank().all())
                }
                Some(PlumbingRole::Trace) => ('H', part.roles.protects().all()),
                Some(PlumbingRole::Pad) => ('H', part.roles.tank().all()),
                Some(PlumbingRole::Sender) => ('L', part.roles.tank().all()),
                _ => continue,
            };
            let count = counts.entry(letter).or_default();
            *count += 1;
            let on: Vec<&str> = on.iter().map(|s| s.value.as_str()).filter(|id| parts.contains_key(*id)).collect();
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
        Some(PlumbingRole::Pipe) => part.roles.medium().is("waste"),
        _ => false,
    }
}

/// Whether a valve lets waste water out: it stands at a grey tank, by-passes one that does, or names nothing.
pub(super) fn is_waste_valve(context: &Context<'_>, valve: &Part<'_>) -> bool {
    let parts = &context.build.parts;
    let of = |part: &Part<'_>| part.roles.tank().first().and_then(|id| parts.get(id)).map(is_waste);
    let passed = || valve.roles.bypass_of().first().and_then(|id| parts.get(id)).and_then(of);
    of(valve).or_else(passed).unwrap_or(true)
}
