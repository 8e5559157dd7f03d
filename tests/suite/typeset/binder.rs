//! Documents bound into one: names that do not meet, links inside, levels, and what is refused.

use rigbinder::typeset::{self, Attached, Document, Paper};

use super::{pictures, setup};

const FRONT: &str = "+++\ntitle = \"All\"\ncover = \"yes\"\n+++\n\n## First {#first}\n\nSee [the pump](manual.md#pump) \
                     [@](manual.md#pump), [the manual](manual.md) and [sums](sums.md#x).[^1]\n\n[^1]: A note.\n\n\
                     <!-- document: manual -->\n\n[Manual](manual.md)\n\n<!-- document: plan -->\n";
const MANUAL: &str = "+++\ntitle = \"Manual — Heron\"\ndocument = \"Manual\"\npurpose = \"How.\"\n+++\n\n<!-- contents -->\n\n\
                      ## First {#first}\n\n### Pump {#pump}\n\nBack to [first](#first), on to [the plan](plan.md#first) \
                      [@](plan.md#first).[^1]\n\n[^1]: Another note.\n";
const PLAN: &str = "+++\ntitle = \"Plan\"\nlandscape = \"yes\"\ncompact = \"yes\"\nmono = \"yes\"\nnumbered = \"yes\"\n+++\n\n\
                    ## First {#first}\n\n| A | B |\n| --- | --- |\n| <a id=\"row\"></a>1 | [x](#row) |\n";

fn parse(text: &str) -> Document {
    typeset::parse(text).unwrap_or_else(|e| panic!("{e:?}"))
}

fn bind(front: &str, parts: &[(&str, &Document)]) -> Result<String, Vec<String>> {
    let parts = parts.iter().map(|(stem, part)| ((*stem).to_owned(), (*part).clone())).collect();
    let file = Attached { name: "spec.toml", about: "The spec", media: "application/toml" };
    let bound = typeset::bind(&parse(front), parts, &setup(Paper::A4), &pictures(), &[file]);
    bound.map(|text| text.text).map_err(|errors| errors.into_iter().map(|e| e.message).collect())
}

/// The documents of this file as one Typst text.
pub(crate) fn whole() -> String {
    let (manual, plan) = (parse(MANUAL), parse(PLAN));
    bind(FRONT, &[("manual", &manual), ("plan", &plan)]).expect("binds")
}

#[test]
fn bound_documents_keep_their_names_apart() {
    let text = whole();
    let (errors, _) = typst_syntax::parse(&text).errors_and_warnings();
    assert!(errors.is_empty(), "{errors:?}");
    // Every place has one name, and every link to a place has its place.
    let places: Vec<&str> =
        ["<first>", "<part:manual>", "<manual:first>", "<manual:pump>", "<part:plan>", "<plan:first>"]
            .into_iter()
            .chain(["<plan:row>"])
            .collect();
    for place in places {
        let set = [format!("]{place}\n"), format!("place: {place},"), format!("#metadata(none){place}")];
        assert_eq!(set.iter().map(|s| text.matches(s.as_str()).count()).sum::<usize>(), 1, "{place}: {text}");
    }
    for link in [
        "#link(<manual:pump>)",
        "#page-of(<manual:pump>)",
        "#link(<part:manual>)",
        "#link(<manual:first>)",
        "#link(<plan:first>)",
        "#page-of(<plan:first>)",
        "#link(<plan:row>)",
        // This document is not bound: it stays a file.
        "#away(\"sums.pdf#x\")",
    ] {
        assert!(text.contains(link), "{link} is not in {text}");
    }
    assert!(text.contains("#heading(level: 3)[#\"Pump\";]<manual:pump>"), "one level down: {text}");
    assert!(!text.contains("contents-list"), "no contents list inside a part: {text}");
    assert!(text.contains("A note.") && text.contains("Another note."), "footnotes with one label keep apart");
    assert!(text.contains("landscape: true,\n  numbered: true,\n  compact: true,\n  place"), "{text}");
    assert!(text.contains("mono: true, long-rows"), "a packet bound in stays black and white: {text}");
    assert!(text.contains("#pdf.attach(\"/spec.toml\", relationship: \"source\""), "{text}");
}

