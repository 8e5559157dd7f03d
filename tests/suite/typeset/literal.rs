//! Whatever a person types comes out as that text: value → template → Markdown → tree → Typst and HTML.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use rigbinder::render::{Engine, inline_markdown, one_line};
use rigbinder::typeset::tree::{Block, Inline, walk};
use rigbinder::typeset::{self, Paper, Pictures};
use typst_syntax::{SyntaxKind, SyntaxNode, ast};

use super::setup;

/// Every place where a template may put a value. Widths are forced, so that they do not follow the text.
const PLACES: &str = "\
+++
title = \"T {{ x }}\"
subtitle = \"{{ x }}\"
+++

# {{ x }} {#first}

## Way {{ x }}

{{ x }}

Before {{ x }} after, **{{ x }}** and *{{ x }}*, {{ x }}{{ x }}.
{{ x }}
{{ x }}

- {{ x }}
- [ ] {{ x }}

1. {{ x }}

   {{ x }}

> {{ x }}

> [!WARNING]
> {{ x }}

<!-- widths: 1 1 1 -->

| {{ x }} | b | {{ x }} |
| --- | --- | ---: |
| {{ x }} | b | {{ x }} |
| a | {{ x }}{{ x }} | {{ x }} |

{{ x }}
: {{ x }}

[{{ x }}](#first) {{ y | code }} foot[^n].

[^n]: {{ x }}
";

const PIECES: &[&str] = &[
    "#read(\"/etc/passwd\")",
    "{{ 1+1 }}",
    "{% if %}",
    "{#id}",
    "<script>",
    "</td>",
    "<!-- page -->",
    "| a |",
    "|",
    "[x](javascript:alert(1))",
    "![a](b.svg)",
    "[^n]",
    "[ ]",
    "[!NOTE]",
    "`",
    "``",
    "```",
    "*",
    "**",
    "_",
    "____",
    "$x$",
    "@ref",
    "~",
    "~~",
    "\\",
    "\\\\",
    "\\|",
    "\u{2028}",
    "\r",
    "\r\n",
    "\n",
    "\n\n",
    "\t",
    "\u{85}",
    "\u{b}",
    "\0",
    "\u{202e}",
    "\u{e000}",
    "1.",
    "1)",
    "12. x",
    "-",
    "- ",
    "+",
    "+++",
    "---",
    "===",
    ": ",
    ":",
    "> ",
    ">",
    "# ",
    "#",
    "## ",
    "&amp;",
    "&",
    "&#35;",
    "<b>",
    "<a id=\"q\"></a>",
    "http://x.y",
    "<https://x.y>",
    "//",
    "/*",
    "\"",
    "'",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    "!",
    "=",
    "^",
    " ",
    "  ",
    "a",
    "B7",
    "4,2",
    "é",
    "字",
    "😀",
    "\u{a0}",
    "#{",
    "#[",
    "]",
    "*so*",
    "**very** ",
    "_it_ ",
    "\\u{41}",
    "\\#",
    "#\"",
    "\";",
    "#let x",
    "end.",
    "word",
    "::",
    "--",
    ".",
    "%",
];

/// A small generator with a fixed start, so that every run tests the same texts.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % (n as u64)).expect("small")
    }

    fn text(&mut self) -> String {
        let length = 1 + self.below(7);
        (0..length).map(|_| PIECES[self.below(PIECES.len())]).collect()
    }
}

fn markdown(engine: &Engine, value: &str) -> String {
    // In a code span a pipe becomes a sign between two spans; that is tested apart.
    let no_pipe = match value.replace('|', "") {
        text if one_line(&text).is_empty() => "EMPTY".to_owned(),
        text => text,
    };
    engine.render("places.md", &BTreeMap::from([("x", value), ("y", &no_pipe)])).expect("renders")
}

/// The tree as text, with all spaces made equal.
fn shape(document: &typeset::Document) -> String {
    format!("{document:?}").replace("\\u{a0}", " ")
}

/// Puts the values in the places of the empty form: first the code span, then all texts.
fn fill(form: &str, code: &str, text: &str) -> String {
    let text = format!("{text:?}");
    let code = format!("Code({code:?})").replace("PLACE", "\u{1}");
    form.replace("Code(\"CODE\")", &code)
        .replace("PLACE", &text[1..text.len() - 1])
        .replace("\\u{a0}", " ")
        .replace('\u{1}', "PLACE")
}

