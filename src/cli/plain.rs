//! A document laid out for a terminal, from its tree: columns aligned, cells folded, lists set in, links as their words.

use crate::typeset::parse;
use crate::typeset::tree::{Align, Block, Inline, Item, List, Table, Target, page_mark};
use comfy_table::presets::{ASCII_FULL, ASCII_MARKDOWN};
use comfy_table::{CellAlignment, ContentArrangement};
use std::fmt::Write as _;
use terminal_size::{Width, terminal_size_of};
use unicode_width::UnicodeWidthStr;

/// Width where standard output is no terminal.
const WIDTH: usize = 100;

/// Prose is not set wider: the eye loses the line.
const PROSE: usize = 96;

/// Narrowest terminal that is laid out for.
const NARROW: usize = 40;

/// Rows that fold into more lines than this are read better as blocks.
const FOLDS: usize = 6;

/// `markdown` as text, as wide as the terminal.
#[expect(clippy::disallowed_methods, reason = "the width of the terminal")]
pub(super) fn laid_out(markdown: &str) -> String {
    let width = terminal_size_of(std::io::stdout()).map_or(WIDTH, |(Width(width), _)| usize::from(width));
    set(markdown, width.max(NARROW))
}

fn set(markdown: &str, width: usize) -> String {
    // A document of rigbinder's own always parses; if not, its Markdown can be read as it is.
    let Ok(document) = parse(markdown) else { return markdown.to_owned() };
    let page = Page { width };
    let meta = &document.meta;
    let mut text = page.underlined(&meta.title, '=');
    for line in [&meta.subtitle, &meta.purpose] {
        if !line.is_empty() {
            let _ = write!(text, "\n{}\n", page.filled(&capital(line), "", ""));
        }
    }
    text.push('\n');
    text.push_str(&page.blocks(&document.blocks, width));
    for (label, blocks) in &document.footnotes {
        let _ = write!(text, "\n{}\n", page.hung(&format!("[{label}] "), blocks, width));
    }
    text.truncate(text.trim_end().len());
    text.push('\n');
    // They kept a number with its unit; what is copied from a terminal is better without.
    text.replace('\u{a0}', " ")
}

fn capital(line: &str) -> String {
    let mut line = line.to_owned();
    line.get_mut(..1).unwrap_or_default().make_ascii_uppercase();
    line
}

struct Page {
    width: usize,
}

impl Page {
    /// Blocks below one another, with an empty line between them.
    fn blocks(&self, blocks: &[Block], width: usize) -> String {
        let parts: Vec<String> = blocks.iter().map(|block| self.block(block, width)).collect();
        let parts: Vec<&str> = parts.iter().map(|part| part.trim_end()).filter(|part| !part.is_empty()).collect();
        let mut text = parts.join("\n\n");
        text.push('\n');
        text
    }

    fn block(&self, block: &Block, width: usize) -> String {
        match block {
            Block::Heading { level, body, .. } => match level {
                1 => self.underlined(&line(body), '-'),
                _ => self.filled(&line(body), "", ""),
            },
            Block::Paragraph(body) => fill(&line(body), "", "", width),
            Block::List(list) => self.list(list, width),
            Block::Table(table) => Self::table(table, width),
            Block::Definitions(all) => {
                let mut text = String::new();
                for one in all {
                    let _ = writeln!(text, "{}", fill(&line(&one.term), "", "", width));
                    for body in &one.bodies {
                        let _ = writeln!(text, "{}", self.hung("    ", body, width));
                    }
                }
                text
            }
            Block::Callout { kind, body } => self.hung(&format!("{}: ", kind.word()), body, width),
            Block::Quote(body) => self.hung("  ", body, width),
            Block::Code(code) => code.lines().fold(String::new(), |text, line| text + "    " + line + "\n"),
            Block::Figure { alt, .. } => fill(&format!("(Drawing: {alt})"), "", "", width),
            Block::Rule => "-".repeat(width.min(PROSE)),
            Block::WritingLine => "_".repeat(width.min(PROSE)),
            Block::Landscape(inner) | Block::Keep(inner) | Block::Columns(inner) | Block::Narrow(inner) => {
                self.blocks(inner, width)
            }
            Block::Document { title, .. } => fill(title, "", "", width),
            Block::PageBreak | Block::Contents | Block::Also(_) => String::new(),
        }
    }

    fn underlined(&self, title: &str, with: char) -> String {
        let title = self.filled(title, "", "");
        let longest = title.lines().map(UnicodeWidthStr::width).max().unwrap_or(0);
        format!("{title}\n{}\n", with.to_string().repeat(longest))
    }

