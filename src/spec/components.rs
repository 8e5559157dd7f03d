//! `[component.<id>]`: kind, `like`, fields, defaults.

use super::limits::{LONGEST_LIKE, MOST_PIECES};
use super::model::Component;
use super::parts;
use super::record::{Given, Owner, Reader};
use super::stock::Shelf;
use super::suggest::{near, nearest};
use super::syntax::Damage;
use super::tree::{Item, Node, Table};
use crate::diag::Finding;
use crate::fields::{Declarations, Entry, KindFields, Value};
use crate::source::{Span, Spanned};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// Fields that `like` does not copy: they are said of one component alone.
const NOT_COPIED: [&str; 6] = ["place", "places", "on_board", "way", "scope", "known"];

/// Fields that are read apart from the others.
const APART: [&str; 3] = ["kind", "like", "stock"];

struct Raw<'a> {
    id: Spanned<String>,
    table: &'a Table,
    kind: Option<Spanned<String>>,
    like: Option<Spanned<String>>,
    stock: Option<Spanned<String>>,
    damaged: bool,
}

/// Reads all components; those whose kind is not known are left out.
pub(super) fn read(
    reader: &mut Reader<'_>,
    table: &Table,
    known: &KindFields,
    shelf: &Shelf,
    damage: &Damage,
) -> IndexMap<String, Component> {
    let raws = collect(reader, table, damage);
    let raws: IndexMap<String, Raw<'_>> = raws.into_iter().map(|r| (r.id.value.clone(), r)).collect();
    let all_ids: BTreeSet<&str> =
        table.entries.keys().map(String::as_str).chain(damage.words.iter().map(String::as_str)).collect();
    let chains: IndexMap<&str, Vec<&str>> =
        raws.keys().map(|id| (id.as_str(), chain(reader, &raws, id, &all_ids))).collect();
    let stocks: IndexMap<&str, Spanned<String>> =
        raws.keys().filter_map(|id| Some((id.as_str(), stock_of(reader, &raws, &chains, shelf, id)?))).collect();
    let taken = |id: &str| shelf.items.get(&stocks.get(id)?.value)?.kind.as_ref();
    let kinds: IndexMap<&str, Option<Spanned<String>>> = raws
        .values()
        .map(|raw| (raw.id.value.as_str(), kind_of(reader, raw, &chains, &raws, taken(&raw.id.value), known)))
        .collect();
    let decls = |id: &str| {
        let kind = kinds.get(id)?.as_ref()?;
        known.kinds.get(&kind.value)
    };
    let is_unread = |id: &str| kinds.get(id).and_then(|k| k.as_ref()).is_some_and(|k| known.unread.contains(&k.value));
    let own: IndexMap<&str, Given> = raws
        .iter()
        .map(|(id, raw)| (id.as_str(), own_fields(reader, raw, decls(id).filter(|_| !is_unread(id)), &kinds)))
        .collect();
    let mut components = IndexMap::new();
    let mut total: usize = 0;
    for (id, raw) in &raws {
        let (Some(decls), Some(Some(kind))) = (decls(id), kinds.get(id.as_str())) else {
            // What is wrong with the kind of its stock item is told with the item.
            stocks.get(id.as_str()).into_iter().for_each(|stock| drop(shelf.given(reader, known, &stock.value)));
            continue;
        };
        let mut given = own.get(id.as_str()).cloned().unwrap_or_default();
        let mut damaged = raw.damaged;
        for other in chains.get(id.as_str()).into_iter().flatten() {
            copy(&mut given, own.get(other), decls);
            damaged |= raws.get(*other).is_some_and(|r| r.damaged);
        }
        if let Some(stock) = stocks.get(id.as_str()) {
            copy(&mut given, Some(&shelf.given(reader, known, &stock.value)), decls);
        }
        damaged |= raw.stock.is_some() && !stocks.contains_key(id.as_str());
        damaged |= raw.like.is_some() && chains.get(id.as_str()).is_none_or(Vec::is_empty);
        let owner = Owner { name: id, subject: Some(id), kind: Some(&kind.value) };
        let record = reader.complete_but(&APART, owner, given, decls, damaged);
        total = total.saturating_add(record.count("count").and_then(|n| usize::try_from(n).ok()).unwrap_or(1));
        components.insert(
            id.clone(),
            Component { id: raw.id.clone(), kind: kind.clone(), stock: stocks.get(id.as_str()).cloned(), record },
        );
    }
    if total > MOST_PIECES {
        let headline = format!("the counts of the components add up to {total}; {MOST_PIECES} are allowed");
        reader
            .sink
            .push(Finding::error("too-many-components", headline).help("look for a `count` with a digit too many"));
    }
    components
}

