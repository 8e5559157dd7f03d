//! Fewer places to sleep than people aboard.

use super::people::of_role;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "beds-too-few",
        severity: Severity::Warning,
        what: "All beds of the build together sleep fewer people than `people` of [use].",
        why: "Someone sleeps where no bed, no way out and no alarm was planned.",
        example: "[use]\npeople = 3\n\n[component.bed]\nkind = \"bed\"\nsleeps = 2",
        basis: "Counts of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(people) = context.build.usage.people.get() else { return };
    let mut beds = of_role(context, SafetyRole::Sleeping).peekable();
    let Some(first) = beds.peek().copied() else { return };
    let sleeps = |bed: &crate::build::Part<'_>| Some(bed.sleeps.get()?.saturating_mul(bed.count));
    let Some(all) = beds.map(sleeps).collect::<Option<Vec<i64>>>() else { return };
    let places = all.into_iter().fold(0_i64, i64::saturating_add);
    if places >= people {
        return;
    }
    let word = if places == 1 { "place" } else { "places" };
    sink.push(
        Finding::warning(CHECK.doc.name, format!("{people} people aboard, {places} {word} to sleep"))
            .about(&first.id)
            .at(first.span, "the first bed")
            .label(context.build.usage.people.span, format!("{people} people"))
            .basis("people of [use] against what the beds sleep")
            .help("another bed, or correct how many people travel or how many each bed sleeps"),
    );
}