#[test]
fn values_are_literal_everywhere() {
    let engine = Engine::new(&[("places.md", PLACES)]).expect("loads");
    let blank = typeset::parse(&markdown(&engine, "PLACE")).expect("parses");
    let form = shape(&blank).replace("Code(\"PLACE\")", "Code(\"CODE\")");
    let blank_typst = typst_parts(&blank).0;
    let blank_html = html_parts(&blank).0;
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    for round in 0..4000 {
        let value = dice.text();
        let shown = one_line(&value);
        if shown.is_empty() {
            continue;
        }
        let source = markdown(&engine, &value);
        let document = typeset::parse(&source).unwrap_or_else(|e| panic!("round {round}: {value:?}: {e:?}\n{source}"));
        let no_pipe = match one_line(&value.replace('|', "")) {
            text if text.is_empty() => "EMPTY".to_owned(),
            text => text,
        };
        assert_eq!(shape(&document), fill(&form, &no_pipe, &shown), "round {round}: {value:?}\n{source}");
        if round % 4 == 0 {
            let (kinds, strings) = typst_parts(&document);
            assert_eq!(kinds, blank_typst, "round {round}: {value:?}");
            let printed = in_print(&shown);
            assert!(
                strings.iter().filter(|s| s.contains(&printed)).count() >= 18,
                "round {round}: {value:?} {printed:?} {strings:?}"
            );
            let (tags, text) = html_parts(&document);
            assert_eq!(tags, blank_html, "round {round}: {value:?}");
            let shown = shown.replace('\u{a0}', " ");
            assert!(text.matches(&shown).count() >= 18, "round {round}: {value:?}\n{text}");
        }
    }
}

/// What Typst gets for the text: characters without a glyph as their number, all spaces alike.
fn in_print(text: &str) -> String {
    let mut out = String::new();
    for c in rigbinder::assets::composed(text).chars() {
        if rigbinder::assets::uncovered(&c.to_string()).is_empty() {
            out.push(if c == '\u{a0}' { ' ' } else { c });
        } else {
            let _ = write!(out, "[U+{:04X}]", u32::from(c));
        }
    }
    out
}

/// Kinds of all nodes, and the values of all strings, by Typst's own parser.
fn typst_parts(document: &typeset::Document) -> (Vec<SyntaxKind>, Vec<String>) {
    let typst = typeset::to_typst(document, &setup(Paper::A4), &Pictures::new()).expect("writes");
    let root = typst_syntax::parse(&typst.text);
    let (errors, _) = root.errors_and_warnings();
    assert!(errors.is_empty(), "{errors:?}\n{}", typst.text);
    let mut kinds = Vec::new();
    let mut strings = Vec::new();
    collect(&root, &mut kinds, &mut strings);
    (kinds, strings)
}

fn collect(node: &SyntaxNode, kinds: &mut Vec<SyntaxKind>, strings: &mut Vec<String>) {
    kinds.push(node.kind());
    if let Some(string) = node.cast::<ast::Str<'_>>() {
        strings.push(string.get().to_string().replace('\u{200b}', "").replace('\u{a0}', " "));
    }
    for child in node.children() {
        collect(child, kinds, strings);
    }
}

/// All tags, and the text between them with entities resolved.
fn html_parts(document: &typeset::Document) -> (Vec<String>, String) {
    let html = typeset::to_html(document, &setup(Paper::A4), &Pictures::new()).expect("writes");
    let mut tags = Vec::new();
    let mut text = String::new();
    let mut rest = html.as_str();
    while let Some((before, after)) = rest.split_once('<') {
        text.push_str(before);
        let (tag, behind) = after.split_once('>').expect("tags are closed");
        // An attribute with a text in it (the label of a box) is a place for text too.
        let tag = tag.split(" aria-label").next().unwrap_or_default();
        let (tag, label) = tag.split_once(" data-label=").unwrap_or((tag, "\"\""));
        let inside =
            label.strip_prefix('"').and_then(|l| l.strip_suffix('"')).expect("in quotes to the end of the tag");
        assert!(!inside.contains('"'), "{label}");
        tags.push(tag.to_owned());
        rest = behind;
    }
    text.push_str(rest);
    let text = text
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&amp;", "&")
        .replace('\u{a0}', " ");
    (tags, text)
}

#[test]
fn prose_keeps_only_the_allowed_marks() {
    let mut dice = Dice(0x1234_5678_9abc_def1);
    let mut emphasised = 0;
    for round in 0..6000 {
        let text = dice.text();
        let cleaned = inline_markdown(&text);
        let source = format!("# T\n\nLead {cleaned} tail\n\n| a |\n| --- |\n| {cleaned} |\n\n- {cleaned}\n");
        let document = match typeset::parse(&source) {
            Ok(document) => document,
            Err(errors) => panic!("round {round}: {text:?} -> {cleaned:?}: {errors:?}"),
        };
        assert_eq!(document.blocks.len(), 3, "round {round}: {text:?} -> {cleaned:?}");
        assert!(matches!(document.blocks[1], Block::Table(_)));
        document.each_line(&mut |line| {
            walk(line, &mut |inline| match inline {
                Inline::Text(_) | Inline::Code(_) => {}
                Inline::Emphasis(_) | Inline::Strong(_) => emphasised += 1,
                other => panic!("round {round}: {text:?} -> {cleaned:?}: {other:?}"),
            });
        });
    }
    assert!(emphasised > 50, "the texts hold too little emphasis: {emphasised}");
}
