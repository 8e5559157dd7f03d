//! The whole of a spec: version line, sections, components, references.

use super::earlier::{READ, VERSION};
use super::model::{Accepted, Page, Spec};
use super::record::{Owner, Reader};
use super::stock::Shelf;
use super::suggest::{is_plain, listed, near, not_plain};
use super::syntax::Damage;
use super::tree::{Item, Node, Table};
use super::{components, recorded, references, stock};
use crate::diag::Finding;
use crate::fields::{KindFields, Record};
use crate::source::{Span, Spanned};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// A document on its way to a spec.
pub(super) struct Whole<'a> {
    pub(super) reader: Reader<'a>,
    pub(super) table: &'a Table,
    pub(super) known: &'a KindFields,
    pub(super) shelf: &'a Shelf,
    pub(super) damage: &'a mut Damage,
}

impl<'a> Whole<'a> {
    /// Version line, and names that are no section.
    fn top_level(&mut self) {
        let language = self.reader.language;
        let components = (!language.component.common.is_empty()).then_some("component");
        let sections = language.sections.keys().filter_map(|name| name.split('.').next());
        let known: BTreeSet<&str> = sections.chain(components).collect();
        for (name, (key, item)) in &self.table.entries {
            match item.node {
                _ if name == "spec" => self.version(item),
                _ if known.contains(name.as_str()) => {}
                Node::Table(_) | Node::List(_) => self.unknown_section(name, *key, item, &known),
                _ => self.stray(name, *key),
            }
        }
    }

    fn version(&mut self, item: &Item) {
        let headline = match item.node {
            Node::Integer(Some(n)) if READ.contains(&n) => return,
            Node::Integer(Some(n)) => {
                format!("this program reads versions {} to {VERSION} of the spec language, not {n}", READ.start())
            }
            _ => format!("`spec` is {}; it takes the version, {VERSION}", item.node.word()),
        };
        let finding = Finding::error("unknown-version", headline).at(item.span, "version");
        self.reader
            .sink
            .push(finding.help(format!("write spec = {VERSION}, or use the program this spec was written for")));
    }

    fn unknown_section(&mut self, name: &str, key: Span, item: &Item, known: &BTreeSet<&str>) {
        let finding = Finding::error("unknown-section", format!("there is no section `{name}`")).at(key, "not known");
        if let Node::Table(table) = &item.node {
            self.damage.words.extend(table.entries.keys().cloned());
        }
        self.reader.sink.push(if let Some(near) = near(self.reader.sink, name, known.iter().copied()) {
            finding.help(format!("did you mean `{near}`?")).fix(key, near)
        } else if self.known.kinds.contains_key(name) {
            finding.help(format!("{name} is a kind: write [component.{name}] and kind = \"{name}\""))
        } else {
            finding.help(format!("known are {}", listed(known.iter().copied(), 20)))
        });
    }

    fn stray(&mut self, name: &str, key: Span) {
        let finding = Finding::error("unknown-field", format!("`{name}` stands before the first section"));
        let finding = finding.at(key, "in no section");
        let home = self
            .reader
            .language
            .sections
            .iter()
            .find(|(_, section)| section.fields.contains_key(name))
            .map(|(home, _)| home);
        self.reader.sink.push(match home {
            Some(home) => finding.help(format!("move it below [{home}]")),
            None => finding.help(format!("only spec = {VERSION} may stand there")),
        });
    }

