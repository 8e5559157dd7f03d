//! Values without quotes, or with quotes of another kind: words, numbers and dates as people write them.

use super::mend::{Said, is_value};
use std::ops::Range;

const OPENING: [char; 8] = ['“', '„', '‟', '«', '‘', '‚', '‛', '‹'];
const CLOSING: [char; 8] = ['”', '“', '‟', '»', '’', '‘', '‛', '›'];
const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/// What to do with a quantity or a text that has no quotes.
const QUOTES: &str = "texts and quantities stand in quotes: \"4.2 m\", \"galley\"";

/// Whether a quote stands there that only a word processor sets.
pub(super) fn is_curly(c: char) -> bool {
    OPENING.contains(&c) || CLOSING.contains(&c)
}

/// Readings of the value at `run`, which is none of TOML's. `line` ends where its line ends.
pub(super) fn readings(text: &str, name: &str, run: &Range<usize>, line: usize) -> Vec<Said> {
    let value = &text[run.clone()];
    let mut said = Vec::new();
    if value.starts_with(is_curly) {
        return curly(text, name, run, line);
    }
    if value.chars().all(|c| matches!(c, '…' | '.' | '_' | '?')) {
        // Quotes would make a text of what is still to be written.
        let said = Said::new(format!("{name} is not filled in"), run.clone(), "still a blank");
        return vec![
            said.help("write the value, a date as 2027-05-14 without quotes; or take the line out until it is known"),
        ];
    }
    let lower = value.to_lowercase();
    if let Some(flag) = match lower.as_str() {
        "yes" | "on" | "true" => Some("true"),
        "no" | "off" | "false" => Some("false"),
        _ => None,
    } {
        let headline = format!("the value of {name} must be true or false");
        said.push(Said::new(headline, run.clone(), "here").help(format!("write {flag}")).edit(run.clone(), flag));
    }
    if let Some(quote) = value.chars().last().filter(|c| matches!(c, '"' | '\'')) {
        let headline = format!("the text of {name} lacks its first quote");
        let reading = Said::new(headline, run.clone(), "this text").help(format!("begin it with {quote}"));
        said.push(reading.edit(run.start..run.start, quote));
    }
    if let Some(date) = date(value, name, run) {
        // A date in quotes would be none.
        return vec![date];
    }
    said.extend(number(value, name, run));
    let headline = format!("the value of {name} must stand in quotes");
    let quoted = Said::new(headline, run.clone(), "no quotes").help(QUOTES);
    let plain =
        !value.contains(['"', '\\', '\n', '\'', '[', '{', ']', '}', '=']) && !value.chars().any(char::is_control);
    // Between commas a quote would go round the first half only.
    let plain = plain && (!value.contains(',') || value.chars().any(char::is_alphabetic));
    said.push(if plain { quoted.edit(run.clone(), format!("\"{value}\"")) } else { quoted });
    said
}

fn curly(text: &str, name: &str, run: &Range<usize>, line: usize) -> Vec<Said> {
    let first = text[run.start..].chars().next().map_or(1, char::len_utf8);
    let rest = &text[run.start + first..line];
    let says = |at: Range<usize>| {
        Said::new(format!("the quotes of {name} are curly"), at, "curly quotes")
            .help("write straight quotes, \"; a word processor bends them, a text editor does not")
    };
    let mut said = Vec::new();
    let ends: Vec<(usize, char)> = rest.char_indices().filter(|(_, c)| CLOSING.contains(c)).collect();
    for (at, c) in ends {
        let end = run.start + first + at + c.len_utf8();
        said.push(says(run.start..end).edit(run.start..end, format!("\"{}\"", &rest[..at])));
    }
    said.push(says(run.start..run.start + first).edit(run.start..run.start + first, "\""));
    said
}

