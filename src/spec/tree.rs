//! The TOML document as a tree of owned values, each with its place in the file.

use super::limits::DEEPEST;
use crate::source::Span;
use indexmap::IndexMap;
use toml::de::{DeTable, DeValue};

/// A value of the document.
#[derive(Clone, Debug)]
pub(super) enum Node {
    /// A string, escapes resolved.
    Text(String),
    /// A whole number; `None` where it does not fit 64 bits.
    Integer(Option<i64>),
    /// A number with a point; `nan` and `inf` too.
    Float(f64),
    /// `true` or `false`.
    Flag(bool),
    /// A date, a time or both.
    Datetime(toml::value::Datetime),
    /// A list.
    List(Vec<Item>),
    /// A table.
    Table(Table),
}

impl Node {
    /// Word for it in messages.
    pub(super) const fn word(&self) -> &'static str {
        match self {
            Self::Text(_) => "a text",
            Self::Integer(_) | Self::Float(_) => "a number",
            Self::Flag(_) => "true/false",
            Self::Datetime(_) => "a date",
            Self::List(_) => "a list",
            Self::Table(_) => "a table",
        }
    }
}

/// A value and its place.
#[derive(Clone, Debug)]
pub(super) struct Item {
    /// The value.
    pub(super) node: Node,
    /// Its place; for a table with a header, the header.
    pub(super) span: Span,
}

/// A table, in the order of the file.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    /// Place of the header, the braces, or the key that made it.
    pub(super) span: Span,
    /// Place of the key and the value, by key.
    pub(super) entries: IndexMap<String, (Span, Item)>,
}

impl Table {
    /// Puts all places so many bytes further on.
    pub(super) fn move_by(&mut self, bytes: usize) {
        self.span = self.span.moved_by(bytes);
        for (key, item) in self.entries.values_mut() {
            *key = key.moved_by(bytes);
            item.move_by(bytes);
        }
    }
}

impl Item {
    fn move_by(&mut self, bytes: usize) {
        self.span = self.span.moved_by(bytes);
        match &mut self.node {
            Node::Table(table) => table.move_by(bytes),
            Node::List(list) => list.iter_mut().for_each(|item| item.move_by(bytes)),
            _ => {}
        }
    }
}

/// Turns the parser's tree into ours. `place` maps a place in the parsed text to one in the file; tables nested too
/// deep are left out and their places pushed to `deep`.
pub(super) fn convert(table: &DeTable<'_>, place: &dyn Fn(Span) -> Span, deep: &mut Vec<Span>) -> Table {
    let mut builder = Builder { place, deep };
    builder.table(table, Span::default(), 0)
}

struct Builder<'a> {
    place: &'a dyn Fn(Span) -> Span,
    deep: &'a mut Vec<Span>,
}

impl Builder<'_> {
    fn table(&mut self, table: &DeTable<'_>, span: Span, depth: usize) -> Table {
        let mut entries = IndexMap::with_capacity(table.len());
        for (key, value) in table {
            let item = self.item(value.get_ref(), (self.place)(value.span().into()), depth + 1);
            if let Some(item) = item {
                entries.insert(key.get_ref().to_string(), ((self.place)(key.span().into()), item));
            }
        }
        Table { span, entries }
    }

    fn item(&mut self, value: &DeValue<'_>, span: Span, depth: usize) -> Option<Item> {
        if depth > DEEPEST {
            self.deep.push(span);
            return None;
        }
        let node = match value {
            DeValue::String(text) => Node::Text(text.to_string()),
            DeValue::Integer(n) => Node::Integer(i64::from_str_radix(n.as_str(), n.radix()).ok()),
            DeValue::Float(n) => Node::Float(n.as_str().parse().unwrap_or(f64::NAN)),
            DeValue::Boolean(flag) => Node::Flag(*flag),
            DeValue::Datetime(datetime) => Node::Datetime(*datetime),
            DeValue::Array(list) => Node::List(
                list.iter().filter_map(|v| self.item(v.get_ref(), (self.place)(v.span().into()), depth + 1)).collect(),
            ),
            DeValue::Table(table) => Node::Table(self.table(table, span, depth)),
        };
        Some(Item { node, span })
    }
}

/// A declared default or bound as a node standing at `span`.
pub(super) fn from_value(value: &toml::Value, span: Span) -> Item {
    let node = match value {
        toml::Value::String(text) => Node::Text(text.clone()),
        toml::Value::Integer(n) => Node::Integer(Some(*n)),
        toml::Value::Float(n) => Node::Float(*n),
        toml::Value::Boolean(flag) => Node::Flag(*flag),
        toml::Value::Datetime(datetime) => Node::Datetime(*datetime),
        toml::Value::Array(list) => Node::List(list.iter().map(|v| from_value(v, span)).collect()),
        toml::Value::Table(table) => Node::Table(Table {
            span,
            entries: table.iter().map(|(k, v)| (k.clone(), (span, from_value(v, span)))).collect(),
        }),
    };
    Item { node, span }
}
