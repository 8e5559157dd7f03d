//! One table of the document → a record, by its declarations: unknown, missing and faulty fields are reported.

use super::field::about;
use super::parts;
use super::sections::Language;
use super::suggest::{listed, meant, near, otherwise};
use super::tree::Table;
use super::value::Field;
use crate::diag::{Finding, Sink};
use crate::fields::{Declarations, Entry, KindFields, Record, Value};
use crate::letters::shows_nothing;
use crate::source::{SourceFile, Span, Spanned};
use std::collections::BTreeSet;

/// Whose table it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Owner<'a> {
    /// For headlines: `fridge`, `vehicle`, `climate winter`.
    pub(super) name: &'a str,
    /// Id of the component, place or task, for the finding.
    pub(super) subject: Option<&'a str>,
    /// Kind, for a component.
    pub(super) kind: Option<&'a str>,
}

/// What an id of the spec points to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    /// A component.
    Component,
    /// A place.
    Place,
}

/// An id used as a value.
#[derive(Clone, Debug)]
pub(super) struct Reference {
    pub(super) to: Target,
    pub(super) id: Spanned<String>,
    pub(super) owner: String,
    pub(super) subject: Option<String>,
    pub(super) field: String,
    /// Stands as a key, not as a value.
    pub(super) is_key: bool,
}

/// What a table gives, before defaults.
#[derive(Clone, Debug, Default)]
pub(super) struct Given {
    /// The values that could be read.
    pub(super) record: Record,
    /// Fields that were given, but wrongly (also under a name that is nearly theirs).
    pub(super) faulty: BTreeSet<String>,
}

/// Reads tables; collects references for a check at the end.
pub(super) struct Reader<'a> {
    /// The spec, with the files of a shop behind it.
    pub(super) file: &'a SourceFile,
    pub(super) language: &'a Language,
    pub(super) sink: &'a mut Sink,
    pub(super) references: Vec<Reference>,
    /// File names of the pictures there are.
    pub(super) pictures: Vec<String>,
}

impl<'a> Reader<'a> {
    pub(super) fn of(file: &'a SourceFile, language: &'a Language, pictures: &[String], sink: &'a mut Sink) -> Self {
        Self { file, language, sink, references: Vec::new(), pictures: pictures.to_vec() }
    }
}

