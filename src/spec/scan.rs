//! Splits a TOML text into statements (a header, or a key with its value), also where the text is broken.
//!
//! The parser's own lexer makes the tokens, so both agree on what is a string and what is a bracket. A list that is
//! never closed ends before the next line that can only be a header or a key, instead of swallowing the rest.

use super::limits::DEEPEST;
use std::ops::Range;
use toml_parser::Source;
use toml_parser::lexer::TokenKind;

/// One statement of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Statement {
    /// From its first character to the end of its last line, without the line end.
    pub(super) span: Range<usize>,
    /// Whether it begins with a bracket.
    pub(super) header: bool,
    /// The key as written, dots included.
    pub(super) key: Range<usize>,
    /// Byte of the `=`.
    pub(super) equals: Option<usize>,
    /// First byte of a bracket or multi-line text that is not closed.
    pub(super) open: Option<usize>,
    /// First byte of a multi-line text in it.
    pub(super) long_text: Option<usize>,
    /// Nests deeper, or has more dots in a row, than a spec may.
    pub(super) too_deep: bool,
}

/// The statement that begins at or after `from`.
pub(super) fn next_statement(text: &str, from: usize) -> Option<Statement> {
    let source = Source::new(text.get(from..)?);
    let mut tokens = source
        .lex()
        .map(|t| (t.kind(), from + t.span().start()..from + t.span().end()))
        .filter(|(kind, _)| *kind != TokenKind::Eof)
        .skip_while(|(kind, _)| matches!(kind, TokenKind::Whitespace | TokenKind::Newline | TokenKind::Comment));
    let (kind, at) = tokens.next()?;
    let header = kind == TokenKind::LeftSquareBracket;
    let mut walk =
        Walk { text, header, open: Vec::new(), dots: 0, more: false, statement: blank_statement(&at, header) };
    walk.token(kind, at);
    for (kind, at) in tokens {
        if walk.token(kind, at) {
            break;
        }
    }
    Some(walk.finish())
}

fn blank_statement(at: &Range<usize>, header: bool) -> Statement {
    Statement {
        span: at.clone(),
        header,
        key: at.start..at.start,
        equals: None,
        open: None,
        long_text: None,
        too_deep: false,
    }
}

struct Walk<'a> {
    text: &'a str,
    header: bool,
    open: Vec<(char, usize)>,
    dots: usize,
    /// Whether what stood last must be followed by more.
    more: bool,
    statement: Statement,
}

impl Walk<'_> {
    /// Takes a token; true where the statement ended before it.
    fn token(&mut self, kind: TokenKind, at: Range<usize>) -> bool {
        self.dots = match kind {
            TokenKind::Dot => self.dots + 1,
            TokenKind::Atom | TokenKind::Whitespace | TokenKind::BasicString | TokenKind::LiteralString => self.dots,
            _ => 0,
        };
        self.statement.too_deep |= self.dots >= DEEPEST;
        match kind {
            TokenKind::Newline if self.header || self.open.is_empty() || self.must_end(at.end) => return true,
            TokenKind::Whitespace | TokenKind::Comment => return false,
            TokenKind::Equals if self.statement.equals.is_none() => self.statement.equals = Some(at.start),
            TokenKind::LeftSquareBracket | TokenKind::LeftCurlyBracket if !self.header => {
                let bracket = if kind == TokenKind::LeftSquareBracket { '[' } else { '{' };
                self.open.push((bracket, at.start));
                self.statement.too_deep |= self.open.len() > DEEPEST;
            }
            TokenKind::RightSquareBracket if !self.header => self.close('['),
            TokenKind::RightCurlyBracket if !self.header => self.close('{'),
            TokenKind::MlBasicString | TokenKind::MlLiteralString => {
                self.statement.long_text.get_or_insert(at.start);
            }
            _ => {}
        }
        let in_key = self.statement.equals.is_none()
            && matches!(kind, TokenKind::Atom | TokenKind::Dot | TokenKind::BasicString | TokenKind::LiteralString);
        if in_key {
            if self.statement.key.is_empty() {
                self.statement.key = at.clone();
            } else if self.header || self.joined(at.start) {
                self.statement.key.end = at.end;
            }
        }
        if kind != TokenKind::Newline {
            // A text that is not closed takes half of a Windows line end in.
            self.statement.span.end = at.start + self.text[at.clone()].trim_end_matches('\r').len();
            self.more = matches!(kind, TokenKind::Comma | TokenKind::Equals | TokenKind::LeftCurlyBracket);
        }
        false
    }

    /// Closes the bracket that opens like `like`, and what was left open in it; a closing bracket that opens nothing
    /// closes the last.
    fn close(&mut self, like: char) {
        match self.open.iter().rposition(|(bracket, _)| *bracket == like) {
            Some(at) if like == '{' || at + 1 == self.open.len() => self.open.truncate(at),
            _ => drop(self.open.pop()),
        }
    }

    /// Whether a dot ties what begins at `start` to the key before it.
    fn joined(&self, start: usize) -> bool {
        let key = &self.text[self.statement.key.clone()];
        let gap = &self.text[self.statement.key.end..start];
        gap.is_empty() || key.ends_with('.') || self.text[start..].starts_with('.')
    }

    /// Whether the line that begins at `line` cannot stand inside the bracket that is open.
    fn must_end(&self, line: usize) -> bool {
        let line = self.text[line..].lines().next().unwrap_or("");
        let pair_cannot = self.open.last().is_some_and(|(b, _)| *b == '[') || !self.more;
        looks_like_header(line) || pair_cannot && looks_like_pair(line)
    }

    fn finish(mut self) -> Statement {
        self.statement.open = self.open.last().map(|(_, at)| *at);
        self.statement
    }
}

