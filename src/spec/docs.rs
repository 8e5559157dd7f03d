//! What `rigbinder explain` tells of the findings of the reader.

use crate::diag::{FindingDoc, Severity};

const LANGUAGE: &str = "the spec language of rigbinder";
const TOML: &str = "TOML 1.1, toml.io";

const fn doc(
    name: &'static str,
    what: &'static str,
    why: &'static str,
    example: &'static str,
    basis: &'static str,
) -> FindingDoc {
    FindingDoc { name, severity: Severity::Error, what, why, example, basis }
}

/// Whether a finding of this name is about the form of the file, whatever it says.
#[must_use]
pub fn is_syntax(name: &str) -> bool {
    matches!(name, "toml-syntax" | "nesting-too-deep" | "not-utf8" | "file-too-large")
}

/// Whether a finding of this name is about the words of the file and not about the van: no document tells it.
#[must_use]
pub fn is_about_the_words(name: &str) -> bool {
    name == "earlier-form"
}

/// Findings of the reader, in order of name. All but warnings stop the compile.
pub const READ_FINDINGS: &[FindingDoc] = &[
    doc(
        "bare-number",
        "A number stands where a quantity with a unit belongs.",
        "31 may be kilograms or pounds; the wrong guess ends on an axle or in a fuse.",
        "mass = 31                       # mass = \"31 kg\"",
        LANGUAGE,
    ),
    doc(
        "control-character",
        "A text holds a control character, a character that cannot be seen (marks for direction, zero-width characters), or a code of no letter (noncharacters, private use).",
        "It can upset a printer or a terminal, make a text read other than it is, or make two names look the same that are not.",
        "note = \"red\\u001b[31m\"          # delete the escape",
        LANGUAGE,
    ),
    doc(
        "date-invalid",
        "A date does not exist, has a time, or stands in quotes.",
        "Maintenance and replace-by dates are counted from it.",
        "handover = 2027-02-30           # handover = 2027-02-28",
        TOML,
    ),
    doc(
        "duplicate-key",
        "A field, a component or a section is given twice.",
        "Only one of the two can be built, and nobody can tell which.",
        "[component.fridge]              # twice in the file",
        TOML,
    ),
    FindingDoc {
        name: "earlier-form",
        severity: Severity::Warning,
        what: "A field stands where, or under the name that, an earlier version of the spec language has for it.",
        why: "It is read as before, but what is written about the language calls it otherwise.",
        example: "after = [\"fridge.fit\"]           # needs = [\"fridge.fit\"]",
        basis: LANGUAGE,
    },
    doc(
        "empty-spec",
        "The file has no sections.",
        "There is nothing to compile; perhaps it is the wrong file.",
        "# only remarks",
        LANGUAGE,
    ),
    doc(
        "file-too-large",
        "The file is larger than 4 MB.",
        "A spec is some thousand lines; this is another kind of file.",
        "(a log or a picture given as a spec)",
        LANGUAGE,
    ),
    doc(
        "id-not-plain",
        "An id has other characters than a-z, 0-9 and single hyphens, or more than 64.",
        "Ids are printed on labels and used in links and file names.",
        "[component.House_Bank]          # [component.house-bank]",
        LANGUAGE,
    ),
    doc(
        "id-twice",
        "Two entries of a list have the same id.",
        "A record names one of them, and nobody could tell which.",
        "readings = [{ id = \"flow\", what = \"Flow\" }, { id = \"flow\", what = \"Flow, hot\" }]",
        LANGUAGE,
    ),
    doc(
        "like-loop",
        "Components copy from each other in a circle.",
        "None of them has fields of its own to copy.",
        "[component.a]\nlike = \"b\"\n[component.b]\nlike = \"a\"",
        LANGUAGE,
    ),
    doc(
        "like-of-other-kind",
        "A component copies from one of another kind.",
        "Fields of two kinds do not mix.",
        "[component.tap]\nkind = \"tap\"\nlike = \"fridge\"      # delete one of the two lines",
        LANGUAGE,
    ),
    doc(
        "like-too-long",
        "`like` leads through more than 16 components, each copying from the next.",
        "Nobody can follow what such a component is; copy from the one that gives the fields.",
        "light-18 = { like = \"light-17\" } # and so on, down to light-1",
        LANGUAGE,
    ),
    doc(
        "like-unknown",
        "`like` names a component that does not exist.",
        "There is nothing to copy.",
        "like = \"usb-galey\"               # like = \"usb-galley\"",
        LANGUAGE,
    ),
    doc(
        "missing-field",
        "A field that must be given is not there, or is empty.",
        "There is no sane default for it; a guess would be printed as a fact.",
        "[component.house-bank]\nkind = \"battery-bank\"         # add capacity = \"280 Ah\"",
        LANGUAGE,
    ),
    doc(
        "nesting-too-deep",
        "Lists, tables or dotted names nest more than 32 levels deep.",
        "No spec needs that; most likely a bracket is not closed.",
        "x = [[[[[[[[…",
        TOML,
    ),
    doc(
        "not-utf8",
        "The file is not UTF-8 text.",
        "Signs like ° and ² would be misread.",
        "(saved in an old encoding)           # save as UTF-8",
        TOML,
    ),
    doc(
        "out-of-bounds",
        "A value is outside what is plausible for its field.",
        "Most often a unit or a decimal point is wrong.",
        "draw = \"5500 W\"                 # draw = \"55 W\"",
        LANGUAGE,
    ),
    doc(
        "quantity-unreadable",
        "A text is not a quantity: number, unit or currency cannot be read, or the unit measures something else.",
        "Figures are computed from it.",
        "run = \"4,2 m\"                   # run = \"4.2 m\"",
        LANGUAGE,
    ),
    doc(
        "text-too-long",
        "A text has more than 1,000 characters, or a note more than 20,000.",
        "It would not fit any document.",
        "note = \"…\"",
        LANGUAGE,
    ),
    doc(
        "toml-syntax",
        "A line is not TOML.",
        "It cannot be read. The other lines are read all the same.",
        "kind \"fridge\"                   # kind = \"fridge\"",
        TOML,
    ),
    doc(
        "too-many-components",
        "The counts of all components add up to more than 20,000.",
        "A van holds some hundred; look for a digit too many.",
        "count = 500                     # on 41 components",
        LANGUAGE,
    ),
    doc(
        "too-many-entries",
        "A section, a table or a list has more than 12,000 entries.",
        "A van has some hundred components; most likely a program wrote the file, and wrote too much.",
        "fed_from = [\"panel\", \"panel\", …]",
        LANGUAGE,
    ),
    doc(
        "unknown-choice",
        "A word is not one of those its field allows.",
        "Each choice stands for other rules or figures.",
        "chemistry = \"lpf\"               # chemistry = \"lfp\"",
        LANGUAGE,
    ),
    doc(
        "unknown-component",
        "A field names a component that does not exist.",
        "Circuits and pipes must lead somewhere.",
        "fed_from = \"house-pannel\"        # fed_from = \"house-panel\"",
        LANGUAGE,
    ),
    doc(
        "unknown-field",
        "A field is not known here.",
        "A misspelt field would silently be left out.",
        "capasity = \"280 Ah\"             # capacity = \"280 Ah\"",
        LANGUAGE,
    ),
    doc(
        "unknown-kind",
        "There is no such kind of component.",
        "The kind brings fields, tasks, upkeep and texts.",
        "kind = \"fridg\"                  # kind = \"fridge\"",
        LANGUAGE,
    ),
    doc(
        "unknown-place",
        "A field names a place that does not exist.",
        "Weights and routes depend on places.",
        "place = \"galey\"                 # place = \"galley\"",
        LANGUAGE,
    ),
    doc(
        "unknown-section",
        "There is no such section.",
        "What stands in it would silently be left out.",
        "[vehicel]                       # [vehicle]",
        LANGUAGE,
    ),
    doc(
        "unknown-stage",
        "There is no such stage in the plan.",
        "Tasks, packets and signatures go by stage.",
        "[stage.furnitur]                # [stage.furniture]",
        LANGUAGE,
    ),
    doc(
        "unknown-version",
        "The spec is written for another version of the spec language.",
        "Its fields may mean something else.",
        "spec = 3                        # spec = 2",
        LANGUAGE,
    ),
    doc(
        "wrong-type",
        "A value is of another type than its field takes.",
        "It cannot be used as it is.",
        "heated = \"yes\"                  # heated = true",
        LANGUAGE,
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn docs_are_in_order_whole_and_named_for_the_fault() {
        assert!(READ_FINDINGS.is_sorted_by(|a, b| a.name < b.name));
        for doc in READ_FINDINGS {
            assert!(
                doc.name.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-'),
                "{}",
                doc.name
            );
            for text in [doc.what, doc.why, doc.example, doc.basis] {
                assert!(!text.trim().is_empty(), "{}", doc.name);
            }
        }
    }
}
