//! What is wrong with a line that is not TOML, said for people who do not know TOML.

use super::scan::Statement;
use crate::diag::Finding;
use crate::source::Span;
use std::ops::Range;

/// What to do where the parser's words are all there is.
const PLAINLY: &str = "write name = value on one line: texts and quantities in quotes, lists in [ ]";

/// The header of `statement` as it most likely should read; `None` where there is nothing to go by.
pub(super) fn mend_header(text: &str, statement: &Statement) -> Option<String> {
    let alone = &text[statement.span.clone()];
    let key = text[statement.key.clone()].trim().trim_matches('.');
    let parts: Vec<&str> = key.split('.').map(str::trim).collect();
    if key.contains(['"', '\'']) || parts.iter().any(|p| p.is_empty() || !p.chars().all(|c| c == ' ' || bare(c))) {
        return None;
    }
    let path = parts.iter().map(|p| p.split_whitespace().collect::<Vec<_>>().join("-")).collect::<Vec<_>>().join(".");
    Some(if alone.starts_with("[[") { format!("[[{path}]]") } else { format!("[{path}]") })
}

const fn bare(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '_' | '-')
}

/// A header that cannot be read.
pub(super) fn header(text: &str, statement: &Statement, mended: Option<&str>) -> Finding {
    let alone = &text[statement.span.clone()];
    let span = Span::from(statement.span.clone());
    let headline = if alone.contains(']') {
        "this section header cannot be read".to_owned()
    } else {
        "the section header is not closed with `]`".to_owned()
    };
    let finding = Finding::error("toml-syntax", headline).at(span, "section header");
    match mended {
        Some(mended) => finding.help(format!("write {mended}")).fix(span, mended),
        None => finding.help("write a header like [build] or [component.fridge]; ids have a-z, 0-9 and -"),
    }
}

/// A key with its value that cannot be read. `error` is the parser's first one, if it has one.
pub(super) fn pair(text: &str, statement: &Statement, error: Option<&toml::de::Error>) -> Finding {
    let whole = Span::from(statement.span.clone());
    let key = &text[statement.key.clone()];
    let Some(equals) = statement.equals else { return without_equals(text, statement) };
    if key.is_empty() {
        return Finding::error("toml-syntax", "there is no name before the `=`")
            .at(Span { start: equals, end: equals + 1 }, "name missing")
            .help("write name = value");
    }
    if let Some(open) = statement.open {
        return not_closed(text, statement, open);
    }
    let value = value_range(text, statement, equals);
    let Some(error) = error else {
        return Finding::error("toml-syntax", format!("`{key}` cannot be read")).at(whole, "not TOML").help(PLAINLY);
    };
    let at = error.span().map_or(whole, |s| clamp(whole, &s));
    let message = error.message();
    if value.is_empty() {
        return Finding::error("toml-syntax", format!("`{key}` has no value"))
            .at(Span { start: equals, end: equals + 1 }, "nothing follows")
            .help("give a value, or delete the line: what is left out gets its default");
    }
    if message.starts_with("invalid date") || message.starts_with("invalid time") {
        return Finding::error("date-invalid", format!("`{key}`: {message}"))
            .at(at, "no such date")
            .help("write a date as 2027-05-14, without quotes");
    }
    if message.contains("string values must be quoted") {
        return unquoted(text, key, &value);
    }
    if message.contains("string") && part(text, at).chars().any(|c| c.is_control() && c != '\n') {
        return Finding::error("control-character", format!("`{key}` holds a control character"))
            .at(at, "control character")
            .help("delete it; only tab and line end may stand in a text");
    }
    if message.starts_with("invalid basic string") || message.starts_with("invalid literal string") {
        let quote = if message.contains("literal") { '\'' } else { '"' };
        let end = text[value.clone()].trim_end().len() + value.start;
        let finding = Finding::error("toml-syntax", format!("the text of `{key}` is not closed"))
            .at(value.clone().into(), "begins here")
            .help(format!("end it with {quote}"));
        let one_line = !text[value.clone()].contains('\n') && text[value.clone()].matches(quote).count() == 1;
        return if one_line { finding.fix(Span { start: end, end }, quote) } else { finding };
    }
    if message.starts_with("missing escaped value") || message.contains("escape") {
        return Finding::error("toml-syntax", format!("`{key}`: a backslash begins an escape that does not exist"))
            .at(at, "here")
            .help("write \\\\ for a backslash, or put the text in single quotes");
    }
    if message.starts_with("unexpected key or value") {
        return Finding::error("toml-syntax", format!("`{key}`: something follows the value"))
            .at(at, "not expected here")
            .help("one name = value a line");
    }
    Finding::error("toml-syntax", format!("`{key}`: {message}")).at(at, "not TOML").help(PLAINLY)
}

