//! TOML text → tree, also where the text is broken: one finding per faulty statement, and the rest goes on.
//!
//! The parser's own recovery drops what follows a key without `=` and reports a dozen faults for one open bracket.
//! So a text with faults is split into statements, each is parsed alone, faulty ones are blanked (headers are mended
//! where that is possible), and what is left is parsed as a whole. Places stay those of the file.

use super::faults;
use super::limits::DEEPEST;
use super::repair::{Edits, WayBack};
use super::scan::{Statement, next_statement, resume_after};
use super::tree::{Table, convert};
use crate::diag::{Finding, Sink};
use crate::source::{SourceFile, Span};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use toml::de::{DeTable, DeValue};

/// Syntax faults shown before the rest is only counted.
const SHOWN: usize = 100;

/// What syntax faults took away, so that later stages do not report what follows from them.
#[derive(Clone, Debug, Default)]
pub(super) struct Damage {
    /// Paths of tables that lost a line.
    pub(super) tables: BTreeSet<Vec<String>>,
    /// Words of headers and keys that could not be read: ids that may exist after all.
    pub(super) words: BTreeSet<String>,
    /// Number of statements that were lost.
    pub(super) lost: usize,
}

impl Damage {
    /// Whether the table at `path` lost a line.
    pub(super) fn hit(&self, path: &[&str]) -> bool {
        self.tables.iter().any(|t| t.iter().map(String::as_str).eq(path.iter().copied()))
    }
}

/// Reads `file` as TOML; faults go to `sink`.
pub(super) fn parse(file: &SourceFile, sink: &mut Sink) -> (Table, Damage) {
    let text = &*line_ends(&file.text, sink);
    let mut edits = Edits::default();
    let mut at = 0;
    let mut deep = Vec::new();
    while let Some(statement) = next_statement(text, at) {
        at = statement.span.end;
        if statement.too_deep {
            deep.push(Span::from(statement.span.clone()));
            edits.blank(text, statement.span);
        }
    }
    let (shallow, _) = edits.apply(text);
    let (table, errors) = DeTable::parse_recoverable(&shallow);
    let (tree, damage) = if errors.is_empty() && deep.is_empty() {
        (convert(table.get_ref(), &|s| s, &mut deep), Damage::default())
    } else {
        Recovery::new(text).run(sink, &mut deep)
    };
    for span in deep {
        let first = Span { start: span.start, end: (span.start + 1).min(span.end) };
        sink.push(
            Finding::error("nesting-too-deep", format!("this nests more than {DEEPEST} levels deep"))
                .at(first, "begins here")
                .help("a spec needs at most five levels; look for a bracket or a dot too many"),
        );
    }
    (tree, damage)
}

/// `text` with ends of lines that TOML knows; told once, not for each line.
fn line_ends<'a>(text: &'a str, sink: &mut Sink) -> Cow<'a, str> {
    let lone = |at: &usize| text.as_bytes().get(at + 1) != Some(&b'\n');
    let lone: Vec<usize> = text.match_indices('\r').map(|(at, _)| at).filter(lone).collect();
    let Some(first) = lone.first() else { return Cow::Borrowed(text) };
    let headline = format!("a carriage return stands alone, {} in all", lone.len());
    let finding = Finding::error("toml-syntax", headline).at(Span { start: *first, end: first + 1 }, "here");
    sink.push(finding.help("save the file with line ends of Unix or Windows"));
    Cow::Owned(text.replace("\r\n", "\n\n").replace('\r', "\n"))
}

struct Recovery<'a> {
    text: &'a str,
    edits: Edits,
    damage: Damage,
    /// Path of the table that is open; `None` under a header that could not be read.
    current: Option<Vec<String>>,
    /// Whether the open table stands a second time.
    twice: bool,
    lists: BTreeMap<Vec<String>, usize>,
    first: BTreeMap<Vec<String>, Span>,
    placed: Vec<Placed>,
    findings: Vec<Finding>,
}