    /// Reads everything.
    pub(super) fn spec(mut self) -> Spec {
        self.top_level();
        let mut spec = Spec {
            build: self.one("build"),
            vehicle: self.one("vehicle"),
            usage: self.one("use"),
            goals: self.one("use.goals"),
            climates: self.many("climate"),
            shell: self.many("shell"),
            places: self.many("place"),
            channels: self.many("channel"),
            stages: self.many("stage"),
            times: self.one("times"),
            tasks: self.many("task"),
            upkeep: self.many("upkeep"),
            contacts: self.many("contact"),
            people: self.many("person"),
            instruments: self.many("instrument"),
            accepted: self.accepted(),
            deviations: self.list("deviation"),
            snags: self.list("snag"),
            certificates: self.list("certificate"),
            ..Spec::default()
        };
        if let Some(table) = self.section("component") {
            self.ids(table, "component");
            spec.components = components::read(&mut self.reader, table, self.known, self.shelf, self.damage);
            spec.stock = self.shelf.taken();
        }
        if let Some(table) = self.section("recorded") {
            spec.recorded = recorded::read(&mut self.reader, table, self.damage);
        }
        let Reader { references, sink, .. } = self.reader;
        let table = |name: &str| match self.table.entries.get(name) {
            Some((_, Item { node: Node::Table(table), .. })) => Some(table),
            _ => None,
        };
        let known = references::Known { components: table("component"), tasks: table("task"), places: table("place") };
        references::check(&references, known, self.damage, sink);
        spec
    }

    /// Reads the page of a shop.
    pub(super) fn page(mut self) -> Page {
        self.top_level();
        let mut page = Page {
            shop: self.one("shop"),
            people: self.many("person"),
            instruments: self.many("instrument"),
            labour: self.many("labour"),
            times: self.one("times"),
            texts: self.one("texts"),
            ..Page::default()
        };
        if let Some(table) = self.section("words") {
            page.words = recorded::texts(&mut self.reader, "words", table, false);
        }
        if let Some(entry) = page.shop.get("logo") {
            let (span, file) = (entry.span, page.shop.text("logo").unwrap_or_default());
            stock::picture(&mut self.reader, "shop", file, span);
        }
        page
    }

