//! Cleans prose that a person wrote with inline Markdown: a few marks stay, all the rest becomes literal text.

use pulldown_cmark::{Event, Tag, TagEnd};

use super::escape::{code_span, markdown_text, one_line};
use crate::typeset::markdown;

/// A word and a space put before the text so that nothing in it stands at the start of a line.
const LEAD: &str = "x ";

/// Keeps emphasis, strong, code spans and links to `#anchors`; escapes raw HTML, pictures, other links, blocks and
/// everything else, so that it shows as typed. The result is one line and safe to stand anywhere in a line.
#[must_use]
pub fn inline_markdown(text: &str) -> String {
    let line = one_line(text);
    let source = format!("{LEAD}{line}");
    let Some(cleaned) = clean(&source) else {
        return markdown_text(&line);
    };
    // Marks that touch each other may read differently after cleaning; then the literal text is the honest answer.
    if shape(&source) == shape(&format!("{LEAD}{cleaned}")) { cleaned } else { markdown_text(&line) }
}

/// Walks the events of one paragraph and writes the allowed ones back. `None` when it is not one paragraph.
fn clean(source: &str) -> Option<String> {
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
            Event::Start(Tag::Link { dest_url, .. }) if is_anchor(&dest_url) => {
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

fn is_anchor(target: &str) -> bool {
    target.strip_prefix('#').is_some_and(markdown::is_identifier)
}

/// The allowed marks and the plain text, for comparing before and after.
fn shape(source: &str) -> String {
    let mut out = String::new();
    let mut refused: Vec<bool> = Vec::new();
    let mut hidden = 0_usize;
    for (event, range) in markdown::inline_events(source) {
        let raw = source.get(range).unwrap_or_default();
        match event {
            Event::Start(Tag::Link { dest_url, .. }) if is_anchor(&dest_url) && hidden == 0 => {
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
            inline_markdown("Use *only* the **red** `K-1` and [see](#water)."),
            "Use *only* the **red** `K-1` and [see](#water)."
        );
        assert_eq!(inline_markdown("_so_"), "*so*");
    }

    #[test]
    fn everything_else_is_literal() {
        assert_eq!(inline_markdown("<b>x</b> ![a](b.svg)"), "\\<b>x\\</b> !\\[a\\](b.svg)");
        assert_eq!(inline_markdown("[x](javascript:alert(1))"), "\\[x\\](javascript:alert(1))");
        assert_eq!(inline_markdown("# big\n\n- a"), "\\# big - a");
        assert_eq!(inline_markdown("1. a"), "1\\. a");
        assert_eq!(inline_markdown("a|b"), "a\\|b");
        assert_eq!(inline_markdown(""), "");
    }
}
