//! `like`: a kind of a shop that takes another kind over and changes it, as one table.
//!
//! Tables are joined by key, lists whose entries have an `id` (or a `symptom`, or an `of`) by that; within an entry, and of all else,
//! what the kind gives stands in the place of what it is like. `drop` takes away before that. What comes from the other
//! kind bears the place of `like` from then on, so that a fault is always told in the file that can mend it.

use crate::catalogue::{Catalogue, Text};
use crate::source::SourceFile;
use std::borrow::Cow;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

/// What names an entry of a list.
const NAMES: [&str; 3] = ["id", "symptom", "of"];

/// Keys of which a table has one: another one of the group is out where one of them is given.
const ONE_OF: [&[&str]; 2] = [&["default", "required"], &["every", "once", "season", "replace"]];

/// What says more of a hold point, and goes with it.
const OF_HOLD: [&str; 4] = ["essential", "hold_first", "proof", "signs"];

/// The files of all kinds there are.
pub(super) struct Kin<'c>(pub(super) Vec<Text<'c>>);

/// A kind as one table.
pub(super) struct Whole<'t> {
    pub(super) table: Spanned<DeTable<'t>>,
    /// Ids of the kinds it is like, the nearest first.
    pub(super) like: Vec<String>,
    /// Place of its `like`.
    pub(super) like_at: Option<Range<usize>>,
}

impl<'t> Whole<'t> {
    /// The table of a text that is like no other; there `like` and `drop` are unknown keys.
    pub(super) fn alone(text: &'t str) -> Result<Self, Unlike> {
        let table = DeTable::parse(text).map_err(|e| Unlike::of_toml(&e))?;
        Ok(Self { table, like: Vec::new(), like_at: None })
    }
}

/// What keeps a kind from being one table.
pub(super) struct Unlike {
    /// Byte in its own file.
    pub(super) at: Option<usize>,
    pub(super) message: String,
    /// Whether it bears the name of a built-in kind without being like it.
    pub(super) shadows: bool,
}

impl Unlike {
    fn of_toml(e: &toml::de::Error) -> Self {
        Self { at: e.span().map(|span| span.start), message: e.message().to_owned(), shadows: false }
    }

    fn at(span: &Range<usize>, message: String) -> Self {
        Self { at: Some(span.start), message, shadows: false }
    }
}

/// One file with what it says of others taken out of it.
struct Own<'t> {
    table: Spanned<DeTable<'t>>,
    like: Option<Spanned<Cow<'t, str>>>,
    drop: Vec<Spanned<Cow<'t, str>>>,
}

impl<'c> Kin<'c> {
    pub(super) fn of(catalogue: &'c Catalogue) -> Self {
        Self(catalogue.folder("kinds", "toml"))
    }

