//! Every finding of the reader fires at the right place, and its mend mends.

use super::{mended, places, read_text};
use crate::spec::READ_FINDINGS;
use crate::spec::limits::{LARGEST_FILE, MOST_ENTRIES};
use std::collections::BTreeSet;

/// Lines put before every case, so that nothing else is missing.
const HEAD: &str = "[build]\ntitle = \"T\"\n[place.galley]\n";

/// Spec below [`HEAD`] (which has three lines), expected findings.
const CASES: &[(&str, &[&str])] = &[
    ("[task.a]\nstage = \"furniture\"\ntitle = \"A\"\nafter = [\"b\"]\n", &["7:1 earlier-form"]),
    ("[component.a]\nkind \"sink\"\n", &["5:5 toml-syntax"]),
    ("[component.a]\nkind = \"sink\"\ncount 2\n", &["6:6 toml-syntax"]),
    ("[component.a]\nkind = sink\n", &["5:8 toml-syntax"]),
    ("[component.a]\nkind = \"sink\nmass = \"2 kg\"\n", &["5:8 toml-syntax"]),
    ("[component.a]\nkind = \"sink\"\nthrough = [\"galley\"\nmass = 3\n", &["6:11 toml-syntax", "7:8 bare-number"]),
    ("[component.a\nkind = \"sink\"\nmass = 3\n", &["4:1 toml-syntax", "6:8 bare-number"]),
    ("[component.house sink]\nkind = \"sink\"\nmass = 3\n", &["4:1 toml-syntax", "6:8 bare-number"]),
    ("[component.a]\nkind = \"sink\"\nnote = \"\"\"two\nlines\nmass = 3\n", &["6:8 toml-syntax", "8:8 bare-number"]),
    ("[component.a]\nkind = \"sink\"\nmass: 3\nplace =\n", &["6:5 toml-syntax", "7:7 toml-syntax"]),
    ("[component.a]\nkind = \"sink\"\nkind = \"tap\"\n", &["6:1 duplicate-key"]),
    ("[component.a]\nkind = \"sink\"\n[component.a]\nkind = \"sink\"\n", &["6:12 duplicate-key"]),
    ("[component.a]\nkind = \"sink\"\nplace.x = 1\nplace = \"galley\"\n", &["6:1 wrong-type", "7:1 duplicate-key"]),
    ("[use]\npeople = 2\nx = { a = 1, a = 2 }\n", &["6:1 unknown-field", "6:14 duplicate-key"]),
    ("[component.a]\nkind = \"sink\"\nmas = \"2 kg\"\n", &["6:1 unknown-field"]),
    ("[component.a]\nkind = \"sink\"\nrun = \"2 m\"\n", &["6:1 unknown-field"]),
    ("[vehicel]\nname = \"x\"\n", &["4:2 unknown-section"]),
    ("[fridge]\ndraw = \"5 W\"\n", &["4:2 unknown-section"]),
    ("[recorded.serial]\n", &["4:11 unknown-section"]),
    ("[component.a]\nkind = \"snik\"\nmass = 2\n", &["5:8 unknown-kind", "6:8 bare-number"]),
    ("[component.a]\nplace = \"galley\"\n", &["4:1 missing-field"]),
    ("[component.a]\nkid = \"sink\"\n", &["5:1 unknown-field"]),
    ("[component.a]\nkind = \"battery-bank\"\n", &["4:1 missing-field"]),
    ("[component.a]\nkind = \"battery-bank\"\ncapasity = \"5 Ah\"\n", &["6:1 unknown-field"]),
    ("[component.a]\nkind = \"battery-bank\"\ncapacity = 280\n", &["6:12 bare-number"]),
    ("[contact.shop]\nrole = \" \"\n", &["4:1 missing-field"]),
    ("[component.a]\nkind = \"sink\"\ncount = \"2\"\n", &["6:9 wrong-type"]),
    ("[component.a]\nkind = \"sink\"\nserial_expected = \"yes\"\n", &["6:19 wrong-type"]),
    ("[component.a]\nkind = \"sink\"\nsupplier = 12\n", &["6:12 wrong-type"]),
    ("[[component]]\nkind = \"sink\"\n", &["4:1 wrong-type"]),
    ("[component]\nkind = \"sink\"\n", &["5:8 wrong-type"]),
    ("[accepted]\nfinding = \"x\"\n", &["4:2 wrong-type"]),
    ("[place.b]\nat = [\"1 m\", \"2 m\"]\n", &["5:6 wrong-type"]),
    ("[place.b]\nat = [\"1 m\", \"2\", 3]\n", &["5:15 quantity-unreadable", "5:19 bare-number"]),
    ("[task.b]\nstage = \"intake\"\ntitle = \"x\"\nsteps = \"one\"\n", &["7:9 wrong-type"]),
    ("[component.a]\nkind = \"fridge\"\nrun = \"4,2 m\"\n", &["6:9 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nrun = \"4.2 kg\"\n", &["6:12 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nrun = \"4.2\"\n", &["6:8 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nrun = nan\n", &["6:7 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nrun = 1e308\n", &["6:7 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nrun = \"1e308 m\"\n", &["6:9 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nconductor = \"10 ga\"\n", &["6:13 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nconductor = 10\n", &["6:13 bare-number"]),
    ("[component.a]\nkind = \"fridge\"\nprice = \"$240\"\n", &["6:9 quantity-unreadable"]),
    ("[component.a]\nkind = \"fridge\"\nprice = 240\n", &["6:9 bare-number"]),
    ("[component.a]\nkind = \"fridge\"\nmass = 31\n", &["6:8 bare-number"]),
    ("[component.a]\nkind = \"tap\"\nflow = 99999\n", &["6:8 bare-number"]),
    (
        "[component.a]\nkind = \"wood-stove\"\nclearance_side = 180\nclearance_back = \"150\"\n",
        &["6:18 bare-number", "7:19 quantity-unreadable"],
    ),
    ("[component.a]\nkind = \"fridge\"\ndraw = \"5500 W\"\n", &["6:8 out-of-bounds"]),
    ("[component.a]\nkind = \"fridge\"\nmass = \"-3 kg\"\n", &["6:8 out-of-bounds"]),
    ("[component.a]\nkind = \"sink\"\ncount = 0\n", &["6:9 out-of-bounds"]),
    ("[component.a]\nkind = \"sink\"\ncount = 99999999999999999999\n", &["6:9 out-of-bounds"]),
    ("[component.a]\nkind = \"battery-bank\"\ncapacity = \"5000 mAh\"\n", &["6:12 out-of-bounds"]),
    ("[component.a]\nkind = \"battery-bank\"\ncapacity = \"50 Ah\"\nchemistry = \"lpf\"\n", &["7:13 unknown-choice"]),
    ("[place.Galley_2]\n", &["4:8 id-not-plain"]),
    ("[component.\"a b\"]\nkind = \"sink\"\n[component.c]\nlike = \"a b\"\n", &["4:12 id-not-plain"]),
    (
        "[task.t]\nstage = \"handover\"\ntitle = \"T\"\nreadings = [{ id = \"a\", what = \"A\" }, { id = \"a\", what = \"B\" }]\n",
        &["7:46 id-twice"],
    ),
    ("[component.a]\nkind = \"tap\"\n[component.b]\nlike = \"x\"\n", &["7:8 like-unknown"]),
    ("[component.a]\nlike = \"b\"\n[component.b]\nlike = \"a\"\n[component.c]\nlike = \"a\"\n", &["5:8 like-loop"]),
    ("[component.a]\nkind = \"sink\"\nlike = \"a\"\n", &["6:8 like-loop"]),
    ("[component.a]\nkind = \"sink\"\n[component.b]\nkind = \"tap\"\nlike = \"a\"\n", &["7:8 like-of-other-kind"]),
    ("[component.a]\nkind = \"fridge\"\nfed_from = \"panel\"\n", &["6:12 unknown-component"]),
    ("[component.a]\nkind = \"fridge\"\nthrough = [\"galley\", \"galey\"]\n", &["6:22 unknown-place"]),
    ("[recorded.serials]\nfridge = \"1\"\n", &["5:1 unknown-component"]),
    ("[stage.furnitur]\nskip = true\n", &["4:8 unknown-stage"]),
    ("[stage.furniture]\nstart = \"2027-05-14\"\n", &["5:9 date-invalid"]),
    ("[stage.furniture]\nstart = 2027-02-30\n", &["5:9 date-invalid"]),
    ("[stage.furniture]\nstart = 2027-02-28T10:00:00\n", &["5:9 date-invalid"]),
    ("[stage.furniture]\nstart = 0001-01-01\n", &["5:9 date-invalid"]),
    ("[stage.furniture]\nnote = \"a\\u001b[31m\"\n", &["5:8 control-character"]),
    ("[stage.furniture]\nnote = \"a\u{1b}[31m\"\n", &["5:10 control-character"]),
    ("[stage.furniture]\nnote = \"a \u{202e} b\"\n", &["5:8 control-character"]),
    ("[stage.furniture]\nnote = \"a\u{200b}b\"\n", &["5:8 control-character"]),
    ("[stage.furniture]\nnote = \"a\\u061Cb\"\n", &["5:8 control-character"]),
    ("[stage.furniture]\nnote = \"a\\uFDD0b\"\n", &["5:8 control-character"]),
    ("[stage.furniture]\nnote = \"a\\uE000b\"\n", &["5:8 control-character"]),
    ("[stage.furniture]\nnote = \"می\u{200c}خواهم\"\n", &[]),
];

#[test]
fn every_finding_fires_at_its_place() {
    let mut wrong = Vec::new();
    for (case, expected) in CASES {
        let got = places(&format!("{HEAD}{case}"));
        if got != *expected {
            wrong.push(format!("{case}  expected {expected:?}\n  got      {got:?}\n"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_mend_that_is_offered_mends() {
    let mut offered = 0;
    for (case, _) in CASES {
        let text = format!("{HEAD}{case}");
        let (_, _, findings) = read_text(&text);
        for finding in &findings {
            let Some(mended) = mended(&text, finding) else { continue };
            offered += 1;
            let (_, _, after) = read_text(&mended);
            let still = after.iter().any(|f| f.name == finding.name && f.headline == finding.headline);
            assert!(!still, "{case}\n{}\n{mended}", finding.headline);
            let count = |list: &[crate::diag::Finding], name: &str| list.iter().filter(|f| f.name == name).count();
            // No mend makes one fault of another: 180 becomes no 180 m where 1 m is the most.
            let of_number = ["bare-number", "quantity-unreadable"].contains(&finding.name);
            for name in ["toml-syntax"].into_iter().chain(of_number.then_some("out-of-bounds")) {
                assert!(count(&after, name) <= count(&findings, name), "{mended}");
            }
        }
    }
    assert!(offered > 25, "{offered}");
}

#[test]
fn every_finding_says_what_to_do_and_whom_it_is_about() {
    for (case, _) in CASES {
        let (_, _, findings) = read_text(&format!("{HEAD}{case}"));
        for finding in findings {
            assert!(!finding.help.is_empty() || finding.fix.is_some(), "{}", finding.headline);
            assert!(!finding.headline.contains('\n'), "{}", finding.headline);
        }
    }
    let (_, _, findings) = read_text(&format!("{HEAD}[component.a]\nkind = \"sink\"\nmass = 3\n"));
    assert_eq!(findings[0].subject.as_deref(), Some("a"));
    assert_eq!(findings[0].fix.as_ref().map(|f| f.replacement.as_str()), Some("\"3 kg\""));
}

#[test]
fn faults_of_the_whole_file() {
    let long = "x".repeat(20_001);
    let cases: &[(String, &[&str])] = &[
        (String::new(), &["- empty-spec"]),
        ("\u{feff}# only a remark\n".into(), &["- empty-spec"]),
        ("spec = 3\n[build]\ntitle = \"T\"\n".into(), &["1:8 unknown-version"]),
        ("title = \"T\"\n[build]\ntitle = \"T\"\n".into(), &["1:1 unknown-field"]),
        ("[use]\npeople = 2\n".into(), &["- missing-field"]),
        (format!("[build]\ntitle = \"{}\"\n", &long[..1_001]), &["2:9 text-too-long"]),
        (format!("[build]\ntitle = \"{}\"\n", &long[..1_000]), &[]),
        (format!("[build]\ntitle = \"T\"\nnote = \"{long}\"\n"), &["3:8 text-too-long"]),
        (format!("[build]\ntitle = \"T\"\nnote = \"{}\"\n", &long[1..]), &[]),
        (format!("[build]\ntitle = \"T\"\n[place.{}]\n", "a".repeat(65)), &["3:8 id-not-plain"]),
        (format!("[build]\ntitle = \"T\"\nnote = {}1{}\n", "[".repeat(40), "]".repeat(40)), &["3:1 nesting-too-deep"]),
        (format!("[build]\ntitle = \"T\"\n[place{}]\n", ".a".repeat(60)), &["3:1 nesting-too-deep"]),
        (format!("[build]\ntitle = \"T\"\n{}", "#".repeat(LARGEST_FILE)), &["- file-too-large"]),
    ];
    for (text, expected) in cases {
        assert_eq!(places(text), *expected, "{}", text.chars().take(200).collect::<String>());
    }
}

#[test]
fn too_many_components_are_counted_with_their_counts() {
    let lines = |most: usize, fields: &str| {
        (0..most).map(|n| format!("c{n} = {{ kind = \"sink\"{fields} }}")).collect::<Vec<_>>().join("\n")
    };
    let spec = |lines: &str| format!("[build]\ntitle = \"T\"\n[component]\n{lines}");
    assert_eq!(places(&spec(&lines(MOST_ENTRIES + 1, ""))), ["3:1 too-many-entries"]);
    assert_eq!(places(&spec(&lines(MOST_ENTRIES, ""))), Vec::<String>::new());
    let counted = lines(41, ", count = 500");
    assert_eq!(places(&spec(&counted)), ["- too-many-components"]);
}

#[test]
fn a_list_or_section_too_long_is_all_there_is_to_say() {
    let head = "[build]\ntitle = 3\nnonsense = 1\n";
    let list =
        |n: usize| format!("{head}[component.a]\nkind = \"light-zone\"\nplaces = [{}]\n", "\"galley\", ".repeat(n));
    assert_eq!(places(&list(MOST_ENTRIES + 1)), ["6:10 too-many-entries"]);
    assert!(places(&list(20)).len() > 20);
    let lines = |form: &dyn Fn(usize) -> String| (0..=MOST_ENTRIES).map(form).collect::<Vec<_>>().join("\n");
    let section = lines(&|n| format!("p{n} = {{}}"));
    assert_eq!(places(&format!("{head}[place]\n{section}")), ["4:1 too-many-entries"]);
    assert_eq!(places(&format!("{head}{}", "[[accepted]]\n".repeat(MOST_ENTRIES + 1))), ["4:1 too-many-entries"]);
    let bare = lines(&|n| format!("k{n} = 1"));
    assert_eq!(places(&bare), ["1:1 too-many-entries"]);
}

#[test]
fn like_may_lead_through_sixteen_components() {
    let chain = |last: usize| {
        let like: Vec<_> = (1..=last).map(|n| format!("c{n} = {{ like = \"c{}\" }}\n", n - 1)).collect();
        let like = like.concat();
        format!("[build]\ntitle = \"T\"\n[component]\nc0 = {{ kind = \"sink\" }}\n{like}")
    };
    assert_eq!(places(&chain(16)), Vec::<String>::new());
    assert_eq!(places(&chain(18)), ["21:16 like-too-long", "22:16 like-too-long"]);
}

#[test]
fn every_finding_has_a_case_and_every_case_a_doc() {
    let docs: BTreeSet<&str> = READ_FINDINGS.iter().map(|d| d.name).collect();
    let elsewhere = ["empty-spec", "unknown-version", "text-too-long", "nesting-too-deep", "file-too-large"];
    let elsewhere =
        elsewhere.into_iter().chain(["too-many-components", "too-many-entries", "like-too-long", "not-utf8"]);
    let fired = CASES.iter().flat_map(|(_, names)| names.iter()).filter_map(|n| n.split(' ').nth(1));
    let fired: BTreeSet<&str> = fired.chain(elsewhere).collect();
    assert_eq!(fired, docs);
}

/// Where the parser's own words are all there is, the finding still says what to do.
#[test]
fn odd_toml_is_told_with_a_way_out() {
    for line in
        ["note = \"*bold*\"= \"x\"", "note = { a = 1, = 2 }", "a.b. = 1", "note = [1 2]", "note = {= }", "= = ="]
    {
        let (_, _, findings) = super::read_text(&format!("[build]\ntitle = \"T\"\n{line}\n"));
        assert!(!findings.is_empty() && findings.iter().all(|f| !f.help.is_empty()), "{line}: {findings:?}");
    }
}