impl<'a> Recovery<'a> {
    fn new(text: &'a str) -> Self {
        Self {
            text,
            edits: Edits::default(),
            damage: Damage::default(),
            current: Some(Vec::new()),
            twice: false,
            lists: BTreeMap::new(),
            first: BTreeMap::new(),
            placed: Vec::new(),
            findings: Vec::new(),
        }
    }

    fn run(mut self, sink: &mut Sink, deep: &mut Vec<Span>) -> (Table, Damage) {
        let mut at = 0;
        while let Some(mut statement) = next_statement(self.text, at) {
            if let Some((open, cut)) = self.cut(&statement) {
                statement.open = Some(open);
                statement.span.end = cut;
                statement.key = statement.key.start.min(cut)..statement.key.end.min(cut);
                statement.equals = statement.equals.filter(|e| *e < cut);
            }
            at = statement.span.end;
            if statement.too_deep {
                self.lose(&statement);
            } else if statement.header {
                self.header(&statement);
            } else {
                self.pair(&statement);
            }
        }
        let (mended, back) = self.edits.apply(self.text);
        let (table, errors) = DeTable::parse_recoverable(&mended);
        for error in errors {
            self.whole_document(&error, &back);
        }
        let hidden = self.findings.len().saturating_sub(SHOWN);
        self.findings.truncate(SHOWN);
        if let (1.., Some(last)) = (hidden, self.findings.last_mut()) {
            last.help.push(format!("{hidden} more lines are not TOML either; mend these first"));
        }
        for finding in self.findings {
            sink.push(finding);
        }
        (convert(table.get_ref(), &|s| back.span(s), deep), self.damage)
    }

    /// A multi-line text, or braces over many lines, that make their statement unreadable most likely lack their end:
    /// the statement then ends before the next line that looks like a header or a key. Gives what is open, and the end.
    fn cut(&self, statement: &Statement) -> Option<(usize, usize)> {
        let open = statement.long_text.or(statement.open)?;
        let alone = &self.text[statement.span.clone()];
        if DeTable::parse_recoverable(alone).1.is_empty() {
            return None;
        }
        let cut = resume_after(&self.text[..statement.span.end], open)?;
        let least = if statement.long_text.is_some() { 3 } else { 1 };
        Some((open, self.text[..cut].trim_end().len().max(open + least)))
    }

    fn lose(&mut self, statement: &Statement) {
        self.damage.lost += 1;
        self.edits.blank(self.text, statement.span.clone());
        self.words(&statement.key);
        if self.text[statement.span.clone()].contains('\n') {
            self.words(&statement.span);
        }
        if statement.header {
            self.current = None;
        } else if let Some(path) = &self.current {
            self.damage.tables.insert(path.clone());
        }
    }

    /// Ids that may be among what cannot be read.
    fn words(&mut self, at: &Range<usize>) {
        let words = self.text[at.clone()].split(|c: char| !c.is_alphanumeric() && !"_-".contains(c));
        self.damage.words.extend(words.map(str::to_owned));
    }

    fn header(&mut self, statement: &Statement) {
        let alone = &self.text[statement.span.clone()];
        let mended = if path_of(alone).is_some() {
            alone.to_owned()
        } else {
            let mended = faults::mend_header(self.text, statement);
            self.words(&statement.key);
            self.findings.push(faults::header(self.text, statement, mended.as_deref()));
            mended.unwrap_or_default()
        };
        let mended = mended.lines().next().unwrap_or_default().to_owned();
        let Some(mut path) = path_of(&mended) else {
            self.lose(statement);
            return;
        };
        if mended != alone {
            self.edits.replace(statement.span.clone(), mended.as_str());
        }
        if mended.starts_with("[[") {
            let number = self.lists.entry(path.clone()).or_default();
            *number += 1;
            path.push(format!("#{number}"));
        }
        self.twice = !self.place(path.clone(), 1, statement, false);
        self.current = Some(path);
    }

