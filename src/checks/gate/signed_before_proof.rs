//! Signed before what proves it was measured.

use super::signed::signed_holds;
use crate::build::Build;
use crate::checks::{Check, Context};
use crate::compute::readings::{self, CIRCUIT_TESTS, DEAD_TESTS};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Stage;
use crate::source::{Span, Spanned};
use crate::spec::Signature;
use jiff::civil::Date;
use std::collections::BTreeMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "signed-before-proof",
        severity: Severity::Warning,
        what: "A hold point or a stage is signed on an earlier day than a reading that proves it was taken: a reading of its own task, any reading of the stage, the weighing.",
        why: "Who signs says that the reading was there and good. Signed before it was taken, the signature proves nothing, and nobody may have looked at the figure at all.",
        example: "[recorded.taken]\nair-heater = { by = \"S. T.\", date = 2027-05-11 }\n\n[recorded.signed]\nair-heater.run = { by = \"I. M.\", date = 2027-05-07 }   # carbon monoxide was read on the 11th",
        basis: "What a signature means; common practice of work under sign-off, no source.",
    },
    run,
};

/// Something that was measured: what, when, and where the spec says when.
struct Proof {
    what: String,
    stage: Stage,
    date: Date,
    span: Span,
}

fn run(context: &Context<'_>, sink: &mut Sink) {
    let (build, readings) = (context.build, &context.readings);
    let signed = &build.spec.recorded.signed;
    if signed.is_empty() {
        return;
    }
    let (taken, tested) = (taken(context), tested(context));
    let weighed = build.holds.keys().any(|id| is_of_weighing(build, id)).then(|| weighing(build)).flatten();
    for stage in Stage::ALL {
        let Some(signature) = signed.get(stage.id()) else { continue };
        let all = taken.values().chain(tested.values()).chain(&weighed);
        report(stage.id(), signature, all.filter(|p| p.stage == *stage), sink);
    }
    let proofs = readings.proofs();
    for (id, hold, signature) in signed_holds(build) {
        let of_readings = proofs.readings(hold).filter_map(|key| taken.get(key));
        let dead = proofs.dead_tests(build, hold).filter_map(|(circuit, test)| tested.get(&(circuit, test)));
        let weighed = weighed.iter().filter(|_| is_of_weighing(build, id));
        report(id, signature, of_readings.chain(dead).chain(weighed), sink);
    }
}

/// Readings that are recorded and have a day, by their keys.
fn taken<'b>(context: &'b Context<'_>) -> BTreeMap<&'b str, Proof> {
    let (build, readings) = (context.build, &context.readings);
    let recorded = readings.tests.iter().filter(|t| readings.results.contains_key(&t.id));
    let dated = recorded.filter_map(|t| {
        let taken = readings::taken(build, t.stage, &t.id)?;
        let proof = Proof { what: t.id.clone(), stage: t.stage, date: taken.value.date?, span: taken.span };
        Some((t.id.as_str(), proof))
    });
    dated.collect()
}

/// The same of tests of circuits, by label and test.
fn tested<'b>(context: &'b Context<'_>) -> BTreeMap<(&'b str, &'static str), Proof> {
    let (build, readings) = (context.build, &context.readings);
    let all = readings.circuits.iter().flat_map(|c| CIRCUIT_TESTS.iter().map(move |test| (c.circuit.as_str(), *test)));
    let dated = all.filter_map(|(circuit, test)| {
        let what = format!("{circuit}.{test}");
        readings.circuit_results.get(&what)?;
        let stage = readings::stage_of(build, test);
        let dead = DEAD_TESTS.contains(&test);
        let taken =
            if dead { readings::taken_dead(build, &what, test) } else { readings::taken(build, stage, circuit) };
        let (date, span) = (taken?.value.date?, taken?.span);
        Some(((circuit, test), Proof { what, stage, date, span }))
    });
    dated.collect()
}

fn is_of_weighing(build: &Build<'_>, task: &str) -> bool {
    let part = build.tasks.get(task).and_then(|t| build.parts.get(t.part.as_ref()?));
    part.is_some_and(|p| p.roles.weighing.is_some())
}

fn weighing(build: &Build<'_>) -> Option<Proof> {
    let date = &build.weights.date;
    Some(Proof { what: "the weighing".to_owned(), stage: Stage::Commissioning, date: date.get()?, span: date.span })
}

/// Of several proofs that are late the latest tells it.
fn report<'p>(id: &str, signature: &Spanned<Signature>, proofs: impl Iterator<Item = &'p Proof>, sink: &mut Sink) {
    let Some(date) = signature.value.date else { return };
    let late: Vec<&Proof> = proofs.filter(|p| p.date > date).collect();
    let Some(latest) = late.iter().rev().max_by_key(|p| p.date) else { return };
    let more = match late.len() {
        1 => String::new(),
        n => format!(" and {} more", n - 1),
    };
    sink.push(
        Finding::warning(
            CHECK.doc.name,
            format!(
                "`{id}` is signed on {date}, but {}{more} {} read on {}",
                latest.what,
                if late.len() == 1 { "was" } else { "were" },
                latest.date
            ),
        )
        .about(id)
        .at(signature.span, format!("signed {date}"))
        .label(latest.span, format!("read {}", latest.date))
        .basis("a signature stands for what was read before it")
        .help(format!(
            "sign again on {} or later, or put the day of the reading right in [recorded.taken]",
            latest.date
        )),
    );
}
