//! `shop.toml`: the page of a shop about itself.

use super::model::Page;
use super::record::Reader;
use super::sections::Language;
use super::stock::{Shelf, Source};
use super::suggest::meant;
use super::whole::Whole;
use crate::diag::{Finding, Sink};
use crate::fields::{Entry, KindFields, Record, Value};
use crate::source::{SourceFile, Spanned};
use indexmap::IndexMap;

/// Fields of `[build]` that a shop's page stands in for.
const STANDS_IN: [&str; 3] = ["prints", "rules", "paper"];

/// Whether a shop's page stands in for this field of `[build]`.
#[must_use]
pub fn of_shop(field: &str) -> bool {
    STANDS_IN.contains(&field)
}

/// Reads the page; faults go to `sink`.
pub(super) fn read(
    file: &SourceFile,
    source: &Source,
    language: &Language,
    known: &KindFields,
    shelf: &Shelf,
    sink: &mut Sink,
) -> Page {
    let (language, none, mut damage) = (language.of_shop(), KindFields::default(), source.damage.clone());
    let reader = Reader::of(file, &language, &shelf.pictures, sink);
    let page = Whole { reader, table: &source.table, known: &none, shelf, damage: &mut damage }.page();
    for (kind, name) in page.words.iter().filter(|(kind, _)| !known.kinds.contains_key(*kind)) {
        let finding = Finding::error("unknown-kind", format!("words: there is no kind \"{kind}\""));
        let finding = finding.at(name.span, "its name");
        let finding = match meant(sink, kind, known).0 {
            Some(words) => finding.help(words),
            None => finding,
        };
        sink.push(finding.help("`rigbinder kinds` lists them all"));
    }
    if let Some(entry) = page.shop.get("accent") {
        let colour = page.shop.text("accent").unwrap_or_default();
        if let Some(why) = colour_fault(colour) {
            let finding =
                Finding::error("accent-unusable", format!("shop: `accent` {why}")).at(entry.span, "this colour");
            sink.push(finding.help("write it like \"#1f5a7a\""));
        }
    }
    page
}

/// What is wrong with an accent colour: heads are printed in it, on white, and must be read. WCAG 2.1, 1.4.3 asks for a
/// contrast of 4.5 : 1.
fn colour_fault(colour: &str) -> Option<String> {
    let digits = colour.strip_prefix('#').filter(|d| d.len() == 6 && d.bytes().all(|b| b.is_ascii_hexdigit()));
    let Some(digits) = digits else { return Some(format!("= \"{colour}\" is no colour of six digits")) };
    let contrast = 1.05 / (luminance(digits) + 0.05);
    (contrast < 4.5).then(|| format!("has a contrast of {contrast:.1} to white; 4.5 can be read"))
}

/// Relative luminance of six hexadecimal digits, as WCAG 2.1 defines it.
fn luminance(digits: &str) -> f64 {
    let linear = |at: usize| {
        let share = f64::from(u8::from_str_radix(&digits[at..at + 2], 16).unwrap_or(255)) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(0) + 0.7152 * linear(2) + 0.0722 * linear(4)
}

impl Page {
    /// What a spec does not say of paper, units and rules, who builds, and what the work takes.
    pub(super) fn stand_in(&self, build: &mut Record, times: &mut Record) {
        let mut put = |field: &str, entry: &Entry| {
            if !build.gave(field) && !build.faulty.contains(field) {
                build.fields.insert(field.to_owned(), entry.clone());
            }
        };
        for field in STANDS_IN {
            if let Some(entry) = self.shop.get(field).filter(|entry| entry.given) {
                put(field, entry);
            }
        }
        if let Some(entry) = self.shop.get("name") {
            put("shop", entry);
        }
        for (field, entry) in self.times.fields.iter().filter(|(_, entry)| entry.given) {
            if !times.gave(field) && !times.faulty.contains(field) {
                times.fields.insert(field.clone(), entry.clone());
            }
        }
    }

    /// Whom to call where a spec does not say: the shop, by each of its telephones.
    pub(super) fn contacts(&self) -> IndexMap<String, Record> {
        let named = self.shop.get("name").map(|entry| ("name", entry.clone()));
        let contact = |(at, phone): (usize, &Spanned<String>)| {
            let entry = |text: &str| Entry {
                value: Value::Text(text.to_owned()),
                span: phone.span,
                given: true,
                tells_place: false,
            };
            let fields = [("role", entry("Builder")), ("phone", entry(&phone.value))].into_iter().chain(named.clone());
            let fields = fields.map(|(field, entry)| (field.to_owned(), entry)).collect();
            let id = if at == 0 { "shop".to_owned() } else { format!("shop-{}", at + 1) };
            (id, Record { fields, span: phone.span, ..Record::default() })
        };
        self.shop.list("telephones").iter().enumerate().map(contact).collect()
    }

    /// A text of `[texts]`, "" where it is not given.
    #[must_use]
    pub fn text(&self, name: &str) -> &str {
        self.texts.text(name).unwrap_or("")
    }

    /// What the shop calls a thing of this kind.
    #[must_use]
    pub fn word(&self, kind: &str) -> Option<&str> {
        self.words.get(kind).map(|word| word.value.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrasts to white that `WebAIM` and the WCAG examples print: black 21, `#767676` 4.54 (the lightest grey that passes),
    /// `#777777` 4.48; from memory.
    #[test]
    fn colours_are_dark_enough_to_be_read() {
        assert!((1.05 / (luminance("000000") + 0.05) - 21.0).abs() < 1e-9);
        assert_eq!(colour_fault("#767676"), None);
        assert!(colour_fault("#777777").expect("too light").contains("4.5 to white"));
        assert_eq!(colour_fault("#1F5A7A"), None);
        for bad in ["", "1f5a7a", "#1f5a7", "#1f5a7ag", "#1f5a7é", "red", "#ffffff"] {
            assert!(colour_fault(bad).is_some(), "{bad}");
        }
    }
}
