//! A task that waits for one of a later stage.

use super::task_loop::span_of_wait;
use crate::checks::{Check, Context};
use crate::compute::time::TaskFault;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Stage;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "task-after-later-stage",
        severity: Severity::Error,
        what: "A task waits for a task of a later stage.",
        why: "Stages are done one after the other: the task could not be done in its own.",
        example: "[task.line-lid]\nstage = \"furniture\"\ntitle = \"Line the lid\"\nneeds = [\"fridge.fit\"]      # a task of electrical or plumbing fit-off",
        basis: "Order of the stages.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for fault in context.task_faults {
        let TaskFault::AfterLaterStage { task, stage, after, after_stage } = fault else { continue };
        let title = |id: &str| Stage::from_id(id).map_or_else(|| id.to_owned(), |s| s.title().to_lowercase());
        let mut finding =
            Finding::error(CHECK.doc.name, format!("`{task}` comes after `{after}`, which is done in a later stage"))
                .about(task)
                .at(span_of_wait(context, task, after), format!("a task of {}", title(after_stage)));
        if let Some(record) = context.build.own_tasks.get(task) {
            finding = finding.label(record.stage.span, format!("in {}", title(stage)));
        }
        sink.push(
            finding
                .basis("stages are done one after the other")
                .help(format!("put `{task}` into stage \"{after_stage}\" or later, or take the need out")),
        );
    }
}
