//! Blocks and lines of the document tree as HTML.

use std::collections::BTreeMap;

use super::contents::{contents, has_link};
use super::escape::{html_text, svg_address};
use super::to_typst::svg_width;
use super::tree::{Align, Block, Document, Inline, Item, List, Table, Target, is_tick, page_mark, plain_text};
use super::{Pictures, TypesetError};

/// A drawing made larger: its letters, 2.5 mm high on paper, are then as high as text on the screen.
const LARGER: f64 = 1.5;

/// Tables with so many columns become cards on a narrow screen.
const CARDS: std::ops::RangeInclusive<usize> = 3..=7;

/// Writes the inside of the page.
pub(super) struct Writer<'a> {
    document: &'a Document,
    pictures: &'a Pictures,
    out: String,
    errors: Vec<TypesetError>,
    /// Footnotes by label: number, and how often it was referred to.
    notes: BTreeMap<String, (usize, usize)>,
    order: Vec<String>,
    drawings: usize,
}

impl<'a> Writer<'a> {
    pub(super) fn new(document: &'a Document, pictures: &'a Pictures) -> Self {
        Self {
            document,
            pictures,
            out: String::new(),
            errors: Vec::new(),
            notes: BTreeMap::new(),
            order: Vec::new(),
            drawings: 0,
        }
    }

    /// The text, the footnotes and the faults.
    pub(super) fn finish(mut self) -> (String, String, Vec<TypesetError>) {
        let body = std::mem::take(&mut self.out);
        if !self.order.is_empty() {
            self.push("<section class=\"notes\" aria-label=\"Footnotes\">\n<ol>\n");
            let mut at = 0;
            // A footnote may itself refer to another one, so the list can grow while it is written.
            while let Some(label) = self.order.get(at).cloned() {
                at += 1;
                self.push(&format!("<li id=\"footnote:{at}\">"));
                let document = self.document;
                if let Some(blocks) = document.footnotes.get(&label) {
                    self.blocks(blocks);
                }
                self.push(&format!(
                    "<a class=\"back\" href=\"#reference:{at}\" aria-label=\"Back to the text\">↩</a></li>\n"
                ));
            }
            self.push("</ol>\n</section>\n");
        }
        (body, self.out, self.errors)
    }

    fn push(&mut self, text: &str) {
        self.out.push_str(text);
    }

    pub(super) fn blocks(&mut self, blocks: &[Block]) {
        for block in blocks {
            self.block(block);
        }
    }

