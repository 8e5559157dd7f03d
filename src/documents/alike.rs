//! Texts of several parts of one kind, told once: shared by the owner's manual and the calendar.
//!
//! What differs by circuit alone (way, fuse, place …) is told of each part by its name, or of many by the list beside it.

use super::fact_book::FactBook;
use super::facts::{BY_NUMBER, Facts, SWITCHED};
use super::{CautionView, Context};
use crate::build::Part;
use crate::kinds::{Caution, UpkeepTemplate};
use indexmap::{IndexMap, IndexSet};
use jiff::civil::Date;
use pulldown_cmark::{Event, Parser};
use std::borrow::Cow;

/// Facts that the list beside the text shows for each part, and what stands for them until the parts of a text are known.
const POINTERS: &[(&str, &str)] = &[
    ("way", "N"),
    ("fuse", "the fuse in the table"),
    ("panel", "its panel"),
    ("fed_from", "its panel"),
    // Texts leave out a place that is "": the table has it.
    ("place", ""),
    ("load_current", "the current in the table"),
];

/// What differs is told by the names of this many parts; of more, where their list has it.
const NAMED: usize = 6;

/// What stands for a fact, the fact of one part, and what points to the list of many.
type Stands<'f> = (&'f str, &'f dyn Fn(&Part<'_>) -> String, &'f str);

/// Prints texts with the facts of parts.
pub(crate) struct Teller<'a> {
    context: &'a Context<'a>,
    facts: &'a FactBook,
}

/// A text or a group of texts that belong together, and the parts it is about.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Told {
    /// Names of the parts; "" where it is about all of them.
    pub who: String,
    /// The texts as Markdown, in the order given; "" for one that does not apply.
    pub texts: Vec<String>,
    /// A text points to the list of its parts.
    pub pointed: bool,
}

impl Told {
    /// The texts that apply.
    #[must_use]
    pub(crate) fn kept(self) -> Vec<String> {
        self.texts.into_iter().filter(|t| !t.is_empty()).collect()
    }
}

impl<'a> Teller<'a> {
    /// With the facts of all parts as the owner is told them.
    #[must_use]
    pub(crate) const fn new(context: &'a Context<'a>) -> Self {
        Self { context, facts: context.said }
    }

    /// What the document is made from.
    #[must_use]
    pub(crate) const fn context(&self) -> &'a Context<'a> {
        self.context
    }

    /// A fact of a part; "" where there is none.
    #[must_use]
    pub(crate) fn fact(&self, part: &str, name: &str) -> &str {
        self.facts.get(part).and_then(|f| f.get(name)).map_or("", String::as_str)
    }

    /// Where a part stands, for people. The place of a hidden part is told on a leaf of its own.
    #[must_use]
    pub(crate) fn place(&self, part: &Part<'_>) -> String {
        if part.confidential {
            return "told on the private leaf of the binder".to_owned();
        }
        let place = self.fact(&part.id, "place");
        // A way out is looked for on its side of the van, whatever the box is called that it stands by.
        let side = part.roles.escape_route.as_ref().map(|exit| &exit.side).filter(|side| side.given);
        let side = side.and_then(|side| side.text()).filter(|side| !place.to_lowercase().contains(side));
        match side {
            Some(side @ ("left" | "right")) => format!("{place}, on the {side}"),
            Some("roof") => format!("{place}, through the roof"),
            Some(side) => format!("{place}, at the {side}"),
            None => place.to_owned(),
        }
    }

