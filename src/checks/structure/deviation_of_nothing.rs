//! Something was done otherwise on site, and nobody can tell of what.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::TaskTemplate;
use crate::source::Span;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "deviation-of-nothing",
        severity: Severity::Error,
        what: "A [[deviation]] names none or several of conductor, opening and task, or one that this build does not have.",
        why: "It is marked on no list and no drawing, and whoever opens the wall in three years finds what no paper shows.",
        example: "[[deviation]]\nconductor = \"fridge.suply\"\ndone      = \"laid along the left wall\"\nagreed    = \"E. O.\"\ndate      = 2027-05-03",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for deviation in &build.site.deviations {
        let opening = deviation.opening.all().first();
        let given = [deviation.conductor.given, opening.is_some(), deviation.task.given];
        if given.iter().filter(|given| **given).count() != 1 {
            let finding = Finding::error(CHECK.doc.name, "a deviation is of one conductor, one opening or one task");
            let finding = finding.at(deviation.span, "of which?").basis("it is marked where that stands");
            sink.push(finding.help("say one of `conductor`, `opening` and `task`, and write an entry for each"));
            continue;
        }
        let mut unknown = |what: &str, id: &str, span: Span, known: &mut dyn Iterator<Item = &str>| {
            let finding = Finding::error(CHECK.doc.name, format!("no {what} `{id}` in this build"));
            let finding = finding.about(id).at(span, "is not there").basis("it is marked where that stands");
            sink.push(match sink.nearest(id, known) {
                Some(near) => finding.help(format!("did you mean `{near}`?")),
                None => finding.help("take the entry out"),
            });
        };
        if let Some(label) = deviation.conductor.text() {
            let wiring = &build.wiring.conductors;
            if !wiring.contains_key(label) && !build.circuits.contains_key(label) {
                let mut known = wiring.keys().chain(build.circuits.keys()).map(String::as_str);
                unknown("conductor or circuit", label, deviation.conductor.span, &mut known);
            }
        }
        if let Some(task) = deviation.task.text().filter(|task| !build.tasks.contains_key(*task)) {
            unknown("task", task, deviation.task.span, &mut build.tasks.keys().map(String::as_str));
        }
        let cuts = |part: &str| build.tasks_of(part).filter_map(|t| t.template).any(TaskTemplate::cuts_skin);
        if let Some(part) = opening.filter(|part| build.parts.contains_key(&part.value) && !cuts(&part.value)) {
            let mut known = build.parts.keys().map(String::as_str).filter(|id| cuts(id));
            unknown("opening for", &part.value, part.span, &mut known);
        }
    }
}
