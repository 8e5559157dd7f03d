//! Tasks that wait for each other.

use crate::checks::{Check, Context};
use crate::compute::time::TaskFault;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Need;
use crate::source::Span;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "task-loop",
        severity: Severity::Error,
        what: "Tasks wait for each other in a circle.",
        why: "None of them can ever begin. The finding names the state for which each waits.",
        example: "[task.line-lid]\nstage = \"furniture\"\ntitle = \"Line the lid\"\nneeds = [\"hang-lid\"]\n\n[task.hang-lid]\nstage = \"furniture\"\ntitle = \"Hang the lid\"\nneeds = [\"line-lid\"]",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for fault in context.task_faults {
        let TaskFault::Cycle { ids } = fault else { continue };
        let Some(first) = ids.first() else { continue };
        let waits_for = |i: usize| ids[(i + ids.len() - 1) % ids.len()].as_str();
        let mut finding =
            Finding::error(CHECK.doc.name, format!("tasks wait for each other: {} → {first}", ids.join(" → ")))
                .about(first)
                .at(span_of_wait(context, first, waits_for(0)), wait(context, first, waits_for(0)));
        for (i, id) in ids.iter().enumerate().skip(1) {
            finding = finding.label(span_of_wait(context, id, waits_for(i)), wait(context, id, waits_for(i)));
        }
        sink.push(finding.basis("`needs` is an order of work").help("take one of these `needs` out"));
    }
}

/// "`fridge.connect` comes after `fridge.fit`, which brings `mounted`".
fn wait(context: &Context<'_>, task: &str, before: &str) -> String {
    let brings = state_between(context, task, before);
    let brings = brings.map_or_else(String::new, |state| format!(", which brings `{state}`"));
    format!("`{task}` comes after `{before}`{brings}")
}

/// The state for which one task waits for another; `None` where it names that task itself.
fn state_between<'c>(context: &Context<'c>, task: &str, before: &str) -> Option<&'c str> {
    let (task, before) = (context.build.tasks.get(task)?, context.build.tasks.get(before)?);
    let every = task.after.every.iter().find(|every| every.ids.contains(&before.id)).map(|every| every.name.as_str());
    let of_kind = || {
        let brought = before.template?;
        task.template?.needs.iter().map(|need| Need::read(need).state()).find(|state| brought.brings(state))
    };
    every.or_else(of_kind)
}

/// Where the spec says that `task` comes after `before`; where it brings the task in, if its kind says it.
pub(super) fn span_of_wait(context: &Context<'_>, task: &str, before: &str) -> Span {
    let task = context.build.tasks.get(task);
    let asked = task.and_then(|t| t.after.asked.iter().find(|(id, _)| id == before).map(|(_, span)| *span));
    asked.or_else(|| task.map(|t| t.span)).unwrap_or_default()
}
