//! Every text of a spec with its place, for checks of what people typed.

use super::model::Spec;
use crate::fields::{Record, Value};
use crate::source::Span;

/// A text somebody typed.
#[derive(Clone, Copy, Debug)]
pub struct Typed<'a> {
    /// Id of the component, place, task or contact it belongs to; a section's name where there is no id.
    pub owner: &'a str,
    /// Field or key.
    pub field: &'a str,
    /// The text.
    pub text: &'a str,
    /// It is a line of Markdown: a note, or what a task says.
    pub prose: bool,
    /// Its place.
    pub span: Span,
}

impl Spec {
    /// Shows `see` every text the spec gives and documents may print, in no order to rely on. A text that `like` copied
    /// comes several times, with the same place.
    pub fn each_text<'a>(&'a self, see: &mut dyn FnMut(Typed<'a>)) {
        for (owner, record) in
            [("build", &self.build), ("vehicle", &self.vehicle), ("use", &self.usage), ("use.goals", &self.goals)]
        {
            of_record(owner, record, false, see);
        }
        let tables = [&self.climates, &self.shell, &self.places, &self.channels, &self.stages, &self.contacts];
        for (id, record) in tables.into_iter().flatten() {
            of_record(id, record, false, see);
        }
        // What a task or upkeep says is printed like the tasks of kinds.
        for (id, record) in self.tasks.iter().chain(&self.upkeep) {
            of_record(id, record, true, see);
        }
        for (id, component) in &self.components {
            of_record(id, &component.record, false, see);
        }
        let lists = [("deviation", &self.deviations), ("snag", &self.snags), ("certificate", &self.certificates)];
        for (owner, record) in lists.into_iter().flat_map(|(owner, list)| list.iter().map(move |r| (owner, r))) {
            of_record(owner, record, false, see);
        }
        for accepted in &self.accepted {
            for (field, text) in [("reason", &accepted.reason), ("by", &accepted.by)] {
                see(Typed { owner: "accepted", field, text, prose: false, span: accepted.span });
            }
        }
        let recorded = &self.recorded;
        for (key, text) in recorded.serials.iter().chain(&recorded.readings).chain(&recorded.conductors) {
            see(Typed { owner: key, field: key, text: key, prose: false, span: text.span });
            see(Typed { owner: key, field: key, text: &text.value, prose: false, span: text.span });
        }
        for (key, signature) in recorded.taken.iter().chain(&recorded.signed) {
            see(Typed { owner: key, field: key, text: key, prose: false, span: signature.span });
            see(Typed { owner: key, field: "by", text: &signature.value.by, prose: false, span: signature.span });
        }
        of_record("recorded.weights", &recorded.weights, false, see);
        for (key, record) in [&recorded.circuits, &recorded.warranty, &recorded.photos].into_iter().flatten() {
            see(Typed { owner: key, field: key, text: key, prose: false, span: record.span });
            of_record(key, record, false, see);
        }
    }
}

fn of_record<'a>(owner: &'a str, record: &'a Record, prose: bool, see: &mut dyn FnMut(Typed<'a>)) {
    for (field, entry) in record.fields.iter().filter(|(_, entry)| entry.given) {
        match &entry.value {
            Value::Text(text) => see(Typed { owner, field, text, prose, span: entry.span }),
            Value::Prose(text) => see(Typed { owner, field, text, prose: true, span: entry.span }),
            Value::Texts(texts) => {
                for t in texts {
                    see(Typed { owner, field, text: &t.value, prose, span: t.span });
                }
            }
            Value::Parts(parts) => parts.iter().for_each(|(_, part)| of_record(owner, part, prose, see)),
            Value::Rows(rows) => rows.iter().for_each(|row| of_record(owner, row, prose, see)),
            _ => {}
        }
    }
}