impl Reader<'_> {
    /// Tells of a kind that is not known, with those that may be meant: by their words, then by letters.
    pub(super) fn unknown_kind(&mut self, owner: &str, subject: &str, kind: &Spanned<String>, known: &KindFields) {
        let finding = Finding::error("unknown-kind", format!("{owner}: there is no kind \"{}\"", kind.value));
        let finding = finding.about(subject).at(kind.span, "not known");
        let finding = match meant(self.sink, &kind.value, known) {
            (None, _) => finding,
            (Some(words), None) => finding.help(words),
            (Some(words), Some(only)) => finding.help(words).fix(kind.span, format!("\"{only}\"")),
        };
        self.sink.push(finding.help(otherwise(&kind.value)));
    }

    /// Reads what `table` gives. Fields in `skip` are left alone; where `open`, unknown fields are let pass.
    pub(super) fn given(
        &mut self,
        owner: Owner<'_>,
        table: &Table,
        decls: &Declarations,
        skip: &[&str],
        open: bool,
    ) -> Given {
        let mut given = Given { record: Record { span: table.span, ..Record::default() }, ..Given::default() };
        for (name, (key, item)) in &table.entries {
            if skip.contains(&name.as_str()) {
                continue;
            }
            let Some(decl) = decls.get(name) else {
                if !open {
                    self.unknown(owner, name, *key, decls, table, &mut given.faulty);
                }
                continue;
            };
            let field = Field { file: self.file, owner: owner.name, subject: owner.subject, name, decl };
            let mut faults = Vec::new();
            let value = field.read(item, &mut faults);
            for fault in faults {
                self.sink.push(fault);
            }
            if let Some(value) = value {
                self.refer(owner, name, &value);
                if let (Value::Choices(words), false) = (&value, open) {
                    self.fields_named(owner, name, words, decls);
                }
                given.record.fields.insert(name.clone(), Entry::of(decl, value, item.span, true));
            } else {
                given.faulty.insert(name.clone());
            }
        }
        given
    }

    /// Adds defaults and reports what is required and missing, unless a fault above is the likely reason.
    pub(super) fn complete(&mut self, owner: Owner<'_>, given: Given, decls: &Declarations, damaged: bool) -> Record {
        self.complete_but(&[], owner, given, decls, damaged)
    }

    /// The same without the fields of `apart`, which are read elsewhere.
    pub(super) fn complete_but(
        &mut self,
        apart: &[&str],
        owner: Owner<'_>,
        given: Given,
        decls: &Declarations,
        damaged: bool,
    ) -> Record {
        let Given { mut record, faulty } = given;
        let mut missing = Vec::new();
        // A text without a sign in it says no more than none, and would leave a heading or a cell empty.
        record.fields.retain(|_, entry| match &mut entry.value {
            Value::Text(text) | Value::Prose(text) => !is_blank(text),
            Value::Texts(texts) => {
                texts.retain(|t| !is_blank(&t.value));
                true
            }
            _ => true,
        });
        let own = || decls.iter().filter(|(name, _)| !apart.contains(&name.as_str()));
        for (name, decl) in own() {
            if record.fields.contains_key(name) || faulty.contains(name) {
                continue;
            }
            if decl.required {
                missing.push(name.as_str());
                continue;
            }
            let field = Field { file: self.file, owner: owner.name, subject: owner.subject, name, decl };
            let default = decl.default.as_ref().and_then(|d| field.declared(d, record.span));
            if let Some(value) = default {
                record.fields.insert(name.clone(), Entry::of(decl, value, record.span, false));
            }
        }
        if !missing.is_empty() && !damaged {
            self.sink.push(missing_fields(owner, &missing, record.span, decls));
        }
        for (name, entry) in &mut record.fields {
            let (Value::Parts(parts), Some(decl)) = (&mut entry.value, decls.get(name)) else { continue };
            for (id, own) in parts {
                let given = Given { record: std::mem::take(own), ..Given::default() };
                let whose = parts::owner(owner.name, name, &id.value);
                *own = self.complete(Owner { name: &whose, ..owner }, given, &decl.has, damaged);
            }
        }
        record.faulty = faulty;
        record.private = own().filter(|(_, decl)| decl.private).map(|(name, _)| name.clone()).collect();
        record
    }

    /// Tells of words for fields that there are not.
    fn fields_named(
        &mut self,
        owner: Owner<'_>,
        field: &str,
        words: &[(Spanned<String>, Spanned<String>)],
        decls: &Declarations,
    ) {
        for (name, _) in words.iter().filter(|(name, _)| !decls.contains_key(&name.value)) {
            let headline = format!("{}: `{field}` names `{}`, and there is no such field", owner.name, name.value);
            let finding = about(Finding::error("unknown-field", headline).at(name.span, "not known"), owner.subject);
            let near = near(self.sink, &name.value, decls.keys().map(String::as_str));
            self.sink.push(match near {
                Some(near) => finding.help(format!("did you mean `{near}`?")).fix(name.span, near),
                None => finding.help("name a field of this component, like `conductor`"),
            });
        }
    }

    fn refer(&mut self, owner: Owner<'_>, field: &str, value: &Value) {
        if let Value::Parts(parts) = value {
            for (id, record) in parts {
                let name = parts::owner(owner.name, field, &id.value);
                let owner = Owner { name: &name, ..owner };
                record.fields.iter().for_each(|(inner, entry)| self.refer(owner, inner, &entry.value));
            }
        }
        let (to, ids) = match value {
            Value::Components(ids) => (Target::Component, ids),
            Value::Places(ids) => (Target::Place, ids),
            _ => return,
        };
        self.references.extend(ids.iter().map(|id| Reference {
            to,
            id: id.clone(),
            owner: owner.name.to_owned(),
            subject: owner.subject.map(str::to_owned),
            field: field.to_owned(),
            is_key: false,
        }));
    }

    fn unknown(
        &mut self,
        owner: Owner<'_>,
        name: &str,
        key: Span,
        decls: &Declarations,
        table: &Table,
        faulty: &mut BTreeSet<String>,
    ) {
        let finding = Finding::error("unknown-field", format!("{}: there is no field `{name}`", owner.name));
        let finding = about(finding.at(key, "not known"), owner.subject);
        let free = decls.keys().map(String::as_str).filter(|k| !table.entries.contains_key(*k));
        if let Some(near) = near(self.sink, name, free) {
            faulty.insert(near.to_owned());
            self.sink.push(finding.help(format!("did you mean `{near}`?")).fix(key, near));
            return;
        }
        let all = &self.language.component;
        let help = match owner.kind {
            Some(kind) if all.supply.contains_key(name) => format!("a {kind} has no supply circuit of its own"),
            Some(kind) if all.output.contains_key(name) => format!("a {kind} feeds nothing"),
            Some(kind) => {
                let own = decls.keys().map(String::as_str).filter(|k| all.get(k).is_none());
                let own = listed(own, 12);
                let own = if own.is_empty() { "no fields of its own".to_owned() } else { format!("fields {own}") };
                format!("{kind} has {own}; `rigbinder kinds {kind}` tells all")
            }
            None => format!("known are {}", listed(decls.keys().map(String::as_str), 12)),
        };
        self.sink.push(finding.help(help));
    }
}

/// Whether nothing of a text shows.
fn is_blank(text: &str) -> bool {
    text.chars().all(shows_nothing)
}

fn missing_fields(owner: Owner<'_>, missing: &[&str], span: Span, decls: &Declarations) -> Finding {
    let names: Vec<String> = missing.iter().map(|m| format!("`{m}`")).collect();
    let verb = if missing.len() == 1 { "is" } else { "are" };
    let headline = format!("{}: {} {verb} missing", owner.name, names.join(", "));
    let mut finding = Finding::error("missing-field", headline);
    finding = if span == Span::default() { finding } else { finding.at(span, "in this table") };
    for name in missing.iter().take(6) {
        let about = decls.get(*name).map_or("", |d| d.about.as_str());
        finding = finding.help(format!("{name}: {about}"));
    }
    about(finding, owner.subject)
}