/// Byte after `from` of the first line that looks like the beginning of a statement.
pub(super) fn resume_after(text: &str, from: usize) -> Option<usize> {
    let mut at = from;
    while let Some(end) = text[at..].find('\n') {
        at += end + 1;
        let line = text[at..].lines().next().unwrap_or("");
        if looks_like_header(line) || looks_like_pair(line) {
            return Some(at);
        }
    }
    None
}

fn looks_like_header(line: &str) -> bool {
    let line = line.trim();
    let Some(inside) = line.strip_prefix('[') else { return false };
    let inside = inside.strip_prefix('[').unwrap_or(inside);
    let end = inside.find(']').unwrap_or(inside.len());
    let (path, rest) = inside.split_at(end);
    let rest = rest.trim_start_matches(']').trim_start();
    path.starts_with(|c: char| c.is_ascii_alphabetic())
        && path.chars().all(|c| c.is_alphanumeric() || "._- \"'".contains(c))
        && !matches!(path.trim(), "true" | "false" | "inf" | "nan")
        && (rest.is_empty() || rest.starts_with('#'))
}

fn looks_like_pair(line: &str) -> bool {
    let line = line.trim_start();
    let key = line.len() - line.trim_start_matches(|c: char| c.is_ascii_alphanumeric() || "_-.".contains(c)).len();
    let after = line[key..].trim_start();
    key > 0 && line.starts_with(|c: char| c.is_ascii_alphabetic()) && after.starts_with('=') && !after.starts_with("==")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(text: &str) -> Vec<&str> {
        let mut at = 0;
        let mut out = Vec::new();
        while let Some(statement) = next_statement(text, at) {
            out.push(&text[statement.span.clone()]);
            at = statement.span.end;
        }
        out
    }

    #[test]
    fn splits_whole_and_broken_texts() {
        assert_eq!(
            all("# c\n[a.b] # d\nx = [1,\n 2]\n y.z=\"\"\"p\n[q]\n\"\"\"\n"),
            ["[a.b]", "x = [1,\n 2]", "y.z=\"\"\"p\n[q]\n\"\"\""]
        );
        assert_eq!(all("x = [1, 2\ny = 2\n[b]\nz \"3\"\n"), ["x = [1, 2", "y = 2", "[b]", "z \"3\""]);
        assert_eq!(
            all("x = { a = 1,\n b = 2 }\ny = [\n [true],\n]\n"),
            ["x = { a = 1,\n b = 2 }", "y = [\n [true],\n]"]
        );
        assert_eq!(all("x = { a = 1,\n[b]\ny = 1"), ["x = { a = 1,", "[b]", "y = 1"]);
    }

    #[test]
    fn knows_key_equals_and_what_is_open() {
        let statement = next_statement("\n  a . \"b c\" = [ 1, [2]", 0).expect("one");
        assert_eq!((statement.key, statement.equals, statement.open), (3..12, Some(13), Some(15)));
        let lone = next_statement("key \"x\"", 0).expect("one");
        assert_eq!((lone.key, lone.equals), (0..3, None));
        let header = next_statement("[component.house bank]", 0).expect("one");
        assert_eq!(header.key, 1..21);
    }

    #[test]
    fn sees_depth_before_any_parser_does() {
        assert!(!next_statement(&format!("x = {}1{}", "[".repeat(32), "]".repeat(32)), 0).expect("one").too_deep);
        assert!(next_statement(&format!("x = {}", "[".repeat(33)), 0).expect("one").too_deep);
        assert!(next_statement(&format!("a{} = 1", ".b".repeat(40)), 0).expect("one").too_deep);
        assert!(next_statement(&format!("[a{}]", " . b".repeat(40)), 0).expect("one").too_deep);
        assert!(!next_statement(&format!("x = \"{}\"", ".".repeat(40)), 0).expect("one").too_deep);
    }
}
