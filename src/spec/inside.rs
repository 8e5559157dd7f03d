//! Walks the value of a statement that cannot be read, token by token, to the first thing that cannot stand there.
//!
//! The parser says where it stumbled; a person wants to know what was meant. So each place has readings, the most
//! likely first, and `mend` takes the one whose edit makes the statement readable.

use super::bare;
use super::mend::{Said, is_value};
use super::scan::Statement;
use std::ops::Range;
use toml_parser::Source;
use toml_parser::lexer::TokenKind;

pub(super) type Token = (TokenKind, Range<usize>);

/// Readings of the first fault in the value of `statement`; none where the value is whole.
pub(super) fn readings(text: &str, statement: &Statement, equals: usize) -> Vec<Said> {
    let end = statement.span.end;
    let Some(part) = text.get(equals + 1..end) else { return Vec::new() };
    let tokens = Source::new(part).lex();
    let tokens = tokens.map(|t| (t.kind(), equals + 1 + t.span().start()..equals + 1 + t.span().end()));
    let counts =
        |kind| !matches!(kind, TokenKind::Eof | TokenKind::Whitespace | TokenKind::Comment | TokenKind::Newline);
    let tokens: Vec<Token> = tokens.filter(|(kind, _)| counts(*kind)).collect();
    let key = text[statement.key.clone()].trim().to_owned();
    Walk { text, tokens, end, at: 0, open: Vec::new(), keys: vec![key] }.walk()
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Expect {
    Value,
    Separator,
    Key,
}

pub(super) struct Walk<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: Vec<Token>,
    pub(super) end: usize,
    pub(super) at: usize,
    /// Open brackets.
    pub(super) open: Vec<(char, usize)>,
    /// Name of the statement, then of each pair in braces.
    pub(super) keys: Vec<String>,
}

pub(super) const fn closer(open: char) -> char {
    if open == '[' { ']' } else { '}' }
}

pub(super) const fn is_text(kind: TokenKind) -> bool {
    matches!(
        kind,
        TokenKind::BasicString | TokenKind::LiteralString | TokenKind::MlBasicString | TokenKind::MlLiteralString
    )
}

