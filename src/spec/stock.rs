//! `stock/*.toml`: what stands on a shop's shelf. `[stock.<id>]` has a kind and any field of that kind.

use super::field::expected;
use super::record::{Given, Owner, Reader};
use super::suggest::{is_plain, near, not_plain};
use super::syntax::{Damage, parse};
use super::tree::{Node, Table};
use crate::catalogue::{Catalogue, PAGE};
use crate::diag::{Finding, Sink};
use crate::fields::{Declarations, Entry, FieldType, KindFields, Record, Value};
use crate::source::{SourceFile, Span, Spanned};
use indexmap::IndexMap;
use std::cell::RefCell;
use std::fmt::Write;

/// Fields that belong to one component of one build.
const OF_ONE_BUILD: [&str; 10] =
    ["like", "stock", "count", "way", "run", "output_run", "at", "scope", "known", "on_board"];

/// One file of a shop, parsed, with its places behind those of the spec.
#[derive(Clone, Debug, Default)]
pub(super) struct Source {
    pub(super) table: Table,
    pub(super) damage: Damage,
}

/// One item, its fields not yet read.
#[derive(Debug)]
pub(super) struct Item {
    pub(super) id: Spanned<String>,
    pub(super) kind: Option<Spanned<String>>,
    table: Table,
    damaged: bool,
}

/// The items of a shop. Their fields are read when a component asks for them.
#[derive(Debug, Default)]
pub struct Shelf {
    pub(super) items: IndexMap<String, Item>,
    /// Whether a shop's folder is there at all.
    pub(super) there: bool,
    /// The page of the shop.
    pub(super) page: Option<Source>,
    /// File names of its pictures.
    pub(super) pictures: Vec<String>,
    read: RefCell<IndexMap<String, Given>>,
}

impl Shelf {
    /// Takes in the page and the stock of a catalogue's shop. Its files stand in `file` behind the spec from then on, and
    /// what cannot be taken in is told.
    pub fn gather(catalogue: &Catalogue, file: &mut SourceFile, sink: &mut Sink) -> Self {
        let mut shelf = Self::default();
        if let Some(layer) = catalogue.shop() {
            shelf.there = true;
            let name = |path: &str| format!("{}/{path}", layer.name());
            for fault in layer.faults() {
                let base = file.add(name(&fault.path), "");
                let span = Span { start: base, end: base };
                sink.push(Finding::error(fault.name, fault.headline.clone()).at(span, "").help(fault.help.clone()));
            }
            shelf.pictures.extend(layer.paths().filter_map(|path| path.strip_prefix("pictures/")).map(str::to_owned));
            if let Some(text) = layer.text(PAGE) {
                shelf.page = Some(source(file, name(PAGE), text, sink));
            }
            for (stem, text) in layer.folder("stock", "toml") {
                let path = name(&format!("stock/{stem}.toml"));
                let source = source(file, path, text, sink);
                shelf.put(source, sink);
            }
        }
        shelf
    }

    /// Takes in the items of one file.
    fn put(&mut self, source: Source, sink: &mut Sink) {
        let Source { table, damage } = source;
        for (section, (key, entry)) in table.entries {
            let Node::Table(items) = entry.node else {
                let finding = Finding::error("unknown-field", format!("`{section}` stands before the first item"));
                sink.push(finding.at(key, "in no item").help("write a header like [stock.fridge-110] above it"));
                continue;
            };
            if section != "stock" {
                let finding = Finding::error("unknown-section", format!("a stock file has no section `{section}`"));
                sink.push(finding.at(key, "not known").help("write [stock.<id>] for each item"));
                continue;
            }
            for (id, (key, entry)) in items.entries {
                let Node::Table(table) = entry.node else {
                    let headline = format!("`stock.{id}` is {}; an item is a table", entry.node.word());
                    let finding = Finding::error("wrong-type", headline).at(key, entry.node.word());
                    sink.push(finding.help("write a header like [stock.fridge-110] above the fields of each item"));
                    continue;
                };
                if !is_plain(&id) {
                    sink.push(not_plain("stock item", &id, key));
                }
                if let Some(first) = self.items.get(&id) {
                    let finding = Finding::error("stock-twice", format!("stock {id}: two items have this id"));
                    let finding = finding.about(&id).at(key, "the second").label(first.id.span, "the first");
                    sink.push(finding.help("give one of them another id"));
                    continue;
                }
                let damaged = damage.hit(&["stock", &id]);
                let kind = self::kind(&id, &table, damaged, sink);
                self.items.insert(id.clone(), Item { id: Spanned::new(id, key), kind, table, damaged });
            }
        }
    }

