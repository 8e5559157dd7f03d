//! Defects as found: errors whose every cause is existing work of others, and on which nothing new rests. The customer is
//! told of them and signs; nobody accepts them.

use crate::build::{Build, Part, Scope};
use crate::diag::{Finding, Severity};
use crate::fields::{Record, Value};
use crate::source::Span;
use std::collections::{BTreeSet, HashSet};

/// What a defect comes from.
#[derive(Clone, Copy, PartialEq, Eq)]
enum From {
    /// The part itself and what the finding points at.
    Itself,
    /// Also all that feeds it: a bank, a fuse, a cable before it.
    Feed,
}

/// Errors that can be defects of what was installed. All others say that something is not told, is missing in the van,
/// or is of the van as a whole: these stay errors.
const DEFECTS: &[(&str, From)] = &[
    ("battery-cable-below-fuse", From::Itself),
    ("breaker-above-small-conductor", From::Itself),
    ("busbar-over-rating", From::Itself),
    ("carrier-over-rating", From::Itself),
    ("circuit-without-protection", From::Itself),
    ("conductor-below-load", From::Itself),
    ("conductor-too-thin", From::Itself),
    ("fuse-above-conductor", From::Itself),
    ("fuse-above-way", From::Itself),
    ("fuse-below-load", From::Itself),
    ("fuse-below-network", From::Feed),
    ("fuse-far-from-source", From::Itself),
    ("fuses-in-parallel", From::Itself),
    ("interrupting-below-fault", From::Feed),
    ("isolator-below-string-voltage", From::Feed),
    ("load-on-other-voltage", From::Feed),
    ("main-breaker-above-inlet", From::Feed),
    ("main-breaker-missing", From::Feed),
    ("mains-cut-in-one-pole", From::Itself),
    ("negative-bar-below-positive", From::Itself),
    ("outlet-on-wrong-voltage", From::Feed),
    ("outlet-without-residual-current-protection", From::Feed),
    ("panel-over-rating", From::Itself),
    ("rating-below-network", From::Feed),
    ("residual-current-trip-too-high", From::Itself),
    ("restraint-too-weak", From::Itself),
    ("return-below-positive", From::Itself),
    ("storage-over-limit", From::Itself),
    ("string-voltage-over-controller", From::Feed),
    ("switch-below-load", From::Itself),
    ("switch-over-rating", From::Itself),
    ("tie-down-over-rating", From::Itself),
    ("tray-over-rating", From::Itself),
    ("voltage-drop-over-limit", From::Feed),
    ("wet-outlet-unprotected", From::Feed),
];

/// Tells the errors that are defects as found.
pub(crate) fn apply(build: &Build<'_>, findings: &mut [Finding]) {
    let mut work = None;
    for finding in findings.iter_mut().filter(|f| f.severity == Severity::Error) {
        let Some((_, from)) = DEFECTS.iter().find(|(name, _)| *name == finding.name) else { continue };
        let id = finding.subject.as_deref().and_then(|subject| subject.split('.').next());
        let Some(part) = id.and_then(|id| build.parts.get(id)).filter(|p| p.scope == Scope::Existing) else { continue };
        let work = work.get_or_insert_with(|| Work::of(build));
        let mut places = finding.span.into_iter().chain(finding.labels.iter().map(|label| label.span));
        if places.any(|place| work.has(place)) || work.touches(build, part, *from) {
            continue;
        }
        finding.severity = Severity::AsFound;
        finding.help.push(
            "all of it is existing work, and nothing new rests on it: tell the customer, who signs for it, or mend it; it can't be accepted"
                .to_owned(),
        );
    }
}

/// What this job works on.
struct Work<'b> {
    /// Starts of all places in its components.
    places: HashSet<usize>,
    /// Components that it names.
    named: BTreeSet<&'b str>,
}

impl<'b> Work<'b> {
    fn of(build: &'b Build<'_>) -> Self {
        let mut work = Self { places: HashSet::new(), named: BTreeSet::new() };
        for part in build.parts.values().filter(|p| p.is_worked_on()) {
            work.places.insert(part.span.start);
            work.take(part.record);
        }
        work
    }

    fn take(&mut self, record: &'b Record) {
        self.places.insert(record.span.start);
        for entry in record.fields.values().filter(|entry| entry.given) {
            self.places.insert(entry.span.start);
            match &entry.value {
                Value::Components(ids) => {
                    self.named.extend(ids.iter().map(|id| id.value.as_str()));
                    self.places.extend(ids.iter().map(|id| id.span.start));
                }
                Value::Rows(rows) => rows.iter().for_each(|row| self.take(row)),
                Value::Parts(parts) => parts.iter().for_each(|(_, own)| self.take(own)),
                _ => {}
            }
        }
    }

    /// Whether a place of a finding stands in what this job works on.
    fn has(&self, place: Span) -> bool {
        self.places.contains(&place.start)
    }

    /// Whether something new rests on an existing part, or is what it comes from.
    fn touches(&self, build: &Build<'_>, part: &Part<'_>, from: From) -> bool {
        let is_new = |id: &str| build.parts.get(id).is_some_and(Part::is_worked_on);
        let names_new = |entry: &crate::fields::Entry| match &entry.value {
            Value::Components(ids) => ids.iter().any(|id| is_new(&id.value)),
            _ => false,
        };
        let mut own = build.leaving(&part.id).chain(build.arriving(&part.id));
        self.named.contains(part.id.as_str())
            || part.record.fields.values().any(names_new)
            || own.any(|c| is_new(&c.owner) || is_new(&c.from) || is_new(&c.to))
            || build.downstream(&part.id).any(|c| build.is_worked_on(c) || is_new(&c.to))
            || from == From::Feed && build.upstream(&part.id).any(|c| build.is_worked_on(c) || is_new(&c.from))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks;

    #[test]
    fn every_defect_is_an_error_that_a_check_finds() {
        for (name, _) in DEFECTS {
            let check = checks::all().find(|c| c.doc.name == *name);
            assert_eq!(check.map(|c| c.doc.severity), Some(Severity::Error), "{name}");
        }
    }
}
