//! Faults that show only in the whole document: identifiers, links, footnotes, heading levels.

use std::collections::{BTreeMap, BTreeSet};

use super::TypesetError;
use super::markdown::is_identifier;
use super::tree::{Block, Document, Inline, Target, plain_text, walk};

/// Checks the document and shifts its headings so that the highest level is 1.
/// Places are found in the source by the name in question; line 0 when that fails.
pub(super) fn check(document: &mut Document, source: &str, errors: &mut Vec<TypesetError>) {
    identifiers(document, source, errors);
    footnotes(document, source, errors);
    let mut levels = Vec::new();
    headings(&mut document.blocks, &mut |level, text| {
        levels.push((*level, text));
    });
    let top = levels.iter().map(|(level, _)| *level).min().unwrap_or(1);
    headings(&mut document.blocks, &mut |level, _| *level -= top - 1);
    let known = document.identifiers();
    name_sections(&mut document.blocks, &known, &mut 0);
    let mut before = 0;
    for (level, text) in levels {
        let mark = format!("{} ", "#".repeat(usize::from(level)));
        let level = level - (top - 1);
        if level > before + 1 {
            let line =
                source.lines().position(|l| l.starts_with(&mark) && l[mark.len()..].trim_start().starts_with(&text));
            errors.push(TypesetError {
                line: line.map_or(0, |i| i + 1),
                message: format!("heading `{text}` skips from level {before} to level {level}"),
            });
        }
        before = level;
    }
}

/// Gives the headings of a contents list an identifier where the template gave none.
fn name_sections(blocks: &mut [Block], known: &[String], count: &mut usize) {
    for block in blocks {
        match block {
            Block::Heading { level: 1..=2, id: id @ None, .. } => {
                *count += 1;
                while known.contains(&format!("section-{count}")) {
                    *count += 1;
                }
                *id = Some(format!("section-{count}"));
            }
            Block::Landscape(body) | Block::Keep(body) | Block::Columns(body) | Block::Narrow(body) => {
                name_sections(body, known, count);
            }
            _ => {}
        }
    }
}

/// A fault at the last place in the source that holds one of the needles.
fn fault(source: &str, needles: &[String], message: String, errors: &mut Vec<TypesetError>) {
    let place = needles.iter().filter_map(|n| source.rfind(n.as_str())).max();
    errors.push(TypesetError { line: place.map_or(0, |at| 1 + source[..at].matches('\n').count()), message });
}

fn headings(blocks: &mut [Block], visit: &mut dyn FnMut(&mut u8, String)) {
    for block in blocks {
        match block {
            Block::Heading { level, body, .. } => visit(level, plain_text(body)),
            Block::Landscape(body) | Block::Keep(body) | Block::Columns(body) | Block::Narrow(body) => {
                headings(body, visit);
            }
            _ => {}
        }
    }
}

fn identifiers(document: &Document, source: &str, errors: &mut Vec<TypesetError>) {
    let mut known = BTreeSet::new();
    for id in document.identifiers() {
        if !is_identifier(&id) {
            let message = format!("`{id}` cannot be an identifier: a letter, then letters, digits, `-`, `_`, `.`");
            fault(source, &[format!("{{#{id}")], message, errors);
        }
        if !known.insert(id.clone()) {
            let needles = [format!("{{#{id}"), format!("id=\"{id}\"")];
            fault(source, &needles, format!("identifier `{id}` is given twice"), errors);
        }
    }
    let mut missing = BTreeSet::new();
    document.each_line(&mut |line| {
        walk(line, &mut |inline| {
            if let Inline::Link { target: Target::Here(id), .. } = inline
                && !known.contains(id)
            {
                missing.insert(id.clone());
            }
        });
    });
    for id in missing {
        let message = format!("link to `#{id}`, which does not exist");
        fault(source, &[format!("(#{id})")], message, errors);
    }
}

fn footnotes(document: &Document, source: &str, errors: &mut Vec<TypesetError>) {
    let mut uses: BTreeMap<String, usize> = BTreeMap::new();
    document.each_line(&mut |line| {
        walk(line, &mut |inline| {
            if let Inline::Footnote(label) = inline {
                *uses.entry(label.clone()).or_default() += 1;
            }
        });
    });
    for label in uses.keys() {
        if !document.footnotes.contains_key(label) {
            let message = format!("footnote `{label}` is not defined");
            fault(source, &[format!("[^{label}]")], message, errors);
        }
    }
    for label in document.footnotes.keys() {
        if !uses.contains_key(label) {
            let message = format!("footnote `{label}` is never referred to");
            fault(source, &[format!("[^{label}]:")], message, errors);
        }
    }
}
