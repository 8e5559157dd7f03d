//! A shop's folder in the flow: its kinds and items are checked with a spec that uses them, or by themselves.

use super::told::Open;
use super::{Fault, Worked};
use crate::catalogue::{Catalogue, PAGE, Text};
use crate::diag::{Finding, Sink};
use crate::documents::snapshot::{Snapshot, Stated, digest};
use crate::kinds::{Library, tagged_texts};
use crate::publish::digest_of;
use crate::render::Engine;
use crate::source::{SourceFile, Span};
use crate::spec::{self, Language, Shelf};
use crate::typeset::media_of;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Digests of what a build used of a shop's folder.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Used {
    /// Of `shop.toml`.
    pub page: String,
    /// Of what each stock item gives, by id.
    pub stock: BTreeMap<String, String>,
    /// Of the file of each kind and of those it is like, by id.
    pub kinds: BTreeMap<String, String>,
    /// Of the logo and of the pictures of the items, by file name.
    pub pictures: BTreeMap<String, String>,
}

/// What a build used; `None` where there is no shop's folder.
pub(super) fn used(worked: &Worked<'_>) -> Option<Used> {
    let (spec, catalogue) = (worked.build.spec, &worked.catalogue);
    let layer = catalogue.shop()?;
    let of = |path: &str| Some(digest(std::str::from_utf8(layer.bytes(path)?).ok()?));
    let kinds: BTreeSet<&str> = worked.build.parts.values().flat_map(|p| p.kind.ids()).collect();
    let kinds = kinds.into_iter().filter_map(|id| Some((id.to_owned(), of(&format!("kinds/{id}.toml"))?)));
    let pictures = spec.stock.values().filter_map(|item| item.text("picture")).chain(spec.page.shop.text("logo"));
    let picture = |name: &str| Some((name.to_owned(), digest_of(&[layer.bytes(&format!("pictures/{name}"))?])));
    let settings = Open::look(worked, |open| Snapshot::settings_of(open.build));
    let item = |id: &String| {
        let prefix = format!("stock.{id}.");
        let own = settings.iter().filter(|(name, _)| name.starts_with(&prefix));
        let lines: Vec<String> = own.map(|(name, value)| format!("{name}={}\n", value.exact())).collect();
        (id.clone(), digest(&lines.concat()))
    };
    Some(Used {
        page: of(PAGE).unwrap_or_default(),
        stock: spec.stock.keys().map(item).collect(),
        kinds: kinds.collect(),
        pictures: pictures.filter_map(picture).collect(),
    })
}

/// What to do about a kind that bears the name of a built-in one.
const SHADOWS: &str =
    "give the kind another name; or say `like = \"…\"` with its own name, so that it changes the built-in kind";

/// Folder of the attached files of a shop.
const FOLDER: &str = "shop";

/// Fields of a stock item that are between a shop and those it buys from.
const MONEY: [&str; 3] = ["price", "supplier", "lead_time"];

/// A file that a PDF holds beside the spec.
pub(super) struct File {
    /// Its name in the typesetter's folder.
    pub(super) name: String,
    pub(super) about: &'static str,
    pub(super) media: &'static str,
    pub(super) bytes: Arc<[u8]>,
}

/// What was used of a shop's folder, without money: beside the spec it makes the same documents again.
pub(super) fn attached(worked: &Worked<'_>) -> Result<Vec<File>, Fault> {
    let (Some(used), Some(layer)) = (used(worked), worked.catalogue.shop()) else { return Ok(Vec::new()) };
    let table =
        |text: &str| toml::from_str::<toml::Table>(text).map_err(|e| Fault::of("a shop's file does not read", &e));
    let written =
        |table: &toml::Table| toml::to_string(table).map_err(|e| Fault::of("a shop's file cannot be written", &e));
    let toml = |path: &str, about, text: String| File {
        name: format!("{FOLDER}/{path}"),
        about,
        media: "application/toml",
        bytes: text.into_bytes().into(),
    };
    let mut page = table(layer.text(PAGE).unwrap_or_default())?;
    page.remove("labour");
    let mut files = vec![toml(PAGE, "The page of the shop", written(&page)?)];
    let mut items = toml::Table::new();
    for (_, text) in layer.folder("stock", "toml") {
        let Some(toml::Value::Table(all)) = table(text)?.remove("stock") else { continue };
        for (id, mut item) in all.into_iter().filter(|(id, _)| used.stock.contains_key(id)) {
            if let toml::Value::Table(item) = &mut item {
                for field in MONEY {
                    item.remove(field);
                }
            }
            items.insert(id, item);
        }
    }
    if !items.is_empty() {
        let all = toml::Table::from_iter([("stock".to_owned(), toml::Value::Table(items))]);
        files.push(toml("stock/used.toml", "The stock items that are built in", written(&all)?));
    }
    for id in used.kinds.keys() {
        let path = format!("kinds/{id}.toml");
        let text = layer.text(&path).unwrap_or_default().to_owned();
        files.push(toml(&path, "A kind of the shop", text));
    }
    for name in used.pictures.keys() {
        let path = format!("pictures/{name}");
        let media = media_of(name);
        let bytes = layer.bytes(&path).unwrap_or_default().into();
        files.push(File { name: format!("{FOLDER}/{path}"), about: "A picture of the shop", media, bytes });
    }
    Ok(files)
}

