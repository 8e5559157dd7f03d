//! Markdown events to the document tree: blocks. Finds every fault it can and goes on.

use std::ops::Range;

use pulldown_cmark::{BlockQuoteKind, Event, Tag};

use super::reader::{Pending, Reader};
use super::tree::{Block, Callout, Definition, Document, Inline, Item, List};
use super::{TypesetError, check, inlines, markdown, meta, sections, tables};

/// Parses a document.
///
/// # Errors
/// All faults of the text, in order of lines.
pub fn parse(source: &str) -> Result<Document, Vec<TypesetError>> {
    let marked = markdown::mark_blanks(source);
    let mut reader = Reader {
        source: &marked,
        events: markdown::document_events(&marked),
        at: 0,
        errors: Vec::new(),
        pending: Pending::default(),
        document: Document::default(),
    };
    let blocks = sections::document_blocks(&mut reader);
    let mut errors = reader.errors;
    let mut document = reader.document;
    document.blocks = blocks;
    meta::settle_title(&mut document, &mut errors);
    check::check(&mut document, source, &mut errors);
    errors.sort_by_key(|e| e.line);
    if errors.is_empty() { Ok(document) } else { Err(errors) }
}

impl Reader<'_> {
    /// Blocks up to the end event of the open element, which is consumed.
    pub(super) fn blocks(&mut self) -> Vec<Block> {
        let mut out = Vec::new();
        while let Some((event, _)) = self.peek() {
            if matches!(event, Event::End(_)) {
                self.at += 1;
                break;
            }
            self.block(&mut out);
        }
        out
    }

    pub(super) fn block(&mut self, out: &mut Vec<Block>) {
        let Some((event, range)) = self.peek().cloned() else {
            return;
        };
        let Event::Start(tag) = event else {
            match event {
                Event::Rule => {
                    self.at += 1;
                    out.push(Block::Rule);
                }
                Event::End(_) => self.at += 1,
                // Text right in a list item or definition: a paragraph of a tight list.
                _ => {
                    let body = inlines::until_block(self);
                    if !body.is_empty() {
                        out.push(Block::Paragraph(body));
                    }
                }
            }
            return;
        };
        if is_inline(&tag) {
            let body = inlines::until_block(self);
            if !body.is_empty() {
                out.push(Block::Paragraph(body));
            }
            return;
        }
        self.at += 1;
        let caption = self.pending.caption.take();
        match tag {
            Tag::Paragraph => self.paragraph(&range, out),
            Tag::Heading { level, id, .. } => {
                let body = inlines::until_end(self);
                if super::tree::plain_text(&body).trim().is_empty() {
                    self.error(range.start, "a heading without text");
                }
                out.push(Block::Heading { level: level as u8, id: id.map(|id| id.to_string()), body });
            }
            Tag::BlockQuote(kind) => self.quote(kind, &range, out),
            Tag::CodeBlock(_) => out.push(self.code()),
            Tag::List(start) => out.push(self.list(start)),
            Tag::Table(aligns) => {
                let table = tables::read(self, &aligns, &range, caption);
                out.push(Block::Table(table));
                return;
            }
            Tag::DefinitionList => out.push(self.definitions()),
            Tag::FootnoteDefinition(label) => {
                let body = self.blocks();
                let label = label.to_string();
                if self.document.footnotes.insert(label.clone(), body).is_some() {
                    self.error(range.start, format!("footnote `{label}` is defined twice"));
                }
            }
            Tag::MetadataBlock(_) => {
                let text = self.raw_text();
                let first = 1 + self.source[..range.start].matches('\n').count();
                meta::read(&text, first, &mut self.document.meta, &mut self.errors);
            }
            Tag::HtmlBlock => {
                self.html_text();
                self.error(range.start, "raw HTML and directives are not allowed inside lists, quotes and callouts");
            }
            _ => {
                self.error(range.start, "this construct is not supported");
                self.skip();
            }
        }
        if let Some(body) = caption {
            self.error(range.start, "`Table:` must stand directly before a table");
            out.push(Block::Paragraph(body));
        }
    }

    fn paragraph(&mut self, range: &Range<usize>, out: &mut Vec<Block>) {
        if let Some(figure) = inlines::lone_picture(self, range) {
            out.push(figure);
            return;
        }
        let mut body = inlines::until_end(self);
        if let [Inline::Blank(_)] = body.as_slice() {
            out.push(Block::WritingLine);
            return;
        }
        if let Some(Inline::Text(first)) = body.first_mut()
            && let Some(rest) = first.strip_prefix("Table: ")
            && matches!(self.peek(), Some((Event::Start(Tag::Table(_)), _)))
        {
            *first = rest.to_owned();
            self.pending.caption = Some(body);
            return;
        }
        if !body.is_empty() {
            out.push(Block::Paragraph(body));
        }
    }

    fn quote(&mut self, kind: Option<BlockQuoteKind>, range: &Range<usize>, out: &mut Vec<Block>) {
        if let Some(kind) = kind {
            let kind = match kind {
                BlockQuoteKind::Note => Callout::Note,
                BlockQuoteKind::Tip => Callout::Tip,
                BlockQuoteKind::Important => Callout::Important,
                BlockQuoteKind::Warning => Callout::Warning,
                BlockQuoteKind::Caution => Callout::Caution,
            };
            let body = self.blocks();
            self.push_callout(kind, body, range, out);
            return;
        }
        let start = match self.peek() {
            Some((Event::Start(Tag::Paragraph), inner)) => inner.start,
            _ => range.end,
        };
        let first = self.source[start..].lines().next().unwrap_or_default();
        let mut body = self.blocks();
        if !first.starts_with("[!") {
            out.push(Block::Quote(body));
            return;
        }
        let word = first.trim_end().strip_prefix("[!").and_then(|w| w.strip_suffix(']'));
        let Some(kind) = word.and_then(Callout::from_word) else {
            self.error(
                start,
                format!(
                    "`{}` is no known callout; the kinds are {}, alone on the first line",
                    first.trim_end(),
                    Callout::ALL.map(Callout::word).join(", ")
                ),
            );
            return;
        };
        strip_word(&mut body, kind);
        self.push_callout(kind, body, range, out);
    }

    fn push_callout(&mut self, kind: Callout, body: Vec<Block>, range: &Range<usize>, out: &mut Vec<Block>) {
        if body.is_empty() {
            self.error(range.start, "a callout without text");
        }
        out.push(Block::Callout { kind, body });
    }

    fn raw_text(&mut self) -> String {
        let mut text = String::new();
        while let Some((event, _)) = self.next() {
            match event {
                Event::Text(part) => text.push_str(&part),
                Event::End(_) => break,
                _ => {}
            }
        }
        text
    }

    fn code(&mut self) -> Block {
        let text = self.raw_text().replace(markdown::BLANK_MARK, "_");
        Block::Code(text.trim_end_matches('\n').to_owned())
    }

    fn list(&mut self, start: Option<u64>) -> Block {
        let mut items = Vec::new();
        let mut tight = true;
        while let Some((event, _)) = self.next() {
            if !matches!(event, Event::Start(Tag::Item)) {
                break;
            }
            // The box is the first event of a tight item, and the first in the paragraph of a loose one.
            let loose = matches!(self.peek(), Some((Event::Start(Tag::Paragraph), _)));
            tight &= !loose;
            let marker = self.at + usize::from(loose);
            let tick = match self.events.get(marker) {
                Some((Event::TaskListMarker(done), _)) => Some(*done),
                _ => None,
            };
            if tick.is_some() {
                self.events.swap(self.at, marker);
                self.at += 1;
            }
            let body = self.blocks();
            items.push(Item { tick, body });
        }
        Block::List(List { start, tight, items })
    }

    fn definitions(&mut self) -> Block {
        let mut entries: Vec<Definition> = Vec::new();
        while let Some((event, range)) = self.next() {
            match event {
                Event::Start(Tag::DefinitionListTitle) => {
                    let term = inlines::until_end(self);
                    entries.push(Definition { term, bodies: Vec::new() });
                }
                Event::Start(Tag::DefinitionListDefinition) => {
                    let body = self.blocks();
                    match entries.last_mut() {
                        Some(entry) => entry.bodies.push(body),
                        None => self.error(range.start, "a definition without its term"),
                    }
                }
                _ => break,
            }
        }
        Block::Definitions(entries)
    }
}

fn is_inline(tag: &Tag<'_>) -> bool {
    matches!(tag, Tag::Emphasis | Tag::Strong | Tag::Link { .. } | Tag::Image { .. } | Tag::Strikethrough)
}

/// Takes `[!WORD]` off the first paragraph of a quote.
fn strip_word(body: &mut Vec<Block>, kind: Callout) {
    let mark = format!("[!{}]", kind.word()).len();
    if let Some(Block::Paragraph(line)) = body.first_mut() {
        if let Some(Inline::Text(text)) = line.first_mut() {
            *text = text.get(mark..).unwrap_or_default().trim_start().to_owned();
            if text.is_empty() {
                line.remove(0);
            }
        }
        if line.is_empty() {
            body.remove(0);
        }
    }
}
