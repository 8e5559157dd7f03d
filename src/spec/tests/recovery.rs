//! Faults do not hide each other: a long spec with fifteen faults shows all fifteen.

use super::{places, read_text};
use std::fmt::Write;

/// A spec of some 300 lines.
fn long_spec() -> String {
    let mut text = "spec = 2\n[build]\ntitle = \"T\"\n[place.galley]\nabout = \"Galley\"\n".to_owned();
    text.push_str("[component.panel]\nkind = \"fuse-panel\"\nplace = \"galley\"\nways = 60\n");
    for n in 1..=48 {
        let _ = write!(
            text,
            "[component.fridge-{n}]\nkind = \"fridge\"\nfed_from = \"panel\"\nrun = \"4.2 m\"\nplace = \"galley\"\nmass = \"31 kg\"\n"
        );
    }
    text
}

/// Line of the first line of component `n`.
const fn line(n: usize) -> usize {
    10 + (n - 1) * 6
}

#[test]
fn fifteen_faults_in_three_hundred_lines_are_all_found() {
    let good = long_spec();
    assert_eq!(places(&good), Vec::<String>::new());
    let mut lines: Vec<String> = good.lines().map(str::to_owned).collect();
    assert!(lines.len() >= 290);
    // Component, line within it, what stands there, where the finding is.
    let faults: &[(usize, usize, &str, &str)] = &[
        (2, 3, "run \"4.2 m\"", "4 toml-syntax"),
        (5, 0, "[component.fridge-5", "1 toml-syntax"),
        (5, 5, "mass = 31", "8 bare-number"),
        (8, 2, "fed_from = [\"panel\"", "12 toml-syntax"),
        (9, 1, "kind = \"fridg\"", "8 unknown-kind"),
        (12, 3, "run = 4.2 m", "7 toml-syntax"),
        (15, 2, "fed_form = \"panel\"", "1 unknown-field"),
        (18, 5, "mass = \"31 kilo\"", "12 quantity-unreadable"),
        (21, 0, "[component.fridge-20]", "12 duplicate-key"),
        (24, 4, "place = \"galey\"", "9 unknown-place"),
        (27, 2, "fed_from = \"pannel\"", "12 unknown-component"),
        (30, 4, "note = \"\"\"never closed", "8 toml-syntax"),
        (33, 5, "mass = \"-31 kg\"", "8 out-of-bounds"),
        (36, 3, "run = \"4.2 m", "7 toml-syntax"),
        (40, 5, "count = \"3\"", "9 wrong-type"),
    ];
    for (component, offset, text, _) in faults {
        lines[line(*component) - 1 + offset] = (*text).to_owned();
    }
    let expected: Vec<String> =
        faults.iter().map(|(component, offset, _, place)| format!("{}:{place}", line(*component) + offset)).collect();
    assert_eq!(places(&format!("{}\n", lines.join("\n"))), expected);
}

#[test]
fn what_follows_from_a_syntax_fault_is_not_reported() {
    let head = "[build]\ntitle = \"T\"\n";
    // The lost line may have held the capacity; the lost components may have been the ones meant.
    for (text, expected) in [
        ("[component.bank]\nkind = \"battery-bank\"\ncapacity \"280 Ah\"\n", "5:9 toml-syntax"),
        (
            "[component.\"bank]\nkind = \"busbar\"\n[component.f]\nkind = \"fridge\"\nfed_from = \"bank\"\n",
            "3:1 toml-syntax",
        ),
        ("[component]\nbank = { kind = \"sink\"\nf = { kind = \"fridge\", fed_from = \"bank\" }\n", "4:8 toml-syntax"),
        (
            "[componets.bank]\nkind = \"busbar\"\n[component.f]\nkind = \"fridge\"\nfed_from = \"bank\"\n",
            "3:2 unknown-section",
        ),
        (
            "[component.Bank]\nkind = \"busbar\"\n[component.f]\nkind = \"fridge\"\nfed_from = \"bank\"\n",
            "3:12 id-not-plain",
        ),
        (
            "[component.bank]\nkind = \"busbr\"\n[component.f]\nkind = \"fridge\"\nfed_from = \"bank\"\n",
            "4:8 unknown-kind",
        ),
    ] {
        assert_eq!(places(&format!("{head}{text}")), [expected], "{text}");
    }
    assert_eq!(places("[build\ntitle = \"T\"\n"), ["1:1 toml-syntax"]);
    assert_eq!(places("[build]\ntitle = T\n"), ["2:9 toml-syntax"]);
}

#[test]
fn duplicates_show_both_places() {
    let text =
        "[build]\ntitle = \"T\"\n[component.a]\nkind = \"sink\"\nmass = \"1 kg\"\nmass = \"2 kg\"\n[component.a]\n";
    let (file, _, findings) = read_text(text);
    let labels: Vec<_> =
        findings.iter().map(|f| (f.headline.as_str(), file.position(f.labels[0].span.start).0)).collect();
    assert_eq!(labels, [("`mass` is given twice", 5), ("component `a` is given twice", 3)]);
}

#[test]
fn a_flood_of_faults_is_cut_short_and_says_so() {
    let text = format!("[build]\ntitle = \"T\"\n{}", "what is this\n".repeat(5_000));
    let (_, _, findings) = read_text(&text);
    assert_eq!(findings.len(), 100);
    assert!(findings.iter().any(|f| f.help.iter().any(|h| h.contains("4900 more lines"))));
}