    fn pair(&mut self, statement: &Statement) {
        let alone = &self.text[statement.span.clone()];
        if statement.equals.is_none() && alone.ends_with(']') && faults::mend_header(self.text, statement).is_some() {
            return self.header(statement);
        }
        if self.twice && self.current.as_ref().is_some_and(|p| p.len() == 2 && p[0] != "recorded") {
            // What stands under an id for the second time belongs to another one.
            return self.lose(statement);
        }
        let (table, errors) = DeTable::parse_recoverable(alone);
        let mut errors: Vec<_> = errors.into_iter().filter(|e| !is_duplicate(e)).collect();
        errors.sort_by_key(|e| e.span().map_or(0, |s| s.start));
        if statement.open.is_some() || !errors.is_empty() {
            self.findings.push(faults::pair(self.text, statement, errors.first()));
            self.lose(statement);
            return;
        }
        let Some(path) = &self.current else {
            // Its header is lost: nobody can tell whose it is.
            self.damage.lost += 1;
            self.edits.blank(self.text, statement.span.clone());
            return;
        };
        let until = statement.equals.map_or(0, |e| e - statement.span.start);
        let full = path.iter().cloned().chain(keys(table.get_ref(), until)).collect();
        self.place(full, path.len() + 1, statement, self.twice);
    }

    /// Remembers a statement; false if its path stood before.
    fn place(&mut self, path: Vec<String>, own: usize, statement: &Statement, follows: bool) -> bool {
        let key = Span::from(statement.key.clone());
        let fresh = !self.first.contains_key(&path);
        self.first.entry(path.clone()).or_insert(key);
        self.placed.push(Placed { start: statement.span.start, path, own, key, follows });
        fresh
    }

    /// Faults that only the whole document shows: the same key twice, a value that is also used as a table.
    fn whole_document(&mut self, error: &toml::de::Error, back: &WayBack) {
        let Some(at) = error.span().map(|s| back.span(s.into())) else { return };
        let after = self.placed.partition_point(|p| p.start <= at.start);
        let finding = match after.checked_sub(1).map(|i| &self.placed[i]) {
            Some(placed) if is_duplicate(error) => {
                if placed.follows {
                    return;
                }
                let lengths = (placed.own..=placed.path.len()).rev();
                let mut earlier = lengths.filter_map(|n| self.first.get(&placed.path[..n]));
                let first = earlier.find(|first| first.start < placed.key.start);
                faults::duplicate(self.text, at, error, first.copied(), &placed.path)
            }
            _ => faults::other(error, at),
        };
        self.findings.push(finding);
    }
}

/// A statement that was kept.
struct Placed {
    start: usize,
    path: Vec<String>,
    /// Length of the shortest part of the path that this statement itself makes.
    own: usize,
    key: Span,
    /// Stands in a table that is itself there twice.
    follows: bool,
}

fn is_duplicate(error: &toml::de::Error) -> bool {
    error.message().starts_with("duplicate key") || error.message().starts_with("cannot extend")
}

/// Path of a header that parses alone.
fn path_of(header: &str) -> Option<Vec<String>> {
    let (table, errors) = DeTable::parse_recoverable(header);
    if !errors.is_empty() || !header.trim_start().starts_with('[') {
        return None;
    }
    let path = keys(table.get_ref(), usize::MAX);
    (!path.is_empty()).then_some(path)
}

/// The keys that begin before byte `until`, on the way down a tree with one branch.
fn keys(table: &DeTable<'_>, until: usize) -> Vec<String> {
    let mut path = Vec::new();
    let mut level = table;
    while let Some((key, value)) = level.iter().next().filter(|(key, _)| key.span().start < until) {
        path.push(key.get_ref().to_string());
        match value.get_ref() {
            DeValue::Table(inner) => level = inner,
            _ => break,
        }
    }
    path
}
