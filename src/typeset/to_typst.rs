//! Document tree to Typst text. All looks are in `templates/typst/style.typ`; here is only structure.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::decimals;
use super::escape::{typst_string, typst_svg};
use super::tree::{Block, Callout, Document, FigureSize, Inline, List, Target, page_mark, plain_text, text_length};
use super::visit;
use super::{PageSetup, Pictures, STYLE_NAME, TypesetError};
use crate::assets::uncovered;

/// Side margin of all pages, in points; `style.typ` has the same (17 mm).
const MARGIN: f64 = 48.19;
/// The same of packets (14 mm).
const MARGIN_MONO: f64 = 36.85;
/// A callout of more characters may be broken over pages.
const LONG_CALLOUT: usize = 1200;
/// A paragraph of more characters is no title of what follows.
const LONG_LEAD_IN: usize = 200;
/// A list of no more characters stands on one page.
const SHORT_LIST: usize = 500;
/// Of a list of more characters, only the last steps stay with a hold point.
const LONG_HELD: usize = 900;
/// So many of them.
const LAST_STEPS: usize = 2;
/// A paragraph of fewer characters under a heading is never parted from what follows.
const LONG_LEAD: usize = 400;

/// A document as Typst text, with what a person should know about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypstText {
    /// The whole file; imports [`STYLE_NAME`] from the root folder.
    pub text: String,
    /// Crowded tables, characters that no font has.
    pub warnings: Vec<String>,
}

/// Writes the document as Typst.
///
/// # Errors
/// A picture that is not in the map.
pub fn to_typst(document: &Document, setup: &PageSetup, pictures: &Pictures) -> Result<TypstText, Vec<TypesetError>> {
    let none = BTreeMap::new();
    let mut writer = Writer::new(document, &none, setup, pictures);
    writer.head(setup);
    writer.blocks(&document.blocks);
    finished(writer)
}

/// What has been written, or the faults that were found on the way.
pub(super) fn finished(mut writer: Writer<'_>) -> Result<TypstText, Vec<TypesetError>> {
    let mut text = shown_text(writer.document);
    writer.parts.values().for_each(|part| text.push_str(&shown_text(part)));
    let missing = uncovered(&text);
    if !missing.is_empty() {
        let codes: Vec<String> = missing.iter().map(|c| format!("U+{:04X}", u32::from(*c))).collect();
        writer.warnings.push(format!("no font has {}: printed as the code number", codes.join(", ")));
    }
    if writer.errors.is_empty() {
        Ok(TypstText { text: writer.out, warnings: writer.warnings })
    } else {
        Err(writer.errors)
    }
}

fn shown_text(document: &Document) -> String {
    let mut text = document.meta.title.clone();
    document.each_line(&mut |line| text.push_str(&plain_text(line)));
    text
}

/// Whether it is a hold point or the like, which belongs to what stands before it.
fn holds(block: Option<&Block>) -> bool {
    matches!(block, Some(Block::Callout { kind: Callout::Important, .. }))
}

/// Characters up to which a paragraph under a heading goes with it to what follows: more before a table, whose
/// columns it explains.
fn longest_lead(next: &Block) -> usize {
    if matches!(next, Block::Table(_)) { 4 * LONG_LEAD } else { LONG_LEAD }
}

/// Whether a paragraph is the title of a list or table: short, in bold letters at its start. It stays on their page.
fn leads_in(line: &[Inline], next: &Block) -> bool {
    let titled = matches!(next, Block::List(_) | Block::Table(_) | Block::Columns(_) | Block::Callout { .. });
    titled && matches!(line.first(), Some(Inline::Strong(_))) && plain_text(line).chars().count() <= LONG_LEAD_IN
}

/// Writes the Typst text.
#[expect(clippy::struct_excessive_bools, reason = "what the text stands in: each by itself")]
pub(super) struct Writer<'a> {
    pub(super) document: &'a Document,
    /// Documents that are bound into this one.
    pub(super) parts: &'a BTreeMap<String, Document>,
    pub(super) setup: &'a PageSetup,
    pictures: &'a Pictures,
    out: String,
    errors: Vec<TypesetError>,
    pub(super) warnings: Vec<String>,
    /// Footnotes already printed, with their number.
    footnotes: BTreeMap<String, usize>,
    /// Text width of upright and of flipped pages, in points.
    pub(super) widths: (f64, f64),
    /// What lists and callouts take of it, in points.
    pub(super) indent: f64,
    pub(super) landscape: bool,
    pub(super) in_cell: bool,
    /// Decimal places that the number in this cell makes room for.
    pub(super) places: Option<usize>,
    in_list: bool,
    /// Blocks of two columns around it, which are made equally high by parting what is in them.
    pub(super) columns: usize,
    /// On pages in two columns.
    narrow: bool,
}

