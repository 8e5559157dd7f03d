//! Walks over the document tree: lines, links, identifiers, lengths.

use super::tree::{Block, Document, Inline, Table, Target};

impl Table {
    /// How many characters of text its rows hold.
    #[must_use]
    pub fn text_length(&self) -> usize {
        let cells = self.rows.iter().flatten();
        cells.map(|cell| plain_text(cell).chars().count()).sum()
    }

    /// Whether a person writes or ticks in it.
    #[must_use]
    pub fn is_form(&self) -> bool {
        let mut found = false;
        for cell in self.rows.iter().flatten() {
            walk(cell, &mut |inline| {
                found |= matches!(inline, Inline::Blank(_) | Inline::Tick(_));
            });
        }
        found
    }

    /// What stands alone in its row and begins in bold: the title of the rows below it, and what is said of them.
    #[must_use]
    pub fn group_title(row: &[Vec<Inline>]) -> Option<&[Inline]> {
        let mut filled = row.iter().filter(|cell| !plain_text(cell).trim().is_empty());
        match (filled.next()?.as_slice(), filled.next()) {
            (title @ [Inline::Strong(_), ..], None) if row.len() > 1 => Some(title),
            _ => None,
        }
    }
}

impl Document {
    /// Calls `visit` for every run of inlines in the document, footnotes included.
    pub fn each_line(&self, visit: &mut dyn FnMut(&[Inline])) {
        each_in(&self.blocks, visit);
        for body in self.footnotes.values() {
            each_in(body, visit);
        }
    }

    /// Links to other files of the binder: (file name, identifier), in order, with repeats.
    #[must_use]
    pub fn outside_links(&self) -> Vec<(String, Option<String>)> {
        let mut found = Vec::new();
        self.each_line(&mut |line| {
            walk(line, &mut |inline| {
                if let Inline::Link { target: Target::File { name, id }, .. } = inline {
                    found.push((name.clone(), id.clone()));
                }
            });
        });
        found
    }

    /// Documents that this one binds, by file name without an ending, in order.
    #[must_use]
    pub fn bound(&self) -> Vec<String> {
        let stem = |block: &Block| match block {
            Block::Document { stem, .. } => Some(stem.clone()),
            _ => None,
        };
        self.blocks.iter().filter_map(stem).collect()
    }

    /// Every identifier that a link may point to, in order.
    #[must_use]
    pub fn identifiers(&self) -> Vec<String> {
        let mut found = Vec::new();
        heading_ids(&self.blocks, &mut found);
        self.each_line(&mut |line| {
            walk(line, &mut |inline| {
                if let Inline::Anchor(id) = inline {
                    found.push(id.clone());
                }
            });
        });
        found
    }
}

fn heading_ids(blocks: &[Block], found: &mut Vec<String>) {
    for block in blocks {
        match block {
            Block::Heading { id: Some(id), .. } => found.push(id.clone()),
            Block::Landscape(body) | Block::Keep(body) | Block::Columns(body) | Block::Narrow(body) => {
                heading_ids(body, found);
            }
            _ => {}
        }
    }
}

fn each_in<'a>(blocks: impl IntoIterator<Item = &'a Block>, visit: &mut dyn FnMut(&[Inline])) {
    for block in blocks {
        match block {
            Block::Heading { body, .. } | Block::Paragraph(body) => visit(body),
            Block::List(list) => list.items.iter().for_each(|i| each_in(&i.body, visit)),
            Block::Table(table) => {
                visit(&table.caption);
                table.head.iter().for_each(|cell| visit(cell));
                table.rows.iter().flatten().for_each(|cell| visit(cell));
            }
            Block::Definitions(entries) => {
                for entry in entries {
                    visit(&entry.term);
                    entry.bodies.iter().for_each(|body| each_in(body, visit));
                }
            }
            Block::Callout { body, .. }
            | Block::Quote(body)
            | Block::Landscape(body)
            | Block::Columns(body)
            | Block::Narrow(body)
            | Block::Keep(body) => each_in(body, visit),
            Block::Code(_)
            | Block::Figure { .. }
            | Block::Rule
            | Block::WritingLine
            | Block::Contents
            | Block::Document { .. }
            | Block::PageBreak
            | Block::Also(_) => {}
        }
    }
}

/// Calls `visit` with the name of every drawing.
pub(super) fn figures(blocks: &[Block], visit: &mut dyn FnMut(&str)) {
    for block in blocks {
        match block {
            Block::Figure { name, .. } => visit(name),
            Block::List(list) => list.items.iter().for_each(|i| figures(&i.body, visit)),
            Block::Definitions(entries) => entries.iter().flat_map(|e| &e.bodies).for_each(|b| figures(b, visit)),
            Block::Callout { body, .. }
            | Block::Quote(body)
            | Block::Landscape(body)
            | Block::Columns(body)
            | Block::Narrow(body)
            | Block::Keep(body) => figures(body, visit),
            _ => {}
        }
    }
}

/// How many characters of text the blocks hold.
#[must_use]
pub fn text_length<'a>(blocks: impl IntoIterator<Item = &'a Block>) -> usize {
    let mut length = 0;
    each_in(blocks, &mut |line| {
        length += plain_text(line).chars().count();
    });
    length
}

/// Calls `visit` for every inline, outer ones first.
pub fn walk(line: &[Inline], visit: &mut dyn FnMut(&Inline)) {
    for inline in line {
        visit(inline);
        match inline {
            Inline::Emphasis(body) | Inline::Strong(body) | Inline::Link { body, .. } => {
                walk(body, visit);
            }
            _ => {}
        }
    }
}

/// The place whose page number a link prints: the text of such a link is `@` alone. `Some(None)` where the place is in
/// another file, whose pages are not known.
#[must_use]
pub fn page_mark<'a>(target: &'a Target, body: &[Inline]) -> Option<Option<&'a str>> {
    match (target, body) {
        (Target::Here(id), [Inline::Text(text)]) if text == "@" => Some(Some(id)),
        (Target::File { .. }, [Inline::Text(text)]) if text == "@" => Some(None),
        _ => None,
    }
}

/// Whether a line is a box to tick and nothing else.
#[must_use]
pub fn is_tick(line: &[Inline]) -> bool {
    matches!(line, [Inline::Tick(false)])
}

/// The text of a line without any marks.
#[must_use]
pub fn plain_text(line: &[Inline]) -> String {
    let mut out = String::new();
    walk(line, &mut |inline| match inline {
        Inline::Text(t) | Inline::Code(t) => out.push_str(t),
        Inline::Break => out.push(' '),
        Inline::Tick(done) => out.push(if *done { '☑' } else { '☐' }),
        Inline::Blank(n) => out.push_str(&"_".repeat(*n)),
        _ => {}
    });
    out
}
