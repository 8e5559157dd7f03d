//! Which kinds a word means that is the id of none: by the words of their ids, names, summaries and `also`.

use super::{Catalogue, Text};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;
use std::sync::Arc;

/// A kind that a word may mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meant {
    /// Its id.
    pub id: String,
    /// What it is: the first sentence of its summary, without the stop.
    pub what: String,
    /// People call it so, letter by letter.
    pub exactly: bool,
}

/// The most kinds that are worth telling of.
const MOST: usize = 4;

/// Longer questions, in bytes and in words, are no names of things.
const LONGEST: usize = 80;
const MOST_WORDS: usize = 8;

/// What can be said of a kind before its first table.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Head {
    name: String,
    summary: String,
    also: Vec<String>,
    like: Option<String>,
}

/// A word as it is compared.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Word {
    /// In the singular and in British spelling.
    plain: String,
    /// Without the ending that makes a doer or a doing of it: "heater" and "heating" are about the same.
    stem: String,
}

/// One name of a thing.
#[derive(Debug, Default)]
struct Phrase {
    /// Places of its words among all there are.
    words: Vec<usize>,
    /// Its words as one, since "rooflight" and "roof light" are the same.
    joined: String,
}

#[derive(Debug)]
struct Said {
    id: String,
    what: String,
    phrases: Vec<Phrase>,
    /// Words of the summary.
    told: Vec<usize>,
}

/// The words of all kinds of a catalogue.
#[derive(Debug, Default)]
struct Words {
    kinds: Vec<Said>,
    /// All words there are.
    all: Vec<Word>,
    /// How much each of them says: the fewer kinds it stands in, the more.
    weights: Vec<f64>,
}

/// A question: its words, what each says, and how alike it is to each word there is.
struct Asked {
    joined: String,
    words: Vec<(f64, Vec<f64>)>,
    /// The last word of a name is the thing, those before it tell which.
    thing: String,
}

impl Catalogue {
    /// The kinds that `word` may mean, the likeliest first; four at most, none where nothing speaks for any.
    #[must_use]
    pub fn meant(&self, word: &str) -> Vec<Meant> {
        if word.len() > LONGEST {
            return Vec::new();
        }
        let words: Result<Arc<Words>, Infallible> = self.keep("words of kinds", |catalogue| Ok(Words::of(catalogue)));
        words.map_or_else(|never| match never {}, |words| words.meant(word))
    }
}

impl Words {
    fn of(catalogue: &Catalogue) -> Self {
        let texts = catalogue.folder("kinds", "toml");
        let mut heads: BTreeMap<&str, Head> = BTreeMap::new();
        for Text { stem, text, .. } in &texts {
            // No kind takes the place of one before it.
            heads.entry(stem).or_insert_with(|| head(text));
        }
        let mut own = Self::default();
        let mut places: BTreeMap<String, usize> = BTreeMap::new();
        for Text { stem: id, .. } in &texts {
            if own.kinds.iter().any(|said| said.id == *id) {
                continue;
            }
            let Some(head) = heads.get(id) else { continue };
            // One that is like another is called what that one is called, too.
            let other = head.like.as_ref().and_then(|like| heads.get(like.as_str()));
            let summary = match other {
                Some(other) if head.summary.is_empty() => &other.summary,
                _ => &head.summary,
            };
            let names = [(*id).to_owned(), head.name.clone()].into_iter().chain(head.also.iter().cloned());
            let names = names.chain(other.into_iter().flat_map(|other| other.also.iter().cloned()));
            let phrases = names.map(|name| own.phrase(&name, &mut places)).filter(|p| !p.words.is_empty()).collect();
            let told = own.phrase(summary, &mut places).words;
            own.kinds.push(Said { id: (*id).to_owned(), what: first_sentence(summary), phrases, told });
        }
        let mut among = vec![0_u32; own.all.len()];
        for kind in &own.kinds {
            let all: BTreeSet<usize> = kind.phrases.iter().flat_map(|p| &p.words).chain(&kind.told).copied().collect();
            for place in all {
                among[place] += 1;
            }
        }
        own.weights = own.all.iter().zip(&among).map(|(word, among)| own.weight(word, *among)).collect();
        own
    }

    /// A name of which the words are put among all there are.
    fn phrase(&mut self, text: &str, places: &mut BTreeMap<String, usize>) -> Phrase {
        let mut phrase = Phrase::default();
        for word in words(text) {
            phrase.joined.push_str(&word.plain);
            let place = *places.entry(word.plain.clone()).or_insert_with(|| {
                self.all.push(word);
                self.all.len() - 1
            });
            phrase.words.push(place);
        }
        phrase
    }