    fn filled(&self, text: &str, first: &str, after: &str) -> String {
        fill(text, first, after, self.width)
    }

    /// Blocks behind a mark, the lines after the first set in.
    fn hung(&self, mark: &str, body: &[Block], width: usize) -> String {
        let indent = mark.width().min(4);
        let indent = " ".repeat(if mark.trim().is_empty() || mark.len() <= 4 { indent } else { 2 });
        let inner = match body {
            [Block::Paragraph(only), rest @ ..] => {
                let first = fill(&line(only), mark, &indent, width);
                if rest.is_empty() {
                    return first;
                }
                let rest = self.blocks(rest, width.saturating_sub(indent.len()));
                return format!("{first}\n{}", textwrap::indent(rest.trim_end(), &indent));
            }
            _ => self.blocks(body, width.saturating_sub(indent.len())),
        };
        let mark = if mark.trim().is_empty() { String::new() } else { format!("{}\n", mark.trim_end()) };
        format!("{mark}{}", textwrap::indent(inner.trim_end(), &indent))
    }

    fn list(&self, list: &List, width: usize) -> String {
        let mut text = String::new();
        for (number, item) in (list.start.unwrap_or(1)..).zip(&list.items) {
            let Item { tick, body } = item;
            let mark = match (tick, list.start) {
                (Some(ticked), _) => format!("{} ", sign(*ticked)),
                (None, Some(_)) => format!("{number}. "),
                (None, None) => "- ".to_owned(),
            };
            let _ = writeln!(text, "{}", self.hung(&mark, body, width));
            if !list.tight {
                text.push('\n');
            }
        }
        text
    }

    fn table(table: &Table, width: usize) -> String {
        // A box to tick needs no name.
        let head: Vec<String> = table.head.iter().map(|cell| line(cell).replace(sign(false), "")).collect();
        let head: Vec<String> = head.iter().map(|cell| cell.trim().to_owned()).collect();
        let rows: Vec<Vec<String>> = table.rows.iter().map(|row| row.iter().map(|cell| line(cell)).collect()).collect();
        let mut text = String::new();
        let caption = line(&table.caption);
        if !caption.is_empty() {
            let colon = if caption.ends_with(['.', ':', '?']) { "" } else { ":" };
            let _ = writeln!(text, "{}", fill(&format!("{caption}{colon}"), "", "", width));
        }
        let all = || std::iter::once(&head).chain(&rows);
        let widest = |measure: &dyn Fn(&str) -> usize| -> usize {
            let column = |at| {
                all().filter_map(|row: &Vec<String>| row.get(at)).map(|cell: &String| measure(cell)).max().unwrap_or(0)
            };
            // A bar and two blanks belong to each column.
            (0..head.len()).map(column).sum::<usize>() + 3 * head.len() + 1
        };
        let cell_width = |cell: &str| cell.lines().map(UnicodeWidthStr::width).max().unwrap_or(0);
        let word_width = |cell: &str| cell.split_whitespace().map(UnicodeWidthStr::width).max().unwrap_or(0);
        let frame = 3 * head.len() + 1;
        let folds = rows
            .iter()
            .map(|row| row.iter().map(|c| cell_width(c)).sum::<usize>() / width.saturating_sub(frame).max(1));
        let plain = widest(&cell_width) <= width && !rows.iter().flatten().any(|cell| cell.contains('\n'));
        if plain || widest(&word_width) <= width && folds.max().unwrap_or(0) < FOLDS {
            text.push_str(&columns(table, head, &rows, plain, width));
        } else {
            text.push_str(&as_blocks(&head, &rows, width));
        }
        text
    }
}

/// Each row as lines of head and cell.
fn as_blocks(head: &[String], rows: &[Vec<String>], width: usize) -> String {
    let mut text = String::new();
    for row in rows {
        let mut first = "- ";
        let mut tick = "";
        for (name, cell) in head.iter().zip(row).filter(|(_, cell)| !cell.is_empty()) {
            if [sign(false), sign(true)].contains(&cell.as_str()) {
                tick = cell;
                continue;
            }
            let named = if name.is_empty() { cell.clone() } else { format!("{name}: {cell}") };
            let named = if tick.is_empty() { named } else { format!("{} {named}", std::mem::take(&mut tick)) };
            let _ = writeln!(text, "{}", fill(&named, first, "    ", width));
            first = "  ";
        }
        text.push('\n');
    }
    text
}

