//! Markdown of a document laid out for a terminal: columns aligned, long lines wrapped. It is still Markdown.

use std::fmt::Write as _;

/// Longest line of prose, in characters.
const WIDTH: usize = 96;

/// Widest table; the rows of a wider one become items of a list.
const TABLE: usize = 120;

/// `markdown` with its head as a title, without what only the typesetter reads.
pub(super) fn laid_out(markdown: &str) -> String {
    let (head, body) = split_head(markdown);
    let mut blocks = head;
    let mut table: Vec<Vec<&str>> = Vec::new();
    for line in body.lines().chain([""]) {
        if line.starts_with('|') {
            table.push(cells(line));
            continue;
        }
        if !table.is_empty() {
            rows(&std::mem::take(&mut table), &mut blocks);
        }
        if line.starts_with("<!--") {
            continue;
        }
        let line = line.split(" {#").next().unwrap_or(line);
        let line = line.strip_prefix("Table: ").map_or_else(|| line.to_owned(), |title| format!("{title}:"));
        wrapped(&line, &mut blocks);
    }
    let mut text = String::with_capacity(blocks.len());
    for line in blocks.lines() {
        if !line.is_empty() || !text.is_empty() && !text.ends_with("\n\n") {
            let _ = writeln!(text, "{line}");
        }
    }
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

/// The head of a document as Markdown, and the rest.
fn split_head(markdown: &str) -> (String, &str) {
    let parts = markdown.strip_prefix("+++\n").and_then(|rest| rest.split_once("\n+++\n"));
    let Some((head, body)) = parts else { return (String::new(), markdown) };
    let fields: toml::Table = toml::from_str(head).unwrap_or_default();
    let mut text = String::new();
    for (name, before) in [("title", "# "), ("subtitle", ""), ("purpose", "")] {
        if let Some(value) = fields.get(name).and_then(toml::Value::as_str).filter(|v| !v.is_empty()) {
            let mut value = value.to_owned();
            value.get_mut(..1).unwrap_or_default().make_ascii_uppercase();
            wrapped(&format!("{before}{value}"), &mut text);
            text.push('\n');
        }
    }
    (text, body)
}

/// Cells of a row; an escaped bar is part of its cell.
fn cells(line: &str) -> Vec<&str> {
    let line = line.trim().trim_start_matches('|');
    let line = line.strip_suffix('|').unwrap_or(line);
    let (mut found, mut start, mut escaped) = (Vec::new(), 0, false);
    for (at, c) in line.char_indices() {
        if c == '|' && !escaped {
            found.push(line[start..at].trim());
            start = at + 1;
        }
        escaped = c == '\\' && !escaped;
    }
    found.push(line[start..].trim());
    found
}

fn rows(table: &[Vec<&str>], out: &mut String) {
    let columns = table.iter().map(Vec::len).max().unwrap_or(0);
    let rule = |row: &[&str]| row.iter().all(|cell| cell.contains("---"));
    let wide = |at: usize| {
        let cells = table.iter().filter(|row| !rule(row)).filter_map(|row| row.get(at));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0).max(4)
    };
    let widths: Vec<usize> = (0..columns).map(wide).collect();
    if widths.iter().sum::<usize>() + 3 * columns < TABLE {
        for row in table {
            for (at, width) in widths.iter().enumerate() {
                let cell = row.get(at).copied().unwrap_or("");
                let right = cell.ends_with("-:");
                let _ = if rule(row) {
                    write!(out, "| {}{} ", "-".repeat(width - usize::from(right)), if right { ":" } else { "" })
                } else {
                    write!(out, "| {cell:width$} ")
                };
            }
            out.push_str("|\n");
        }
        return;
    }
    let head = table.first().map_or(&[][..], Vec::as_slice);
    for row in table.iter().skip(1).filter(|row| !rule(row)) {
        let named = head.iter().zip(row).filter(|(_, cell)| !cell.is_empty());
        let parts: Vec<String> = named
            .map(|(name, cell)| if name.is_empty() { (*cell).to_owned() } else { format!("{name}: {cell}") })
            .collect();
        // A box to tick needs no name.
        let item = parts.join("; ").replacen("Done: ☐; ", "☐ ", 1);
        wrapped(&format!("- {item}"), out);
    }
}

/// A line of prose, an item of a list or a line of a quotation, on as many lines as it needs.
fn wrapped(line: &str, out: &mut String) {
    let after = match line {
        l if l.starts_with("- ") => "  ",
        l if l.starts_with("> ") => "> ",
        l if l.starts_with('#') => {
            let _ = writeln!(out, "{l}");
            return;
        }
        _ => "",
    };
    let mut length = 0;
    for word in line.split(' ') {
        let more = word.chars().count();
        if length > after.len() && length + 1 + more > WIDTH {
            let _ = write!(out, "\n{after}{word}");
            length = after.len() + more;
        } else {
            let space = if length == 0 { "" } else { " " };
            let _ = write!(out, "{space}{word}");
            length += space.len() + more;
        }
    }
    out.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_aligned_and_marks_of_the_typesetter_go() {
        let text = "+++\ntitle = \"Notice\"\nsubtitle = \"from A to B\"\n+++\n\n## Wires {#wires}\n\n\n\
                    <!-- widths: 1 2 -->\n\nTable: Cables\n\n| Id | Cut |\n| --- | ---: |\n| `a\\|b` | 2 m |\n| c | 12 m |\n\n";
        let expected = "# Notice\n\nFrom A to B\n\n## Wires\n\nCables:\n\n\
                        | Id     | Cut  |\n| ------ | ---: |\n| `a\\|b` | 2 m  |\n| c      | 12 m |\n";
        assert_eq!(laid_out(text), expected);
        assert_eq!(laid_out(expected), expected, "what is laid out stays");
    }

    #[test]
    fn a_wide_table_becomes_a_list_and_no_line_of_prose_is_long() {
        let long = "word ".repeat(40);
        let text = format!("{long}\n\n| Done | Because |\n| --- | --- |\n| ☐ | {long} |\n|  | short |\n");
        let laid = laid_out(&text);
        assert!(laid.lines().all(|l| l.chars().count() <= WIDTH), "{laid}");
        assert!(laid.contains("- ☐ Because: word") && laid.contains("\n- Because: short\n"), "{laid}");
        assert_eq!(laid.split_whitespace().filter(|w| *w == "word").count(), 80);
    }
}