    /// The table of a section, if the file has it; that of `use.goals` stands in that of `use`.
    fn section(&mut self, name: &str) -> Option<&'a Table> {
        let item = self.item(name)?;
        if let Node::Table(table) = &item.node {
            return Some(table);
        }
        let headline = format!("`{name}` is {}; it is a section", item.node.word());
        let finding = Finding::error("wrong-type", headline).at(item.span, item.node.word());
        let header = if name == "component" { "[component.<id>]".to_owned() } else { format!("[{name}]") };
        self.reader.sink.push(finding.help(format!("write {header}, in single brackets")));
        None
    }

    /// What stands under the name of a section.
    fn item(&self, name: &str) -> Option<&'a Item> {
        let Some((whole, part)) = name.split_once('.') else {
            return self.table.entries.get(name).map(|(_, item)| item);
        };
        match self.table.entries.get(whole)?.1.node {
            Node::Table(ref table) => table.entries.get(part).map(|(_, item)| item),
            _ => None,
        }
    }

    /// A section with one table; its defaults where the file has none.
    fn one(&mut self, name: &str) -> Record {
        let owner = Owner { name, subject: None, kind: None };
        let decls = self.reader.language.fields_of(name);
        let below = format!("{name}.");
        let parts: Vec<&str> =
            self.reader.language.sections.keys().filter_map(|other| other.strip_prefix(&below)).collect();
        let given = match self.section(name) {
            Some(table) => self.reader.given(owner, table, decls, &parts, false),
            None => super::record::Given::default(),
        };
        let lost =
            !self.damage.words.is_empty() || self.item(name).is_some_and(|item| !matches!(item.node, Node::Table(_)));
        let path: Vec<&str> = name.split('.').collect();
        let damaged = self.damage.hit(&path) || lost && given.record.fields.is_empty();
        self.reader.complete(owner, given, decls, damaged)
    }

    /// A section with a table for each id.
    fn many(&mut self, name: &str) -> IndexMap<String, Record> {
        let mut out = IndexMap::new();
        let Some(table) = self.section(name) else { return out };
        self.ids(table, name);
        let decls = self.reader.language.fields_of(name);
        for (id, (key, item)) in &table.entries {
            let Node::Table(inner) = &item.node else {
                self.not_a_table(name, id, *key, item);
                continue;
            };
            let owner = Owner { name: &format!("{name} {id}"), subject: Some(id), kind: None };
            let given = self.reader.given(owner, inner, decls, &[], false);
            let damaged = self.damage.hit(&[name, id]);
            out.insert(id.clone(), self.reader.complete(owner, given, decls, damaged));
        }
        out
    }

    fn not_a_table(&mut self, section: &str, id: &str, key: Span, item: &Item) {
        let headline = format!("`{section}.{id}` is {}; each {section} is a table", item.node.word());
        let finding = Finding::error("wrong-type", headline).at(key, item.node.word());
        self.reader
            .sink
            .push(finding.help(format!("write a header with an id, like [{section}.{}]", example_id(section))));
    }

    /// Holds the ids of a section against the form of ids; those of stages against the plan.
    fn ids(&mut self, table: &Table, section: &str) {
        let stages =
            &self.reader.language.fields_of("task").get("stage").map(|d| d.choices.clone()).unwrap_or_default();
        for (id, (key, item)) in &table.entries {
            if !matches!(item.node, Node::Table(_)) {
                continue;
            }
            if section == "stage" && !stages.contains(id) {
                let finding = Finding::error("unknown-stage", format!("there is no stage `{id}`"))
                    .about(id)
                    .at(*key, "not known");
                let known = || stages.iter().map(String::as_str);
                self.reader.sink.push(match near(self.reader.sink, id, known()) {
                    Some(near) => finding.help(format!("did you mean `{near}`?")).fix(*key, near),
                    None => finding.help(format!("the stages are {}", listed(known(), 20))),
                });
            } else if !is_plain(id) {
                self.reader.sink.push(not_plain(section, id, *key));
            }
        }
    }

    /// A section with any number of tables, each in double brackets.
    fn list(&mut self, name: &str) -> Vec<Record> {
        let decls = self.reader.language.fields_of(name);
        let Some((key, item)) = self.table.entries.get(name) else { return Vec::new() };
        let help = format!("write [[{name}]] in double brackets, once for each");
        let Node::List(list) = &item.node else {
            let headline = format!("`{name}` is {}; it is a list", item.node.word());
            let finding = Finding::error("wrong-type", headline).at(*key, item.node.word());
            self.reader.sink.push(finding.help(help));
            return Vec::new();
        };
        let mut out = Vec::new();
        for (number, item) in list.iter().enumerate() {
            let Node::Table(table) = &item.node else {
                let headline = format!("`{name}` holds {}; it holds tables", item.node.word());
                let finding = Finding::error("wrong-type", headline).at(item.span, item.node.word());
                self.reader.sink.push(finding.help(help.clone()));
                continue;
            };
            let owner = Owner { name, subject: None, kind: None };
            let given = self.reader.given(owner, table, decls, &[], false);
            let damaged = self.damage.hit(&[name, &format!("#{}", number + 1)]);
            let mut record = self.reader.complete(owner, given, decls, damaged);
            record.span = item.span;
            out.push(record);
        }
        out
    }

    fn accepted(&mut self) -> Vec<Accepted> {
        let entry = |record: Record| {
            let text = |field: &str| {
                let entry = record.get(field)?;
                Some(Spanned::new(record.text(field)?.to_owned(), entry.span))
            };
            let (finding, reason, by) = (text("finding")?, text("reason")?, text("by")?);
            let (reason, by) = (reason.value, by.value);
            Some(Accepted { finding, about: text("about"), reason, by, span: record.span })
        };
        self.list("accepted").into_iter().filter_map(entry).collect()
    }
}

fn example_id(section: &str) -> &'static str {
    match section {
        "component" => "fridge",
        "climate" => "winter",
        "shell" => "roof",
        "channel" => "riser",
        "stage" => "furniture",
        "task" => "fit-mast",
        "upkeep" => "wax-roof",
        "contact" => "shop",
        "person" => "a-mason",
        "instrument" => "meter-1",
        "labour" => "bench",
        _ => "galley",
    }
}
