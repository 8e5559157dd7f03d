//! The words of the rules: a van under US rules has a hood, tires and grounds, one under European rules bonnet, tyres and
//! earth. The pairs are those of everyday usage on both sides (common practice, no source).

use crate::harness::{demos, root, sheets, stem};
use rigbinder::pipeline;

/// Words that a van under these rules has not.
const FOREIGN: [(&str, &[&str]); 2] = [
    ("us", &["bonnet", "bonnets", "tyre", "tyres", "earth", "earths", "earthed", "earthing", "mains", "windscreen"]),
    ("eu", &["hood", "tire", "tires", "gfci", "gfcis", "grounded", "grounding", "windshield"]),
];

/// The text of a line as it is read: without code, addresses, anchors and comments.
fn read(line: &str) -> String {
    let mut text = line.to_owned();
    for (open, close) in [("`", "`"), ("](", ")"), ("{#", "}"), ("<!--", "-->"), ("<a ", ">")] {
        let mut out = String::new();
        let mut rest = text.as_str();
        while let Some((before, inside)) = rest.split_once(open) {
            out.push_str(before);
            out.push(' ');
            rest = inside.split_once(close).map_or("", |(_, behind)| behind);
        }
        text = out + rest;
    }
    text
}

/// Words of a text; an id is none.
fn words(text: &str) -> impl Iterator<Item = &str> {
    let pieces = text.split(|c: char| c.is_whitespace() || "()[]|*,;:\"'“”’".contains(c));
    let ids = |piece: &&str| !piece.trim_end_matches(['.', '?', '!']).contains(['.', '/', '_', '#', '@', '-']);
    pieces.filter(ids).map(|piece| piece.trim_matches(|c: char| !c.is_alphanumeric()))
}

#[test]
fn a_van_is_told_in_the_words_of_its_rules() {
    let (mut faults, mut seen) = (Vec::new(), [0, 0]);
    for demo in demos() {
        let (path, worked) = (&demo.path, &demo.worked);
        let rules = worked.build.about.rules.text().unwrap_or("us");
        let at = FOREIGN.iter().position(|(of, _)| *of == rules).expect("rules with words");
        seen[at] += 1;
        let foreign = FOREIGN[at].1;
        let own = std::fs::read_to_string(path).expect("spec").to_lowercase();
        for sheet in &demo.sheets {
            for line in sheet.markdown.lines() {
                let text = read(line);
                let all: Vec<&str> = words(&text).collect();
                for (place, word) in all.iter().enumerate() {
                    let small = word.to_lowercase();
                    // A cooker has a hood everywhere.
                    let cooker = place > 0 && ["cooker", "extractor"].contains(&all[place - 1].to_lowercase().as_str());
                    if foreign.contains(&small.as_str()) && !cooker && !own.contains(&format!("{small} ")) {
                        faults.push(format!("{} {}: {word}: {line:.200}", stem(path), sheet.stem));
                    }
                }
            }
        }
        for drawing in pipeline::drawings(worked) {
            let texts = drawing.svg.split('>').filter_map(|piece| piece.split_once('<')).map(|(text, _)| text);
            let said = texts.chain([drawing.title.as_str(), &drawing.description]);
            for text in said {
                let word = words(text).find(|word| foreign.contains(&word.to_lowercase().as_str()));
                faults.extend(word.map(|word| format!("{} {}: {word}: {text:.120}", stem(path), drawing.stem)));
            }
        }
    }
    assert!(faults.is_empty(), "{}\n{}", faults.len(), faults[..faults.len().min(60)].join("\n"));
    assert!(seen.iter().all(|n| *n >= 2), "{seen:?}");
}

/// What a spec says in its own words is printed as it stands.
#[test]
fn the_words_of_a_spec_stay() {
    let small = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    let note = "My bonnet has a tyre on it";
    let text = format!(
        "{small}\n[component.alone]\nkind = \"pipe-run\"\nname = \"Mains hose\"\nplace = \"bench\"\nowner_note = \"{note}\"\n"
    );
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
    let all = sheets(&loaded);
    let manual = &all.iter().find(|s| s.stem == "owners-manual").expect("manual").markdown;
    assert!(manual.contains(note) && manual.contains("Mains hose"), "{manual}");
}