    /// Ids of the items of a kind.
    pub(super) fn of_kind(&self, kind: &str) -> impl Iterator<Item = &str> {
        let of = move |item: &&Item| item.kind.as_ref().is_some_and(|own| own.value == kind);
        self.items.values().filter(of).map(|item| item.id.value.as_str())
    }

    /// The item that a component takes; a finding where there is none.
    pub(super) fn item(&self, reader: &mut Reader<'_>, component: &str, stock: &Spanned<String>) -> Option<&Item> {
        if let Some(item) = self.items.get(&stock.value) {
            return Some(item);
        }
        let headline = format!("{component}: there is no stock item \"{}\"", stock.value);
        let finding = Finding::error("unknown-stock", headline).about(component).at(stock.span, "not known");
        reader.sink.push(match near(reader.sink, &stock.value, self.items.keys().map(String::as_str)) {
            _ if !self.there => {
                finding.help("no shop's folder was found; name it by --shop, or give `kind` and the fields here")
            }
            Some(near) => finding.help(format!("did you mean \"{near}\"?")).fix(stock.span, format!("\"{near}\"")),
            None => finding.help(format!("add [stock.{}] to a file in stock/, or correct the id", stock.value)),
        });
        None
    }

    /// What an item gives, read once.
    pub(super) fn given(&self, reader: &mut Reader<'_>, known: &KindFields, id: &str) -> Given {
        if let Some(given) = self.read.borrow().get(id) {
            return given.clone();
        }
        let given = self.items.get(id).map(|item| item.read(reader, known)).unwrap_or_default();
        self.read.borrow_mut().insert(id.to_owned(), given.clone());
        given
    }

    /// What the items that were taken give, kind included, in the order of the files.
    pub(super) fn taken(&self) -> IndexMap<String, Record> {
        let read = self.read.borrow();
        let taken = self.items.values().filter_map(|item| Some((item, read.get(&item.id.value)?)));
        let whole = |(item, given): (&Item, &Given)| {
            let mut record = given.record.clone();
            if let Some(kind) = &item.kind {
                let value = Value::Text(kind.value.clone());
                let entry = Entry { value, span: kind.span, given: true, tells_place: false };
                record.fields.insert("kind".to_owned(), entry);
            }
            (item.id.value.clone(), record)
        };
        taken.map(whole).collect()
    }

    /// Reads every item, whether a spec takes it or not.
    pub(super) fn read_all(&self, reader: &mut Reader<'_>, known: &KindFields) {
        for id in self.items.keys() {
            self.given(reader, known, id);
        }
    }
}

impl Item {
    fn read(&self, reader: &mut Reader<'_>, known: &KindFields) -> Given {
        let Some(kind) = &self.kind else { return Given::default() };
        let name = format!("stock {}", self.id.value);
        let Some(of_kind) = known.kinds.get(&kind.value) else {
            reader.unknown_kind(&name, &self.id.value, kind, known);
            return Given::default();
        };
        let mut skip = vec!["kind"];
        for (field, (key, _)) in &self.table.entries {
            if of_kind.get(field).is_some_and(|decl| of_one_build(field, decl.ty)) {
                let headline = format!("{name}: `{field}` belongs to a component, not to a stock item");
                let finding = Finding::error("field-of-one-build", headline).about(&self.id.value).at(*key, "here");
                reader.sink.push(finding.help("delete it here and give it in the spec"));
                skip.push(field);
            }
        }
        let mut decls: Declarations = of_kind.clone();
        decls.retain(|field, decl| !of_one_build(field, decl.ty));
        for (field, decl) in reader.language.of_stock() {
            decls.entry(field.clone()).or_insert_with(|| decl.clone());
        }
        let owner = Owner { name: &name, subject: Some(&self.id.value), kind: Some(&kind.value) };
        let open = self.damaged || known.unread.contains(&kind.value);
        let mut given = reader.given(owner, &self.table, &decls, &skip, open);
        if let Some(entry) = given.record.get("picture") {
            let (span, file) = (entry.span, given.record.text("picture").unwrap_or_default().to_owned());
            picture(reader, &name, &file, span);
        }
        given.record.fields.retain(|field, _| of_kind.contains_key(field) || field == "picture");
        given
    }
}