/// The tables under `component`, with kind and like as written.
fn collect<'a>(reader: &mut Reader<'_>, table: &'a Table, damage: &Damage) -> Vec<Raw<'a>> {
    let mut raws = Vec::new();
    for (id, (key, item)) in &table.entries {
        let Node::Table(inner) = &item.node else {
            let headline = format!("`component.{id}` is {}; a component is a table", item.node.word());
            let finding = Finding::error("wrong-type", headline).at(item.span, item.node.word());
            reader.sink.push(finding.help("write a header like [component.fridge] above the fields of each component"));
            continue;
        };
        let mut word = |field: &str| {
            let (_, item) = inner.entries.get(field)?;
            word(reader, id, field, item)
        };
        let (kind, like, stock) = (word("kind"), word("like"), word("stock"));
        let damaged = damage.hit(&["component", id]);
        raws.push(Raw { id: Spanned::new(id.clone(), *key), table: inner, kind, like, stock, damaged });
    }
    raws
}

fn word(reader: &mut Reader<'_>, id: &str, field: &str, item: &Item) -> Option<Spanned<String>> {
    if let Node::Text(text) = &item.node {
        return Some(Spanned::new(text.clone(), item.span));
    }
    let takes = match field {
        "kind" => "a kind in quotes, like \"fridge\"",
        "stock" => "the id of a stock item in quotes",
        _ => "the id of one component in quotes",
    };
    let headline = format!("{id}: `{field}` is {}; it takes {takes}", item.node.word());
    reader.sink.push(Finding::error("wrong-type", headline).at(item.span, item.node.word()).about(id));
    None
}

/// Ids that `id` copies from, nearest first; empty where its `like` leads nowhere.
fn chain<'r>(
    reader: &mut Reader<'_>,
    raws: &'r IndexMap<String, Raw<'_>>,
    id: &'r str,
    all_ids: &BTreeSet<&str>,
) -> Vec<&'r str> {
    let mut chain: Vec<&str> = Vec::new();
    let mut at = id;
    while let Some(like) = raws.get(at).and_then(|r| r.like.as_ref()) {
        let Some((next, _)) = raws.get_key_value(&like.value) else {
            if at == id && !all_ids.contains(like.value.as_str()) {
                let near = near(reader.sink, &like.value, raws.keys().map(String::as_str).filter(|k| *k != id));
                reader.sink.push(like_unknown(id, like, near));
            }
            break;
        };
        if next == id {
            // Every member finds the loop; the first in the file reports it.
            let first = chain.iter().copied().chain([id]).min_by_key(|m| raws.get_index_of(*m));
            if first == Some(id) {
                reader.sink.push(like_loop(id, &chain, raws));
            }
            return Vec::new();
        }
        if chain.contains(&next.as_str()) {
            return Vec::new();
        }
        if chain.len() == LONGEST_LIKE {
            let headline = format!("{id}: `like` leads through more than {LONGEST_LIKE} components");
            let finding = Finding::error("like-too-long", headline).about(id);
            let own = raws.get(id).and_then(|r| r.like.as_ref()).map_or(Span::default(), |l| l.span);
            reader
                .sink
                .push(finding.at(own, "copies from here").help("copy from the first of them, which gives the fields"));
            return Vec::new();
        }
        chain.push(next);
        at = next;
    }
    chain
}

fn like_unknown(id: &str, like: &Spanned<String>, near: Option<&str>) -> Finding {
    let headline = format!("{id}: `like` names \"{}\", and there is no such component", like.value);
    let finding = Finding::error("like-unknown", headline).about(id).at(like.span, "no such component");
    match near {
        Some(near) => finding.help(format!("did you mean \"{near}\"?")).fix(like.span, format!("\"{near}\"")),
        None => finding.help("give the id of the component to copy from"),
    }
}

fn like_loop(id: &str, others: &[&str], raws: &IndexMap<String, Raw<'_>>) -> Finding {
    let way: Vec<&str> = std::iter::once(id).chain(others.iter().copied()).chain([id]).collect();
    let headline = if others.is_empty() {
        format!("{id}: `like` names itself")
    } else {
        format!("`like` goes round in a circle: {}", way.join(" → "))
    };
    let span = |id: &str| raws.get(id).and_then(|r| r.like.as_ref()).map_or(Span::default(), |l| l.span);
    let mut finding = Finding::error("like-loop", headline).about(id).at(span(id), "copies from here");
    for other in others.iter().take(8) {
        finding = finding.label(span(other), "and this");
    }
    finding.help("give the fields in one of them and delete its `like`")
}

/// The stock item that a component takes: its own, else that of the nearest it copies. `None` where there is none.
fn stock_of(
    reader: &mut Reader<'_>,
    raws: &IndexMap<String, Raw<'_>>,
    chains: &IndexMap<&str, Vec<&str>>,
    shelf: &Shelf,
    id: &str,
) -> Option<Spanned<String>> {
    if let Some(own) = raws.get(id).and_then(|raw| raw.stock.as_ref()) {
        return shelf.item(reader, id, own).map(|_| own.clone());
    }
    let copied = chains.get(id).into_iter().flatten().find_map(|other| raws.get(*other)?.stock.as_ref())?;
    shelf.items.contains_key(&copied.value).then(|| copied.clone())
}