    /// Where parts stand, each place once.
    #[must_use]
    pub(crate) fn places(&self, parts: &[&Part<'_>]) -> String {
        each_once(parts.iter().map(|p| self.place(p)))
    }

    /// Where a piece of upkeep of a part is done.
    #[must_use]
    pub(crate) fn place_of(&self, part: &Part<'_>, template: &UpkeepTemplate) -> String {
        let build = self.context.build;
        let own = template.own.as_ref().and_then(|own| own.place.as_ref()).filter(|_| !part.confidential);
        own.map_or_else(|| self.place(part), |place| build.place_name(place))
    }

    /// Where a piece of upkeep of parts is done, each place once.
    #[must_use]
    pub(crate) fn places_of(&self, parts: &[&Part<'_>], template: &UpkeepTemplate) -> String {
        each_once(parts.iter().map(|p| self.place_of(p, template)))
    }

    /// A text with the facts of one part.
    #[must_use]
    pub(crate) fn one(&self, part: &str, text: &str) -> String {
        self.facts.get(part).map_or_else(String::new, |f| self.print(f, text))
    }

    /// A text about several parts of a kind at once: `{{ name }}` prints all their names, or their kind and number
    /// where they are many; facts of their circuits are listed. Where they differ in anything else, one text after the
    /// other.
    #[must_use]
    pub(crate) fn joined(&self, parts: &[&Part<'_>], text: &str) -> String {
        let first = |mut told: Vec<Told>| told.pop().and_then(|t| t.texts.into_iter().next()).unwrap_or_default();
        let told = self.tell_listed(parts, &[text]);
        if told.len() < 2 {
            return first(told);
        }
        if text.ends_with('.') {
            let each = told.iter().map(|t| format!("{}: {}", t.who, t.texts.concat()));
            return each.collect::<Vec<_>>().join(" ");
        }
        each_once(parts.iter().map(|p| self.one(&p.id, text)))
    }

    /// All facts of a part; "" stands for its place where that is secret.
    pub(crate) fn facts_of(&self, part: &str) -> impl Iterator<Item = (&String, &String)> {
        self.facts.get(part).into_iter().flatten()
    }

    /// A text with facts that are not those of a part.
    #[must_use]
    pub(crate) fn with(&self, facts: &Facts, text: &str) -> String {
        self.print(facts, text)
    }

    fn print(&self, facts: &Facts, text: &str) -> String {
        self.context.text(facts, text).trim().to_owned()
    }

    /// Safety messages about several parts of a kind at once; where they differ, each with the parts it is about.
    #[must_use]
    pub(crate) fn cautions(&self, parts: &[&Part<'_>], cautions: &[Caution]) -> Vec<CautionView> {
        let view = |c: &Caution| {
            let told = self.tell_listed(parts, &[&c.hazard, &c.consequence, &c.avoid]);
            let signal = c.signal.title();
            let one = move |told: Told| {
                let mut texts = told.texts.into_iter();
                let [hazard, consequence, avoid] = [(); 3].map(|()| texts.next().unwrap_or_default());
                let hazard = if told.who.is_empty() { hazard } else { format!("{}: {hazard}", told.who) };
                CautionView { signal, hazard, consequence, avoid }
            };
            // A message about what these parts have not says nothing.
            told.into_iter().filter(|t| t.texts.first().is_some_and(|h| !h.is_empty())).map(one).collect::<Vec<_>>()
        };
        cautions.iter().flat_map(view).collect()
    }

    /// Texts that belong together, for parts of one kind: once where they are the same for all, else for each set of
    /// parts that shares them.
    #[must_use]
    pub(crate) fn tell(&self, parts: &[&Part<'_>], texts: &[&str]) -> Vec<Told> {
        let plain = self.group(parts, texts, &[]);
        if plain.len() < 2 {
            return plain;
        }
        let differs = |name: &str| self.values(parts, name).len() > 1;
        // Way and panel stand together in the texts: where one differs, both are told of each part.
        let differing = POINTERS.iter().filter(|(name, _)| match *name {
            "way" | "panel" => differs("way") || differs("panel"),
            name => differs(name),
        });
        let mut differing: Vec<_> = differing.map(|(name, words)| (*name, (*words).to_owned())).collect();
        differing.extend(SWITCHED.iter().filter(|name| differs(name)).map(|name| (*name, String::new())));
        self.group(parts, texts, &differing)
    }

    /// As [`Teller::tell`], for a place without a table: what differs by circuit is listed in the text itself.
    #[must_use]
    pub(crate) fn tell_listed(&self, parts: &[&Part<'_>], texts: &[&str]) -> Vec<Told> {
        let plain = self.group(parts, texts, &[]);
        if plain.len() < 2 {
            return plain;
        }
        self.group(parts, texts, &self.listed(parts))
    }

    /// Facts that the circuits of `parts` do not share, as lists; and all their names.
    fn listed(&self, parts: &[&Part<'_>]) -> Vec<(&'static str, String)> {
        let differing = POINTERS.iter().map(|(name, _)| (*name, self.values(parts, name)));
        let list = |values: Vec<&str>| values.into_iter().filter(|v| !v.is_empty()).collect::<Vec<_>>().join(" / ");
        let listed = differing.filter(|(_, values)| values.len() > 1).map(|(name, values)| (name, list(values)));
        let name =
            if parts.len() > 3 { format!("{}, {} of them", parts[0].kind.name, parts.len()) } else { names(parts) };
        let switched = SWITCHED.iter().filter(|name| self.values(parts, name).len() > 1);
        let switched = switched.map(|name| (*name, self.switched(parts, name)));
        listed.chain([("name", name)]).chain(switched.collect::<Vec<_>>()).collect()
    }

    /// How parts are switched, as one: "Pull the fuse of way 3 / 7 in House panel" where they differ by way and panel
    /// alone, else one after the other.
    fn switched(&self, parts: &[&Part<'_>], name: &str) -> String {
        let list = |name: &str| self.values(parts, name).into_iter().filter(|v| !v.is_empty()).collect::<Vec<_>>();
        match self.values(parts, &format!("{name}{BY_NUMBER}")).as_slice() {
            [one] if one.contains(" way N ") => one
                .replace(" way N ", &format!(" way {} ", list("way").join(" / ")))
                .replace("its panel", &list("panel").join(" / ")),
            _ => list(name).join(" / "),
        }
    }

    fn group(&self, parts: &[&Part<'_>], texts: &[&str], pointers: &[(&str, String)]) -> Vec<Told> {
        let mut groups: IndexMap<Vec<String>, Vec<&Part<'_>>> = IndexMap::new();
        for part in parts {
            let Some(facts) = self.facts.get(&part.id) else { continue };
            let mut facts = Cow::Borrowed(facts);
            for (name, pointer) in pointers {
                if facts.get(*name).is_none_or(String::is_empty) {
                    continue;
                }
                // How a part is switched is told of any number; an empty pointer stands for that.
                let by_number = || facts.get(&format!("{name}{BY_NUMBER}")).cloned();
                let by_number = if pointer.is_empty() { by_number() } else { None };
                let pointer = by_number.unwrap_or_else(|| pointer.clone());
                facts.to_mut().insert((*name).to_owned(), pointer);
            }
            let printed = texts.iter().map(|t| self.print(&facts, t));
            groups.entry(printed.collect()).or_default().push(part);
        }
        let all = groups.len() == 1;
        groups
            .into_iter()
            .filter(|(texts, _)| texts.iter().any(|t| !t.is_empty()))
            .map(|(texts, who)| {
                let spelled: Vec<String> = texts.iter().map(|text| self.spelled(text, &who)).collect();
                let pointed = who.len() > NAMED && spelled != texts;
                Told { who: if all { String::new() } else { names(&who) }, texts: spelled, pointed }
            })
            .collect()
    }

    /// A text with what stands for the facts of its parts: a few are told by name, of many the list is pointed to.
    fn spelled(&self, text: &str, parts: &[&Part<'_>]) -> String {
        let fact = |part: &Part<'_>, name: &str| self.fact(&part.id, name).to_owned();
        let way = |part: &Part<'_>| format!("way {} in {}", fact(part, "way"), fact(part, "panel"));
        let fused = |part: &Part<'_>| format!("{}: {}", way(part), fact(part, "fuse"));
        let told: [Stands<'_>; 6] = [
            ("way N in its panel: the fuse in the table", &fused, "the way and fuse listed with it"),
            ("way N in its panel", &way, "the way listed with it"),
            ("way N", &|part| format!("way {}", fact(part, "way")), "the way listed with it"),
            ("the fuse in the table", &|part| fact(part, "fuse"), "the fuse listed with it"),
            ("the current in the table", &|part| fact(part, "load_current"), "the current listed with it"),
            ("its panel", &|part| fact(part, "panel"), "the panel listed with it"),
        ];
        let mut text = text.to_owned();
        for (stands, of, many) in told {
            if !text.contains(stands) {
                continue;
            }
            let mut values: IndexMap<String, Vec<&str>> = IndexMap::new();
            for part in parts {
                values.entry(of(part)).or_default().push(&part.name);
            }
            let words = match values.len() {
                1 => values.into_keys().next().unwrap_or_default(),
                _ if parts.len() > NAMED => many.to_owned(),
                _ => {
                    let each = values.into_iter().map(|(value, names)| format!("{value} ({})", names.join("; ")));
                    each.collect::<Vec<_>>().join(" / ")
                }
            };
            let words = Facts::from([("told".to_owned(), words)]);
            text = text.replace(stands, &self.print(&words, "{{ told }}"));
        }
        text
    }

    /// The different values of a fact, in the order of the parts.
    fn values(&self, parts: &[&Part<'_>], fact: &str) -> Vec<&str> {
        parts.iter().map(|part| self.fact(&part.id, fact)).collect::<IndexSet<_>>().into_iter().collect()
    }
}

/// Texts, each once and none that is empty.
fn each_once(texts: impl Iterator<Item = String>) -> String {
    texts.filter(|text| !text.is_empty()).collect::<IndexSet<_>>().into_iter().collect::<Vec<_>>().join("; ")
}

/// Names of parts: "a, b, c"; with semicolons where a name holds a comma.
#[must_use]
pub(crate) fn names(parts: &[&Part<'_>]) -> String {
    let between = if parts.iter().any(|p| p.name.contains(',')) { "; " } else { ", " };
    parts.iter().map(|p| p.name.as_str()).collect::<Vec<_>>().join(between)
}

/// Kind texts speak of "way {{ way }} in {{ panel }}". A part that is fed from a busbar has none: then it is its supply.
#[must_use]
pub(crate) fn for_no_way<'t>(text: &'t str, facts: &Facts) -> Cow<'t, str> {
    const WORDS: &[(&str, &str)] = &[
        ("breaker {{ way }} in {{ panel }}", "its breaker"),
        ("way {{ way }} in {{ panel }}", "its supply"),
        ("way {{ way }}", "its supply"),
    ];
    if !text.contains("{{ way }}") || facts.get("way").is_none_or(|w| !w.is_empty()) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(WORDS.iter().fold(text.to_owned(), |text, (from, to)| text.replace(from, to)))
}

/// Texts say what a thing is and then its name; where that is the same word twice, once is enough:
/// "the smoke alarm Smoke alarm" → "the smoke alarm".
#[must_use]
pub(crate) fn undoubled(text: &str, facts: &Facts) -> String {
    let mut text = text.to_owned();
    for fact in ["name", "main_disconnect", "house_panel", "lpg"] {
        let Some(name) = facts.get(fact).filter(|n| n.starts_with(char::is_uppercase)) else { continue };
        if !text.contains(name.as_str()) {
            continue;
        }
        let small = name.to_lowercase();
        text = text.replace(&format!("{small} {name}"), &small);
    }
    text
}

/// Markdown of one line as plain text, for places that know no marks.
#[must_use]
pub(crate) fn plain(markdown: &str) -> String {
    // A word before it keeps "1. " or "#" at its start from being read as a block; a stop after it keeps its blanks.
    let source = format!("x {markdown}.");
    let mut text = String::new();
    for event in Parser::new(&source) {
        match event {
            Event::Text(t) | Event::Code(t) => text.push_str(&t),
            Event::SoftBreak | Event::HardBreak => text.push(' '),
            _ => {}
        }
    }
    text.strip_prefix("x ").and_then(|t| t.strip_suffix('.')).unwrap_or(&text).to_owned()
}

/// A date for people: "14 May 2027".
#[must_use]
pub(crate) fn date_words(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// Working time for people: "45 min", "2 h", "1 h 30 min".
#[must_use]
pub(crate) fn time_words(minutes: u64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m} min"),
        (h, 0) => format!("{h} h"),
        (h, m) => format!("{h} h {m} min"),
    }
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
    fn a_part_without_a_way_has_a_supply() {
        let facts = |way: &str| Facts::from([("way".to_owned(), way.to_owned())]);
        let text = "Check way {{ way }} in {{ panel }}. Look at way {{ way }}.";
        assert_eq!(for_no_way(text, &facts("3")), text);
        assert_eq!(for_no_way(text, &facts("")), "Check its supply. Look at its supply.");
    }

    #[test]
    fn a_word_and_the_same_name_print_once() {
        let facts = Facts::from([
            ("name".to_owned(), "Smoke alarm".to_owned()),
            ("main_disconnect".to_owned(), "Red switch".to_owned()),
        ]);
        assert_eq!(undoubled("Test the smoke alarm Smoke alarm.", &facts), "Test the smoke alarm.");
        assert_eq!(
            undoubled("Smoke alarm: turn the red switch Red switch off.", &facts),
            "Smoke alarm: turn the red switch off."
        );
        assert_eq!(undoubled("the main disconnect Red switch", &facts), "the main disconnect Red switch");
    }

    #[test]
    fn times_and_dates_read_well() {
        assert_eq!([45, 120, 90].map(time_words), ["45 min", "2 h", "1 h 30 min"]);
        assert_eq!(date_words(jiff::civil::date(2027, 5, 4)), "4 May 2027");
    }
}
