//! Markdown events to the document tree: parts of a line.

use std::ops::Range;

use pulldown_cmark::{Event, Tag};

use super::markdown::{self, BLANK_MARK};
use super::reader::Reader;
use super::tree::{Block, Inline, Target};
use super::units::bind_units;

/// Reads up to and including the end event of the open element.
pub(super) fn until_end(reader: &mut Reader<'_>) -> Vec<Inline> {
    let mut line = Line::default();
    while let Some((event, range)) = reader.next() {
        if matches!(event, Event::End(_)) {
            break;
        }
        one(reader, event, &range, &mut line);
    }
    line.finish(reader)
}

/// Reads text that stands right in a block container, up to the next block or end event, which stays.
pub(super) fn until_block(reader: &mut Reader<'_>) -> Vec<Inline> {
    let mut line = Line::default();
    while let Some((event, _)) = reader.peek() {
        let goes_on = match event {
            Event::Start(tag) => matches!(tag, Tag::Emphasis | Tag::Strong | Tag::Link { .. } | Tag::Image { .. }),
            Event::End(_) | Event::Rule | Event::Html(_) => false,
            _ => true,
        };
        if !goes_on {
            break;
        }
        if let Some((event, range)) = reader.next() {
            one(reader, event, &range, &mut line);
        }
    }
    line.finish(reader)
}

/// A paragraph that holds one picture and nothing else; consumed when it is one.
pub(super) fn lone_picture(reader: &mut Reader<'_>, range: &Range<usize>) -> Option<Block> {
    let Some((Event::Start(Tag::Image { dest_url, title, .. }), picture)) = reader.peek() else {
        return None;
    };
    let (name, caption, end) = (dest_url.to_string(), title.to_string(), picture.end);
    if !reader.source.get(end..range.end)?.trim().is_empty() {
        return None;
    }
    reader.at += 1;
    let alt = super::tree::plain_text(&until_end(reader));
    // The end of the paragraph.
    reader.at += 1;
    if alt.trim().is_empty() {
        reader.error(range.start, format!("picture `{name}` has no alternative text"));
    }
    let size = std::mem::take(&mut reader.pending.size);
    Some(Block::Figure { name, alt, caption: bind_units(&caption), size })
}

/// A line under construction. Text is gathered, because the parser cuts it at every special character.
#[derive(Default)]
struct Line {
    done: Vec<Inline>,
    /// Characters, and whether each stands for itself in the source (not escaped, not an entity).
    text: Vec<(char, bool)>,
    start: usize,
}

impl Line {
    fn text(&mut self, text: &str, range: &Range<usize>, source: &str) {
        if self.text.is_empty() {
            self.start = range.start;
        }
        let literal = source.get(range.clone()) == Some(text);
        let escaped = range.start > 0 && source.as_bytes()[range.start - 1] == b'\\';
        for (i, c) in text.chars().enumerate() {
            self.text.push((c, literal && !(escaped && i == 0)));
        }
    }

    fn push(&mut self, inline: Inline, reader: &mut Reader<'_>) {
        self.flush(reader);
        self.done.push(inline);
    }

    fn finish(mut self, reader: &mut Reader<'_>) -> Vec<Inline> {
        self.flush(reader);
        self.done
    }

    /// Turns the gathered characters into text, blanks and tick boxes.
    fn flush(&mut self, reader: &mut Reader<'_>) {
        let text = std::mem::take(&mut self.text);
        self.undefined_footnote(&text, reader);
        let mut plain = String::new();
        let mut at = 0;
        while let Some((c, _)) = text.get(at) {
            let run = text[at..].iter().take_while(|(c, _)| *c == BLANK_MARK).count();
            let inline = match c {
                '☐' => Inline::Tick(false),
                '☑' => Inline::Tick(true),
                _ if run > 0 => Inline::Blank(run),
                _ => {
                    plain.push(*c);
                    at += 1;
                    continue;
                }
            };
            self.put_text(&mut plain);
            self.done.push(inline);
            at += run.max(1);
        }
        self.put_text(&mut plain);
    }

    fn put_text(&mut self, plain: &mut String) {
        if !plain.is_empty() {
            self.done.push(Inline::Text(bind_units(plain)));
            plain.clear();
        }
    }

