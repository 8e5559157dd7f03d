//! What is wrong with a line that is not TOML, said for people who do not know TOML.

use super::bare::is_curly;
use super::inside;
use super::mend::{Said, choose};
use super::scan::Statement;
use crate::diag::Finding;
use crate::source::Span;
use std::ops::Range;
use toml::de::DeTable;

/// What to do where the parser's words are all there is.
const PLAINLY: &str = "write name = value on one line: texts and quantities in quotes, lists in [ ]";

/// The header of `statement` as it most likely should read; `None` where there is nothing to go by.
pub(super) fn mend_header(text: &str, statement: &Statement) -> Option<String> {
    let alone = text[statement.span.clone()].trim();
    let inside = alone.trim_matches(['[', ']', '(', ')', '{', '}', '<', '>', ' ', '\t']);
    let (path, follows) =
        inside.split_once(']').map_or((inside, ""), |(path, rest)| (path, rest.trim_start_matches(']')));
    let quotes = |c: char| matches!(c, '"' | '\'') || is_curly(c);
    let path = path.trim_matches(|c: char| quotes(c) || c.is_whitespace());
    let parts: Vec<&str> =
        path.split(['.', ',', ':', '/']).map(|p| p.trim_matches(|c: char| quotes(c) || c == ' ')).collect();
    let parts: Vec<&str> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    if parts.is_empty() || parts.iter().any(|p| !p.chars().all(|c| c == ' ' || bare(c))) {
        return None;
    }
    let path = parts.iter().map(|p| p.split_whitespace().collect::<Vec<_>>().join("-")).collect::<Vec<_>>().join(".");
    let header = if LISTS.contains(&path.as_str()) { format!("[[{path}]]") } else { format!("[{path}]") };
    let follows = follows.trim();
    Some(if follows.contains('=') { format!("{header}\n{follows}") } else { header })
}

const fn bare(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '_' | '-')
}

/// Sections that are lists.
const LISTS: [&str; 4] = ["accepted", "deviation", "snag", "certificate"];

/// A header that cannot be read.
pub(super) fn header(text: &str, statement: &Statement, mended: Option<&str>) -> Finding {
    let alone = &text[statement.span.clone()];
    let span = Span::from(statement.span.clone());
    let headline = if !alone.contains(']') {
        "the section header is not closed with `]`"
    } else if !alone.starts_with('[') {
        "the section header does not begin with `[`"
    } else if mended.is_some_and(|m| m.contains('\n')) {
        "something follows the section header"
    } else {
        "this section header cannot be read"
    };
    let finding = Finding::error("toml-syntax", headline).at(span, "section header");
    match mended {
        Some(mended) if mended.contains('\n') => finding.help("begin a new line behind the header").fix(span, mended),
        Some(mended) => finding.help(format!("write {mended}")).fix(span, mended),
        None => finding.help("write a header like [build] or [component.fridge]; ids have a-z, 0-9 and -"),
    }
}

/// A key with its value that cannot be read. `error` is the parser's first one, if it has one.
pub(super) fn pair(text: &str, statement: &Statement, error: Option<&toml::de::Error>) -> Finding {
    let whole = Span::from(statement.span.clone());
    let Some(equals) = statement.equals else { return without_equals(text, statement) };
    let name = text[statement.span.start..equals].trim_matches([' ', '\t']);
    let readings = if name.is_empty() {
        let at = equals..equals + 1;
        let said = Said::new("there is no name before the `=`", at, "name missing");
        vec![said.help("write name = value")]
    } else if DeTable::parse_recoverable(&format!("{name} = 1")).1.is_empty() {
        inside::readings(text, statement, equals)
    } else {
        odd_name(statement.span.start..statement.span.start + name.len(), name, equals)
    };
    if let Some(finding) = choose(text, statement, readings) {
        return finding;
    }
    let Some(error) = error else {
        return Finding::error("toml-syntax", format!("`{name}` cannot be read")).at(whole, "not TOML").help(PLAINLY);
    };
    let at = error.span().map_or(whole, |s| clamp(whole, &s));
    let message = error.message();
    Finding::error("toml-syntax", format!("`{name}`: {message}")).at(at, "not TOML").help(PLAINLY)
}

