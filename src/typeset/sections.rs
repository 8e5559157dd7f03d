//! The top level of a document: blocks, and the directives that open and close sections.

use pulldown_cmark::{Event, Tag};

use super::directive::{self, Directive};
use super::inlines;
use super::reader::Reader;
use super::tree::{Block, FigureSize, Inline, Target, plain_text};

/// Top level: the same as [`Reader::blocks`], plus the directives that open and close sections.
pub(super) fn document_blocks(reader: &mut Reader<'_>) -> Vec<Block> {
    let mut open: Vec<(Directive, usize, Vec<Block>)> = Vec::new();
    let mut now = Vec::new();
    while let Some((event, range)) = reader.peek().cloned() {
        if !matches!(event, Event::Start(Tag::HtmlBlock)) {
            reader.block(&mut now);
            continue;
        }
        reader.at += 1;
        let text = reader.html_text();
        match directive::read(&text) {
            Ok(Directive::Page) => now.push(Block::PageBreak),
            Ok(Directive::Contents) => now.push(Block::Contents),
            Ok(Directive::Also(words)) => now.push(Block::Also(words)),
            Ok(Directive::Document(stem)) => {
                if !open.is_empty() {
                    reader.error(
                        range.start,
                        "a document stands by itself: not inside keep, columns, narrow or landscape",
                    );
                }
                let title = title_of(reader, &stem);
                now.push(Block::Document { stem, title });
            }
            Ok(Directive::Tall) => reader.pending.size = FigureSize::Page,
            Ok(Directive::TrueSize) => reader.pending.size = FigureSize::True,
            Ok(Directive::Floating) => reader.pending.size = FigureSize::Floating,
            Ok(Directive::Widths(widths)) => reader.pending.widths = Some(widths),
            Ok(found @ (Directive::Landscape | Directive::Keep | Directive::Columns | Directive::Narrow)) => {
                if found == Directive::Narrow && !open.is_empty() {
                    reader.error(
                        range.start,
                        "pages in columns stand by themselves: not inside keep, columns or landscape",
                    );
                }
                open.push((found, range.start, std::mem::take(&mut now)));
            }
            Ok(end) => {
                if open.last().map(|(opened, ..)| opened) != end.closes().as_ref() {
                    reader.error(range.start, "nothing is open that this could close");
                } else if let Some((opened, _, outer)) = open.pop() {
                    let body = std::mem::replace(&mut now, outer);
                    now.push(section(&opened, body));
                }
            }
            Err(message) => reader.error(range.start, message),
        }
    }
    while let Some((opened, at, outer)) = open.pop() {
        let body = std::mem::replace(&mut now, outer);
        // A document may simply end in landscape.
        if opened != Directive::Landscape {
            reader.error(at, "this is never closed by its `<!-- /… -->`");
        }
        now.push(section(&opened, body));
    }
    if reader.pending.widths.is_some() || reader.pending.size != FigureSize::Part {
        reader.error(
            reader.source.len(),
            "`widths:`, `tall`, `true-size` or `floating` without a table or picture behind it",
        );
    }
    now
}

/// What a document is called: the words of the link to it that stands alone right behind its directive, which is then
/// read; its file name where there is none.
fn title_of(reader: &mut Reader<'_>, stem: &str) -> String {
    let before = reader.at;
    if matches!(reader.peek(), Some((Event::Start(Tag::Paragraph), _))) {
        reader.at += 1;
        let known = reader.errors.len();
        if let [Inline::Link { target: Target::File { name, id: None }, body }] = inlines::until_end(reader).as_slice()
            && name.strip_suffix(".md") == Some(stem)
        {
            return plain_text(body);
        }
        reader.errors.truncate(known);
        reader.at = before;
    }
    stem.to_owned()
}

fn section(opened: &Directive, body: Vec<Block>) -> Block {
    match opened {
        Directive::Keep => Block::Keep(body),
        Directive::Columns => Block::Columns(body),
        Directive::Narrow => Block::Narrow(body),
        _ => Block::Landscape(body),
    }
}
