//! Markdown events to the document tree: tables. Ragged rows are errors, the parser would drop cells silently.

use std::ops::Range;

use pulldown_cmark::{Alignment, Event, Tag};

use super::inlines;
use super::reader::Reader;
use super::tree::{Align, Inline, Table, walk};

/// Reads a table whose start event has been consumed.
pub(super) fn read(
    reader: &mut Reader<'_>,
    aligns: &[Alignment],
    range: &Range<usize>,
    caption: Option<Vec<Inline>>,
) -> Table {
    let mut table = Table {
        caption: caption.unwrap_or_default(),
        columns: aligns.iter().map(|a| align(*a)).collect(),
        widths: reader.pending.widths.take(),
        head: Vec::new(),
        rows: Vec::new(),
    };
    let count = table.columns.len();
    if let Some(widths) = &table.widths
        && widths.len() != count
    {
        let message = format!("{} widths for a table of {count} columns", widths.len());
        reader.error(range.start, message);
        table.widths = None;
    }
    while let Some((event, range)) = reader.next() {
        let head = match event {
            Event::Start(Tag::TableHead) => true,
            Event::Start(Tag::TableRow) => false,
            _ => break,
        };
        let row = cells(reader);
        let written = written_cells(reader.source, range.start);
        if written != count {
            reader.error(range.start, format!("a table row of {written} cells under a head of {count}"));
        }
        if head {
            if row.iter().any(|cell| has_footnote(cell)) {
                reader.error(range.start, "a footnote cannot stand in the head of a table");
            }
            table.head = row;
        } else {
            table.rows.push(row);
        }
    }
    if table.rows.is_empty() {
        reader.error(range.start, "a table without rows");
    }
    table
}

fn cells(reader: &mut Reader<'_>) -> Vec<Vec<Inline>> {
    let mut row = Vec::new();
    while let Some((event, _)) = reader.next() {
        if !matches!(event, Event::Start(Tag::TableCell)) {
            break;
        }
        row.push(inlines::until_end(reader));
    }
    row
}

/// Counts the cells as written: pipes that are not escaped, less those at the two ends.
fn written_cells(source: &str, start: usize) -> usize {
    let line = source[start..].lines().next().unwrap_or_default().trim();
    let mut pipes = 0;
    let mut escaped = false;
    let mut ends_open = false;
    for c in line.chars() {
        ends_open = c == '|' && !escaped;
        pipes += usize::from(ends_open);
        escaped = c == '\\' && !escaped;
    }
    let lead = usize::from(line.starts_with('|'));
    let tail = usize::from(ends_open && line.len() > 1);
    (pipes + 1).saturating_sub(lead + tail)
}

fn has_footnote(cell: &[Inline]) -> bool {
    let mut found = false;
    walk(cell, &mut |inline| {
        found |= matches!(inline, Inline::Footnote(_));
    });
    found
}

fn align(alignment: Alignment) -> Align {
    match alignment {
        Alignment::Right => Align::Right,
        Alignment::Center => Align::Center,
        Alignment::Left | Alignment::None => Align::Left,
    }
}