impl Walk<'_> {
    fn walk(mut self) -> Vec<Said> {
        let mut expect = Expect::Value;
        while let Some((kind, at)) = self.tokens.get(self.at).cloned() {
            let next = match expect {
                Expect::Value => self.value(kind, &at),
                Expect::Separator => self.separator(kind, &at),
                Expect::Key => self.key(kind, &at),
            };
            match next {
                Ok(next) => expect = next,
                Err(said) => return said,
            }
        }
        if let Some((bracket, at)) = self.open.last().copied() {
            return vec![self.unclosed(bracket, at)];
        }
        if expect == Expect::Value { vec![self.no_value(self.end)] } else { Vec::new() }
    }

    pub(super) fn name(&self) -> String {
        let keys: Vec<&str> = self.keys.iter().map(String::as_str).filter(|key| !key.is_empty()).collect();
        format!("`{}`", keys.join("."))
    }

    /// Name of what the open bracket belongs to.
    pub(super) fn outer(&self) -> String {
        let braces = self.open.last().is_some_and(|(bracket, _)| *bracket == '{');
        format!("`{}`", self.keys[..self.keys.len() - usize::from(braces && self.keys.len() > 1)].join("."))
    }

    pub(super) fn part(&self, at: &Range<usize>) -> &str {
        &self.text[at.clone()]
    }

    pub(super) fn closers(&self) -> String {
        self.open.iter().rev().map(|(bracket, _)| closer(*bracket)).collect()
    }

    fn line_end(&self, from: usize) -> usize {
        self.text[from..self.end].find(['\r', '\n']).map_or(self.end, |i| from + i)
    }

    pub(super) fn last(&self) -> Option<Token> {
        self.at.checked_sub(1).and_then(|at| self.tokens.get(at)).cloned()
    }

    fn value(&mut self, kind: TokenKind, at: &Range<usize>) -> Result<Expect, Vec<Said>> {
        match kind {
            kind if is_text(kind) => self.written(at),
            TokenKind::LeftSquareBracket => {
                self.open.push(('[', at.start));
                self.at += 1;
                Ok(Expect::Value)
            }
            TokenKind::LeftCurlyBracket => {
                self.open.push(('{', at.start));
                self.keys.push(String::new());
                self.at += 1;
                Ok(Expect::Key)
            }
            TokenKind::RightSquareBracket if self.open.last().is_some_and(|(b, _)| *b == '[') => Ok(self.close()),
            TokenKind::RightSquareBracket | TokenKind::RightCurlyBracket | TokenKind::Comma => {
                Err(self.not_a_value(kind, at))
            }
            TokenKind::Equals => {
                let said = Said::new(format!("{} has a second `=`", self.name()), at.clone(), "one too many");
                Err(vec![said.help("write one `=`").edit(at.clone(), "")])
            }
            _ => self.run(at),
        }
    }

    /// A text with quotes.
    fn written(&mut self, at: &Range<usize>) -> Result<Expect, Vec<Said>> {
        let text = self.part(at);
        let quote = ["\"\"\"", "'''", "\"", "'"].into_iter().find(|q| text.starts_with(q)).unwrap_or("\"");
        let long = quote.len() == 3;
        if !(text.len() >= 2 * quote.len() && text.ends_with(quote)) || text.ends_with('\n') {
            return Err(self.open_text(at, quote));
        }
        let alone = format!("x = {text}");
        let errors = toml::de::DeTable::parse_recoverable(&alone).1;
        let Some(error) = errors.iter().min_by_key(|e| e.span().map_or(0, |s| s.start)) else {
            self.at += 1;
            return Ok(Expect::Separator);
        };
        if !long && error.message().starts_with("invalid basic string") && text.ends_with("\\\"") {
            return Err(self.open_text(at, quote));
        }
        let from = at.start + error.span().map_or(0, |s| s.start).saturating_sub(4).min(text.len() - 1);
        let from = self.text.floor_char_boundary(from);
        // The parser points behind the backslash.
        let from =
            self.text[at.start..from].rfind('\\').filter(|n| at.start + n + 2 >= from).map_or(from, |n| at.start + n);
        let to = self.text.ceil_char_boundary(from + 1);
        let name = self.name();
        if let Some((steers, c)) = text.char_indices().find(|(_, c)| c.is_control() && !matches!(c, '\n' | '\r' | '\t'))
        {
            let here = at.start + steers..at.start + steers + c.len_utf8();
            let said = Said::new(format!("{name} holds a control character"), here.clone(), "control character");
            let said = said.named("control-character").help("delete it; only tab and line end may stand in a text");
            return Err(vec![said.edit(here, "")]);
        }
        if quote == "\"" && text.contains('\\') {
            let inner = &text[1..text.len() - 1];
            let says = || {
                Said::new(format!("{name}: a backslash begins an escape that does not exist"), from..to, "here")
                    .help("write \\\\ for a backslash, or put the text in single quotes")
            };
            let mut said = vec![says().edit(at.clone(), format!("\"{}\"", inner.replace('\\', "\\\\")))];
            if !inner.contains('\'') {
                said.insert(0, says().edit(at.clone(), format!("'{inner}'")));
            }
            return Err(said);
        }
        let said = Said::new(format!("the text of {name} cannot be read: {}", error.message()), from..to, "here");
        Err(vec![said.help("look at the signs around this place")])
    }

    /// Something without quotes: up to what can end a value.
    fn run(&mut self, at: &Range<usize>) -> Result<Expect, Vec<Said>> {
        let line = self.line_end(at.start);
        let mut last = self.at;
        let top = self.open.is_empty();
        for (number, (kind, token)) in self.tokens.iter().enumerate().skip(self.at) {
            let ends = match kind {
                TokenKind::Comma | TokenKind::RightSquareBracket | TokenKind::RightCurlyBracket => !top,
                TokenKind::Equals => true,
                _ => false,
            };
            if ends || token.start >= line {
                break;
            }
            last = number;
        }
        let run = at.start..self.tokens[last].1.end;
        let ended_by_equals = self.tokens.get(last + 1).is_some_and(|(k, t)| *k == TokenKind::Equals && t.start < line);
        let single = self.part(&(at.start..self.tokens[self.at].1.end)).to_owned();
        if is_value(self.part(&run)) && !self.part(&run).contains('\n') && !ended_by_equals {
            self.at = last + 1;
            return Ok(Expect::Separator);
        }
        // `1 b = 2`: the value ends before the next name.
        let value = self.part(&run);
        let head = value.split_whitespace().next().unwrap_or(&single);
        if (ended_by_equals || top) && head.len() < value.len() && is_value(head) {
            let count = self.tokens[self.at..].iter().take_while(|(_, t)| t.end <= at.start + head.len()).count();
            let follows =
                self.tokens.get(self.at + count).is_some_and(|(_, t)| self.part(t).starts_with(['#', '/', ';']));
            if ended_by_equals || follows {
                self.at += count.max(1);
                return Ok(Expect::Separator);
            }
        }
        let mut said = self.halves(&run);
        if top && value.ends_with([';', ',']) && is_value(value.trim_end_matches([';', ',', ' '])) {
            let end = at.start + value.trim_end_matches([';', ',', ' ']).len();
            said.push(self.follows(end..run.end).help("delete it").edit(end..run.end, ""));
        }
        if top && value.ends_with(']') {
            let missing = Said::new(
                format!("the list of {} lacks its first bracket", self.name()),
                at.start..at.start + 1,
                "a list",
            );
            said.push(missing.help("begin it with [").edit(at.start..at.start, "["));
        }
        said.extend(bare::readings(self.text, &self.name(), &run, line));
        Err(said)
    }

    fn close(&mut self) -> Expect {
        self.at += 1;
        if self.open.pop().is_some_and(|(bracket, _)| bracket == '{') {
            self.keys.pop();
        }
        Expect::Separator
    }

    fn separator(&mut self, kind: TokenKind, at: &Range<usize>) -> Result<Expect, Vec<Said>> {
        let Some((bracket, _)) = self.open.last().copied() else { return Err(self.after(at)) };
        match (kind, bracket) {
            (TokenKind::Comma, _) => {
                self.at += 1;
                Ok(if bracket == '[' { Expect::Value } else { Expect::Key })
            }
            (TokenKind::RightSquareBracket, '[') | (TokenKind::RightCurlyBracket, '{') => Ok(self.close()),
            (TokenKind::RightSquareBracket | TokenKind::RightCurlyBracket, _) => Err(self.other_bracket(at)),
            _ => Err(self.no_comma(at)),
        }
    }

    /// A name within braces, up to its `=`.
    fn key(&mut self, kind: TokenKind, at: &Range<usize>) -> Result<Expect, Vec<Said>> {
        match kind {
            TokenKind::RightCurlyBracket => return Ok(self.close()),
            TokenKind::RightSquareBracket => return Err(self.other_bracket(at)),
            TokenKind::Comma => {
                let said = Said::new(format!("{} has a comma too many", self.name()), at.clone(), "this comma");
                return Err(vec![said.help("delete it").edit(at.clone(), "")]);
            }
            _ => {}
        }
        let line = self.line_end(at.start);
        let names = |k: TokenKind| {
            matches!(k, TokenKind::Atom | TokenKind::Dot | TokenKind::BasicString | TokenKind::LiteralString)
        };
        let count = self.tokens[self.at..].iter().take_while(|(k, t)| names(*k) && t.start < line).count();
        let end = self.tokens[(self.at + count).saturating_sub(1).max(self.at)].1.end;
        let name = self.part(&(at.start..end)).to_owned();
        let equals = self.tokens.get(self.at + count).is_some_and(|(k, _)| *k == TokenKind::Equals);
        if equals && count > 0 && toml::de::DeTable::parse_recoverable(&format!("{name} = 1")).1.is_empty() {
            if let Some(last) = self.keys.last_mut() {
                *last = name;
            }
            self.at += count + 1;
            return Ok(Expect::Value);
        }
        let mut said = self.halves(&(at.start..end));
        let place = at.start..end;
        if let Some(colon) = name.find(':') {
            let colon = at.start + colon;
            let other =
                Said::new(format!("{} has a `:` where a `=` must stand", self.name()), colon..colon + 1, "here");
            said.push(other.help("write name = value").edit(colon..colon + 1, " ="));
        }
        // The value before was the first of a list.
        if let [.., (_, value), (TokenKind::Comma, _)] = &self.tokens[..self.at] {
            let lacks =
                Said::new(format!("a list of {} lacks its first bracket", self.name()), value.clone(), "a list");
            said.push(lacks.help("begin it with [").edit(value.start..value.start, "["));
        }
        let first = name.split_whitespace().next().unwrap_or("");
        if !first.is_empty() && first.len() < name.len() {
            let here = at.start + first.len();
            let lacks = Said::new(format!("`{first}` needs a `=` before its value"), here..here + 1, "`=` missing");
            said.push(lacks.help(format!("write {first} = …")).edit(here..here, " ="));
        }
        let what =
            Said::new(format!("a table of {} holds name = value, and this is neither", self.name()), place, "here");
        said.push(what.help("write { name = value, name = value }"));
        Err(said)
    }
}
