//! Signed although what proves it is not recorded, or not good.

use super::signed::signed_holds;
use crate::build::Build;
use crate::checks::{Check, Context};
use crate::compute::readings::band::Verdict;
use crate::compute::readings::{self, Readings};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Stage;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "signed-without-proof",
        severity: Severity::Warning,
        what: "A hold point is signed, and a reading or test that proves it is not recorded, is out of tolerance without being accepted, or has no day.",
        why: "Who signs says that the reading was there and good on that day. Without it nobody can tell what was signed.",
        example: "[recorded.signed]\nair-heater.run = { by = \"I. M.\", date = 2027-05-11 }   # and no air-heater.co-inside in [recorded.readings]",
        basis: "What a signature means; common practice of work under sign-off, no source.",
    },
    run,
};

/// What a signature lacks.
enum Lack {
    Record(String),
    Good(String),
    Day(String),
}

fn run(context: &Context<'_>, sink: &mut Sink) {
    let (build, readings) = (context.build, &context.readings);
    if build.spec.recorded.signed.is_empty() {
        return;
    }
    let proofs = readings.proofs();
    for (id, hold, signature) in signed_holds(build) {
        let of_readings = proofs.readings(hold).filter_map(|key| lack(build, readings, proofs.stage(key)?, key));
        let dead = proofs.dead_tests(build, hold);
        let of_tests = dead.filter_map(|(circuit, test)| lack_of_test(build, readings, circuit, test));
        let lacks: Vec<Lack> = of_readings.chain(of_tests).collect();
        let Some(first) = lacks.first() else { continue };
        let more = match lacks.len() {
            1 => String::new(),
            n => format!(", nor are {} more as they must be", n - 1),
        };
        let (headline, help) = match first {
            Lack::Record(key) => (
                format!("`{id}` is signed, but {key} is not recorded{more}"),
                format!("read it, write it into the record, and sign on the day of that or later; `{key}` is its key"),
            ),
            Lack::Good(key) => (
                format!("`{id}` is signed, but {key} is not good{more}"),
                format!(
                    "find the cause, read {key} again and sign with the day of that; or accept the reading with its reason"
                ),
            ),
            Lack::Day(key) => (
                format!("`{id}` is signed, but nothing says on which day {key} was read{more}"),
                "write who read it and when into [recorded.taken], by stage, component or reading".to_owned(),
            ),
        };
        let day = signature.value.date.map_or_else(|| "signed".to_owned(), |date| format!("signed {date}"));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(id)
                .at(signature.span, day)
                .basis("a hold point is proved by what was read before it")
                .help(help),
        );
    }
}

fn lack(build: &Build<'_>, readings: &Readings, stage: Stage, key: &str) -> Option<Lack> {
    let Some(result) = readings.results.get(key) else { return Some(Lack::Record(key.to_owned())) };
    if is_bad(build, result) {
        return Some(Lack::Good(key.to_owned()));
    }
    let day = readings::taken(build, stage, key).and_then(|t| t.value.date);
    day.is_none().then(|| Lack::Day(key.to_owned()))
}

fn lack_of_test(build: &Build<'_>, readings: &Readings, circuit: &str, test: &str) -> Option<Lack> {
    let key = format!("{circuit}.{test}");
    let Some(result) = readings.circuit_results.get(&key) else { return Some(Lack::Record(key)) };
    if is_bad(build, result) {
        return Some(Lack::Good(key));
    }
    let day = readings::taken_dead(build, &key, test).and_then(|t| t.value.date);
    day.is_none().then_some(Lack::Day(key))
}

/// Whether a record is off and nobody has accepted it.
fn is_bad(build: &Build<'_>, result: &readings::Result) -> bool {
    let accepted = || {
        build.spec.accepted.iter().any(|a| {
            a.finding.value == "reading-out-of-tolerance"
                && a.about.as_ref().is_none_or(|about| about.value == result.part)
        })
    };
    matches!(result.verdict, Verdict::Outside | Verdict::Unreadable) && !accepted()
}