impl<'a> Writer<'a> {
    pub(super) fn new(
        document: &'a Document,
        parts: &'a BTreeMap<String, Document>,
        setup: &'a PageSetup,
        pictures: &'a Pictures,
    ) -> Self {
        let (short, long) = setup.paper.points();
        let margin = if document.meta.mono { MARGIN_MONO } else { MARGIN };
        Self {
            document,
            parts,
            setup,
            pictures,
            out: String::new(),
            errors: Vec::new(),
            warnings: Vec::new(),
            footnotes: BTreeMap::new(),
            widths: (short - 2.0 * margin, long - 2.0 * margin),
            indent: 0.0,
            landscape: document.meta.landscape,
            in_cell: false,
            places: None,
            in_list: false,
            columns: 0,
            narrow: false,
        }
    }

    pub(super) fn push(&mut self, text: &str) {
        self.out.push_str(text);
    }

    pub(super) fn head(&mut self, setup: &PageSetup) {
        let meta = &self.document.meta;
        let (year, month, day) = setup.date;
        let mut head = format!("#import \"/{STYLE_NAME}\": *\n#show: sheet.with(\n");
        let texts = [
            ("title", &meta.title),
            ("subtitle", &meta.subtitle),
            ("name", &meta.document),
            ("purpose", &meta.purpose),
            ("audience", &meta.audience),
            ("build", &setup.build),
            ("number", &setup.number),
            ("revision", &setup.revision),
            ("mark", &setup.mark),
            ("shop", &setup.shop),
            ("language", &setup.lang),
            ("region", &setup.region),
        ];
        for (key, text) in texts {
            let _ = writeln!(head, "  {key}: {},", typst_string(text));
        }
        // A document without a shop's page stays as it is without these lines.
        let brand = &setup.brand;
        let logo = brand.logo.as_ref().map_or_else(String::new, |logo| format!("/{}", logo.name));
        let of_shop = [("contact", &brand.contact), ("foot", &brand.foot), ("note", &brand.cover), ("logo", &logo)];
        for (key, text) in of_shop.into_iter().filter(|(_, text)| !text.is_empty()) {
            let _ = writeln!(head, "  {key}: {},", typst_string(text));
        }
        // Packets are printed in black and white.
        if !brand.accent.is_empty() && !meta.mono {
            let _ = writeln!(head, "  accent: rgb({}),", typst_string(&brand.accent));
        }
        let _ = writeln!(head, "  date: datetime(year: {year}, month: {month}, day: {day}),");
        let _ = writeln!(head, "  stock: \"{}\",", setup.paper.typst_name());
        let switches = [
            ("draft", setup.draft),
            ("contents", meta.contents),
            ("cover", meta.cover),
            ("landscape", meta.landscape),
            ("numbered", meta.numbered),
            ("compact", meta.compact),
            ("mono", meta.mono),
        ];
        for (key, on) in switches {
            let _ = writeln!(head, "  {key}: {on},");
        }
        head.push_str(")\n\n");
        self.push(&head);
    }

    pub(super) fn blocks(&mut self, blocks: &[Block]) {
        for (at, block) in blocks.iter().enumerate() {
            let heads = at.checked_sub(1).and_then(|before| blocks.get(before));
            match (heads, block) {
                // A short line under a heading goes with it to the page of what follows.
                (Some(Block::Heading { .. }), Block::Paragraph(body))
                    if at + 1 < blocks.len()
                        && text_length(std::slice::from_ref(block)) < longest_lead(&blocks[at + 1]) =>
                {
                    self.push("#lead[");
                    self.line(body);
                    self.push("]\n");
                }
                // The steps that a hold point ends stay on its page.
                (_, Block::List(_) | Block::Table(_)) if holds(blocks.get(at + 1)) => self.held(block),
                // So does the title of a list or table.
                (_, Block::Paragraph(body))
                    if blocks.get(at + 1).is_some_and(|next| leads_in(body, next) || holds(Some(next))) =>
                {
                    self.push("#lead[");
                    self.line(body);
                    self.push("]\n");
                }
                // Nobody turns a page for the last step of a short list.
                (_, Block::List(list))
                    if !self.in_list
                        && self.columns == 0
                        && text_length(list.items.iter().flat_map(|i| &i.body)) <= SHORT_LIST =>
                {
                    self.push("#unparted[\n");
                    self.block(block);
                    self.push("]\n");
                }
                _ => self.block(block),
            }
        }
    }