    fn undefined_footnote(&self, text: &[(char, bool)], reader: &mut Reader<'_>) {
        let opens = |w: &[(char, bool)]| w[0] == ('[', true) && w[1] == ('^', true);
        if let Some(at) = text.windows(2).position(opens) {
            let label: String = text[at + 2..].iter().map(|(c, _)| *c).take_while(|c| *c != ']').collect();
            reader.error(self.start, format!("footnote `{label}` is not defined"));
        }
    }
}

fn one(reader: &mut Reader<'_>, event: Event<'_>, range: &Range<usize>, line: &mut Line) {
    match event {
        Event::Text(text) => line.text(&text, range, reader.source),
        Event::SoftBreak => line.text.push((' ', true)),
        Event::HardBreak => line.push(Inline::Break, reader),
        Event::Code(code) => {
            let code = code.replace(BLANK_MARK, "_");
            line.push(Inline::Code(code), reader);
        }
        Event::Start(Tag::Emphasis) => {
            let body = until_end(reader);
            line.push(Inline::Emphasis(body), reader);
        }
        Event::Start(Tag::Strong) => {
            let body = until_end(reader);
            line.push(Inline::Strong(body), reader);
        }
        Event::Start(Tag::Link { dest_url, .. }) => {
            let body = until_end(reader);
            if super::tree::plain_text(&body).trim().is_empty() {
                reader.error(range.start, format!("the link to `{dest_url}` has no text"));
            }
            match target(&dest_url) {
                Some(target) => line.push(Inline::Link { target, body }, reader),
                None => reader.error(
                    range.start,
                    format!(
                        "a link to `{dest_url}` is not allowed: only `#id`, files of the binder, https, mailto and tel"
                    ),
                ),
            }
        }
        Event::Start(Tag::Image { .. }) => {
            reader.skip();
            reader.error(range.start, "a picture must stand alone in its paragraph");
        }
        Event::FootnoteReference(label) => {
            line.push(Inline::Footnote(label.to_string()), reader);
        }
        Event::InlineHtml(html) => inline_html(reader, &html, range, line),
        Event::TaskListMarker(_) => {
            reader.error(range.start, "a tick box must be the first thing in its item");
        }
        Event::Start(_) => {
            reader.skip();
            reader.error(range.start, "this construct is not supported here");
        }
        _ => reader.error(range.start, "this construct is not supported here"),
    }
}

/// `<a id="x"></a>` is the only HTML there is in a line.
fn inline_html(reader: &mut Reader<'_>, html: &str, range: &Range<usize>, line: &mut Line) {
    let id = html
        .strip_prefix("<a id=\"")
        .and_then(|rest| rest.strip_suffix("\">"))
        .filter(|id| markdown::is_identifier(id));
    let closes = matches!(reader.peek(), Some((Event::InlineHtml(end), _)) if &**end == "</a>");
    match id {
        Some(id) if closes => {
            reader.at += 1;
            line.push(Inline::Anchor(id.to_owned()), reader);
        }
        _ => reader.error(
            range.start,
            format!("raw HTML is not allowed: `{html}` (an anchor is written `<a id=\"name\"></a>`)"),
        ),
    }
}

/// The link target, `None` when it is not one of the allowed kinds.
fn target(url: &str) -> Option<Target> {
    if let Some(id) = url.strip_prefix('#') {
        return markdown::is_identifier(id).then(|| Target::Here(id.to_owned()));
    }
    let safe = |c: char| c.is_ascii_graphic() && !matches!(c, '"' | '<' | '>' | '\\' | '`');
    if ["https://", "mailto:", "tel:"].iter().any(|s| url.starts_with(s)) {
        return url.chars().all(safe).then(|| Target::Address(url.to_owned()));
    }
    let (name, id) = match url.split_once('#') {
        Some((name, id)) => (name, Some(id)),
        None => (url, None),
    };
    let id_fits = id.is_none_or(markdown::is_identifier);
    (markdown::is_identifier(name) && name.contains('.') && id_fits)
        .then(|| Target::File { name: name.to_owned(), id: id.map(str::to_owned) })
}
