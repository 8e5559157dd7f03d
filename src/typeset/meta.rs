//! Front matter: one `key = "value"` a line between `+++` lines.

use super::TypesetError;
use super::markdown::{BLANK_MARK, plain_line};
use super::tree::{Block, Document, Meta, plain_text};

/// Reads the lines of the front matter; `first` is the line number of the opening `+++`.
pub(super) fn read(text: &str, first: usize, meta: &mut Meta, errors: &mut Vec<TypesetError>) {
    for (index, line) in text.lines().enumerate() {
        let line = line.trim();
        if line.is_empty() {
            continue;
        }
        if let Err(message) = entry(line, meta) {
            errors.push(TypesetError { line: first + 1 + index, message });
        }
    }
}

fn entry(line: &str, meta: &mut Meta) -> Result<(), String> {
    let (key, value) =
        line.split_once('=').ok_or_else(|| format!("front matter: `{line}` is not `key = \"value\"`"))?;
    let value = value
        .trim()
        .strip_prefix('"')
        .and_then(|v| v.strip_suffix('"'))
        .ok_or_else(|| format!("front matter: the value of `{}` is not in quotes", key.trim()))?;
    // Values come through the template engine and are escaped for Markdown.
    let text = plain_line(value.trim()).replace(BLANK_MARK, "_");
    match key.trim() {
        "title" => meta.title = text,
        "subtitle" => meta.subtitle = text,
        "document" => meta.document = text,
        "purpose" => meta.purpose = text,
        "audience" => meta.audience = text,
        "contents" => meta.contents = switch(key, &text)?,
        "cover" => meta.cover = switch(key, &text)?,
        "landscape" => meta.landscape = switch(key, &text)?,
        "numbered" => meta.numbered = switch(key, &text)?,
        "compact" => meta.compact = switch(key, &text)?,
        "mono" => meta.mono = switch(key, &text)?,
        other => return Err(format!("front matter: unknown key `{other}`")),
    }
    Ok(())
}

fn switch(key: &str, text: &str) -> Result<bool, String> {
    match text {
        "yes" | "true" => Ok(true),
        "no" | "false" | "" => Ok(false),
        other => Err(format!("front matter: `{}` is `{other}`, must be yes or no", key.trim())),
    }
}

/// Takes the title from the first heading when the front matter has none, or when both say the same.
pub(super) fn settle_title(document: &mut Document, errors: &mut Vec<TypesetError>) {
    if let Some(Block::Heading { level: 1, body, .. }) = document.blocks.first() {
        let text = plain_text(body).trim().to_owned();
        if document.meta.title.is_empty() || document.meta.title == text {
            document.meta.title = text;
            document.blocks.remove(0);
        }
    }
    if document.meta.title.is_empty() {
        errors.push(TypesetError {
            line: 1,
            message: "no title: write `title = \"…\"` in the front matter, or begin with `# Title`".to_owned(),
        });
    }
    if document.meta.document.is_empty() {
        document.meta.document = document.meta.title.clone();
    }
}
