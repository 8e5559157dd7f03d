//! Texts of several parts of one kind, told once: shared by the owner's manual and the calendar.
//!
//! What differs by circuit alone (way, fuse, place …) becomes a pointer to the table that stands beside the text.

use super::{CautionView, Context};
use super::facts::{Facts, facts};
use crate::build::{Build, Part};
use crate::kinds::{Caution, Role};
use indexmap::IndexMap;
use jiff::civil::Date;
use pulldown_cmark::{Event, Parser};
use std::collections::BTreeMap;

/// Facts that a table beside the text shows for each part, and the words that point there.
const POINTERS: &[(&str, &str)] = &[
    ("way", "N"),
    ("fuse", "the fuse in the table"),
    ("panel", "the panel in the table"),
    ("fed_from", "the panel in the table"),
    ("place", "the place in the table"),
    ("load_current", "the current in the table"),
];

/// Prints texts with the facts of parts.
pub struct Teller<'a> {
    context: &'a Context<'a>,
    facts: BTreeMap<&'a str, Facts>,
}

/// A text or a group of texts that belong together, and the parts it is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// Names of the parts; "" where it is about all of them.
    pub who: String,
    /// The texts as Markdown, in the order given; "" for one that does not apply.
    pub texts: Vec<String>,
    /// A text points to the table.
    pub pointed: bool,
}

impl Told {
    /// The texts that apply.
    #[must_use]
    pub fn kept(self) -> Vec<String> {
        self.texts.into_iter().filter(|t| !t.is_empty()).collect()
    }
}

impl<'a> Teller<'a> {
    /// Collects the facts of all parts.
    #[must_use]
    pub fn new(context: &'a Context<'a>) -> Self {
        let build = context.build;
        let of = |part: &'a Part<'a>| {
            let mut all = facts(build, context.electrical, part);
            if is_secret(build, part) {
                all.insert("place".to_owned(), String::new());
            }
            (part.id.as_str(), all)
        };
        Self { context, facts: build.parts.values().map(of).collect() }
    }

    /// What the document is made from.
    #[must_use]
    pub const fn context(&self) -> &'a Context<'a> {
        self.context
    }

    /// A fact of a part; "" where there is none.
    #[must_use]
    pub fn fact(&self, part: &str, name: &str) -> &str {
        self.facts.get(part).and_then(|f| f.get(name)).map_or("", String::as_str)
    }

    /// Where a part stands, for people. The place of a hidden switch is never printed.
    #[must_use]
    pub fn place(&self, part: &Part<'_>) -> String {
        if is_secret(self.context.build, part) {
            return "shown to you at handover".to_owned();
        }
        self.fact(&part.id, "place").to_owned()
    }

    /// A text with the facts of one part.
    #[must_use]
    pub fn one(&self, part: &str, text: &str) -> String {
        self.facts.get(part).map_or_else(String::new, |f| self.context.text(f, text)).trim().to_owned()
    }

