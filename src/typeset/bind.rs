//! Binds several documents into one: each starts on a new page, one level deeper, with names of its own.

use std::collections::{BTreeMap, BTreeSet};

use super::escape::typst_string;
use super::to_typst::{TypstText, Writer, finished};
use super::tree::{Block, Document, Inline, Target, plain_text};
use super::{PageSetup, Pictures, TypesetError};

/// The deepest heading that a PDF knows.
const DEEPEST: u8 = 6;

/// Name of the index. Where the binder has one, bound documents leave their own out.
const INDEX: &str = "index";

/// A file that is put into the PDF.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Attached<'a> {
    /// Its name in the work folder, and in the PDF.
    pub name: &'a str,
    /// What is in it.
    pub about: &'a str,
    /// Its media type.
    pub media: &'a str,
}

/// Writes `front` as Typst with the documents that it binds in the places of their directives. `parts` holds them by
/// file name without an ending; `attached` are put into the PDF as its source.
///
/// # Errors
/// A document that is not among the parts or is bound twice; a picture that is not in the map.
pub fn bind(
    front: &Document,
    mut parts: BTreeMap<String, Document>,
    setup: &PageSetup,
    pictures: &Pictures,
    attached: &[Attached<'_>],
) -> Result<TypstText, Vec<TypesetError>> {
    let stems = front.bound();
    let places = places(front, &parts);
    let fault = |message: String| TypesetError { line: 0, message };
    let mut errors = Vec::new();
    let mut bound = BTreeMap::new();
    for (at, stem) in stems.iter().enumerate() {
        if stems[..at].contains(stem) {
            errors.push(fault(format!("the document `{stem}` is bound twice")));
        } else if let Some(mut part) = parts.remove(stem) {
            Renamer { stem, all: &stems, places: &places }.part(&mut part);
            bound.insert(stem.clone(), part);
        } else {
            errors.push(fault(format!("there is no document `{stem}` to bind")));
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    let mut front = front.clone();
    let renamer = Renamer { stem: "", all: &stems, places: &places };
    front.blocks.iter_mut().for_each(|block| renamer.block(block));
    front.footnotes.values_mut().flatten().for_each(|block| renamer.block(block));
    let mut writer = Writer::new(&front, &bound, setup, pictures);
    writer.head(setup);
    for file in attached {
        writer.push(&format!(
            "#pdf.attach({}, relationship: \"source\", mime-type: {}, description: {})\n",
            typst_string(&format!("/{}", file.name)),
            typst_string(file.media),
            typst_string(file.about)
        ));
    }
    writer.blocks(&front.blocks);
    finished(writer)
}

/// Every place of the binder that a link can lead to, under the name it has there.
fn places(front: &Document, parts: &BTreeMap<String, Document>) -> BTreeSet<String> {
    let own = |(stem, part): (&String, &Document)| {
        let ids = part.identifiers().into_iter().map(|id| format!("{stem}:{id}"));
        ids.chain([beginning(stem)]).collect::<Vec<_>>()
    };
    parts.iter().flat_map(own).chain(front.identifiers()).collect()
}

/// Name of the place where a bound document begins.
fn beginning(stem: &str) -> String {
    format!("part:{stem}")
}

impl Writer<'_> {
    /// A document in the place of its directive; a link to it where it is not bound.
    pub(super) fn document(&mut self, stem: &str, title: &str) {
        let Some(part) = self.parts.get(stem) else {
            let (file, title) = (typst_string(&format!("{stem}.pdf")), typst_string(title));
            self.push(&format!("#par[#away({file})[#{title};]]\n"));
            return;
        };
        let (front, landscape) = (self.document, self.landscape);
        let meta = &part.meta;
        self.push("#part(\n");
        let texts = [
            ("name", &meta.document),
            ("purpose", &meta.purpose),
            ("audience", &meta.audience),
            ("build", &self.setup.build),
            ("number", &self.setup.number),
            ("revision", &self.setup.revision),
        ];
        for (key, text) in texts {
            self.push(&format!("  {key}: {},\n", typst_string(text)));
        }
        let switches = [
            ("draft", self.setup.draft),
            ("landscape", meta.landscape),
            ("numbered", meta.numbered),
            ("compact", meta.compact),
        ];
        for (key, on) in switches {
            self.push(&format!("  {key}: {on},\n"));
        }
        self.push(&format!("  place: <{}>,\n)[\n", beginning(stem)));
        self.document = part;
        self.landscape = meta.landscape;
        self.blocks(&part.blocks);
        self.document = front;
        self.landscape = landscape;
        self.push("]\n");
    }
}

/// Takes the section of a heading out: all up to the next heading that is not below it.
fn drop_section(blocks: &mut Vec<Block>, named: &str) {
    for block in blocks.iter_mut() {
        if let Block::Narrow(body) = block {
            drop_section(body, named);
        }
    }
    let is_named = |block: &Block| matches!(block, Block::Heading { id: Some(id), .. } if id == named);
    let Some(from) = blocks.iter().position(is_named) else { return };
    let Some(Block::Heading { level: own, .. }) = blocks.get(from) else { return };
    let ends = |block: &Block| matches!(block, Block::Heading { level, .. } if level <= own);
    let length = blocks[from + 1..].iter().position(ends).map_or(blocks.len() - from, |n| n + 1);
    blocks.drain(from..from + length);
}

/// Gives the places of a document names that no other document has, and turns links between documents of the binder
/// into links inside it.
struct Renamer<'a> {
    /// The document; empty for the front, which keeps its names.
    stem: &'a str,
    /// All documents of the binder.
    all: &'a [String],
    /// All places of the binder.
    places: &'a BTreeSet<String>,
}

impl Renamer<'_> {
    fn part(&self, part: &mut Document) {
        part.blocks.retain(|block| *block != Block::Contents);
        if self.one_index() {
            drop_section(&mut part.blocks, INDEX);
        }
        part.blocks.iter_mut().for_each(|block| self.block(block));
        let notes = std::mem::take(&mut part.footnotes);
        for (label, mut body) in notes {
            for block in &mut body {
                self.block(block);
            }
            part.footnotes.insert(self.name(&label), body);
        }
    }

    /// The binder has an index of its own, which stands for those of all its documents.
    fn one_index(&self) -> bool {
        self.places.contains(INDEX)
    }

    fn name(&self, id: &str) -> String {
        if self.stem.is_empty() || (id == INDEX && self.one_index()) {
            id.to_owned()
        } else {
            format!("{}:{id}", self.stem)
        }
    }

    fn block(&self, block: &mut Block) {
        match block {
            Block::Heading { level, id, body } => {
                if !self.stem.is_empty() {
                    *level = (*level + 1).min(DEEPEST);
                }
                if let Some(id) = id {
                    *id = self.name(id);
                }
                self.line(body);
            }
            Block::Paragraph(line) => self.line(line),
            Block::List(list) => {
                for block in list.items.iter_mut().flat_map(|i| &mut i.body) {
                    self.block(block);
                }
            }
            Block::Table(table) => {
                self.line(&mut table.caption);
                table.head.iter_mut().for_each(|cell| self.line(cell));
                table.rows.iter_mut().flatten().for_each(|cell| self.line(cell));
            }
            Block::Definitions(entries) => {
                for entry in entries {
                    self.line(&mut entry.term);
                    entry.bodies.iter_mut().flatten().for_each(|b| self.block(b));
                }
            }
            Block::Callout { body, .. }
            | Block::Quote(body)
            | Block::Landscape(body)
            | Block::Columns(body)
            | Block::Narrow(body)
            | Block::Keep(body) => {
                if !self.stem.is_empty() {
                    body.retain(|block| *block != Block::Contents);
                }
                for block in body {
                    self.block(block);
                }
            }
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

    fn line(&self, line: &mut Vec<Inline>) {
        for mut inline in std::mem::take(line) {
            match &mut inline {
                Inline::Emphasis(body) | Inline::Strong(body) => self.line(body),
                Inline::Link { target, body } => {
                    self.line(body);
                    if let Some(here) = self.inside(target) {
                        // What the other document has depends on the build: the words stay, without a link.
                        if !self.places.contains(&here) {
                            if plain_text(body) != "@" {
                                line.append(body);
                            }
                            continue;
                        }
                        *target = Target::Here(here);
                    }
                }
                Inline::Anchor(id) | Inline::Footnote(id) => *id = self.name(id),
                Inline::Text(_) | Inline::Code(_) | Inline::Blank(_) | Inline::Tick(_) | Inline::Break => {}
            }
            line.push(inline);
        }
    }

    /// The name in the binder of what a link points to; `None` where it points out of the binder.
    fn inside(&self, target: &Target) -> Option<String> {
        match target {
            Target::Here(id) => Some(self.name(id)),
            Target::File { name, id } => {
                let stem = name.strip_suffix(".md").filter(|stem| self.all.iter().any(|s| s == stem))?;
                let place =
                    |id: &String| if id == INDEX && self.one_index() { id.clone() } else { format!("{stem}:{id}") };
                Some(id.as_ref().map_or_else(|| beginning(stem), place))
            }
            Target::Address(_) => None,
        }
    }
}