/// A name that TOML does not take without quotes; the names of a spec need none.
fn odd_name(at: Range<usize>, name: &str, equals: usize) -> Vec<Said> {
    let mut said = Vec::new();
    let says = |what: &str, at: Range<usize>, here| Said::new(format!("`{name}`: {what}"), at, here);
    if let Some(start) = name.strip_suffix([':', '+', '?', '!', '=', '>', '<']) {
        let (sign, start) = (at.start + start.len()..at.end, start.trim_end());
        let other = Said::new(format!("`{start}`: another sign stands before the `=`"), sign, "this sign");
        said.push(other.help("write name = value").edit(at.start + start.len()..equals, " "));
    }
    let odd = |c: char| c.is_whitespace() && !matches!(c, ' ' | '\t') || "\u{200b}\u{2060}\u{feff}".contains(c);
    if name.contains(odd) {
        let blank = says("a blank stands there that is no plain one", at.clone(), "in this name");
        said.push(blank.help("delete the blank and type it again").edit(at.clone(), name.replace(odd, "")));
    }
    if let Some(colon) = name.find(':') {
        let said_of = says("a `:` stands where a `=` must stand", at.start + colon..at.start + colon + 1, "here");
        said.push(said_of.help("write name = value"));
    }
    let joined = name.split_whitespace().collect::<Vec<_>>().join("_");
    if joined != name && joined.chars().all(bare) {
        said.push(
            says("a name has no blanks", at.clone(), "this name")
                .help("join the words with _")
                .edit(at.clone(), joined),
        );
    }
    let form = says("a name has letters from a to z, digits, _ and - only", at, "this name");
    said.push(form.help("write name = value; names are those of `rigbinder kinds` and the README"));
    said
}

fn without_equals(text: &str, statement: &Statement) -> Finding {
    let whole = Span::from(statement.span.clone());
    let span = statement.span.clone();
    let line = &text[span.clone()];
    let key = &text[statement.key.clone()];
    let rest = text.get(statement.key.end.max(span.start)..span.end).unwrap_or_default().trim_start();
    let plain = !key.is_empty() && key.chars().all(|c| bare(c) || c == '.');
    let mut said = Vec::new();
    if let Some(colon) = line.find(':') {
        let at = span.start + colon;
        let name = line[..colon].trim_end();
        let gap = span.start + name.len()..at + 1;
        let other = Said::new(format!("`{name}` has a `:` where a `=` must stand"), at..at + 1, "here");
        said.push(other.help("write name = value").edit(gap, " ="));
    }
    for mark in ["//", ";", "--", "%", "'"] {
        if line.starts_with(mark) {
            let at = span.start..span.start + mark.len();
            let remark = Said::new("this line is neither a header nor name = value", span.clone(), "a remark?");
            said.push(remark.help("begin a remark with #").edit(at, "#"));
        }
    }
    if plain && !rest.is_empty() {
        let end = statement.key.end.min(span.end);
        let said_of =
            Said::new(format!("`{key}` needs a `=` before its value"), end..(end + 1).min(span.end), "`=` missing");
        said.push(said_of.help(format!("write {key} = …")).edit(end..end, " ="));
    } else if plain {
        let alone = Said::new(format!("`{key}` has no value"), span.clone(), "a name alone");
        said.push(alone.help(format!("write {key} = …, or delete the line")));
    }
    choose(text, statement, said).unwrap_or_else(|| {
        Finding::error("toml-syntax", "this line is neither a header nor name = value")
            .at(whole, "not TOML")
            .help("write name = value; begin a remark with #")
    })
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