/// What changed in the stock items since an earlier revision: "stock fridge-110: draw 55 W → 60 W".
#[must_use]
pub fn stock_changes(earlier: &Snapshot, worked: &Worked<'_>) -> Vec<String> {
    let (was, is) = (&earlier.settings, &Open::look(worked, |open| Snapshot::settings_of(open.build)));
    let items: BTreeSet<&str> = worked.build.spec.stock.keys().map(String::as_str).collect();
    let mut told = Vec::new();
    for id in items {
        let prefix = format!("stock.{id}.");
        let names: BTreeSet<&String> = was.keys().chain(is.keys()).filter(|name| name.starts_with(&prefix)).collect();
        // An item that the earlier build did not take has not changed.
        if !was.keys().any(|name| name.starts_with(&prefix)) {
            continue;
        }
        let shown =
            |all: &BTreeMap<String, Stated>, name: &str| all.get(name).map_or("–".to_owned(), |v| v.shown.clone());
        let differs = |name: &&String| was.get(*name).map(Stated::exact) != is.get(*name).map(Stated::exact);
        let values = names.into_iter().filter(differs).map(|name| {
            format!("{} {} → {}", name[prefix.len()..].replace('_', " "), shown(was, name), shown(is, name))
        });
        let values: Vec<String> = values.collect();
        if !values.is_empty() {
            told.push(format!("stock {id}: {}", values.join(", ")));
        }
    }
    told
}

/// What a shop's folder holds, checked without a spec.
#[derive(Debug)]
pub struct Checked {
    /// The files, for the places of the findings.
    pub file: SourceFile,
    /// All findings.
    pub findings: Vec<Finding>,
    /// Number of kinds of its own.
    pub kinds: usize,
    /// Number of stock items.
    pub items: usize,
}

/// Checks the shop's folder of a catalogue: its page, every kind and every item.
///
/// # Errors
/// Where a built-in text does not hold together.
pub fn check_shop(catalogue: &Catalogue, name: &str) -> Result<Checked, Fault> {
    let (mut sink, mut file) = (Sink::default(), SourceFile::new(name, ""));
    let shelf = Shelf::gather(catalogue, &mut file, &mut sink);
    let language = Language::of(catalogue).map_err(|e| Fault::of("the spec language cannot be read", &e))?;
    let library = Library::load(catalogue).map_err(|e| Fault::of("a component kind cannot be read", &e))?;
    kinds(catalogue, &library, &mut file, &mut sink, |_| true);
    let common = &language.component;
    let known = library.fields(&common.common, &common.supply, &common.output);
    let items = spec::read_shop(&file, &language, &known, &shelf, &mut sink);
    let kinds = catalogue.folder("kinds", "toml").iter().filter(|kind| !kind.layer.is_built_in()).count();
    Ok(Checked { file, findings: sink.into_sorted(), kinds, items })
}

/// Tells what is wrong with the kinds of a shop that are wanted: the form, and texts that do not parse.
pub(super) fn kinds(
    catalogue: &Catalogue,
    library: &Library,
    file: &mut SourceFile,
    sink: &mut Sink,
    wanted: impl Fn(&str) -> bool,
) {
    let own = |kind: &Text<'_>| !kind.layer.is_built_in() && wanted(kind.stem);
    for kind in catalogue.folder("kinds", "toml").into_iter().filter(own) {
        let Text { stem, text, layer } = kind;
        let mut base = None;
        let mut at = |span: Span, file: &mut SourceFile| {
            let name = format!("{}/kinds/{stem}.toml", layer.name());
            span.moved_by(*base.get_or_insert_with(|| file.add(name, text)))
        };
        for fault in library.faults.iter().filter(|fault| fault.kind == stem) {
            let span = at(fault.at.map_or_else(Span::default, |place| span_at(text, place)), file);
            let (name, help) = if fault.shadows {
                ("kind-shadows-another", SHADOWS)
            } else {
                ("kind-unreadable", "`rigbinder kinds` shows what a kind has; compare with it")
            };
            sink.push(Finding::error(name, format!("kind {stem}: {}", fault.message)).at(span, "here").help(help));
        }
        let mut told = BTreeSet::new();
        for (span, text) in tagged_texts(catalogue, &kind) {
            let Err(error) = Engine::new(&[("text", &text)]) else { continue };
            // Those of a kind that it is like all stand at one place.
            if !told.insert(span) {
                continue;
            }
            let headline =
                format!("kind {stem}: a text does not parse: {}", error.message.lines().next().unwrap_or(""));
            let finding = Finding::error("kind-text-unreadable", headline).at(at(span, file), "this text");
            sink.push(finding.help("write a fact as {{ name }}, a condition as {% if name %}…{% endif %}"));
        }
    }
}

/// The line from a place on, which counts lines and columns from 1.
fn span_at(text: &str, (line, column): (usize, usize)) -> Span {
    let before: usize = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let rest = text.get(before..).unwrap_or("").lines().next().unwrap_or("");
    let skipped = rest.char_indices().nth(column.saturating_sub(1)).map_or(rest.len(), |(at, _)| at);
    Span { start: before + skipped, end: before + rest.len() }
}

/// A finding that points into a stock item points at the component that takes it too.
pub(super) fn point_at_components(worked: &mut Worked<'_>, file: &SourceFile) {
    for finding in &mut worked.findings {
        let into = finding.span.is_some_and(|span| file.is_further(span));
        let component = finding.subject.as_ref().and_then(|id| worked.build.spec.components.get(id));
        if let Some(stock) = component.and_then(|c| c.stock.as_ref()).filter(|_| into) {
            let known = finding.labels.iter().any(|label| label.span == stock.span);
            if !known {
                finding.labels.push(crate::diag::Label { span: stock.span, text: "taken from stock here".to_owned() });
            }
        }
    }
}