    fn meant(&self, text: &str) -> Vec<Meant> {
        let words = words(text);
        let Some(thing) = words.last().map(|word| word.stem.clone()) else { return Vec::new() };
        let joined: String = words.iter().map(|word| word.plain.as_str()).collect();
        let known = |word: &Word| {
            let there = self.all.iter().position(|other| other.stem == word.stem);
            // A word that no kind knows is half a name of something.
            there.map_or_else(|| self.weight(word, 12), |place| self.weights[place])
        };
        let to_all = |word: &Word| self.all.iter().map(|other| alike(word, other)).collect();
        let words = words.iter().take(MOST_WORDS).map(|word| (known(word), to_all(word))).collect();
        let asked = Asked { joined, words, thing };
        let mut found: Vec<(f64, &Said)> = self.kinds.iter().map(|kind| (self.speaks(kind, &asked), kind)).collect();
        // The order of the catalogue decides between equals.
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        let best = found.first().map_or(0.0, |(speaks, _)| *speaks);
        let near = found.into_iter().filter(|(speaks, _)| *speaks >= 0.45 && *speaks >= 0.7 * best).take(MOST);
        let meant = |(_, kind): (f64, &Said)| Meant {
            id: kind.id.clone(),
            what: kind.what.clone(),
            exactly: kind.phrases.iter().any(|p| p.joined == asked.joined),
        };
        near.map(meant).collect()
    }

    /// How much speaks for a kind: 1 and more where it is called so.
    fn speaks(&self, kind: &Said, asked: &Asked) -> f64 {
        let by_name = kind.phrases.iter().map(|phrase| self.fits(phrase, asked)).fold(0.0, f64::max);
        // What one name does not say, another or the summary may.
        let names = || kind.phrases.iter().flat_map(|p| &p.words).map(|place| (*place, 1.0));
        let by_words = asked.covered(|| names().chain(kind.told.iter().map(|place| (*place, 0.5))));
        0.7 * by_name + 0.3 * by_words
    }

    /// How well a name fits: what is asked must stand in it, and the better the less else does.
    fn fits(&self, phrase: &Phrase, asked: &Asked) -> f64 {
        if phrase.joined == asked.joined {
            return 1.2;
        }
        let said = asked.covered(|| phrase.words.iter().map(|place| (*place, 1.0)));
        if said == 0.0 {
            return 0.0;
        }
        let (mut all, mut there) = (0.0, 0.0);
        for place in &phrase.words {
            all += self.weights[*place];
            there += self.weights[*place] * asked.words.iter().map(|(_, alike)| alike[*place]).fold(0.0, f64::max);
        }
        let thing = phrase.words.last().is_some_and(|place| self.all[*place].stem == asked.thing);
        0.6 * said + 0.3 * there / all + if thing { 0.1 } else { 0.0 }
    }

    /// How much a word says that stands in so many kinds.
    fn weight(&self, word: &Word, among: u32) -> f64 {
        // A voltage or a size says little of what a thing is.
        if word.plain.len() < 2 || word.plain.starts_with(|c: char| c.is_ascii_digit()) {
            return 0.3;
        }
        let kinds = u32::try_from(self.kinds.len()).unwrap_or(u32::MAX);
        (1.0 + f64::from(kinds) / f64::from(among.max(1))).ln()
    }
}

impl Asked {
    /// Which share of what is asked stands among words, which count as they say; what says more counts more.
    fn covered<I: Iterator<Item = (usize, f64)>>(&self, words: impl Fn() -> I) -> f64 {
        let (mut all, mut there) = (0.0, 0.0);
        for (weight, alike) in &self.words {
            all += weight;
            there += weight * words().map(|(place, counts)| counts * alike[place]).fold(0.0, f64::max);
        }
        if all > 0.0 { there / all } else { 0.0 }
    }
}

/// What stands before the first table of a kind's file; of a file that does not read, nothing.
fn head(text: &str) -> Head {
    let end = text.match_indices('\n').find(|(at, _)| text[at + 1..].starts_with('[')).map_or(text.len(), |(at, _)| at);
    toml::from_str(text.get(..end).unwrap_or_default()).unwrap_or_default()
}

fn first_sentence(text: &str) -> String {
    let first = text.split_once(". ").map_or(text, |(first, _)| first);
    first.trim().trim_end_matches('.').to_owned()
}

/// How alike two words are: 1 the same, 0 not at all.
fn alike(a: &Word, b: &Word) -> f64 {
    if a.plain == b.plain {
        return 1.0;
    }
    if a.stem == b.stem {
        return 0.85;
    }
    let shorter = a.plain.len().min(b.plain.len());
    if shorter >= 4 && (a.plain.starts_with(&b.plain) || b.plain.starts_with(&a.plain)) {
        return 0.7;
    }
    let slips = match shorter {
        0..=4 => return 0.0,
        5..=7 => 1,
        _ => 2,
    };
    // What differs in length by more differs by more slips, and people rarely slip on the first letter.
    if a.plain.as_bytes().first() != b.plain.as_bytes().first() {
        return 0.0;
    }
    if a.plain.len().abs_diff(b.plain.len()) > slips || strsim::damerau_levenshtein(&a.plain, &b.plain) > slips {
        return 0.0;
    }
    0.75
}