    /// A block that is not parted from the one behind it; of a long list, its last steps.
    fn held(&mut self, block: &Block) {
        let mut block = block.clone();
        if let Block::List(list) = &mut block
            && text_length(list.items.iter().flat_map(|i| &i.body)) > LONG_HELD
            && list.items.len() > LAST_STEPS + 1
        {
            let last = list.items.split_off(list.items.len() - LAST_STEPS);
            let start = list.start.map(|n| n + list.items.len() as u64);
            let last = Block::List(List { start, items: last, ..list.clone() });
            self.block(&block);
            block = last;
        }
        self.push("#held[\n");
        self.block(&block);
        self.push("]\n");
    }

    pub(super) fn nested(&mut self, blocks: &[Block], indent: f64) {
        self.indent += indent;
        self.push("[");
        self.blocks(blocks);
        self.push("]");
        self.indent -= indent;
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading { level, id, body } => {
                self.push(&format!("\n#heading(level: {level})["));
                self.line(body);
                self.push("]");
                if let Some(id) = id {
                    self.push(&format!("<{id}>"));
                }
                self.push("\n");
            }
            Block::Paragraph(body) => {
                self.push("#par[");
                self.line(body);
                self.push("]\n");
            }
            Block::List(list) => {
                let before = std::mem::replace(&mut self.in_list, true);
                self.list(list);
                self.in_list = before;
            }
            Block::Table(table) => self.table(table),
            Block::Definitions(entries) => {
                self.push("#terms(\n");
                for entry in entries {
                    self.push("  terms.item([");
                    self.line(&entry.term);
                    self.push("], [");
                    for body in &entry.bodies {
                        self.blocks(body);
                    }
                    self.push("]),\n");
                }
                self.push(")\n");
            }
            Block::Callout { kind, body } => {
                let long = text_length(body) > LONG_CALLOUT;
                let mono = self.document.meta.mono;
                self.push(&format!("#callout(\"{}\", long: {long}, mono: {mono})", kind.word()));
                self.nested(body, 24.0);
                self.push("\n");
            }
            Block::Quote(body) => {
                self.push("#quote(block: true)");
                self.nested(body, 24.0);
                self.push("\n");
            }
            Block::Code(text) => {
                self.push(&format!("#raw(block: true, {})\n", typst_string(text)));
            }
            Block::Figure { name, alt, caption, size } => self.figure(name, alt, caption, *size),
            Block::Rule => self.push("#hrule()\n"),
            Block::WritingLine => self.push("#writing-line()\n"),
            Block::Contents => self.push("#contents-list(depth: 1)\n"),
            Block::Document { stem, title } => self.document(stem, title),
            Block::PageBreak => self.push("#pagebreak(weak: true)\n"),
            Block::Also(_) => {}
            Block::Landscape(body) => {
                let before = std::mem::replace(&mut self.landscape, true);
                self.push("#page(flipped: true)");
                self.nested(body, 0.0);
                self.push("\n");
                self.landscape = before;
            }
            Block::Columns(body) => {
                let page = if self.landscape { self.widths.1 } else { self.widths.0 };
                self.push("#two-columns");
                self.columns += 1;
                self.nested(body, (page - self.indent) / 2.0 + 10.0);
                self.columns -= 1;
                self.push("\n");
            }
            Block::Narrow(body) => {
                let mut drawn = false;
                visit::figures(body, &mut |_| drawn = true);
                self.push(if drawn { "#narrow" } else { "#narrow-run" });
                self.narrow = true;
                self.nested(body, (self.widths.0 - self.indent) / 2.0 + 10.0);
                self.narrow = false;
                self.push("\n");
            }
            Block::Keep(body) => {
                self.push("#keep");
                self.nested(body, 0.0);
                self.push("\n");
            }
        }
    }

    fn figure(&mut self, name: &str, alt: &str, caption: &str, size: FigureSize) {
        let Some(svg) = self.pictures.get(name) else {
            self.errors.push(TypesetError { line: 0, message: format!("there is no drawing `{name}`") });
            return;
        };
        let caption = if caption.is_empty() { "none".to_owned() } else { format!("[#{};]", typst_string(caption)) };
        let width = match size {
            FigureSize::True | FigureSize::Floating => svg_width(svg),
            FigureSize::Part | FigureSize::Page => None,
        };
        let width = width.map_or_else(|| "none".to_owned(), |mm| format!("{mm}mm"));
        let text = format!(
            "#drawing({}, alt: {}, caption: {caption}, tall: {}, floating: {}, across: {}, width: {width})\n",
            typst_svg(svg),
            typst_string(alt),
            size == FigureSize::Page,
            size == FigureSize::Floating,
            self.narrow
        );
        self.push(&text);
    }

    pub(super) fn line(&mut self, line: &[Inline]) {
        for inline in line {
            match inline {
                Inline::Text(text) => self.text(text),
                Inline::Emphasis(body) => self.wrapped("#emph[", body),
                Inline::Strong(body) => self.wrapped("#strong[", body),
                Inline::Code(text) => {
                    let text = self.breakable(text);
                    self.push(&format!("#raw({});", typst_string(&text)));
                }
                Inline::Link { target, body } if page_mark(target, body).is_some() => {
                    match page_mark(target, body).flatten() {
                        Some(id) => self.push(&format!("#page-of(<{id}>);")),
                        // On paper the pages of another file are not known. Nor is there a gap where the number would be.
                        None => {
                            if self.out.ends_with(" \";") {
                                self.out.truncate(self.out.len() - 3);
                                self.push("\";");
                            }
                        }
                    }
                }
                Inline::Link { target, body } => {
                    let (call, place) = match target {
                        Target::Here(id) => ("link", format!("<{id}>")),
                        Target::File { name, id } => {
                            let name =
                                name.strip_suffix(".md").map_or_else(|| name.clone(), |stem| format!("{stem}.pdf"));
                            let id = id.as_ref().map(|id| format!("#{id}")).unwrap_or_default();
                            ("away", typst_string(&format!("{name}{id}")))
                        }
                        Target::Address(url) => ("away", typst_string(url)),
                    };
                    self.wrapped(&format!("#{call}({place})["), body);
                }
                Inline::Anchor(id) => self.push(&format!("#metadata(none)<{id}>")),
                Inline::Footnote(label) => self.footnote(label),
                Inline::Blank(length) => {
                    let low = if self.in_cell || self.in_list { "low-" } else { "" };
                    self.push(&format!("#{low}blank({length});"));
                }
                Inline::Tick(done) => self.push(&format!("#tick({done});")),
                Inline::Break => self.push("#linebreak();"),
            }
        }
    }

    fn wrapped(&mut self, open: &str, body: &[Inline]) {
        self.push(open);
        self.line(body);
        self.push("];");
    }

    fn text(&mut self, text: &str) {
        if let Some((number, room, behind)) = self.places.and_then(|places| decimals::filled(text, places)) {
            let text = format!("#{};#hide[{room}];#{};", typst_string(number), typst_string(behind));
            return self.push(&text);
        }
        let text = self.breakable(text);
        self.push(&format!("#{};", typst_string(&text)));
    }

    fn footnote(&mut self, label: &str) {
        if let Some(number) = self.footnotes.get(label) {
            let again = format!("#footnote(<footnote:{number}>);");
            self.push(&again);
            return;
        }
        let number = self.footnotes.len() + 1;
        self.footnotes.insert(label.to_owned(), number);
        let document = self.document;
        let in_cell = std::mem::replace(&mut self.in_cell, false);
        self.push("#footnote[");
        if let Some(body) = document.footnotes.get(label) {
            // One paragraph is the rule; its text alone keeps the number on the line.
            match body.as_slice() {
                [Block::Paragraph(line)] => self.line(line),
                blocks => self.blocks(blocks),
            }
        }
        self.push(&format!("]<footnote:{number}>"));
        self.in_cell = in_cell;
    }
}

/// Width in millimetres that an SVG text gives itself.
pub(super) fn svg_width(svg: &str) -> Option<f64> {
    let head = svg.get(..svg.find('>')?)?;
    let value = head.split_once(" width=\"")?.1;
    value.get(..value.find("mm\"")?)?.parse().ok()
}
