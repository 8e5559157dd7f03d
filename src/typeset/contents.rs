//! The list of contents of an HTML page.

use std::fmt::Write as _;

use super::escape::html_text;
use super::tree::{Block, Document, Inline, plain_text, walk};

/// Headings down to a level, which is 1 or 2.
pub(super) fn contents(document: &Document, depth: u8) -> String {
    let mut entries = Vec::new();
    collect(&document.blocks, &mut entries);
    entries.retain(|(level, ..)| *level <= depth);
    if entries.is_empty() {
        return String::new();
    }
    let mut out =
        format!("<nav{CONTENTS_ID} aria-label=\"Contents\">\n<details open>\n<summary>Contents</summary>\n<ul>\n");
    let mut inner = false;
    let mut any = false;
    for (level, id, text) in entries {
        if level >= 2 && !inner && any {
            out.push_str("<ul>\n");
            inner = true;
        } else if level < 2 && inner {
            out.push_str("</li></ul></li>\n");
            inner = false;
        } else if any {
            out.push_str("</li>\n");
        }
        let _ = write!(out, "<li><a href=\"#{}\">{}</a>", html_text(&id), html_text(&text));
        any = true;
    }
    out.push_str(if inner { "</li></ul></li>\n" } else { "</li>\n" });
    out.push_str("</ul>\n</details>\n</nav>\n");
    out
}

fn collect(blocks: &[Block], entries: &mut Vec<(u8, String, String)>) {
    for block in blocks {
        match block {
            Block::Heading { level, id: Some(id), body } if *level <= 2 => {
                entries.push((*level, id.clone(), plain_text(body)));
            }
            Block::Landscape(body) | Block::Keep(body) | Block::Columns(body) | Block::Narrow(body) => {
                collect(body, entries);
            }
            _ => {}
        }
    }
}

/// Whether a line holds a link or anchor, so that it cannot be the label of a tick box.
pub(super) fn has_link(line: &[Inline]) -> bool {
    let mut found = false;
    walk(line, &mut |inline| {
        found |= matches!(inline, Inline::Link { .. } | Inline::Footnote(_));
    });
    found
}

/// Identifier of a contents list.
pub(super) const CONTENTS_ID: &str = " id=\"list:contents\"";
