//! The words of the documents of a build: the vocabulary of its rules.

use super::{Fault, Worked};
use crate::catalogue::Catalogue;
use crate::render::{Words, inline_markdown, markdown_text};
use crate::source::SourceFile;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

/// `templates/words.toml`: the vocabulary of each rule profile.
const REGISTER: &str = "words.toml";

/// The vocabulary of a rule profile.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Vocabulary {
    /// What is printed for phrases of our texts.
    say: BTreeMap<String, String>,
}

impl Vocabulary {
    /// The one of a rule profile.
    ///
    /// # Errors
    /// Where the register cannot be read or knows no such profile.
    fn of(catalogue: &Catalogue, rules: &str) -> Result<Self, Fault> {
        let all: Arc<BTreeMap<String, Self>> = catalogue
            .keep("words of the rules", |catalogue| catalogue.read(REGISTER))
            .map_err(|e: crate::catalogue::Fault| Fault::of("the words of the rules cannot be read", &e))?;
        let own = all.get(rules).cloned();
        own.ok_or_else(|| Fault::of(REGISTER, &format!("no words for the rules `{rules}`")))
    }

    /// Its words; what the spec and its shop say themselves stays.
    fn words(&self, file: &SourceFile) -> Words {
        let alone = Words::of(&self.say, Vec::new());
        let mut kept = Vec::new();
        for text in file.texts() {
            // A text that the reader recovered from is none here: what it says is lost to the documents too.
            let Ok(table) = text.parse::<toml::Table>() else { continue };
            table.values().for_each(|value| gather(value, &alone, &mut kept));
        }
        kept.sort();
        kept.dedup();
        Words::of(&self.say, kept)
    }
}

/// The words of a build, found once.
///
/// # Errors
/// Where the register does not hold together.
pub(super) fn of<'w>(worked: &'w Worked<'_>) -> Result<&'w Words, Fault> {
    if let Some(words) = worked.words.get() {
        return Ok(words);
    }
    let rules = worked.build.about.rules.text().unwrap_or("us");
    let words = Vocabulary::of(&worked.catalogue, rules)?.words(worked.source);
    Ok(worked.words.get_or_init(|| words))
}

/// The texts of a value that have a phrase of the vocabulary, as documents print them. Ids and choices are no texts.
fn gather(value: &toml::Value, words: &Words, kept: &mut Vec<String>) {
    match value {
        toml::Value::String(text) if is_prose(text) => {
            for line in text.lines().map(str::trim).filter(|line| words.are_in(line)) {
                kept.extend([line.to_owned(), markdown_text(line), inline_markdown(line)]);
            }
        }
        toml::Value::Array(all) => all.iter().for_each(|value| gather(value, words, kept)),
        toml::Value::Table(all) => all.values().for_each(|value| gather(value, words, kept)),
        _ => {}
    }
}

/// Whether a person wrote it for people: an id or a choice is one small word.
fn is_prose(text: &str) -> bool {
    text.contains(char::is_whitespace) || text.contains(char::is_uppercase)
}