#[test]
fn what_cannot_be_bound_is_refused() {
    let (manual, plan) = (parse(MANUAL), parse(PLAN));
    assert_eq!(bind(FRONT, &[("manual", &manual)]), Err(vec!["there is no document `plan` to bind".to_owned()]));
    let twice = format!("{FRONT}\n<!-- document: manual -->\n");
    let errors = bind(&twice, &[("manual", &manual), ("plan", &plan)]).expect_err("twice");
    assert_eq!(errors, ["the document `manual` is bound twice"]);
    for (bad, word) in [
        ("<!-- keep -->\n\n<!-- document: a -->\n\n<!-- /keep -->", "stands by itself"),
        ("<!-- document: a.pdf -->", "without an ending"),
        ("<!-- document: ../a -->", "without an ending"),
        ("<!-- document: -->", "without an ending"),
    ] {
        let errors = typeset::parse(&format!("# T\n\n{bad}\n")).expect_err(bad);
        assert!(errors.iter().any(|e| e.line > 0 && e.message.contains(word)), "{bad}: {errors:?}");
    }
}

/// On a screen, and where nothing is bound, a document is a link.
#[test]
fn a_document_is_a_link_on_a_screen() {
    let front = parse(FRONT);
    assert_eq!(front.bound(), ["manual", "plan"]);
    let html = typeset::to_html(&front, &setup(Paper::A4), &pictures()).expect("writes");
    assert!(html.contains("<p class=\"document\"><a href=\"manual.html\">Manual</a></p>"), "named by its link");
    assert!(html.contains("<a href=\"plan.html\">plan</a>"), "or by its file");
    assert_eq!(html.matches("href=\"manual.html\">").count(), 2, "the link behind the directive is not shown twice");
    assert!(html.contains("the pump</a>, <a"), "a screen has no page numbers");
    let typst = typeset::to_typst(&front, &setup(Paper::A4), &pictures()).expect("writes").text;
    assert!(typst.contains("#away(\"manual.pdf\")[#\"Manual\";]") && !typst.contains("page-of"), "{typst}");
}

/// What a bound document has depends on the build: a link to what it has not keeps its words and loses its page number.
#[test]
fn a_link_to_what_a_document_has_not_is_its_words() {
    let (manual, plan) = (parse(MANUAL), parse(PLAN));
    let front = format!("{FRONT}\nAsk for [the valve](manual.md#valve) [@](manual.md#valve) by name.\n");
    let text = bind(&front, &[("manual", &manual), ("plan", &plan)]).expect("binds");
    assert!(text.contains("the valve") && !text.contains("manual:valve"), "{text}");
}

/// A binder has one index: that of its front. Its documents leave theirs out, and links to them lead to it.
#[test]
fn bound_documents_leave_their_index_to_the_binder() {
    let own = "\n## Index {#index}\n\n- Word [@](#first)\n\n### Deeper {#deeper}\n\nMore.\n\n## After {#after}\n\nSee the [index](#index).\n";
    let (manual, plan) = (parse(&format!("{MANUAL}{own}")), parse(PLAN));
    let parts = [("manual", &manual), ("plan", &plan)];
    let front = format!("{FRONT}\n## Index of all {{#index}}\n\n- [First](#first), see [index](manual.md#index)\n");
    let text = bind(&front, &parts).expect("binds");
    assert!(text.contains("]<index>\n") && !text.contains("<manual:index>"), "{text}");
    assert!(!text.contains("Word") && !text.contains("<manual:deeper>"), "{text}");
    assert!(text.contains("<manual:after>"), "what follows the index stays: {text}");
    assert_eq!(text.matches("#link(<index>)").count(), 2, "{text}");
    // Where the front has none, that of the document stays.
    let text = bind(FRONT, &parts).expect("binds");
    assert!(text.contains("]<manual:index>\n") && text.contains("#link(<manual:index>)"), "{text}");
}
