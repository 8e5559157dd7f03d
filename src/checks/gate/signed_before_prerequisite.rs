//! Signed before that which must come first.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Stage;
use crate::source::Spanned;
use crate::spec::Signature;
use jiff::Span;
use jiff::civil::Date;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "signed-before-prerequisite",
        severity: Severity::Warning,
        what: "A stage is signed on an earlier day than a stage before it or than a hold point in it, or a hold point earlier than one it waits for, or before what that did has cured.",
        why: "Work that is covered up before it was passed can't be seen any more; or a date is wrong, and the record proves nothing.",
        example: "[recorded.signed]\nopenings = { by = \"K. L.\", date = 2027-03-04 }\ninsulation = { by = \"K. L.\", date = 2027-03-01 }",
        basis: "Order of the stages and of the tasks.",
    },
    run,
};

const MINUTES_OF_A_DAY: u64 = 24 * 60;

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let signed = &build.spec.recorded.signed;
    let of = |id: &str| signed.get(id).and_then(|s| Some((s, s.value.date?)));
    for (place, stage) in Stage::ALL.iter().enumerate() {
        let Some((signature, date)) = of(stage.id()) else { continue };
        // The latest of those that are late tells it.
        let late = Stage::ALL[..place].iter().filter_map(|s| of(s.id()).map(|(_, d)| (s.id(), d)));
        let holds = build.tasks.values().filter(|t| t.stage == *stage);
        let late = late.chain(holds.filter_map(|t| of(&t.id).map(|(_, d)| (t.id.as_str(), d))));
        if let Some((first, of_first)) = late.filter(|(_, d)| *d > date).max_by_key(|(_, d)| *d) {
            report(signed, (stage.id(), signature, date), (first, of_first), None, sink);
        }
    }
    for task in build.tasks.values() {
        let Some((signature, date)) = of(&task.id) else { continue };
        // What cures is so when it has cured; of a day's hour nobody writes, so part of a day counts as none.
        let cured = |first: &str, signed: Date| {
            let days = build.tasks.get(first).map_or(0, |t| t.cures / MINUTES_OF_A_DAY);
            let span = i64::try_from(days).ok().and_then(|days| Span::new().try_days(days).ok());
            span.and_then(|span| signed.checked_add(span).ok()).unwrap_or(Date::MAX)
        };
        let before = task.after.ids().filter_map(|a| of(a).map(|(_, d)| (a, d, cured(a, d))));
        if let Some((first, of_first, cured)) = before.filter(|(.., cured)| *cured > date).max_by_key(|(.., c)| *c) {
            report(signed, (&task.id, signature, date), (first, of_first), Some(cured).filter(|c| *c > of_first), sink);
        }
    }
}

fn report(
    signed: &indexmap::IndexMap<String, Spanned<Signature>>,
    (id, signature, date): (&str, &Spanned<Signature>, Date),
    (first, of_first): (&str, Date),
    cured: Option<Date>,
    sink: &mut Sink,
) {
    let headline = match cured {
        Some(cured) => format!("`{id}` is signed on {date}, before `{first}` ({of_first}) has cured, on {cured}"),
        None => format!("`{id}` is signed on {date}, before `{first}` ({of_first}), which comes first"),
    };
    let mut finding = Finding::warning(CHECK.doc.name, headline).about(id).at(signature.span, format!("signed {date}"));
    if let Some(other) = signed.get(first) {
        finding = finding.label(other.span, format!("signed {of_first}"));
    }
    sink.push(
        finding
            .basis("order of the stages and of the tasks, and how long each cures")
            .help("put the date right, or look at the work again and sign with the day of that"),
    );
}
