//! Any text through every writer: it comes back from an independent reader as it was typed, and as nothing else.

#![no_main]

use icalendar::Component as _;
use libfuzzer_sys::fuzz_target;
use rigbinder::diag::{is_steering, visible};
use rigbinder::documents::ics::{Calendar, Entry};
use rigbinder::drawings::canvas::{Canvas, Type};
use rigbinder::render::{Engine, one_line};
use rigbinder::typeset::{self, PageSetup, Paper, Pictures};
use std::collections::BTreeMap;
use std::sync::OnceLock;

const TEMPLATE: &str = "+++\ntitle = \"T\"\n+++\n\n{{ x }}\n\n- {{ x }}\n\n<!-- widths: 1 1 -->\n\n| a | b |\n| --- | --- |\n| {{ x }} | **{{ x }}** |\n";

fn engine() -> &'static Engine {
    static ENGINE: OnceLock<Engine> = OnceLock::new();
    ENGINE.get_or_init(|| Engine::new(&[("t.md", TEMPLATE)]).expect("template"))
}

fn squeezed(text: &str) -> String {
    let shown = text.replace(['\u{a0}', '\u{202f}'], " ").replace(['\u{200b}', '\u{2060}'], "");
    shown.split_whitespace().collect::<Vec<_>>().join(" ")
}

fuzz_target!(|text: &str| {
    if text.len() > 4000 {
        return;
    }
    assert!(!visible(text).contains(is_steering));
    picture(text);
    calendar(text);
    let line = one_line(text);
    if line.is_empty() {
        return;
    }
    let markdown = engine().render("t.md", &BTreeMap::from([("x", text)])).expect("rendered");
    let document = typeset::parse(&markdown).expect("parsed");
    let setup = PageSetup {
        build: text.to_owned(),
        number: text.to_owned(),
        revision: text.to_owned(),
        shop: text.to_owned(),
        date: (2027, 5, 14),
        paper: Paper::A4,
        draft: false,
        lang: "en".to_owned(),
        region: "GB".to_owned(),
    };
    page(&typeset::to_html(&document, &setup, &Pictures::new()).expect("HTML"), &line);
    let typst = typeset::to_typst(&document, &setup, &Pictures::new()).expect("Typst").text;
    let root = typst_syntax::parse(&typst);
    let (errors, _) = root.errors_and_warnings();
    assert!(errors.is_empty(), "{errors:?}\n{typst}");
});

/// An SVG reads back with the same words and no element but ours.
fn picture(text: &str) {
    let mut canvas = Canvas::new(100.0, 100.0);
    canvas.text((1.0, 1.0), text, Type::of(3.0));
    let svg = canvas.svg(text, text);
    let read = roxmltree::Document::parse(&svg).expect("well-formed");
    for node in read.descendants().filter(roxmltree::Node::is_element) {
        assert!(["svg", "title", "desc", "rect", "text"].contains(&node.tag_name().name()));
    }
    let labels = canvas.labels().iter().map(|l| l.text.as_str());
    let texts = read.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text());
    assert!(texts.eq(labels.filter(|l| !l.is_empty())));
}

/// A calendar reads back with the same words, one event, and no line over 75 bytes.
fn calendar(text: &str) {
    let day = jiff::civil::date(2027, 5, 14);
    let file = Calendar {
        name: text.to_owned(),
        build: text.to_owned(),
        sequence: 0,
        stamp: day,
        entries: vec![Entry {
            id: text.to_owned(),
            date: day,
            summary: text.to_owned(),
            description: vec![text.to_owned()],
            categories: vec![text.to_owned()],
            repeat: None,
            alarm_days_before: None,
        }],
    }
    .to_ics();
    for line in file.split_terminator("\r\n") {
        assert!(line.len() <= 75 && !line.contains(['\r', '\n']), "{line:?}");
    }
    let read: icalendar::Calendar = file.parse().expect("a calendar");
    assert_eq!(read.components.len(), 1, "{file}");
    let summary = read.components[0].as_event().and_then(|e| e.get_summary().map(str::to_owned)).unwrap_or_default();
    let seen = |t: &str| squeezed(&t.chars().filter(|c| !c.is_control() || c.is_whitespace()).collect::<String>());
    assert_eq!(seen(&summary), seen(text), "{file}");
}

/// A page reads back with the same words in its text, without scripts of the text or elements that load.
fn page(html: &str, line: &str) {
    let read = scraper::Html::parse_document(html);
    for element in read.root_element().descendants().filter_map(scraper::ElementRef::wrap) {
        let name = element.value().name();
        assert!(!["iframe", "object", "embed", "link", "base", "form", "img"].contains(&name), "<{name}>");
        assert!(element.value().attrs().all(|(a, _)| !a.starts_with("on")), "an event handler");
    }
    let cell = scraper::Selector::parse("main td").expect("selector");
    let cells: Vec<String> = read.select(&cell).map(|c| squeezed(&c.text().collect::<String>())).collect();
    assert_eq!(cells.len(), 2);
    for cell in cells {
        assert_eq!(cell, squeezed(line));
    }
}
