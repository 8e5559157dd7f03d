//! Walks the Markdown events of a document once.

use std::ops::Range;

use pulldown_cmark::{Event, TagEnd};

use super::TypesetError;
use super::tree::{Document, FigureSize, Inline};

/// What a directive or caption said about the next table or picture.
#[derive(Default)]
pub(super) struct Pending {
    pub(super) widths: Option<Vec<Option<u16>>>,
    pub(super) caption: Option<Vec<Inline>>,
    pub(super) size: FigureSize,
}

/// Walks the events once.
pub(super) struct Reader<'a> {
    pub(super) source: &'a str,
    pub(super) events: Vec<(Event<'a>, Range<usize>)>,
    pub(super) at: usize,
    pub(super) errors: Vec<TypesetError>,
    pub(super) pending: Pending,
    pub(super) document: Document,
}

impl<'a> Reader<'a> {
    pub(super) fn peek(&self) -> Option<&(Event<'a>, Range<usize>)> {
        self.events.get(self.at)
    }

    pub(super) fn next(&mut self) -> Option<(Event<'a>, Range<usize>)> {
        let event = self.events.get(self.at).cloned();
        self.at += 1;
        event
    }

    pub(super) fn error(&mut self, at: usize, message: impl Into<String>) {
        let before = self.source.get(..at).unwrap_or_default();
        self.errors.push(TypesetError { line: 1 + before.matches('\n').count(), message: message.into() });
    }

    /// Skips to behind the end of the element that has just been opened.
    pub(super) fn skip(&mut self) {
        let mut depth = 1_usize;
        while depth > 0 {
            match self.next() {
                Some((Event::Start(_), _)) => depth += 1,
                Some((Event::End(_), _)) => depth -= 1,
                Some(_) => {}
                None => return,
            }
        }
    }

    pub(super) fn html_text(&mut self) -> String {
        let mut text = String::new();
        while let Some((event, _)) = self.next() {
            match event {
                Event::Html(part) | Event::Text(part) => text.push_str(&part),
                Event::End(TagEnd::HtmlBlock) => break,
                _ => {}
            }
        }
        text
    }
}
