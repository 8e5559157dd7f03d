//! Cleans prose that a person wrote with inline Markdown: a few marks stay, all the rest becomes literal text.

use pulldown_cmark::{Event, Tag, TagEnd};

use super::escape::{code_span, markdown_text, one_line};
use crate::typeset::markdown;

/// A word and a space put before the text so that nothing in it stands at the start of a line.
const LEAD: &str = "x ";

/// Keeps emphasis, strong and code spans; escapes links, raw HTML, pictures, blocks and everything else, so that it
/// shows as typed. The result is one line and safe to stand anywhere in a line.
///
/// A link is none: the same note stands in several documents, and no person knows what their places are called.
#[must_use]
pub fn inline_markdown(text: &str) -> String {
    cleaned(text, Links::None)
}

/// The same, and links to `#anchors` stay: for texts of our own, which know the document they stand in.
#[must_use]
pub fn linked_markdown(text: &str) -> String {
    cleaned(text, Links::Anchors)
}

/// Which links stay.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Links {
    None,
    Anchors,
}

impl Links {
    fn keep(self, target: &str) -> bool {
        self == Self::Anchors && target.strip_prefix('#').is_some_and(markdown::is_identifier)
    }
}

fn cleaned(text: &str, links: Links) -> String {
    let line = one_line(text);
    let source = format!("{LEAD}{line}");
    let Some(cleaned) = clean(&source, links) else {
        return markdown_text(&line);
    };
    // Marks that touch each other may read differently after cleaning; then the literal text is the honest answer.
    let same = shape(&source, links) == shape(&format!("{LEAD}{cleaned}"), links);
    if same { cleaned } else { markdown_text(&line) }
}

/// Links, pictures and tags of HTML in a text of one line, as they are typed: [`inline_markdown`] keeps none.
#[must_use]
pub fn dropped_marks(text: &str) -> Vec<String> {
    let source = format!("{LEAD}{}", one_line(text));
    let mut found = Vec::new();
    let mut end = 0;
    for (event, range) in markdown::inline_events(&source) {
        let is_mark =
            matches!(event, Event::Start(Tag::Link { .. } | Tag::Image { .. }) | Event::InlineHtml(_) | Event::Html(_));
        // What stands inside another one is told with it.
        if is_mark && range.start >= end {
            end = range.end;
            found.extend(source.get(range).map(str::to_owned));
        }
    }
    found
}

/// Walks the events of one paragraph and writes the allowed ones back. `None` when it is not one paragraph.
fn clean(source: &str, kept: Links) -> Option<String> {
    let mut out = String::new();
    let mut text = String::new();
    let mut skip_until: Option<TagEnd> = None;
    let mut depth = 0_usize;
    let mut links = Vec::new();
    for (event, range) in markdown::inline_events(source) {
        if let Some(end) = skip_until {
            match event {
                Event::Start(tag) if tag.to_end() == end => depth += 1,
                Event::End(found) if found == end && depth == 0 => skip_until = None,
                Event::End(found) if found == end => depth -= 1,
                _ => {}
            }
            continue;
        }
        match event {
            Event::Start(Tag::Paragraph) | Event::End(TagEnd::Paragraph) => {}
            Event::Text(t) => text.push_str(&t),
            Event::SoftBreak | Event::HardBreak => text.push(' '),
            Event::Code(code) => {
                flush(&mut text, &mut out);
                out.push_str(&code_span(&code));
            }
            Event::Start(Tag::Emphasis) | Event::End(TagEnd::Emphasis) => {
                flush(&mut text, &mut out);
                out.push('*');
            }
            Event::Start(Tag::Strong) | Event::End(TagEnd::Strong) => {
                flush(&mut text, &mut out);
                out.push_str("**");
            }
            Event::Start(Tag::Link { dest_url, .. }) if kept.keep(&dest_url) => {
                flush(&mut text, &mut out);
                out.push('[');
                links.push(dest_url.to_string());
            }
            Event::End(TagEnd::Link) => {
                flush(&mut text, &mut out);
                let target = links.pop()?;
                out.push_str("](");
                out.push_str(&target);
                out.push(')');
            }
            Event::Start(tag @ (Tag::Link { .. } | Tag::Image { .. })) => {
                text.push_str(source.get(range)?);
                skip_until = Some(tag.to_end());
                depth = 0;
            }
            Event::InlineHtml(_) | Event::Html(_) => text.push_str(source.get(range)?),
            _ => return None,
        }
    }
    flush(&mut text, &mut out);
    out.strip_prefix(LEAD).map_or_else(|| (out == LEAD.trim_end()).then(String::new), |rest| Some(guard_start(rest)))
}

