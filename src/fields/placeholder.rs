//! Texts that stand where a record is to stand later: "to be entered at fitting", "tbd", "…".

/// Words that make the whole text a placeholder wherever they stand in it.
const ANYWHERE: &[&str] = &[
    "tbd",
    "tba",
    "tbc",
    "tbs",
    "todo",
    "fixme",
    "pending",
    "placeholder",
    "awaited",
    "awaiting",
    "outstanding",
    "dummy",
];

/// Words after "to be" that tell of something not there yet.
const TO_BE: &[&str] = &[
    "added",
    "advised",
    "agreed",
    "announced",
    "assigned",
    "attached",
    "clarified",
    "completed",
    "confirmed",
    "decided",
    "defined",
    "delivered",
    "determined",
    "done",
    "entered",
    "established",
    "filed",
    "filled",
    "given",
    "inserted",
    "issued",
    "measured",
    "named",
    "noted",
    "obtained",
    "printed",
    "provided",
    "received",
    "recorded",
    "scanned",
    "sent",
    "signed",
    "specified",
    "submitted",
    "supplied",
    "taken",
    "tested",
    "updated",
    "weighed",
    "written",
];

/// Pairs and triples of words that tell the same.
const PHRASES: &[&str] = &[
    "to follow",
    "to come",
    "will follow",
    "will be",
    "not yet",
    "yet to",
    "fill in",
    "fill me",
    "is coming",
    "see later",
    "not known",
    "not available",
    "on request",
    "as soon as",
    "when available",
    "when known",
    "when fitted",
];

/// Texts that are placeholders if nothing else stands there.
const WHOLE: &[&str] = &[
    "", "na", "n a", "nil", "none", "unknown", "later", "follows", "soon", "open", "missing", "empty", "blank", "text",
    "number", "serial", "date", "name", "x", "xx", "xxx", "xxxx", "t b d", "t b a", "t b c", "yes", "no", "ok",
];

/// Whether `text` holds the place of a record and is none: it tells that something comes later, or tells nothing.
#[must_use]
pub fn is_placeholder(text: &str) -> bool {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    let is = |phrase: &str, words: &[&str]| words.iter().copied().eq(phrase.split(' ').filter(|w| !w.is_empty()));
    // Most words begin no phrase, which is soon seen.
    let begins = |phrase: &str, at: usize| {
        phrase.starts_with(words[at])
            && words.get(at..at + phrase.split(' ').count()).is_some_and(|some| is(phrase, some))
    };
    WHOLE.iter().any(|whole| is(whole, &words))
        || words.iter().any(|w| ANYWHERE.contains(w))
        || (0..words.len()).any(|at| PHRASES.iter().any(|phrase| begins(phrase, at)))
        || words.windows(3).any(|w| w[0] == "to" && w[1] == "be" && TO_BE.contains(&w[2]))
        || lower.contains("??")
        || ["__", "…", "...", "<", "xxx-"].iter().any(|mark| lower.trim_start().starts_with(mark))
}

#[cfg(test)]
mod tests {
    use super::is_placeholder;

    #[test]
    fn what_comes_later_is_no_record() {
        for text in [
            "",
            "  ",
            "…",
            "...",
            "-",
            "—",
            "?",
            "tbd",
            "T.B.D.",
            "TBA",
            "n/a",
            "N. A.",
            "none",
            "to be entered at fitting",
            "test report on file, to be entered at fitting",
            "Certificate to be confirmed",
            "pending",
            "Approval pending",
            "will follow",
            "number to follow",
            "not yet",
            "xxx",
            "____",
            "<number>",
            "unknown",
            "to be\u{a0}entered",
            "???",
            "report 12 awaited",
            "yes",
            "OK",
        ] {
            assert!(is_placeholder(text), "{text:?}");
        }
    }

    #[test]
    fn what_can_be_found_again_is_one() {
        for text in [
            "TS3-18811",
            "Report 26-1187, seat and belts",
            "13.4 V",
            "0",
            "> 200 Mohm",
            "certificate no. 4711",
            "e1*0012*03",
            "No. 5",
            "passed, slip 20931",
            "keep to be on the safe side",
            "Drawing NA-12",
            "B26-0713, B26-0714, B26-0716",
            "0 V",
            "15 L … 20 L",
        ] {
            assert!(!is_placeholder(text), "{text:?}");
        }
    }
}
