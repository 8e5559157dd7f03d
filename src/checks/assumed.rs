//! Findings that rest on what nobody has looked at say so: the van may be better than it is reckoned.

use crate::build::{ASSUMED, Build, Part};
use crate::diag::Finding;

/// Marks the findings that rest on a guess of the component they are about.
pub(crate) fn apply(build: &Build<'_>, findings: &mut [Finding]) {
    if !build.keeps_or_removes() {
        return;
    }
    for finding in findings {
        let id = finding.subject.as_deref().and_then(|subject| subject.split('.').next());
        let Some(part) = id.and_then(|id| build.parts.get(id)).filter(|part| part.was_there()) else { continue };
        let guesses = guesses(build, part, finding);
        if !guesses.is_empty() {
            let guesses: Vec<String> = guesses.iter().map(|field| field.replace('_', " ")).collect();
            finding.basis.push(format!("{ASSUMED}, to survey: {} of {}", guesses.join(" and "), part.id));
        }
    }
}

/// The fields of a part that are guesses and that a finding points at.
fn guesses(build: &Build<'_>, part: &Part<'_>, finding: &Finding) -> Vec<String> {
    let points = |start: usize| {
        let mut places = finding.span.iter().chain(finding.labels.iter().map(|label| &label.span));
        places.any(|place| place.start == start)
    };
    let mut found = Vec::new();
    for (field, _) in part.common.known.all().iter().filter(|(_, word)| word.value == ASSUMED) {
        let entry = part.record.get(&field.value).filter(|entry| entry.given);
        if entry.is_some_and(|entry| points(entry.span.start)) {
            found.push(field.value.clone());
        }
    }
    // What is sized has no place of its own: findings on it point at what makes the circuit.
    let own = build.arriving(&part.id).chain(build.leaving(&part.id)).filter(|c| c.owner == part.id);
    for circuit in own.filter(|c| c.given_conductor.is_none() && points(c.span.start)) {
        let field = circuit.end.field("conductor");
        if build.is_assumed(circuit, "conductor") && !found.contains(&field) {
            found.push(field);
        }
    }
    found
}