/// Writes the gathered text escaped, keeping the spaces at its ends, which matter beside marks.
fn flush(text: &mut String, out: &mut String) {
    if text.is_empty() {
        return;
    }
    // The escaper trims; a letter on each side keeps spaces, and is taken off again.
    let head = if text.starts_with(' ') { " " } else { "" };
    let tail = if text.len() > 1 && text.ends_with(' ') { " " } else { "" };
    out.push_str(head);
    out.push_str(&markdown_text(text));
    out.push_str(tail);
    text.clear();
}

/// The lead was there while escaping; what now stands first is escaped as a start of text.
fn guard_start(rest: &str) -> String {
    let escaped = markdown_text(rest.split(' ').next().unwrap_or_default());
    let marks = rest.starts_with(['-', '+', '=', ':', '>', '~', '(']);
    if marks && escaped.starts_with('\\') {
        return format!("\\{rest}");
    }
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    if digits > 0 && escaped.as_bytes().get(digits) == Some(&b'\\') {
        return format!("{}\\{}", &rest[..digits], &rest[digits..]);
    }
    rest.to_owned()
}

/// The allowed marks and the plain text, for comparing before and after.
fn shape(source: &str, kept: Links) -> String {
    let mut out = String::new();
    let mut refused: Vec<bool> = Vec::new();
    let mut hidden = 0_usize;
    for (event, range) in markdown::inline_events(source) {
        let raw = source.get(range).unwrap_or_default();
        match event {
            Event::Start(Tag::Link { dest_url, .. }) if kept.keep(&dest_url) && hidden == 0 => {
                refused.push(false);
                out.push_str("\u{1}l");
                out.push_str(&dest_url);
            }
            Event::Start(Tag::Link { .. } | Tag::Image { .. }) => {
                if hidden == 0 {
                    out.push_str(raw);
                }
                refused.push(true);
                hidden += 1;
            }
            Event::End(TagEnd::Link | TagEnd::Image) => {
                if refused.pop() == Some(true) {
                    hidden -= 1;
                } else {
                    out.push_str("\u{1}/l");
                }
            }
            _ if hidden > 0 => {}
            Event::Start(Tag::Emphasis) => out.push_str("\u{1}e"),
            Event::End(TagEnd::Emphasis) => out.push_str("\u{1}/e"),
            Event::Start(Tag::Strong) => out.push_str("\u{1}s"),
            Event::End(TagEnd::Strong) => out.push_str("\u{1}/s"),
            Event::Code(c) => out.extend(["\u{1}c", &*c, "\u{1}/c"]),
            Event::Text(t) => out.push_str(&t),
            Event::InlineHtml(_) | Event::Html(_) => out.push_str(raw),
            _ => {}
        }
    }
    // A pipe inside code is moved between two spans; that is no change for the reader.
    out.replace("\u{1}/c|\u{1}c", "|")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn allowed_marks_stay() {
        assert_eq!(
            linked_markdown("Use *only* the **red** `K-1` and [see](#water)."),
            "Use *only* the **red** `K-1` and [see](#water)."
        );
        assert_eq!(inline_markdown("_so_"), "*so*");
    }

    #[test]
    fn everything_else_is_literal() {
        assert_eq!(inline_markdown("<b>x</b> ![a](b.svg)"), "\\<b>x\\</b> !\\[a\\](b.svg)");
        assert_eq!(inline_markdown("[x](javascript:alert(1))"), "\\[x\\](javascript:alert(1))");
        assert_eq!(inline_markdown("*so* [see](#water)"), "*so* \\[see\\](\\#water)");
        assert_eq!(linked_markdown("[x](https://example.org)"), "\\[x\\](https://example.org)");
        assert_eq!(inline_markdown("# big\n\n- a"), "\\# big - a");
        assert_eq!(inline_markdown("1. a"), "1\\. a");
        assert_eq!(inline_markdown("a|b"), "a\\|b");
        assert_eq!(inline_markdown(""), "");
    }

    #[test]
    fn marks_that_go_are_told_as_they_were_typed() {
        let text =
            "a [b *c*](#d) ![e](f.svg) <b>g</b> <https://example.org> [h](https://example.org) `[i](#j)` [k] <5 m";
        let marks = ["[b *c*](#d)", "![e](f.svg)", "<b>", "</b>", "<https://example.org>", "[h](https://example.org)"];
        assert_eq!(dropped_marks(text), marks);
        assert!(dropped_marks("[ ] 3 < 4 & *so* **it** https://example.org [^1] [a][b]").is_empty());
    }
}