    /// The kind of a file as one table, with all it is like.
    pub(super) fn whole(&self, file: &Text<'c>) -> Result<Whole<'c>, Unlike> {
        let Own { table, like, drop } = own(file.text)?;
        let shadowed = !file.layer.is_built_in() && self.0.iter().any(|t| t.stem == file.stem && t.layer.is_built_in());
        if shadowed && like.as_ref().is_none_or(|like| like.get_ref() != file.stem) {
            let message = "there is a built-in kind of this name".to_owned();
            return Err(Unlike { at: like.map(|like| like.span().start), message, shadows: true });
        }
        let Some(like) = like else { return Ok(Whole { table, like: Vec::new(), like_at: None }) };
        let at = like.span();
        let mut seen = vec![file];
        let mut others: Vec<Own<'c>> = Vec::new();
        let mut next = Some(like.into_inner());
        while let Some(id) = next.take() {
            let last = seen.last().copied().unwrap_or(file);
            let Some(other) = self.like(last, &id) else { return Err(self.unknown(file, last, &id, &at)) };
            if seen.iter().any(|known| same(known, other)) {
                let way = seen.iter().map(|t| t.stem).chain([other.stem]).collect::<Vec<_>>().join(" → ");
                return Err(Unlike::at(&at, format!("kinds are like each other in a circle: {way}")));
            }
            let read = own(other.text).map_err(|e| within(other, &e, &at))?;
            next = read.like.as_ref().map(|like| like.get_ref().clone());
            seen.push(other);
            others.push(read);
        }
        let mut base = DeTable::new();
        for (read, file) in others.into_iter().zip(&seen[1..]).rev() {
            take_away(&mut base, &read.drop).map_err(|e| within(file, &e, &at))?;
            base = joined(base, read.table.into_inner(), both);
        }
        base = placed(base, &at);
        take_away(&mut base, &drop)?;
        let span = table.span();
        let table = Spanned::new(span, joined(base, table.into_inner(), both));
        let like = seen[1..].iter().map(|t| t.stem.to_owned()).collect();
        Ok(Whole { table, like, like_at: Some(at) })
    }

    /// The kind that a file means by an id: of its own name the built-in one, else the shop's before the built-in one.
    fn like(&self, file: &Text<'_>, id: &str) -> Option<&Text<'c>> {
        let mut found = self.0.iter().filter(|t| t.stem == id);
        if file.stem == id { found.find(|t| t.layer.is_built_in()) } else { found.next_back() }
    }

    fn unknown(&self, file: &Text<'_>, last: &Text<'_>, id: &str, at: &Range<usize>) -> Unlike {
        let near = super::perhaps(id, self.0.iter().map(|t| t.stem).filter(|stem| *stem != last.stem));
        let message = if last.stem == id {
            "it is like itself, and there is no built-in kind of this name".to_owned()
        } else {
            format!("it is like `{id}`, and there is no such kind{near}")
        };
        let fault = Unlike::at(at, message);
        if same(last, file) { fault } else { within(last, &fault, at) }
    }
}

fn same(one: &Text<'_>, other: &Text<'_>) -> bool {
    one.stem == other.stem && one.layer.is_built_in() == other.layer.is_built_in()
}

/// A fault in the file of a kind that another is like, told there.
fn within(file: &Text<'_>, fault: &Unlike, at: &Range<usize>) -> Unlike {
    let line = fault.at.map_or_else(String::new, |byte| {
        let (line, column) = SourceFile::new("", file.text).position(byte);
        format!(", at {line}:{column}")
    });
    Unlike::at(at, format!("`{}`, which it is like, does not hold together{line}: {}", file.stem, fault.message))
}

fn own(text: &str) -> Result<Own<'_>, Unlike> {
    const LIST: &str = "`drop` takes a list of what goes, as in drop = [\"task.fit\", \"upkeep.descale\"]";
    let mut table = DeTable::parse(text).map_err(|e| Unlike::of_toml(&e))?;
    let (like, drop) = (table.get_mut().remove("like"), table.get_mut().remove("drop"));
    let word = |value: Spanned<DeValue<'_>>, wanted: &str| {
        let span = value.span();
        match value.into_inner() {
            DeValue::String(word) => Ok(Spanned::new(span, Cow::Owned(word.into_owned()))),
            _ => Err(Unlike::at(&span, wanted.to_owned())),
        }
    };
    let like = like.map(|value| word(value, "`like` takes the id of one kind in quotes")).transpose()?;
    let Some(drop) = drop else { return Ok(Own { table, like, drop: Vec::new() }) };
    let span = drop.span();
    if like.is_none() {
        return Err(Unlike::at(&span, "`drop` takes away from what a kind is like, and there is no `like`".to_owned()));
    }
    let DeValue::Array(list) = drop.into_inner() else { return Err(Unlike::at(&span, LIST.to_owned())) };
    let drop = list.into_iter().map(|value| word(value, LIST)).collect::<Result<_, _>>()?;
    Ok(Own { table, like, drop })
}

/// Takes away what is named; a fault where it is not there.
fn take_away(base: &mut DeTable<'_>, drop: &[Spanned<Cow<'_, str>>]) -> Result<(), Unlike> {
    for name in drop {
        let share = name.get_ref().strip_prefix("upkeep.").and_then(|id| share_of(base, id));
        if !taken(base, name.get_ref()) {
            let mut there = Vec::new();
            addresses("", base, &mut there);
            let near = super::perhaps(name.get_ref(), there.iter().map(String::as_str));
            let message =
                format!("`drop` names `{}`, which is not there in what this kind is like{near}", name.get_ref());
            return Err(Unlike::at(&name.span(), message));
        }
        if let Some(task) = name.get_ref().strip_suffix(".hold") {
            for key in OF_HOLD {
                taken(base, &format!("{task}.{key}"));
            }
        }
        // Nor does the manual tell the work of upkeep that is not there.
        if let Some(share) = share {
            taken(base, &share);
        }
    }
    Ok(())
}

/// The share in a procedure from which upkeep takes its steps, as `drop` names it.
fn share_of(base: &DeTable<'_>, upkeep: &str) -> Option<String> {
    let DeValue::Array(list) = base.get("upkeep")?.get_ref() else { return None };
    let entry = list.iter().find(|entry| named(entry) == Some(upkeep))?;
    let DeValue::Table(entry) = entry.get_ref() else { return None };
    let DeValue::String(of) = entry.get("procedure")?.get_ref() else { return None };
    Some(format!("procedure.{of}"))
}

fn taken(table: &mut DeTable<'_>, path: &str) -> bool {
    if table.remove(path).is_some() {
        return true;
    }
    // A name may have a dot in it, so the longest is tried first.
    for (at, _) in path.rmatch_indices('.') {
        let rest = &path[at + 1..];
        let found = match table.get_mut(&path[..at]).map(Spanned::get_mut) {
            Some(DeValue::Table(inner)) => taken(inner, rest),
            Some(DeValue::Array(list)) => taken_of_list(list, rest),
            _ => false,
        };
        if found {
            return true;
        }
    }
    false
}