/// A picture is named, not reached: it lies in `pictures/`.
pub(super) fn picture(reader: &mut Reader<'_>, owner: &str, file: &str, span: Span) {
    if file.contains(['/', '\\']) || file.starts_with('.') {
        let finding = Finding::error("picture-by-path", format!("{owner}: a picture is named without its folder"));
        reader.sink.push(finding.at(span, "a path").help("put the file into pictures/ and give its bare name"));
    } else if !reader.pictures.iter().any(|there| there == file) {
        let headline = format!("{owner}: there is no picture \"{file}\" in pictures/");
        let finding = Finding::error("picture-missing", headline).at(span, "not there, or not usable");
        reader.sink.push(finding.help("put the file into pictures/, or correct the name"));
    }
}

fn of_one_build(field: &str, ty: FieldType) -> bool {
    use FieldType::{Component, Components, Place, Places};
    OF_ONE_BUILD.contains(&field) || matches!(ty, Component | Components | Place | Places)
}

fn kind(id: &str, table: &Table, damaged: bool, sink: &mut Sink) -> Option<Spanned<String>> {
    let Some((key, item)) = table.entries.get("kind") else {
        if !damaged {
            let finding = Finding::error("missing-field", format!("stock {id}: `kind` is missing")).about(id);
            sink.push(
                finding.at(table.span, "in this table").help("kind: what it is; `rigbinder kinds` lists them all"),
            );
        }
        return None;
    };
    match &item.node {
        Node::Text(kind) => Some(Spanned::new(kind.clone(), item.span)),
        other => {
            let headline = format!("stock {id}: `kind` is {}; it takes a kind in quotes", other.word());
            sink.push(
                Finding::error("wrong-type", headline).about(id).at(*key, other.word()).help("write kind = \"fridge\""),
            );
            None
        }
    }
}

/// A commented file with one item of a kind, for `rigbinder new --stock`.
#[must_use]
pub fn starter_item(id: &str, kind: &str, about: &str, fields: &Declarations) -> String {
    let mut text = format!(
        "# {about}\n# A component takes it by stock = \"{id}\"; what the spec gives wins over what stands here.\n\n\
         [stock.{id}]\nkind = \"{kind}\"\n"
    );
    let given = fields.iter().filter(|(field, decl)| *field != "kind" && !of_one_build(field, decl.ty));
    let lines: Vec<(String, String)> = given
        .map(|(field, decl)| {
            // Without a default nothing stands there that could be taken for a value of the thing: as it is, it does not read.
            let value = decl.default.as_ref().map_or_else(|| "…".to_owned(), ToString::to_string);
            let form = if decl.default.is_none() { format!(" Give {}.", expected(decl)) } else { String::new() };
            (format!("# {field} = {value}"), format!("{}{form}", decl.about))
        })
        .collect();
    let width = lines.iter().map(|(line, _)| line.chars().count()).max().unwrap_or(0).min(40);
    for (line, about) in lines {
        let _ = writeln!(text, "{line:width$}  # {about}");
    }
    text
}

/// Parses a file of a shop and puts it behind the spec.
fn source(file: &mut SourceFile, name: String, text: &str, sink: &mut Sink) -> Source {
    let base = file.add(name.clone(), text);
    let mut own = Sink::default();
    let (mut table, damage) = parse(&SourceFile::new(name, text), &mut own);
    table.move_by(base);
    for finding in own.into_sorted() {
        sink.push(finding.moved_by(base));
    }
    Source { table, damage }
}