/// Numbers as other programs and countries write them.
fn number(value: &str, name: &str, run: &Range<usize>) -> Option<Said> {
    let says = |what: String, with: String| {
        let said = Said::new(what, run.clone(), "this number").help(format!("write {with}"));
        Some(said.edit(run.clone(), with))
    };
    let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    if let Some((whole, rest)) = value.split_once(',') {
        let split = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        let (part, unit) = rest.split_at(split);
        let unit = unit.trim();
        if digits(whole.trim_start_matches(['-', '+']))
            && digits(part)
            && unit.chars().all(|c| c != ',' && c != '"' && c != ']')
        {
            let with = if unit.is_empty() { format!("{whole}.{part}") } else { format!("\"{whole}.{part} {unit}\"") };
            return says(format!("the number of {name} has a comma; decimals follow a point"), with);
        }
    }
    let (sign, bare) = value.split_at(usize::from(value.starts_with(['-', '+'])));
    let mut with = bare.replace('_', "");
    if with.starts_with('.') {
        with.insert(0, '0');
    }
    if with.ends_with('.') {
        with.push('0');
    }
    let zeros = with.len() - with.trim_start_matches('0').len();
    if zeros > 0 && with[zeros..].starts_with(|c: char| c.is_ascii_digit()) {
        with.drain(..zeros);
    } else if zeros > 1 {
        with.drain(..zeros - 1);
    }
    let plain = with.chars().all(|c| c.is_ascii_digit() || c == '.') && is_value(&with);
    if !plain || bare == with {
        None
    } else {
        says(format!("the number of {name} is not written as TOML has it"), format!("{sign}{with}"))
    }
}

/// Dates as people write them.
fn date(value: &str, name: &str, run: &Range<usize>) -> Option<Said> {
    let parts: Vec<&str> = value.split(['-', '/', '.', ' ']).filter(|p| !p.is_empty()).collect();
    let numbers: Vec<Option<u32>> = parts.iter().map(|p| p.trim_end_matches(',').parse().ok()).collect();
    let month = |p: &str| {
        let p = p.to_lowercase();
        let at = MONTHS.iter().position(|m| p.len() >= 3 && p.starts_with(m) && p.chars().all(char::is_alphabetic))?;
        u32::try_from(at + 1).ok()
    };
    let year = |n: u32| (1000..=9999).contains(&n);
    let (y, m, d) = match (numbers.as_slice(), parts.as_slice()) {
        ([Some(y), Some(m), Some(d)], _) if year(*y) => (*y, *m, *d),
        ([Some(a), Some(b), Some(y)], _) if year(*y) && value.contains('.') => (*y, *b, *a),
        ([Some(a), Some(b), Some(y)], _) if year(*y) && *a > 12 => (*y, *b, *a),
        ([Some(a), Some(b), Some(y)], _) if year(*y) && *b > 12 => (*y, *a, *b),
        ([Some(_), Some(_), Some(y)], _) if year(*y) => (*y, 0, 0),
        ([Some(d), None, Some(y)], [_, name, _]) if year(*y) => (*y, month(name)?, *d),
        ([None, Some(d), Some(y)], [name, ..]) if year(*y) => (*y, month(name)?, *d),
        ([Some(y), Some(_)], _) if year(*y) && value.contains('-') => (*y, 0, 0),
        ([Some(y), Some(m), ..], [_, _, d]) if year(*y) && d.contains('T') => {
            (*y, *m, d.split('T').next()?.parse().ok()?)
        }
        _ => return None,
    };
    let said = Said::new(format!("the date of {name} is not written as TOML has it"), run.clone(), "no such date");
    let said = said.named("date-invalid");
    let iso = format!("{y:04}-{m:02}-{d:02}");
    Some(match (m, d) {
        (0, 0) => said.help("write year, month and day: 2027-05-14, without quotes"),
        _ if is_value(&iso) => {
            said.help(format!("write year, month, day, without quotes: {iso}")).edit(run.clone(), iso)
        }
        (1..=12, _) => said.help(format!("month {m} of {y} has no day {d}")),
        _ => said.help(format!("there is no month {m}; write year, month and day: 2027-05-14")),
    })
}