/// The words of a text that say something.
fn words(text: &str) -> Vec<Word> {
    const EMPTY: &[&str] = &[
        "a", "an", "and", "at", "by", "for", "from", "in", "its", "my", "new", "of", "on", "or", "own", "that", "the",
        "to", "with",
    ];
    let lower = text.to_lowercase();
    let all: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    let some: Vec<&str> = all.iter().copied().filter(|w| !EMPTY.contains(w)).collect();
    let kept = if some.is_empty() { all } else { some };
    kept.into_iter().map(Word::of).collect()
}

impl Word {
    fn of(word: &str) -> Self {
        let plain = british(&singular(word));
        let stem = stem(&plain);
        Self { plain, stem }
    }
}

fn singular(word: &str) -> String {
    let long = word.len() > 3;
    if let Some(start) = word.strip_suffix("ies").filter(|start| start.len() > 2) {
        return format!("{start}y");
    }
    if let Some(start) = word.strip_suffix("es").filter(|s| ["s", "x", "z", "ch", "sh"].iter().any(|e| s.ends_with(e)))
        && (start.ends_with("ss") || !start.ends_with('s'))
    {
        return start.to_owned();
    }
    match word.strip_suffix('s') {
        Some(start) if long && !["s", "u", "i"].iter().any(|end| start.ends_with(end)) => start.to_owned(),
        _ => word.to_owned(),
    }
}

/// One spelling of words that have two.
fn british(word: &str) -> String {
    match word {
        "tire" => return "tyre".to_owned(),
        "gray" => return "grey".to_owned(),
        "mold" => return "mould".to_owned(),
        "aluminum" => return "aluminium".to_owned(),
        "center" => return "centre".to_owned(),
        "12v" => return "12".to_owned(),
        _ => {}
    }
    let word = word.replace("izing", "ising").replace("ized", "ised").replace("izer", "iser");
    word.replace("ization", "isation")
        .replace("color", "colour")
        .replace("vapor", "vapour")
        .replace("vapouur", "vapour")
}

/// What stays without an ending; a double consonant before it becomes one.
fn stem(word: &str) -> String {
    let cut = ["isation", "ation", "ing", "ers", "er", "or", "ed"]
        .iter()
        .find_map(|ending| word.strip_suffix(ending).filter(|start| start.chars().count() >= 3));
    let Some(start) = cut else {
        return word.strip_suffix('e').filter(|start| start.chars().count() >= 4).unwrap_or(word).to_owned();
    };
    let mut letters = start.chars().rev();
    match (letters.next(), letters.next()) {
        (Some(last), Some(before)) if last == before && !matches!(last, 'l' | 's') => {
            start[..start.len() - last.len_utf8()].to_owned()
        }
        _ => start.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_compared_without_number_spelling_and_ending() {
        let plain = |word: &str| Word::of(word).plain;
        for (many, one) in [
            ("batteries", "battery"),
            ("switches", "switch"),
            ("boxes", "box"),
            ("hoses", "hose"),
            ("tires", "tyre"),
            ("gas", "gas"),
            ("glass", "glass"),
            ("gray", "grey"),
            ("winterizing", "winterising"),
            ("colors", "colour"),
            ("colours", "colour"),
        ] {
            assert_eq!(plain(many), plain(one), "{many}");
        }
        let stem = |word: &str| Word::of(word).stem;
        for (one, other) in
            [("heating", "heater"), ("charging", "charger"), ("fitting", "fitted"), ("boiler", "boiling")]
        {
            assert_eq!(stem(one), stem(other), "{one}");
        }
        assert_ne!(stem("tape"), stem("tap"));
    }

    #[test]
    fn what_stands_behind_the_first_table_and_what_does_not_read_is_left_out() {
        let of = head("name = \"A\"\nalso = [\n  \"b\",\n]\nsystem = \"body\"\n\n[owner]\nalso = [\"c\"]\n");
        assert_eq!((of.name.as_str(), of.also.as_slice()), ("A", &["b".to_owned()][..]));
        assert!(head("name = 2\nalso = \"x\"\n").also.is_empty());
        assert!(head("").name.is_empty());
    }

    #[test]
    fn nothing_is_found_for_what_says_nothing() {
        let catalogue = Catalogue::built_in();
        for word in ["", " - ", "xyzzy", "ß", "{{ name }}", &"hatch ".repeat(40)] {
            let meant = catalogue.meant(word);
            assert!(meant.is_empty(), "{word}: {meant:?}");
        }
    }
}
