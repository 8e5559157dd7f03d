//! What warns of an injury is a safety message with a signal word (ANSI Z535.6), and not a line among limits or steps.

use rigbinder::kinds::Library;

/// Words of what hurts people. Who reads one reads a warning, and a warning has a signal word and its own form
/// (ANSI Z535.6).
const INJURY: &[&str] = &[
    "injure",
    "injures",
    "injury",
    "injuries",
    "kill",
    "kills",
    "die",
    "dies",
    "death",
    "deadly",
    "fatal",
    "maim",
    "scald",
    "scalds",
    "scalding",
    "burns",
    "shock",
    "electrocute",
    "crush",
    "crushes",
    "pinch",
    "pinches",
    "suffocate",
    "suffocates",
    "choke",
    "chokes",
    "poison",
    "poisons",
    "poisonous",
    "explode",
    "explodes",
    "explosion",
    "drown",
    "drowns",
    "strangle",
    "blinds",
    "monoxide",
];

/// Phrases that tell of the same without such a word.
const DANGEROUS: &[&str] = &[
    "live part",
    "inside it is live",
    "stay live",
    "takes the air",
    "heats up in minutes",
    "child safe",
    "children's hands",
    "alone in",
    "burning fat",
    "larger fuse",
    "is hot enough",
    "gets hot",
    "feel the water before",
    "hurt",
    "throws you",
    "trap you",
];

/// What warns of an injury in a text that is no safety message; names of fields in what a text reads are no words.
fn injury(text: &str) -> Option<&'static str> {
    let lower = without_tags(text).to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphabetic());
    // A burner burns fuel.
    let fuel =
        |w: &str| w == "burns" && ["while it burns", "burns fuel", "burns gas"].iter().any(|p| lower.contains(p));
    let word = words.find_map(|w| INJURY.iter().find(|i| **i == w && !fuel(w)));
    word.or_else(|| DANGEROUS.iter().find(|phrase| lower.contains(**phrase))).copied()
}

/// A text without its `{% … %}` and `{{ … }}`.
fn without_tags(text: &str) -> String {
    let parts = text.split('{').enumerate().map(|(i, part)| {
        let tag = i > 0 && (part.starts_with('%') || part.is_empty() || part.contains("}}"));
        if tag { part.split_once('}').map_or("", |(_, after)| after.trim_start_matches('}')) } else { part }
    });
    parts.collect()
}

#[test]
fn what_warns_of_an_injury_is_a_safety_message() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let (mut found, mut cautions) = (Vec::new(), 0);
    for kind in library.iter() {
        let owner = &kind.owner;
        cautions += owner.cautions.len();
        let texts = owner.usage.iter().chain(&owner.normal).chain(&owner.limits).chain(&owner.show);
        let of_owner =
            texts.map(|t| ("owner", t)).chain(owner.trouble.iter().flat_map(|t| &t.actions).map(|t| ("do", t)));
        for (at, text) in of_owner {
            if let Some(word) = injury(text) {
                found.push(format!("{}.{at}: \"{word}\" outside of `cautions`: {text}", kind.id));
            }
        }
        for c in &owner.cautions {
            let whole = [&c.hazard, &c.consequence, &c.avoid].iter().all(|t| !t.trim().is_empty());
            assert!(whole, "{}: a message says hazard, consequence and what to do", kind.id);
        }
    }
    assert!(cautions > 50, "{cautions} messages");
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
}

#[test]
fn warnings_are_known_by_their_words() {
    for text in [
        "The exhaust can kill.",
        "Do not open it. Live parts are behind it.",
        "A child burns itself: it burns at once.",
        "Never put in a larger fuse.",
        "Hold children's hands away until you have felt the water.",
    ] {
        assert!(injury(text).is_some(), "{text}");
    }
    for text in ["It clicks while it burns.", "Close the killswitch."] {
        assert!(injury(text).is_none(), "{text}");
    }
}
