//! Defects as found: errors whose every cause is existing work of others, and on which nothing new rests. The customer is
//! told of them and signs; nobody accepts them.

use crate::build::{Build, Circuit, Part, Scope};
use crate::diag::{Finding, Severity};
use crate::fields::{Record, Value};
use crate::source::Span;
use std::collections::{BTreeMap, HashMap};

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
        let rests = places.find_map(|place| work.has(place)).or_else(|| work.rests_on(build, part, *from));
        if let Some(new) = rests {
            finding.help.push(format!(
                "{} was there before, and {new} rests on it, which this job works on: so it is no defect as found, but an error; mend it, or let {new} rest on something else",
                part.id
            ));
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
    /// Starts of all places in its components, with the component.
    places: HashMap<usize, &'b str>,
    /// Components that it names, with the one that does.
    named: BTreeMap<&'b str, &'b str>,
}

impl<'b> Work<'b> {
    fn of(build: &'b Build<'_>) -> Self {
        let mut work = Self { places: HashMap::new(), named: BTreeMap::new() };
        for part in build.parts.values().filter(|p| p.is_worked_on()) {
            work.places.insert(part.span.start, &part.id);
            work.take(&part.id, part.record);
        }
        work
    }

    fn take(&mut self, owner: &'b str, record: &'b Record) {
        self.places.insert(record.span.start, owner);
        for entry in record.fields.values().filter(|entry| entry.given) {
            self.places.insert(entry.span.start, owner);
            match &entry.value {
                Value::Components(ids) => {
                    for id in ids {
                        self.named.entry(&id.value).or_insert(owner);
                        self.places.insert(id.span.start, owner);
                    }
                }
                Value::Rows(rows) => rows.iter().for_each(|row| self.take(owner, row)),
                Value::Parts(parts) => parts.iter().for_each(|(_, own)| self.take(owner, own)),
                _ => {}
            }
        }
    }

    /// What this job works on in which a place of a finding stands.
    fn has(&self, place: Span) -> Option<&'b str> {
        self.places.get(&place.start).copied()
    }

    /// What of this job rests on an existing part, or is what it comes from.
    fn rests_on(&self, build: &'b Build<'_>, part: &'b Part<'_>, from: From) -> Option<&'b str> {
        let new = |id: &'b str| build.parts.get(id).is_some_and(Part::is_worked_on).then_some(id);
        let of_circuit = |c: &'b Circuit, ends: &[&'b String]| {
            [&c.owner].into_iter().chain(ends.iter().copied()).find_map(|id| new(id))
        };
        let names_new = |entry: &'b crate::fields::Entry| match &entry.value {
            Value::Components(ids) => ids.iter().find_map(|id| new(&id.value)),
            _ => None,
        };
        let mut own = build.leaving(&part.id).chain(build.arriving(&part.id));
        let feed = || build.upstream(&part.id).find_map(|c| of_circuit(c, &[&c.from]));
        let named = self.named.get(part.id.as_str()).copied();
        named
            .or_else(|| part.record.fields.values().find_map(names_new))
            .or_else(|| own.find_map(|c| of_circuit(c, &[&c.from, &c.to])))
            .or_else(|| build.downstream(&part.id).find_map(|c| of_circuit(c, &[&c.to])))
            .or_else(|| if from == From::Feed { feed() } else { None })
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

    #[test]
    fn the_owner_is_told_of_every_defect_and_of_no_other() {
        let text = include_str!("../../templates/documents/as_found.toml");
        let told: toml::Table = text.parse().expect("texts");
        let told: Vec<&str> = told.keys().map(String::as_str).collect();
        let mut all: Vec<&str> = DEFECTS.iter().map(|(name, _)| *name).collect();
        all.sort_unstable();
        let mut sorted = told.clone();
        sorted.sort_unstable();
        assert_eq!(sorted, all);
    }
}
