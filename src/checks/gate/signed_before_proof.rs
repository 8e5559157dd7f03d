//! Signed before what proves it was measured.

use crate::build::Build;
use crate::checks::{Check, Context};
use crate::compute::readings::{self, CIRCUIT_TESTS, DEAD_TESTS};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Stage;
use crate::source::{Span, Spanned};
use crate::spec::Signature;
use jiff::civil::Date;

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
struct Proof<'b> {
    what: String,
    stage: Stage,
    task: Option<&'b str>,
    date: Date,
    span: Span,
}

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let signed = &build.spec.recorded.signed;
    if signed.is_empty() {
        return;
    }
    let proofs = proofs(context);
    for stage in Stage::ALL {
        let Some(signature) = signed.get(stage.id()) else { continue };
        report(stage.id(), signature, proofs.iter().filter(|p| p.stage == *stage), sink);
    }
    for (id, signature) in signed.iter().filter(|(id, _)| build.tasks.contains_key(*id)) {
        report(id, signature, proofs.iter().filter(|p| p.task == Some(id)), sink);
    }
}

/// All that was measured and has a day.
fn proofs<'b>(context: &'b Context<'_>) -> Vec<Proof<'b>> {
    let (build, readings) = (context.build, &context.readings);
    let read = readings.tests.iter().filter(|t| readings.results.contains_key(&t.id)).filter_map(|t| {
        let (date, span) = day(build, t.stage, &t.id)?;
        Some(Proof { what: t.id.clone(), stage: t.stage, task: t.proves.then_some(&t.task), date, span })
    });
    let circuits = readings.circuits.iter().flat_map(|c| CIRCUIT_TESTS.iter().map(move |test| (&c.circuit, *test)));
    let circuits = circuits.filter_map(|(circuit, test)| {
        let what = format!("{circuit}.{test}");
        readings.circuit_results.get(&what)?;
        let stage = readings::stage_of(build, test);
        // Readings of a component are taken when it runs, its cable is tested dead long before.
        let taken = &build.spec.recorded.taken;
        let dead = || taken.get(&what).or_else(|| taken.get(stage.id())).and_then(|t| Some((t.value.date?, t.span)));
        let (date, span) = if DEAD_TESTS.contains(&test) { dead()? } else { day(build, stage, circuit)? };
        Some(Proof { what, stage, task: None, date, span })
    });
    let mut all: Vec<Proof<'_>> = read.chain(circuits).collect();
    let weights = &build.weights;
    if let Some(date) = weights.date.get() {
        let is_its_hold = |t: &&crate::build::Task<'_>| {
            let part = t.part.as_ref().and_then(|p| build.parts.get(p));
            let is_weighing = part.is_some_and(|p| p.roles.weighing.is_some());
            is_weighing && t.template.is_some_and(|t| t.hold.is_some())
        };
        all.extend(build.tasks.values().filter(is_its_hold).map(|t| Proof {
            what: "the weighing".to_owned(),
            stage: t.stage,
            task: Some(&t.id),
            date,
            span: weights.date.span,
        }));
    }
    all
}

fn day(build: &Build<'_>, stage: Stage, id: &str) -> Option<(Date, Span)> {
    let taken = readings::taken(build, stage, id)?;
    Some((taken.value.date?, taken.span))
}

/// Of several proofs that are late the latest tells it.
fn report<'p>(id: &str, signature: &Spanned<Signature>, proofs: impl Iterator<Item = &'p Proof<'p>>, sink: &mut Sink) {
    let Some(date) = signature.value.date else { return };
    let late: Vec<&Proof<'_>> = proofs.filter(|p| p.date > date).collect();
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