/// The kind of a component, its own, that of the stock item it takes, or the one it copies, if it is known.
fn kind_of(
    reader: &mut Reader<'_>,
    raw: &Raw<'_>,
    chains: &IndexMap<&str, Vec<&str>>,
    raws: &IndexMap<String, Raw<'_>>,
    taken: Option<&Spanned<String>>,
    known: &KindFields,
) -> Option<Spanned<String>> {
    let id = &raw.id.value;
    let copied = chains.get(id.as_str()).into_iter().flatten().find_map(|other| raws.get(*other)?.kind.as_ref());
    if let (Some(own), Some(taken)) =
        (&raw.kind, taken.filter(|taken| Some(&taken.value) != raw.kind.as_ref().map(|k| &k.value)))
    {
        let headline = format!("{id}: a {} cannot be taken from stock as a {}", taken.value, own.value);
        let finding = Finding::error("stock-of-other-kind", headline).about(id).at(own.span, "its kind");
        reader
            .sink
            .push(finding.label(taken.span, "the kind of the stock item").help("delete `kind`, or name another item"));
    }
    let Some(own) = &raw.kind else {
        if let Some(taken) = taken.filter(|taken| known.kinds.contains_key(&taken.value)) {
            let at = raw.stock.as_ref().map_or(taken.span, |stock| stock.span);
            let other = copied.filter(|copied| copied.value != taken.value && raw.stock.is_some());
            if let Some(copied) = other {
                let headline = format!("{id}: a {} cannot be like a {}", taken.value, copied.value);
                let finding =
                    Finding::error("like-of-other-kind", headline).about(id).at(at, "its kind by its stock item");
                reader
                    .sink
                    .push(finding.label(copied.span, "the kind it copies from").help("delete `stock` or `like`"));
            }
            return Some(Spanned::new(taken.value.clone(), at));
        }
        let excused =
            raw.damaged || raw.like.is_some() || raw.stock.is_some() || raw.table.entries.contains_key("kind");
        if !excused {
            let misspelt = raw.table.entries.keys().any(|k| nearest(k, ["kind"]).is_some());
            let headline = format!("{id}: `kind` is missing");
            let finding = Finding::error("missing-field", headline).about(id).at(raw.table.span, "in this table");
            if !misspelt {
                reader.sink.push(finding.help("kind: what it is, like \"fridge\"; `rigbinder kinds` lists them all"));
            }
        }
        return copied.filter(|k| known.kinds.contains_key(&k.value)).cloned();
    };
    if !known.kinds.contains_key(&own.value) {
        reader.unknown_kind(id, id, own, known);
        return None;
    }
    if let Some(copied) = copied.filter(|copied| copied.value != own.value) {
        let headline = format!("{id}: a {} cannot be like a {}", own.value, copied.value);
        let finding = Finding::error("like-of-other-kind", headline).about(id).at(own.span, "its kind");
        reader.sink.push(finding.label(copied.span, "the kind it copies from").help("delete `kind` or `like`"));
    }
    Some(own.clone())
}

/// The fields a component itself gives. Without a kind that is known and reads only the common ones can be read.
fn own_fields(
    reader: &mut Reader<'_>,
    raw: &Raw<'_>,
    decls: Option<&Declarations>,
    kinds: &IndexMap<&str, Option<Spanned<String>>>,
) -> Given {
    let id = raw.id.value.as_str();
    let kind = kinds.get(id).and_then(|k| k.as_ref()).map(|k| k.value.as_str());
    let owner = Owner { name: id, subject: Some(id), kind };
    if let Some(decls) = decls {
        return reader.given(owner, raw.table, decls, &APART, false);
    }
    let all = &reader.language.component;
    let decls: Declarations = [&all.common, &all.supply, &all.output]
        .into_iter()
        .flatten()
        .map(|(name, decl)| (name.clone(), decl.clone()))
        .collect();
    let near_kind = |name: &str| name != "kind" && nearest(name, ["kind"]).is_some();
    if raw.kind.is_none() {
        for (name, (key, _)) in raw.table.entries.iter().filter(|(name, _)| near_kind(name)) {
            let finding = Finding::error("unknown-field", format!("{id}: there is no field `{name}`"));
            let finding = finding.about(id).at(*key, "not known").help("did you mean `kind`?");
            reader.sink.push(finding.fix(*key, "kind"));
        }
    }
    reader.given(owner, raw.table, &decls, &APART, true)
}

/// Copies what `from` gives and `into` does not.
fn copy(into: &mut Given, from: Option<&Given>, decls: &Declarations) {
    let Some(from) = from else { return };
    for (name, entry) in &from.record.fields {
        let wanted = decls.contains_key(name) && !NOT_COPIED.contains(&name.as_str());
        // What a part has several of is copied one by one.
        if let (Value::Parts(others), Some(Entry { value: Value::Parts(own), .. })) =
            (&entry.value, into.record.fields.get_mut(name))
        {
            parts::add(own, others);
            continue;
        }
        if wanted && !into.record.fields.contains_key(name) && !into.faulty.contains(name) {
            into.record.fields.insert(name.clone(), entry.clone());
        }
    }
    into.faulty
        .extend(from.faulty.iter().filter(|f| !into.record.fields.contains_key(*f)).cloned().collect::<Vec<_>>());
}