    /// A text about several parts of a kind at once: `{{ name }}` prints all their names, or their kind and number
    /// where they are many; facts of their circuits are listed; all others are those of the first.
    #[must_use]
    pub fn joined(&self, parts: &[&Part<'_>], text: &str) -> String {
        self.context.text(&self.joined_facts(parts), text).trim().to_owned()
    }

    /// Safety messages about several parts of a kind at once.
    #[must_use]
    pub fn cautions(&self, parts: &[&Part<'_>], cautions: &[Caution]) -> Vec<CautionView> {
        CautionView::all(self.context, &self.joined_facts(parts), cautions)
    }

    fn joined_facts(&self, parts: &[&Part<'_>]) -> Facts {
        let Some(first) = parts.first() else { return Facts::new() };
        let mut facts = self.facts.get(first.id.as_str()).cloned().unwrap_or_default();
        facts.extend(self.listed(parts).into_iter().map(|(name, list)| (name.to_owned(), list)));
        facts
    }

    /// Texts that belong together, for parts of one kind: once where they are the same for all, else for each set of
    /// parts that shares them.
    #[must_use]
    pub fn tell(&self, parts: &[&Part<'_>], texts: &[&str]) -> Vec<Told> {
        let plain = self.group(parts, texts, &[]);
        if plain.len() < 2 {
            return plain;
        }
        let differing = POINTERS.iter().filter(|(name, _)| self.values(parts, name).len() > 1);
        let differing: Vec<_> = differing.map(|(name, words)| (*name, (*words).to_owned())).collect();
        let mut told = self.group(parts, texts, &differing);
        for group in &mut told {
            group.pointed = !plain.iter().any(|p| p.texts == group.texts);
        }
        told
    }

    /// As [`Teller::tell`], for a place without a table: what differs by circuit is listed in the text itself.
    #[must_use]
    pub fn tell_listed(&self, parts: &[&Part<'_>], texts: &[&str]) -> Vec<Told> {
        let plain = self.group(parts, texts, &[]);
        if plain.len() < 2 {
            return plain;
        }
        self.group(parts, texts, &self.listed(parts))
    }

    /// Facts that the circuits of `parts` do not share, as lists; and all their names.
    fn listed(&self, parts: &[&Part<'_>]) -> Vec<(&'static str, String)> {
        let differing = POINTERS.iter().map(|(name, _)| (*name, self.values(parts, name)));
        let list = |values: Vec<&str>| values.into_iter().filter(|v| !v.is_empty()).collect::<Vec<_>>().join(", ");
        let listed = differing.filter(|(_, values)| values.len() > 1).map(|(name, values)| (name, list(values)));
        let name = if parts.len() > 3 {
            format!("{}, {} of them", parts[0].kind.name, parts.len())
        } else {
            names(parts)
        };
        listed.chain([("name", name)]).collect()
    }

    fn group(&self, parts: &[&Part<'_>], texts: &[&str], pointers: &[(&str, String)]) -> Vec<Told> {
        let mut groups: IndexMap<Vec<String>, Vec<&Part<'_>>> = IndexMap::new();
        for part in parts {
            let Some(facts) = self.facts.get(part.id.as_str()) else { continue };
            let mut facts = facts.clone();
            for (name, pointer) in pointers {
                if facts.get(*name).is_some_and(|f| !f.is_empty()) {
                    facts.insert((*name).to_owned(), pointer.clone());
                }
            }
            let printed = texts.iter().map(|t| self.context.text(&facts, t).trim().to_owned());
            groups.entry(printed.collect()).or_default().push(part);
        }
        let all = groups.len() == 1;
        groups
            .into_iter()
            .filter(|(texts, _)| texts.iter().any(|t| !t.is_empty()))
            .map(|(texts, who)| Told { who: if all { String::new() } else { names(&who) }, texts, pointed: false })
            .collect()
    }

    /// The different values of a fact, in the order of the parts.
    fn values(&self, parts: &[&Part<'_>], fact: &str) -> Vec<&str> {
        let mut values = Vec::new();
        for part in parts {
            let value = self.fact(&part.id, fact);
            if !values.contains(&value) {
                values.push(value);
            }
        }
        values
    }
}

/// Names of parts: "a, b, c".
#[must_use]
pub fn names(parts: &[&Part<'_>]) -> String {
    parts.iter().map(|p| p.name.as_str()).collect::<Vec<_>>().join(", ")
}

/// Markdown of one line as plain text, for places that know no marks.
#[must_use]
pub fn plain(markdown: &str) -> String {
    // A word before it keeps "1. " or "#" at its start from being read as a block.
    let source = format!("x {markdown}");
    let mut text = String::new();
    for event in Parser::new(&source) {
        match event {
            Event::Text(t) | Event::Code(t) => text.push_str(&t),
            Event::SoftBreak | Event::HardBreak => text.push(' '),
            _ => {}
        }
    }
    text.strip_prefix("x ").unwrap_or(&text).to_owned()
}

/// A date for people: "14 May 2027".
#[must_use]
pub fn date_words(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// Working time for people: "45 min", "2 h", "1 h 30 min".
#[must_use]
pub fn time_words(minutes: u64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m} min"),
        (h, 0) => format!("{h} h"),
        (h, m) => format!("{h} h {m} min"),
    }
}

/// Whether the place of a part must not be printed: a hidden switch, or the master of a panel that is to be hidden.
#[must_use]
pub fn is_secret(build: &Build<'_>, part: &Part<'_>) -> bool {
    if part.role() == Some(Role::SwitchPanel) {
        return false;
    }
    let hidden = |field: &str| part.record.text(field) == Some("hidden");
    let is_master_of = |panel: &Part<'_>| {
        panel.record.text("master") == Some("hidden")
            && panel.record.list("master_switch").iter().any(|m| m.value == part.id)
    };
    hidden("guard") || hidden("master") || build.parts.values().any(is_master_of)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_text_has_no_marks_left() {
        assert_eq!(plain(r"Test the *loud* alarm \*A\* at `A1` & go"), "Test the loud alarm *A* at A1 & go");
        assert_eq!(plain("1. Switch off"), "1. Switch off");
        assert_eq!(plain(""), "");
    }

    #[test]
    fn times_and_dates_read_well() {
        assert_eq!([45, 120, 90].map(time_words), ["45 min", "2 h", "1 h 30 min"]);
        assert_eq!(date_words(jiff::civil::date(2027, 5, 4)), "4 May 2027");
    }
}
