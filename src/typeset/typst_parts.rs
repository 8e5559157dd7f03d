//! Lists and tables as Typst.

use super::to_typst::Writer;
use super::tree::{Align, Inline, List, Table, is_tick, plain_text};
use super::{columns, decimals};

/// A word of a table cell longer than this may be broken after `_`, `/` and `.`.
const LONG_WORD: usize = 11;

/// A table of this many rows or fewer is not broken over pages.
const SHORT_TABLE: usize = 8;
/// And of fewer characters than this.
const SHORT_TEXT: usize = 1200;
/// A row with a cell of more characters might be higher than a page.
const LONG_CELL: usize = 420;

impl Writer<'_> {
    /// Typst has one marker for a list, so items are grouped by what stands before them.
    pub(super) fn list(&mut self, list: &List) {
        if let Some(start) = list.start {
            let ticks: String = list
                .items
                .iter()
                .map(|item| match item.tick {
                    None => "none, ",
                    Some(true) => "true, ",
                    Some(false) => "false, ",
                })
                .collect();
            self.push(&format!("#steps(start: {start}, tight: {}, ticks: ({ticks}),\n", list.tight));
            for item in &list.items {
                self.push("  ");
                self.nested(&item.body, 22.0);
                self.push(",\n");
            }
            self.push(")\n");
            return;
        }
        let mut rest = list.items.as_slice();
        while let Some(first) = rest.first() {
            let run = rest.iter().take_while(|i| i.tick == first.tick).count();
            let name = match first.tick {
                None => "bullets",
                Some(false) => "checks",
                Some(true) => "checked",
            };
            let above = rest.len() < list.items.len();
            let below = run < rest.len();
            self.push(&format!("#{name}(tight: {}, joins: ({above}, {below}),\n", list.tight));
            for item in &rest[..run] {
                self.push("  ");
                self.nested(&item.body, 20.0);
                self.push(",\n");
            }
            self.push(")\n");
            rest = &rest[run..];
        }
    }

    pub(super) fn table(&mut self, table: &Table) {
        let (upright, flipped) = self.widths;
        let page = if self.landscape { flipped } else { upright };
        let found = columns::widths(table, page - self.indent, &self.document.meta);
        if found.crowded {
            let head: Vec<String> = table.head.iter().map(|c| plain_text(c)).collect();
            self.warnings.push(format!(
                "the table `{}` is too wide for its page: use landscape or fewer columns",
                head.join(" | ")
            ));
        }
        let aligns: Vec<&str> = table
            .columns
            .iter()
            .map(|a| match a {
                Align::Left => "left",
                Align::Center => "center",
                Align::Right => "right",
            })
            .collect();
        let might_break = |row: &&Vec<Vec<Inline>>| row.iter().any(|cell| plain_text(cell).chars().count() > LONG_CELL);
        let long_rows: Vec<String> =
            table.rows.iter().enumerate().filter(|(_, row)| might_break(row)).map(|(at, _)| at.to_string()).collect();
        let long_rows = if long_rows.is_empty() { String::new() } else { long_rows.join(", ") + "," };
        self.push(&format!(
            "#grid-table(columns: ({},), align: ({},), size: {}pt, fill-in: {}, whole: {}, mono: {}, long-rows: \
             ({long_rows}), caption: ",
            found.columns.join(", "),
            aligns.join(", "),
            found.size,
            table.is_form(),
            // Two columns are made equally high by parting what is in them.
            self.columns == 0 && table.rows.len() <= SHORT_TABLE && table.text_length() < SHORT_TEXT,
            self.document.meta.mono
        ));
        if table.caption.is_empty() {
            self.push("none");
        } else {
            self.push("[");
            self.line(&table.caption);
            self.push("]");
        }
        self.push(", head: (");
        self.in_cell = true;
        self.row(&table.head, &[], true);
        self.push("),\n");
        let places = decimals::places(table);
        for row in &table.rows {
            self.push("  ");
            match Table::group_title(row) {
                Some(title) => self.group_row(title, row.len()),
                None => self.row(row, &places, false),
            }
            self.push("\n");
        }
        self.in_cell = false;
        self.push(")\n");
    }

    /// A row that is the title of those below it.
    fn group_row(&mut self, title: &[Inline], columns: usize) {
        self.push("(group: [");
        self.line(title);
        self.push("]), ");
        self.push(&"none, ".repeat(columns - 1));
    }

    fn row(&mut self, cells: &[Vec<Inline>], places: &[Option<usize>], head: bool) {
        for (at, cell) in cells.iter().enumerate() {
            // What stands behind a box to tick does not run on under it.
            let ticked = !head
                && matches!(cell.as_slice(), [Inline::Tick(_), rest @ ..] if !rest.is_empty() && !rest.iter().any(is_box));
            self.push(if ticked { "(ticked: [" } else { "[" });
            self.places = places.get(at).copied().flatten();
            // A box in the head would be one to tick.
            if !(head && is_tick(cell)) {
                self.line(cell);
            }
            self.push(if ticked { "]), " } else { "], " });
        }
        self.places = None;
    }

    /// In cells, long names get places to break that no one sees.
    pub(super) fn breakable(&self, text: &str) -> String {
        if !self.in_cell {
            return text.to_owned();
        }
        let mut out = String::with_capacity(text.len());
        for word in text.split_inclusive(' ') {
            let long = word.chars().count() > LONG_WORD;
            for c in word.chars() {
                out.push(c);
                if long && matches!(c, '_' | '/' | '.' | ':' | '=') {
                    out.push('\u{200b}');
                }
            }
        }
        out
    }
}

const fn is_box(inline: &Inline) -> bool {
    matches!(inline, Inline::Tick(_))
}