/// Aligned columns; folded cells have a line between rows.
fn columns(table: &Table, head: Vec<String>, rows: &[Vec<String>], plain: bool, width: usize) -> String {
    let mut drawn = comfy_table::Table::new();
    drawn.load_style(if plain { ASCII_MARKDOWN } else { ASCII_FULL });
    drawn.set_content_arrangement(if plain { ContentArrangement::Disabled } else { ContentArrangement::Dynamic });
    drawn.set_width(u16::try_from(width).unwrap_or(u16::MAX));
    drawn.set_header(head);
    drawn.add_rows(rows.iter().cloned());
    for (column, align) in drawn.column_iter_mut().zip(&table.columns) {
        column.set_cell_alignment(match align {
            Align::Left => CellAlignment::Left,
            Align::Center => CellAlignment::Center,
            Align::Right => CellAlignment::Right,
        });
    }
    drawn.trim_fmt()
}

const fn sign(ticked: bool) -> &'static str {
    if ticked { "☑" } else { "☐" }
}

/// `text` in lines; each line of it begins one.
fn fill(text: &str, first: &str, after: &str, width: usize) -> String {
    let options = |first| {
        textwrap::Options::new(width.min(PROSE))
            .initial_indent(first)
            .subsequent_indent(after)
            .break_words(false)
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
    };
    let lines = text.lines().enumerate();
    let lines: Vec<String> =
        lines.map(|(at, l)| textwrap::fill(l, options(if at == 0 { first } else { after }))).collect();
    lines.join("\n")
}

/// A line as plain text. A link is its words; where it leads is told if that is outside and not the words themselves.
fn line(parts: &[Inline]) -> String {
    let mut text = String::new();
    for part in parts {
        match part {
            Inline::Text(words) | Inline::Code(words) => text.push_str(words),
            Inline::Emphasis(body) | Inline::Strong(body) => text.push_str(&line(body)),
            Inline::Link { target, body } => {
                if page_mark(target, body).is_some() {
                    continue;
                }
                let words = line(body);
                text.push_str(&words);
                if let Target::Address(address) = target
                    && !address.ends_with(&words)
                {
                    let _ = write!(text, " ({address})");
                }
            }
            Inline::Anchor(_) => {}
            Inline::Footnote(label) => {
                let _ = write!(text, " [{label}]");
            }
            Inline::Blank(length) => text.push_str(&"_".repeat(*length)),
            Inline::Tick(ticked) => text.push_str(sign(*ticked)),
            Inline::Break => text.push('\n'),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_aligned_and_links_are_their_words() {
        let text = "+++\ntitle = \"Notice\"\nsubtitle = \"from A to B\"\n+++\n\n## Wires {#wires}\n\n\
                    <!-- widths: 1 2 1 -->\n\nTable: Cables\n\n| ☐ | Id | Cut |\n| --- | --- | ---: |\n\
                    | ☐ | [main fuse](#wires) | 2 m |\n| ☐ | `c` | 12 m |\n\nSee **[the wires](#wires)** and [it](https://example.org/).\n";
        let expected = "Notice\n======\n\nFrom A to B\n\nWires\n-----\n\nCables:\n\
                        |   | Id        |  Cut |\n|---|-----------|------|\n| ☐ | main fuse |  2 m |\n| ☐ | c         | 12 m |\n\n\
                        See the wires and it (https://example.org/).\n";
        assert_eq!(set(text, 80), expected);
    }

    #[test]
    fn a_table_folds_and_one_that_would_be_a_column_of_letters_becomes_blocks() {
        let long = "word ".repeat(30);
        let text = format!(
            "# T\n\n{long}\n\n| ☐ | Name | Because |\n| --- | --- | --- |\n| ☐ | a | {long} |\n| ☐ | b | short |\n"
        );
        let folded = set(&text, 60);
        assert!(folded.contains("+--") && folded.contains("| ☐ | b    | short"), "{folded}");
        let blocks = set(&text, 34);
        assert!(blocks.contains("- ☐ Name: a\n  Because: word") && blocks.contains("\n  Because: short\n"), "{blocks}");
        for (laid, width) in [(folded, 60), (blocks, 34)] {
            assert!(laid.lines().all(|l| l.width() <= width), "{laid}");
            assert_eq!(laid.split_whitespace().filter(|w| *w == "word").count(), 60, "{laid}");
        }
    }

    #[test]
    fn lists_and_safety_messages_are_set_in() {
        let long = "word ".repeat(12);
        let text = format!("# T\n\n1. {long}\n2. two\n\n   - inner {long}\n\n> [!WARNING]\n> {long}\n");
        let laid = set(&text, 40);
        assert!(laid.contains("1. word word") && laid.contains("\n   word word"), "{laid}");
        assert!(laid.contains("\n   - inner word") && laid.contains("\n     word"), "{laid}");
        assert!(laid.contains("WARNING: word") && laid.contains("\n  word"), "{laid}");
    }
}
