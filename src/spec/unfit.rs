//! What is said where a sign of a value cannot stand: the readings of each such place, the most likely first.

use super::bare;
use super::inside::{Walk, closer, is_text};
use super::mend::Said;
use std::ops::Range;
use toml_parser::lexer::TokenKind;

/// Places within a text where its missing quote is tried.
const TRIED: usize = 8;

impl Walk<'_> {
    /// A text that begins and does not end.
    pub(super) fn open_text(&self, at: &Range<usize>, quote: &str) -> Vec<Said> {
        let text = self.part(at).trim_end();
        let end = at.start + text.len();
        let says = || {
            Said::new(format!("the text of {} is not closed", self.name()), at.start..end, "begins here")
                .help(format!("end it with {quote}"))
        };
        let mut said = Vec::new();
        let inner = quote.len();
        if let Some((curly, c)) = text.char_indices().skip(inner).filter(|(_, c)| bare::is_curly(*c)).last() {
            let curly = at.start + curly..at.start + curly + c.len_utf8();
            let edited = says().help("the quote at its end is curly; write a straight one").edit(curly, quote);
            said.push(edited);
        }
        let body = text.get(inner..).unwrap_or("");
        if quote.len() == 3 {
            let ends = body.len() - body.trim_end_matches(&quote[..1]).len();
            said.push(says().edit(end - ends..end, quote));
            return said;
        }
        // A remark, or brackets, that stand behind the text.
        if let Some(remark) = body.rfind(" #") {
            let close = at.start + inner + body[..remark].trim_end().len();
            said.push(says().edit(close..close, quote));
        }
        if !self.open.is_empty() {
            let comma = body.match_indices(", ").map(|(at, _)| at).take(TRIED);
            let tail = body.trim_end_matches([']', '}', ' ', '\t', ',']).len();
            for close in comma.chain([tail]).map(|n| at.start + inner + n) {
                said.push(says().edit(close..close, quote));
            }
        }
        said.push(says().edit(end..end, format!("{quote}{}", self.closers())));
        said
    }

    /// `4,2 m` within brackets, where the comma parts it in two.
    pub(super) fn halves(&self, run: &Range<usize>) -> Vec<Said> {
        let [before, comma] = [2, 1].map(|n| self.at.checked_sub(n).and_then(|at| self.tokens.get(at)));
        let (Some((TokenKind::Atom, before)), Some((TokenKind::Comma, comma))) = (before, comma) else {
            return Vec::new();
        };
        if before.end != comma.start
            || comma.end != run.start
            || !self.part(run).starts_with(|c: char| c.is_ascii_digit())
        {
            return Vec::new();
        }
        bare::readings(self.text, &self.name(), &(before.start..run.end), run.end)
    }

    pub(super) fn follows(&self, at: Range<usize>) -> Said {
        Said::new(format!("{}: something follows the value", self.name()), at, "not expected here")
    }

    /// What cannot follow a value that stands alone.
    pub(super) fn after(&self, at: &Range<usize>) -> Vec<Said> {
        let rest = at.start..self.end;
        let follows = self.part(&rest).trim_end();
        let rest = at.start..at.start + follows.len();
        let mut said = self.stray_quote(at);
        let says = || self.follows(rest.clone());
        if follows.starts_with("//") {
            said.push(says().help("a remark begins with #").edit(at.start..at.start + 2, "#"));
        }
        if follows.chars().all(|c| matches!(c, ',' | ';' | '.' | ']' | '}' | ')' | '"' | '\'')) {
            said.push(says().help("delete it").edit(rest.clone(), ""));
        }
        let value = self.tokens.first().map_or(at.start, |(_, t)| t.start);
        let missing = Said::new(format!("the list of {} lacks its brackets", self.name()), value..rest.end, "a list");
        let missing = || missing.clone().help("a list stands in [ ]");
        if follows.ends_with(']') {
            said.push(missing().edit(value..value, "["));
        }
        if follows.starts_with(',') {
            said.push(missing().edit(value..rest.end, format!("[{}]", &self.text[value..rest.end])));
        }
        if let (Some((kind, last)), true) =
            (self.last(), follows.chars().all(|c| c.is_alphanumeric() || " %²³°/·".contains(c)))
            && is_text(kind)
        {
            let with = format!("{} {follows}\"", &self.text[last.start..last.end - 1]);
            let moved =
                Said::new(format!("the unit of {} stands behind the quotes", self.name()), rest.clone(), "outside");
            said.push(moved.help("write the unit inside the quotes").edit(last.start..rest.end, with));
        }
        let line = self.last().map_or(at.start, |(_, last)| last.end);
        said.push(says().help("one name = value a line").edit(line..at.start, "\n"));
        said
    }

    /// A quote in the middle of a text, or one too many at its end.
    pub(super) fn stray_quote(&self, at: &Range<usize>) -> Vec<Said> {
        let Some((kind, last)) = self.last().filter(|(kind, _)| is_text(*kind)) else { return Vec::new() };
        let quote = if self.text[last.start..].starts_with('\'') { '\'' } else { '"' };
        // `"a, "b"`: the text before it took the comma in.
        let commas = self.part(&last).match_indices([',', ']', '}']).map(|(n, _)| last.start + n).take(TRIED);
        let unclosed = commas.map(|comma| {
            Said::new(format!("a text of {} is not closed", self.name()), last.start..comma, "begins here")
                .help(format!("end it with {quote}"))
                .edit(comma..comma, quote)
        });
        let mut said: Vec<Said> = if self.open.is_empty() { Vec::new() } else { unclosed.collect() };
        if last.end == at.start {
            let says =
                |here: Range<usize>| Said::new(format!("{} has a quote too many", self.name()), here, "this quote");
            if self.text[at.start..].starts_with(quote) {
                said.push(says(at.start..at.start + 1).help("delete it").edit(at.start..at.start + 1, ""));
            }
            if kind == TokenKind::BasicString {
                let inner = last.end - 1..last.end;
                let help = "write \\\" for a quote within a text";
                said.push(says(inner.clone()).help(help).edit(inner.clone(), "\\\""));
                said.push(says(inner.clone()).help("delete it").edit(inner, ""));
            }
        }
        said
    }

    pub(super) fn no_comma(&self, at: &Range<usize>) -> Vec<Said> {
        let mut said = Vec::new();
        let end = self.last().map_or(at.start, |(_, last)| last.end);
        let missing =
            Said::new(format!("a comma is missing in {}", self.outer()), end..(end + 1).min(self.end), "comma missing");
        let sign = self.part(at);
        let first = sign.chars().next().map_or(1, char::len_utf8);
        if sign.starts_with(';') {
            let other = Said::new(
                format!("{} has a `;` where a comma must stand", self.name()),
                at.start..at.start + 1,
                "here",
            );
            said.push(other.help("write ,").edit(at.start..at.start + 1, ","));
        } else if let (true, Some((bracket, _))) = (sign.starts_with([')', '>']), self.open.last()) {
            let close = closer(*bracket);
            let other = Said::new(
                format!("{} is closed with another bracket", self.outer()),
                at.start..at.start + first,
                "here",
            );
            said.push(other.help(format!("write {close}")).edit(at.start..at.start + first, close));
        }
        said.extend(self.stray_quote(at));
        said.push(missing.help("write a comma between what stands in brackets").edit(end..end, ","));
        said
    }

    /// `[ … }` or `{ … ]`.
    pub(super) fn other_bracket(&self, at: &Range<usize>) -> Vec<Said> {
        let Some((bracket, open)) = self.open.last().copied() else { return Vec::new() };
        let close = closer(bracket);
        let end = self.last().map_or(at.start, |(_, last)| last.end);
        let found = self.part(at);
        let other = Said::new(
            format!("{} opens with {bracket} and closes with {found}", self.outer()),
            at.clone(),
            "this bracket",
        );
        let what = if bracket == '[' { "list" } else { "table" };
        let unclosed =
            Said::new(format!("the {what} of {} is not closed", self.outer()), open..open + 1, "begins here");
        let extra = Said::new(format!("{} has a bracket too many", self.outer()), at.clone(), "this bracket");
        vec![
            other.help(format!("write {close}")).edit(at.clone(), close),
            unclosed.help(format!("end it with {close}")).edit(end..end, close),
            extra.help("delete it").edit(at.clone(), ""),
        ]
    }

    pub(super) fn unclosed(&self, bracket: char, open: usize) -> Said {
        let what = if bracket == '[' { "list" } else { "table" };
        let end = self.tokens.last().map_or(self.end, |(_, t)| t.end);
        let closers = self.closers();
        Said::new(format!("the {what} of {} is not closed", self.outer()), open..open + 1, "begins here")
            .help(format!("end it with {}", closer(bracket)))
            .edit(end..end, if bracket == '{' { format!(" {closers}") } else { closers })
    }

    pub(super) fn no_value(&self, at: usize) -> Said {
        let here = self.text[..at].trim_end().len();
        Said::new(format!("{} has no value", self.name()), here.saturating_sub(1)..here, "nothing follows")
            .help("give a value, or delete it: what is left out gets its default")
    }

    pub(super) fn not_a_value(&self, kind: TokenKind, at: &Range<usize>) -> Vec<Said> {
        let after_comma = self.last().is_some_and(|(kind, _)| kind == TokenKind::Comma);
        let in_list = self.open.last().is_some_and(|(b, _)| *b == '[');
        match kind {
            TokenKind::Comma if in_list => {
                let said = Said::new(format!("{} has a comma too many", self.name()), at.clone(), "this comma");
                vec![said.help("delete it").edit(at.clone(), "")]
            }
            TokenKind::RightCurlyBracket if in_list => {
                let mut said = self.other_bracket(at);
                if after_comma {
                    said.rotate_left(1);
                }
                said
            }
            _ => vec![self.no_value(at.start)],
        }
    }
}
