//! Findings where a signature, a test or a serial number is older than the work it stands for.

use super::changes;
use super::{Fault, Worked};
use crate::compute::handover::AS_FOUND;
use crate::diag::{Finding, FindingDoc, Severity};
use crate::documents::change_notice::stale::{READING, SERIAL_OF, TESTS_OF, stale};
use crate::documents::snapshot::{STALE, Snapshot, Stale};
use crate::source::Span;
use std::collections::{BTreeMap, BTreeSet};

/// How many pieces of work a headline names.
const NAMED: usize = 3;

/// What it finds.
pub(super) const FINDINGS: &[FindingDoc] = &[FindingDoc {
    name: STALE,
    severity: Severity::Warning,
    what: "A signature, the tests of a circuit, or the serial number and readings of a component stand recorded as they did at the last release, but the work they stand for changed since, or the component is another unit now.",
    why: "The signature says that work is done and tested which nobody has done yet. Until it is signed and tested anew, the van is not ready for handover and the binder is a draft. Other documents stay as they are, so that a change prints no sheet again that it does not touch. It cannot be accepted.",
    example: "[recorded.signed]\nelectrical-rough-in = { by = \"J. P.\", date = 2027-03-09 }   # and a cable was lengthened after it",
    basis: "House rule; common practice of work under sign-off, no source.",
}];

/// What is older than its work, since `earlier`, with a finding each.
pub(super) fn since(worked: &Worked<'_>, earlier: &Snapshot) -> Result<(BTreeMap<String, Stale>, Vec<Finding>), Fault> {
    let recorded = &worked.build.spec.recorded;
    // Where nothing is signed or tested, nothing can be too old.
    let none_read = recorded.serials.is_empty() && recorded.readings.is_empty();
    if recorded.signed.is_empty() && recorded.circuits.is_empty() && recorded.conductors.is_empty() && none_read {
        return Ok((BTreeMap::new(), Vec::new()));
    }
    let mut stale = stale(earlier, &changes::without_documents(worked)?);
    stale.extend(untold_defects(worked, earlier));
    let findings = stale.iter().map(|(id, of)| finding(worked, id, of)).collect();
    Ok((stale, findings))
}

/// The customer's signature for the defects of existing work, where it stands as it did before one of them was found.
fn untold_defects(worked: &Worked<'_>, earlier: &Snapshot) -> Option<(String, Stale)> {
    let signature = &worked.build.spec.recorded.signed.get(AS_FOUND)?.value;
    let date = signature.date.map_or_else(String::new, |day| format!(", {day}"));
    let recorded = format!("{}{date}", signature.by);
    if earlier.signed.get(AS_FOUND) != Some(&recorded) {
        return None;
    }
    let known = |f: &&Finding| {
        let told = earlier.findings.values().filter(|item| item.name == f.name);
        told.filter_map(|item| item.values.get("says")).any(|says| says.shown.contains(&f.headline))
    };
    let new = worked.findings.iter().filter(|f| f.severity == Severity::AsFound && !known(f));
    let because: BTreeSet<String> = new.map(|f| f.headline.clone()).collect();
    (!because.is_empty()).then(|| (AS_FOUND.to_owned(), Stale { recorded, taken: String::new(), because }))
}

fn finding(worked: &Worked<'_>, id: &str, of: &Stale) -> Finding {
    let recorded = &worked.build.spec.recorded;
    let mut work: Vec<&str> = of.because.iter().take(NAMED).map(String::as_str).collect();
    let more = format!("{} more", of.because.len().saturating_sub(NAMED));
    if of.because.len() > NAMED {
        work.push(&more);
    }
    let work = work.join(", ");
    let (headline, span, help) = if let Some(circuit) = id.strip_prefix(TESTS_OF) {
        let tests = worked.readings.circuit_results.iter();
        let of_conductors = || {
            let mut tests = tests;
            let own = tests.find(|(id, _)| id.rsplit_once('.').is_some_and(|(of, _)| of == circuit));
            own.map_or(Span::default(), |(_, result)| result.span)
        };
        let span = recorded.circuits.get(circuit).map_or_else(of_conductors, |record| record.span);
        (
            format!("{circuit}: its circuit changed after these tests"),
            span,
            "test the circuit again and record what was read",
        )
    } else if let Some(part) = id.strip_prefix(SERIAL_OF) {
        let span = recorded.serials.get(part).map_or(Span::default(), |serial| serial.span);
        let help = "read the type plate of the unit that is fitted now and record its number";
        (format!("{part}: another unit than before, under the same serial number {}", of.recorded), span, help)
    } else if let Some(reading) = id.strip_prefix(READING) {
        let span = recorded.readings.get(reading).map_or(Span::default(), |text| text.span);
        let help = "read it again on the unit that is fitted now, and record value and day: the same figure counts with a new day in [recorded.taken], under the reading or its component";
        (format!("{reading}: {} was read on another unit than the one fitted now", of.recorded), span, help)
    } else if id == AS_FOUND {
        let span = recorded.signed.get(id).map_or(Span::default(), |signature| signature.span);
        let help = "tell the customer of it, who signs again with its own date";
        (format!("{id}: signed by {}, and found since: {work}", of.recorded), span, help)
    } else {
        let span = recorded.signed.get(id).map_or(Span::default(), |signature| signature.span);
        let help = "do the work, then sign again with its own date";
        (format!("{id}: signed by {}, and changed since: {work}", of.recorded), span, help)
    };
    let prefix = [TESTS_OF, SERIAL_OF, READING].into_iter().find(|p| id.starts_with(p)).unwrap_or_default();
    let subject =
        if prefix == SERIAL_OF { format!("{}.serial", &id[prefix.len()..]) } else { id[prefix.len()..].to_owned() };
    let finding = Finding::warning(STALE, headline).about(&subject).at(span, "older than the change");
    finding.basis("compared with the last release, or the record given to --revision-from").help(help)
}
