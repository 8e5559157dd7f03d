//! Findings: each says where, on what basis and what to do, and no text of a spec makes the program panic.

use super::{builds, hold};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;
use rigbinder::diag::{Finding, human, is_steering, json, short};
use rigbinder::pipeline;
use rigbinder::source::{SourceFile, Span};

/// Every finding stands inside the file, rests on something and tells what to do, in all three forms of print.
pub(super) fn are_told_well(findings: &[Finding], file: &SourceFile) {
    let inside = |span: Span| {
        let (part, base) = file.file_at(span.start);
        part.text.get(span.start - base..span.end.saturating_sub(base)).is_some()
    };
    let docs = pipeline::finding_docs();
    for finding in findings {
        let name = finding.name;
        let doc = docs.iter().find(|d| d.name == name).unwrap_or_else(|| panic!("{name}: not in `explain`"));
        assert!(finding.span.is_none_or(inside), "{name}: {:?} is not in the file", finding.span);
        assert!(finding.labels.iter().all(|l| inside(l.span)), "{name}: {:?}", finding.labels);
        assert!(finding.fix.as_ref().is_none_or(|f| inside(f.span)), "{name}: {:?}", finding.fix);
        assert!(!finding.headline.trim().is_empty(), "{name}: no headline");
        assert!(finding.help.iter().any(|h| !h.trim().is_empty()), "{name}: no word of what to do: {finding:?}");
        let based = finding.basis.iter().any(|b| !b.trim().is_empty()) || !doc.basis.trim().is_empty();
        assert!(based, "{name}: rests on nothing: {finding:?}");
        let numbers = [&finding.headline].into_iter().chain(&finding.help).chain(&finding.basis);
        for text in numbers {
            // The text of the spec may be quoted.
            let odd = |word: &str| {
                matches!(word, "NaN" | "inf")
                    && ![file].into_iter().chain(file.further()).any(|file| file.text.contains(word))
            };
            assert!(!text.split(|c: char| !c.is_alphanumeric()).any(odd), "{name}: {text}");
        }
    }
    for text in [human::render(findings, file, false, true), short::render(findings, file)] {
        assert!(!text.contains(|c| is_steering(c) && c != '\n'), "a finding steers the terminal: {text:?}");
    }
    let _ = json::render(findings, file);
}

/// What is done to a line of a spec.
#[derive(Clone, Copy, Debug)]
enum Slip {
    Delete,
    Twice,
    Cut(u16),
    Insert(&'static str, u16),
    Swap(Index),
}

const SCRAPS: &[&str] = &[
    "\"",
    "'",
    "]",
    "[",
    "=",
    "\"\"\"",
    "#",
    "{",
    "}",
    ".",
    "nan",
    "-",
    "1e400",
    "\u{202e}",
    "\\u0007",
    "0",
    "kind",
    "\n",
    "🚐",
    "\u{0}",
    "inf",
    "9999999999999999999",
];

fn slip() -> impl Strategy<Value = Slip> {
    prop_oneof![
        Just(Slip::Delete),
        Just(Slip::Twice),
        any::<u16>().prop_map(Slip::Cut),
        (prop::sample::select(SCRAPS), any::<u16>()).prop_map(|(scrap, at)| Slip::Insert(scrap, at)),
        any::<Index>().prop_map(Slip::Swap),
    ]
}

fn slipped(text: &str, slips: &[(Index, Slip)]) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for (which, slip) in slips {
        let n = which.index(lines.len());
        let place = |at: u16| {
            let places: Vec<usize> = lines[n].char_indices().map(|(i, _)| i).chain([lines[n].len()]).collect();
            places[usize::from(at) % places.len()]
        };
        match slip {
            Slip::Delete if lines.len() > 1 => drop(lines.remove(n)),
            Slip::Delete => {}
            Slip::Twice => lines.insert(n, lines[n].clone()),
            Slip::Cut(at) => {
                let at = place(*at);
                lines[n].truncate(at);
            }
            Slip::Insert(scrap, at) => {
                let at = place(*at);
                lines[n].insert_str(at, scrap);
            }
            Slip::Swap(with) => {
                let with = with.index(lines.len());
                lines.swap(n, with);
            }
        }
    }
    lines.join("\n")
}

#[test]
fn slips_of_the_pen_are_told_well() {
    let slips = vec((any::<Index>(), slip()), 1..5);
    hold("tests/proptest-regressions/slips.txt", 10, &(builds(), slips), |(draft, slips)| {
        let text = slipped(&draft.text(), &slips);
        let loaded = pipeline::load(&draft.house(), "slipped.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        are_told_well(&worked.findings, &loaded.file);
        super::figures::are_numbers(&worked);
        Ok(())
    });
}