fn without_equals(text: &str, statement: &Statement) -> Finding {
    let whole = Span::from(statement.span.clone());
    let key = &text[statement.key.clone()];
    let rest = text[statement.key.end..statement.span.end].trim_start();
    let plain = !key.is_empty() && key.chars().all(|c| bare(c) || c == '.');
    let value = rest.starts_with(['"', '\'', '[', '{']) || rest.starts_with(|c: char| c.is_ascii_digit());
    if plain && value {
        let end = statement.key.end;
        return Finding::error("toml-syntax", format!("`{key}` needs a `=` before its value"))
            .at(Span { start: end, end: (end + 1).min(whole.end) }, "`=` missing")
            .help(format!("write {key} = …"))
            .fix(Span { start: end, end }, " =");
    }
    if plain && rest.starts_with(':') {
        return Finding::error("toml-syntax", format!("`{key}` has a `:` where a `=` must stand"))
            .at(whole, "this line")
            .help("write name = value");
    }
    Finding::error("toml-syntax", "this line is neither a header nor name = value")
        .at(whole, "not TOML")
        .help("write name = value; begin a remark with #")
}

fn not_closed(text: &str, statement: &Statement, open: usize) -> Finding {
    let key = &text[statement.key.clone()];
    let (what, with, len) = match text.as_bytes().get(open) {
        Some(b'[') => ("list", "]", 1),
        Some(b'{') => ("table", "}", 1),
        Some(b'\'') => ("text", "'''", 3),
        _ => ("text", "\"\"\"", 3),
    };
    let end = statement.span.end;
    let finding = Finding::error("toml-syntax", format!("the {what} of `{key}` is not closed"))
        .at(Span { start: open, end: (open + len).min(end) }, "begins here")
        .help(format!("end it with {with}"));
    let one_line = !text[statement.span.clone()].contains(['\n', '#']);
    if one_line { finding.fix(Span { start: end, end }, with) } else { finding }
}

fn unquoted(text: &str, key: &str, value: &Range<usize>) -> Finding {
    let written = text[value.clone()].trim();
    let finding = Finding::error("toml-syntax", format!("the value of `{key}` must stand in quotes"))
        .at(value.clone().into(), "no quotes")
        .help("texts and quantities stand in quotes: \"4.2 m\", \"galley\"");
    let word = matches!(written.to_lowercase().as_str(), "yes" | "no" | "on" | "off" | "true" | "false");
    if word {
        let flag = matches!(written.to_lowercase().as_str(), "yes" | "on" | "true");
        return finding.help("write true or false for yes and no").fix(value.clone().into(), flag.to_string());
    }
    if written.contains(['"', '\\', '\n', '\'', '[', '{', '=']) || written.chars().any(char::is_control) {
        return finding;
    }
    finding.fix(value.clone().into(), format!("\"{written}\""))
}

/// What stands after the `=`, without the space around it and without a remark.
fn value_range(text: &str, statement: &Statement, equals: usize) -> Range<usize> {
    let rest = &text[equals + 1..statement.span.end];
    let start = equals + 1 + rest.len() - rest.trim_start().len();
    let value = text[start..statement.span.end].trim_end();
    start..start + value.len()
}

/// The same key or table a second time, or a value used as a table.
pub(super) fn duplicate(
    text: &str,
    at: Span,
    error: &toml::de::Error,
    first: Option<Span>,
    path: &[String],
) -> Finding {
    let name = part(text, at).trim_matches(['"', '\'']);
    let before = part(text, Span { start: 0, end: at.start });
    let line = before.rfind('\n').map_or(0, |i| i + 1);
    let is_table = before[line..].trim_start().starts_with('[');
    let what = match path {
        [section, id] if is_table => format!("{section} `{id}`"),
        _ if is_table => format!("section `{name}`"),
        _ => format!("`{name}`"),
    };
    if error.message().starts_with("cannot extend") {
        let headline = format!("{what} is a value above and a table here");
        let finding = Finding::error("duplicate-key", headline).at(at, "used as a table");
        let finding = first.map_or(finding.clone(), |f| finding.label(f, "given as a value"));
        return finding.help("delete one of the two");
    }
    let finding = Finding::error("duplicate-key", format!("{what} is given twice")).at(at, "again");
    let finding = match first {
        Some(first) => finding.label(first, "first here"),
        None => finding,
    };
    finding.help(if is_table { "give the second one an id of its own, or delete it" } else { "keep one of the two" })
}

/// Anything else the parser says of the whole document.
pub(super) fn other(error: &toml::de::Error, at: Span) -> Finding {
    Finding::error("toml-syntax", error.message().to_owned()).at(at, "not TOML").help(PLAINLY)
}

fn part(text: &str, at: Span) -> &str {
    text.get(at.start..at.end).unwrap_or("")
}

/// A place the parser gives within a statement, kept inside it.
fn clamp(whole: Span, inside: &Range<usize>) -> Span {
    let start = (whole.start + inside.start).min(whole.end.saturating_sub(1)).max(whole.start);
    Span { start, end: (whole.start + inside.end).clamp(start, whole.end).max((start + 1).min(whole.end)) }
}