fn taken_of_list(list: &mut DeArray<'_>, path: &str) -> bool {
    if let Some(place) = list.iter().position(|entry| named(entry).is_some_and(|name| name == path)) {
        let left = std::mem::replace(list, DeArray::new()).into_iter().enumerate().filter(|(at, _)| *at != place);
        *list = left.map(|(_, entry)| entry).collect();
        return true;
    }
    list.iter_mut().any(|entry| {
        let inside = named(entry).and_then(|name| Some(path.strip_prefix(name)?.strip_prefix('.')?.to_owned()));
        match (inside, entry.get_mut()) {
            (Some(inside), DeValue::Table(table)) => taken(table, &inside),
            _ => false,
        }
    })
}

/// Everything that `drop` can name.
fn addresses(path: &str, table: &DeTable<'_>, into: &mut Vec<String>) {
    let mut inside = |path: String, value: &DeValue<'_>| {
        if let DeValue::Table(table) = value {
            addresses(&path, table, into);
        }
        into.push(path);
    };
    for (key, value) in table {
        let path = if path.is_empty() { key.get_ref().to_string() } else { format!("{path}.{}", key.get_ref()) };
        if let DeValue::Array(list) = value.get_ref() {
            for entry in list {
                if let Some(name) = named(entry) {
                    inside(format!("{path}.{name}"), entry.get_ref());
                }
            }
        }
        inside(path, value.get_ref());
    }
}

/// What names an entry of a list.
fn named<'v>(entry: &'v Spanned<DeValue<'_>>) -> Option<&'v str> {
    let DeValue::Table(table) = entry.get_ref() else { return None };
    NAMES.iter().find_map(|key| match table.get(*key)?.get_ref() {
        DeValue::String(name) => Some(name.as_ref()),
        _ => None,
    })
}

type Value<'t> = Spanned<DeValue<'t>>;

/// What a table is with another one's keys in it; `both` tells what stands where both have one.
fn joined<'t>(base: DeTable<'t>, mut own: DeTable<'t>, both: fn(Value<'t>, Value<'t>) -> Value<'t>) -> DeTable<'t> {
    let out = |key: &str| ONE_OF.iter().any(|group| group.contains(&key) && group.iter().any(|k| own.contains_key(*k)));
    let kept: Vec<_> =
        base.into_iter().filter(|(key, _)| own.contains_key(key.get_ref().as_ref()) || !out(key.get_ref())).collect();
    let mut all = DeTable::new();
    for (key, value) in kept {
        match own.remove_entry(key.get_ref().as_ref()) {
            Some((own_key, given)) => all.insert(own_key, both(value, given)),
            None => all.insert(key, value),
        };
    }
    all.extend(own);
    all
}

fn both<'t>(base: Value<'t>, own: Value<'t>) -> Value<'t> {
    let span = own.span();
    match (base.into_inner(), own.into_inner()) {
        (DeValue::Table(base), DeValue::Table(own)) => Spanned::new(span, DeValue::Table(joined(base, own, both))),
        (DeValue::Array(base), DeValue::Array(own))
            if !own.is_empty() && base.iter().chain(&own).all(|e| named(e).is_some()) =>
        {
            Spanned::new(span, DeValue::Array(entries(base, own)))
        }
        (_, own) => Spanned::new(span, own),
    }
}

/// The entries of both lists, those of one name as one: what is given of it in the second wins.
fn entries<'t>(base: DeArray<'t>, own: DeArray<'t>) -> DeArray<'t> {
    let mut own: Vec<Value<'t>> = own.into_iter().collect();
    let mut all = DeArray::new();
    for entry in base {
        // One that is given twice is told as such later, when each of them is whole.
        let (given, rest): (Vec<_>, Vec<_>) = own.into_iter().partition(|given| named(given) == named(&entry));
        own = rest;
        for given in &given {
            let value = match (entry.get_ref(), given.get_ref()) {
                (DeValue::Table(base), DeValue::Table(own)) => {
                    DeValue::Table(joined(base.clone(), own.clone(), |_, own| own))
                }
                (_, own) => own.clone(),
            };
            all.push(Spanned::new(given.span(), value));
        }
        if given.is_empty() {
            all.push(entry);
        }
    }
    for entry in own {
        all.push(entry);
    }
    all
}

/// The same with one place for all of it.
fn placed<'t>(table: DeTable<'t>, at: &Range<usize>) -> DeTable<'t> {
    let moved = |(key, value): (Spanned<Cow<'t, str>>, Value<'t>)| {
        (Spanned::new(at.clone(), key.into_inner()), placed_value(value, at))
    };
    table.into_iter().map(moved).collect()
}

fn placed_value<'t>(value: Value<'t>, at: &Range<usize>) -> Value<'t> {
    let value = match value.into_inner() {
        DeValue::Table(table) => DeValue::Table(placed(table, at)),
        DeValue::Array(list) => DeValue::Array(list.into_iter().map(|value| placed_value(value, at)).collect()),
        other => other,
    };
    Spanned::new(at.clone(), value)
}
