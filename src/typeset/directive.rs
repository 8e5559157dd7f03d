//! Layout directives: HTML comments on their own line, invisible where Markdown is read directly.

use super::markdown::is_identifier;

/// What a directive asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Directive {
    /// `<!-- page -->`
    Page,
    /// `<!-- landscape -->`
    Landscape,
    /// `<!-- portrait -->`
    Portrait,
    /// `<!-- keep -->`
    Keep,
    /// `<!-- /keep -->`
    EndKeep,
    /// `<!-- columns -->`
    Columns,
    /// `<!-- /columns -->`
    EndColumns,
    /// `<!-- narrow -->`
    Narrow,
    /// `<!-- /narrow -->`
    EndNarrow,
    /// `<!-- contents -->`
    Contents,
    /// `<!-- document: owners-manual -->`
    Document(String),
    /// `<!-- tall -->`
    Tall,
    /// `<!-- true-size -->`
    TrueSize,
    /// `<!-- floating -->`
    Floating,
    /// `<!-- also: GFCI, RCD -->`
    Also(String),
    /// `<!-- widths: 1 auto 2 -->`
    Widths(Vec<Option<u16>>),
}

/// Reads the text of an HTML block.
pub(super) fn read(html: &str) -> Result<Directive, String> {
    let shown = html.trim();
    let inner = shown
        .strip_prefix("<!--")
        .and_then(|s| s.strip_suffix("-->"))
        .map(str::trim)
        .ok_or_else(|| format!("raw HTML is not allowed: `{}`", first_line(shown)))?;
    match inner {
        "page" => Ok(Directive::Page),
        "landscape" => Ok(Directive::Landscape),
        "portrait" => Ok(Directive::Portrait),
        "keep" => Ok(Directive::Keep),
        "/keep" => Ok(Directive::EndKeep),
        "columns" => Ok(Directive::Columns),
        "/columns" => Ok(Directive::EndColumns),
        "narrow" => Ok(Directive::Narrow),
        "/narrow" => Ok(Directive::EndNarrow),
        "contents" => Ok(Directive::Contents),
        "tall" => Ok(Directive::Tall),
        "true-size" => Ok(Directive::TrueSize),
        "floating" => Ok(Directive::Floating),
        _ => match inner.split_once(':') {
            Some(("widths", list)) => widths(list).map(Directive::Widths),
            Some(("document", stem)) => document(stem.trim()),
            Some(("also", words)) => Ok(Directive::Also(words.trim().to_owned())),
            _ => Err(format!(
                "unknown directive `{}`; known are page, landscape, portrait, keep, /keep, columns, /columns, narrow, /narrow, contents, tall, true-size, floating, widths:, document:, also:",
                first_line(inner)
            )),
        },
    }
}

impl Directive {
    /// What this one closes.
    pub(super) fn closes(&self) -> Option<Self> {
        match self {
            Self::Portrait => Some(Self::Landscape),
            Self::EndKeep => Some(Self::Keep),
            Self::EndColumns => Some(Self::Columns),
            Self::EndNarrow => Some(Self::Narrow),
            _ => None,
        }
    }
}

fn document(stem: &str) -> Result<Directive, String> {
    if is_identifier(stem) && !stem.contains('.') {
        Ok(Directive::Document(stem.to_owned()))
    } else {
        Err(format!("`{stem}` is no document; write its file name without an ending"))
    }
}

fn widths(list: &str) -> Result<Vec<Option<u16>>, String> {
    list.split_whitespace()
        .map(|word| match word.parse::<u16>() {
            Ok(share @ 1..) => Ok(Some(share)),
            _ if word == "auto" => Ok(None),
            _ => Err(format!("`{word}` is no width; write `auto` or a whole number")),
        })
        .collect()
}

fn first_line(text: &str) -> &str {
    text.lines().next().unwrap_or_default()
}