    fn wrapped(&mut self, open: &str, body: &[Block], close: &str) {
        self.push(open);
        self.blocks(body);
        self.push(close);
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading { level, id, body } => {
                // The title is the first level.
                let tag = (level + 1).min(6);
                let id = id.as_ref().map(|id| format!(" id=\"{}\"", html_text(id))).unwrap_or_default();
                self.push(&format!("<h{tag}{id}>"));
                self.line(body);
                self.push(&format!("</h{tag}>\n"));
            }
            Block::Also(words) => self.push(&format!("<p class=\"also\" hidden>{}</p>\n", html_text(words))),
            Block::Paragraph(body) => {
                self.push("<p>");
                self.line(body);
                self.push("</p>\n");
            }
            Block::List(list) => self.list(list),
            Block::Table(table) => self.table(table),
            Block::Definitions(entries) => {
                self.push("<dl>\n");
                for entry in entries {
                    self.push("<dt>");
                    self.line(&entry.term);
                    self.push("</dt>\n");
                    for body in &entry.bodies {
                        self.wrapped("<dd>", body, "</dd>\n");
                    }
                }
                self.push("</dl>\n");
            }
            Block::Callout { kind, body } => {
                let word = kind.word();
                let symbol =
                    if kind.alerts() { "<span class=\"alert\" aria-hidden=\"true\">⚠\u{fe0e}</span> " } else { "" };
                let open = format!(
                    "<aside class=\"callout {}\" role=\"note\">\n<p class=\"word\">{symbol}{word}</p>\n<div>\n",
                    word.to_ascii_lowercase()
                );
                self.wrapped(&open, body, "</div>\n</aside>\n");
            }
            Block::Quote(body) => self.wrapped("<blockquote>\n", body, "</blockquote>\n"),
            Block::Code(text) => {
                self.push(&format!("<pre><code>{}</code></pre>\n", html_text(text)));
            }
            Block::Figure { name, alt, caption, .. } => self.figure(name, alt, caption),
            Block::Rule => self.push("<hr>\n"),
            Block::WritingLine => {
                self.push("<p class=\"writing-line\" aria-label=\"line to write on\"></p>\n");
            }
            Block::Contents => self.push(&contents(self.document, 1)),
            Block::Document { stem, title } => {
                let text = format!(
                    "<p class=\"document\"><a href=\"{}.html\">{}</a></p>\n",
                    html_text(stem),
                    html_text(title)
                );
                self.push(&text);
            }
            Block::PageBreak => self.push("<div class=\"page\"></div>\n"),
            Block::Landscape(body) => self.wrapped("<div class=\"wide\">\n", body, "</div>\n"),
            Block::Columns(body) => self.wrapped("<div class=\"columns\">\n", body, "</div>\n"),
            // A screen is one column, however wide.
            Block::Narrow(body) => self.wrapped("<div>\n", body, "</div>\n"),
            Block::Keep(body) => self.wrapped("<div class=\"keep\">\n", body, "</div>\n"),
        }
    }

    fn list(&mut self, list: &List) {
        let checks = list.items.iter().any(|item| item.tick.is_some());
        let class = if checks { " class=\"checks\"" } else { "" };
        let (open, close) = match list.start {
            Some(1) => (format!("<ol{class}>\n"), "</ol>\n"),
            Some(start) => (format!("<ol{class} start=\"{start}\">\n"), "</ol>\n"),
            None => (format!("<ul{class}>\n"), "</ul>\n"),
        };
        self.push(&open);
        for item in &list.items {
            self.item(item, list.tight);
        }
        self.push(close);
    }

    fn item(&mut self, item: &Item, tight: bool) {
        self.push("<li>");
        let mut body = item.body.as_slice();
        let first = match body.first() {
            Some(Block::Paragraph(line)) => Some(line),
            _ => None,
        };
        if let Some(done) = item.tick {
            let state = if done { " checked" } else { "" };
            match first {
                // The words are the label, so a thumb can tap them; a link inside would be in the way.
                Some(line) if !has_link(line) => {
                    self.push(&format!("<label><input type=\"checkbox\"{state}> <span>"));
                    self.line(line);
                    self.push("</span></label>\n");
                    body = &body[1..];
                }
                Some(line) => {
                    let name = html_text(&plain_text(line));
                    self.push(&format!(
                        "<div class=\"label\"><input type=\"checkbox\"{state} aria-label=\"{name}\"> <span>"
                    ));
                    self.line(line);
                    self.push("</span></div>\n");
                    body = &body[1..];
                }
                None => self.push(&format!("<input type=\"checkbox\"{state} aria-label=\"done\">\n")),
            }
        } else if tight && let Some(line) = first {
            self.line(line);
            self.push("\n");
            body = &body[1..];
        }
        self.blocks(body);
        self.push("</li>\n");
    }

    fn table(&mut self, table: &Table) {
        // On a narrow screen the rows of most tables become cards; a grid of many columns stays one and is pushed
        // sideways.
        let cards = CARDS.contains(&table.columns.len());
        let labels: Vec<String> = table.head.iter().map(|cell| label(cell)).collect();
        let name = if table.caption.is_empty() {
            let heads: Vec<_> = table.head.iter().map(|cell| plain_text(cell)).filter(|t| t != "☐").collect();
            heads.join(", ")
        } else {
            plain_text(&table.caption)
        };
        let name = html_text(name.trim());
        self.push(&format!("<div class=\"table\" tabindex=\"0\" role=\"region\" aria-label=\"Table: {name}\">\n"));
        self.push(if cards { "<table class=\"cards\">\n" } else { "<table>\n" });
        if !table.caption.is_empty() {
            self.push("<caption>");
            self.line(&table.caption);
            self.push("</caption>\n");
        }
        self.push("<thead>\n<tr>");
        for (cell, align) in table.head.iter().zip(&table.columns) {
            // A box in the head would be one to tick; it is told to those who hear the page alone.
            if is_tick(cell) {
                self.push("<th scope=\"col\" aria-label=\"Done\"></th>");
                continue;
            }
            self.push(&format!("<th scope=\"col\"{}>", class(*align)));
            self.line(cell);
            self.push("</th>");
        }
        self.push("</tr>\n</thead>\n<tbody>\n");
        for row in &table.rows {
            if let Some(title) = Table::group_title(row) {
                self.push(&format!("<tr class=\"group\"><td colspan=\"{}\">", row.len()));
                self.line(title);
                self.push("</td></tr>\n");
                continue;
            }
            self.push("<tr>");
            for (at, (cell, align)) in row.iter().zip(&table.columns).enumerate() {
                let named = cards && (at > 0 || *align == Align::Right);
                let label = if named { labels[at].as_str() } else { "" };
                // What stands behind a box to tick does not run on under it.
                let ticked = *align == Align::Left && matches!(cell.as_slice(), [Inline::Tick(_), _, ..]);
                let class = if ticked { " class=\"ticked\"" } else { class(*align) };
                self.push(&format!("<td{class}{label}>"));
                self.line(cell);
                self.push("</td>");
            }
            self.push("</tr>\n");
        }
        self.push("</tbody>\n</table>\n</div>\n");
    }

    /// A drawing as wide as the screen. Its box to tick makes it as large as its letters want; it is then pushed about.
    fn figure(&mut self, name: &str, alt: &str, caption: &str) {
        let Some(svg) = self.pictures.get(name) else {
            self.errors.push(TypesetError { line: 0, message: format!("there is no drawing `{name}`") });
            return;
        };
        self.drawings += 1;
        let (number, alt, address) = (self.drawings, html_text(alt), svg_address(svg));
        let wide = svg_width(svg).map_or_else(String::new, |mm| format!(" style=\"--wide:{:.0}mm\"", mm * LARGER));
        let about = if caption.is_empty() { alt.clone() } else { html_text(caption) };
        let caption = if caption.is_empty() {
            String::new()
        } else {
            format!("<figcaption>{}</figcaption>\n", html_text(caption))
        };
        let text = format!(
            "<figure>\n<input type=\"checkbox\" class=\"larger\" id=\"larger:{number}\" aria-label=\"Larger: {about}\">\n\
             <div class=\"drawing\" tabindex=\"0\" role=\"region\" aria-label=\"Drawing: {about}\">\
             <label for=\"larger:{number}\"><img alt=\"{alt}\" src=\"{address}\"{wide}></label></div>\n{caption}</figure>\n"
        );
        self.push(&text);
    }

    fn line(&mut self, line: &[Inline]) {
        for inline in line {
            match inline {
                Inline::Text(text) => self.push(&html_text(text)),
                Inline::Emphasis(body) => self.marked("em", body),
                Inline::Strong(body) => self.marked("strong", body),
                Inline::Code(text) => self.push(&format!("<code>{}</code>", html_text(text))),
                // A screen has no pages. Nor is there a gap where the number would be.
                Inline::Link { target, body } if page_mark(target, body).is_some() => {
                    self.out.truncate(self.out.trim_end_matches(' ').len());
                }
                Inline::Link { target, body } => {
                    self.push(&format!("<a href=\"{}\">", html_text(&address(target))));
                    self.line(body);
                    self.push("</a>");
                }
                Inline::Anchor(id) => {
                    self.push(&format!("<span id=\"{}\"></span>", html_text(id)));
                }
                Inline::Footnote(label) => self.footnote(label),
                Inline::Blank(length) => {
                    // In steps of the style sheet: one underscore is about 2 mm.
                    let width = (length * 2).min(160);
                    self.push(&format!(
                        "<span class=\"blank\" role=\"img\" aria-label=\"blank to write on\" style=\"width:{width}mm\"></span>"
                    ));
                }
                Inline::Tick(done) => self.push(if *done {
                    "<span class=\"tick\" role=\"img\" aria-label=\"ticked\">☑</span>"
                } else {
                    "<span class=\"tick\" role=\"img\" aria-label=\"box to tick\">☐</span>"
                }),
                Inline::Break => self.push("<br>"),
            }
        }
    }

    fn marked(&mut self, tag: &str, body: &[Inline]) {
        self.push(&format!("<{tag}>"));
        self.line(body);
        self.push(&format!("</{tag}>"));
    }

    fn footnote(&mut self, label: &str) {
        if !self.notes.contains_key(label) {
            self.order.push(label.to_owned());
            self.notes.insert(label.to_owned(), (self.order.len(), 0));
        }
        let Some((number, uses)) = self.notes.get_mut(label) else {
            return;
        };
        *uses += 1;
        let id = if *uses == 1 { format!(" id=\"reference:{number}\"") } else { String::new() };
        let text =
            format!("<sup><a{id} href=\"#footnote:{number}\" aria-label=\"Footnote {number}\">{number}</a></sup>");
        self.push(&text);
    }
}

fn address(target: &Target) -> String {
    match target {
        Target::Here(id) => format!("#{id}"),
        Target::File { name, id } => {
            let name = name.strip_suffix(".md").map_or_else(|| name.clone(), |stem| format!("{stem}.html"));
            let id = id.as_ref().map(|id| format!("#{id}")).unwrap_or_default();
            format!("{name}{id}")
        }
        Target::Address(url) => url.clone(),
    }
}

const fn class(align: Align) -> &'static str {
    match align {
        Align::Left => "",
        Align::Center => " class=\"center\"",
        Align::Right => " class=\"number\"",
    }
}

/// The attribute that names a column beside a cell of a card; "" where its head is a tick box or empty.
fn label(head: &[Inline]) -> String {
    let text = plain_text(head);
    let text = text.trim();
    if text.is_empty() || text == "☐" { String::new() } else { format!(" data-label=\"{}\"", html_text(text)) }
}
