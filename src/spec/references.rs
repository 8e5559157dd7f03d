//! Ids used as values: each must be the id of something in the spec.

use super::field::about;
use super::record::{Reference, Target};
use super::suggest::{near, plain};
use super::syntax::Damage;
use super::tree::Table;
use crate::diag::{Finding, Sink};
use std::collections::BTreeSet;

/// Tables of the spec that have ids.
#[derive(Clone, Copy)]
pub(super) struct Known<'a> {
    pub(super) components: Option<&'a Table>,
    pub(super) tasks: Option<&'a Table>,
    pub(super) places: Option<&'a Table>,
}

/// Reports references that lead nowhere. A target whose own definition is faulty still counts as there.
pub(super) fn check(references: &[Reference], known: Known<'_>, damage: &Damage, sink: &mut Sink) {
    let Known { components, tasks, places } = known;
    for (target, table) in [(Target::Component, components), (Target::Place, places)] {
        let known: Vec<&str> = table.into_iter().flat_map(|t| t.entries.keys()).map(String::as_str).collect();
        let mended = known.iter().filter_map(|id| plain(id));
        let there: BTreeSet<String> =
            known.iter().map(|id| (*id).to_owned()).chain(mended).chain(damage.words.iter().cloned()).collect();
        // What is recorded of a task of the build is not of a component.
        let of_task = |r: &Reference| r.is_key && tasks.is_some_and(|t| t.entries.contains_key(&r.id.value));
        let lost = |r: &&Reference| r.to == target && !there.contains(&r.id.value) && !of_task(r);
        for reference in references.iter().filter(lost) {
            let near = near(sink, &reference.id.value, known.iter().copied());
            sink.push(unknown(reference, near));
        }
    }
}

fn unknown(reference: &Reference, near: Option<&str>) -> Finding {
    let (name, what) = match reference.to {
        Target::Component => ("unknown-component", "component"),
        Target::Place => ("unknown-place", "place"),
    };
    let id = &reference.id;
    let headline =
        format!("{}: `{}` names {what} \"{}\", and there is none", reference.owner, reference.field, id.value);
    let finding = about(Finding::error(name, headline).at(id.span, "no such id"), reference.subject.as_deref());
    match near {
        Some(near) if reference.is_key => finding.help(format!("did you mean `{near}`?")),
        Some(near) => finding.help(format!("did you mean \"{near}\"?")).fix(id.span, format!("\"{near}\"")),
        None => finding.help(format!("add [{what}.{}], or correct the id", plain(&id.value).unwrap_or("id".into()))),
    }
}
