//! Texts from all of Unicode in every field that takes a text: whatever `check` calls clean compiles, with PDFs.
//!
//! At most forty documents of a run are typeset, one of a build; the others stop at the text for the typesetter.
//! `RIGBINDER_CASES=3000` draws that many new builds, `RIGBINDER_PDFS=3000` typesets one document of so many.

use super::draft::{Draft, Table};
use super::{files, hold, wiring};
use crate::harness::{folder, typst};
use indexmap::IndexMap;
use proptest::prelude::*;
use rigbinder::diag::Severity;
use rigbinder::fields::{Declarations, FieldType};
use rigbinder::letters;
use rigbinder::pipeline::{self, Only, Sheet};
use rigbinder::typeset::{self, STYLE, STYLE_NAME};
use rigbinder::typst_cli::{self, Job, Settings, Typst};
use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;
use std::time::Duration;
use toml::Value;

/// Fields of a part and what they hold.
type Fields = &'static [(&'static str, &'static str)];

/// Marks of Markdown, HTML, Tera and Typst, letters that join, and letters with accents of their own.
const PIECES: &[&str] = &[
    "[see](#water)",
    "[a](https://example.org)",
    "![p](x.svg)",
    "<https://example.org>",
    "<b>",
    "</b>",
    "<!-- c -->",
    "{{ x }}",
    "{% if x %}",
    "*",
    "**",
    "_",
    "____",
    "`",
    "``",
    "|",
    "\\",
    "#",
    "\n",
    "\n\n",
    "    ",
    "- ",
    "1. ",
    "&amp;",
    "&#x41;",
    "[^1]",
    "[^1]: x",
    "[ ] ",
    "$x$",
    "\"",
    "'",
    "~",
    "====",
    "\u{ad}",
    "\u{a0}",
    "\u{200c}",
    "\u{200d}",
    "שלום",
    "بسم",
    "لا",
    "ບໍ່",
    "e\u{301}",
    "е\u{301}",
    "x\u{301}\u{323}",
    "\u{301}",
    "<\u{338}",
    "\u{1f469}\u{200d}\u{1f527}",
    "⚠\u{fe0f}",
    "<a id=\"x\"></a>",
    "@",
    "☐",
    "☑",
    "//",
    "=1+1",
    "{#x}",
    "+++",
    "> ",
    ": ",
];

/// Characters that are laid over others, of many scripts.
const ACCENTS: &[char] = &[
    '\u{300}',
    '\u{301}',
    '\u{308}',
    '\u{323}',
    '\u{331}',
    '\u{338}',
    '\u{345}',
    '\u{34f}',
    '\u{361}',
    '\u{483}',
    '\u{489}',
    '\u{5b0}',
    '\u{64e}',
    '\u{670}',
    '\u{93e}',
    '\u{94d}',
    '\u{e31}',
    '\u{e33}',
    '\u{eb1}',
    '\u{eb3}',
    '\u{1dc0}',
    '\u{20dd}',
    '\u{3099}',
    '\u{fe0f}',
    '\u{fe20}',
    '\u{1d165}',
    '\u{e0101}',
];

/// Any character, those that no text may hold among them.
fn raw() -> impl Strategy<Value = char> {
    prop_oneof![any::<char>(), (0x80_u32..0x3100).prop_filter_map("a surrogate", char::from_u32)]
}

/// Any character that a text may hold: the others would stop the check of every build.
fn allowed() -> impl Strategy<Value = char> {
    raw().prop_filter("stops the check", |c| {
        !letters::is_none(*c) && (!letters::is_steering(*c) || letters::is_joiner(*c))
    })
}

fn piece() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => allowed().prop_map(String::from),
        3 => (0x20_u8..0x7f).prop_map(|b| char::from(b).to_string()),
        2 => prop::sample::select(ACCENTS).prop_map(String::from),
        2 => prop::sample::select(PIECES).prop_map(str::to_owned),
    ]
}

fn text() -> impl Strategy<Value = String> {
    prop::collection::vec(piece(), 1..16).prop_map(|pieces| pieces.concat())
}

/// Texts for a build, and sometimes a character that no text may hold in one of them.
fn texts() -> impl Strategy<Value = Vec<String>> {
    let spoilt = prop::option::weighted(0.1, raw());
    (prop::collection::vec(text(), 24), spoilt).prop_map(|(mut texts, spoilt)| {
        texts[0].extend(spoilt);
        texts
    })
}

/// Texts that are read as quantities, or name a stock item, a field or a figure.
const READ_AS_MORE: &[&str] = &[
    "protection",
    "switched_at",
    "stock",
    "is",
    "expect",
    "at_least",
    "at_most",
    "within",
    "above",
    "below",
    "with",
    "when",
];

/// The text fields of a section or a kind, each with one of the texts.
fn filled(decls: &Declarations, next: &mut dyn FnMut() -> String) -> IndexMap<String, Value> {
    let mut fields = IndexMap::new();
    for (name, decl) in decls {
        let value = match decl.ty {
            FieldType::Text if READ_AS_MORE.contains(&name.as_str()) => continue,
            FieldType::Text | FieldType::Prose if decl.required => Value::from(format!("A{}", next())),
            FieldType::Text | FieldType::Prose => Value::from(next()),
            // Names of states and of other tasks.
            FieldType::Texts if ["needs", "brings"].contains(&name.as_str()) => continue,
            FieldType::Texts => Value::from(vec![format!("A{}", next()), next()]),
            FieldType::Rows(of) => {
                let mut row = filled(&of.fields(), next);
                for (name, decl) in of.fields().iter().filter(|(_, decl)| decl.ty == FieldType::Choice) {
                    row.insert(name.clone(), Value::from(decl.choices[0].clone()));
                }
                if row.contains_key("id") {
                    row.insert("id".to_owned(), Value::from("r1"));
                }
                Value::Array(vec![Value::Table(row.into_iter().collect())])
            }
            _ => continue,
        };
        fields.insert(name.clone(), value);
    }
    fields
}

/// A small van with a text in every field that takes one.
fn build(texts: &[String]) -> Draft {
    let mut turn = 0;
    let mut next = || {
        turn += 1;
        texts[turn % texts.len()].clone()
    };
    let mut draft = Draft::default();
    let mut put = |section: &str, id: Option<&str>, fields: IndexMap<String, Value>| {
        let (section, id) = (section.to_owned(), id.map(str::to_owned));
        draft.tables.push(Table { section, id, fields, needed: Vec::new() });
    };
    let of = |section: &str, next: &mut dyn FnMut() -> String| {
        filled(&crate::harness::language().sections[section].fields, next)
    };
    let mut head = of("build", &mut next);
    // Of the title, something must show; what, is left to chance.
    head.insert("title".into(), Value::from(texts[0].clone()));
    head.insert("handover".into(), Value::Datetime("2027-05-14".parse().expect("a date")));
    put("build", None, head);
    for section in ["vehicle", "use"] {
        put(section, None, of(section, &mut next));
    }
    for (section, id) in [("place", "here"), ("contact", "shop"), ("stage", "furniture")] {
        put(section, Some(id), of(section, &mut next));
    }
    let mut task = of("task", &mut next);
    task.insert("stage".into(), "furniture".into());
    put("task", Some("more"), task);
    let mut upkeep = of("upkeep", &mut next);
    for when in ["once", "replace", "distance", "hours"] {
        upkeep.shift_remove(when);
    }
    upkeep.insert("every".into(), "6 months".into());
    put("upkeep", Some("care"), upkeep);
    let parts: [(&str, &str, Fields); 6] = [
        ("bank", "battery-bank", &[("capacity", "200 Ah")]),
        ("main", "main-fuse", &[("fed_from", "bank"), ("run", "0.1 m")]),
        ("switch", "battery-disconnect", &[("fed_from", "main"), ("run", "0.1 m")]),
        ("panel", "fuse-panel", &[("fed_from", "switch"), ("run", "1 m")]),
        ("fridge", "fridge", &[("fed_from", "panel"), ("run", "3 m")]),
        ("cabinet", "cabinet", &[]),
    ];
    for (id, kind, given) in parts {
        let mut fields = filled(wiring::fields_of(kind), &mut next);
        for (name, value) in [("kind", kind), ("place", "here")].iter().chain(given) {
            fields.insert((*name).to_owned(), Value::from(*value));
        }
        put("component", Some(id), fields);
    }
    let one = |name: &str, value: Value| IndexMap::from([(name.to_owned(), value)]);
    let signed = |text: String| {
        let date = Value::Datetime("2027-05-13".parse().expect("a date"));
        Value::Table([("by".to_owned(), Value::from(text)), ("date".to_owned(), date)].into_iter().collect())
    };
    put("recorded.serials", None, one("fridge", Value::from(next())));
    put("recorded.signed", None, one("furniture", signed(format!("A{}", next()))));
    draft
}

/// A folder in which documents are typeset.
struct Desk {
    typst: Typst,
    root: PathBuf,
}

impl Desk {
    /// `None` where no typesetter is there.
    fn of(test: &str) -> Option<Self> {
        let found = typst().and_then(|path| Typst::find(Some(&path), None, None, &|| false).ok());
        assert!(found.is_some() || std::env::var_os("REQUIRE_TYPST").is_none(), "a typst is required here");
        if found.is_none() {
            eprintln!("no typst: documents stop at its text");
        }
        let root = folder(test);
        typst_cli::write_fonts(&root.join("fonts")).expect("fonts");
        fs::write(root.join(STYLE_NAME), STYLE).expect("style");
        Some(Self { typst: found?, root })
    }

    /// Typesets a text, as a compile does.
    fn typeset(&self, name: &str, text: &str, spec: Option<&str>) -> Result<(), String> {
        let at = |file: String| self.root.join(file);
        let (source, output) = (at(format!("{name}.typ")), at(format!("{name}.pdf")));
        fs::write(&source, text).expect("source");
        fs::write(self.root.join(pipeline::SPEC.name), spec.unwrap_or_default()).expect("spec");
        let job = Job {
            name: name.to_owned(),
            source,
            output,
            root: self.root.clone(),
            fonts: self.root.join("fonts"),
            timestamp: 0,
            holds_files: spec.is_some(),
        };
        let settings = Settings { limit: Duration::from_mins(5), at_once: Some(1) };
        let made = typst_cli::compile(&self.typst, &[job], &settings, &|_| {}, &|| false);
        made.into_iter().next().expect("one").map(drop).map_err(|e| e.to_string())
    }
}

#[test]
fn what_check_calls_clean_compiles_with_pdfs() {
    let most = std::env::var("RIGBINDER_PDFS").ok().map_or(40, |n| n.parse().expect("RIGBINDER_PDFS is a number"));
    let desk = Desk::of("random-unicode");
    let (all, clean, made, failed) = (Cell::new(0), Cell::new(0), Cell::new(0_usize), Cell::new(false));
    let refused = RefCell::new(BTreeSet::new());
    hold("tests/proptest-regressions/unicode.txt", 40, &texts().prop_map(|texts| build(&texts)), |draft| {
        all.set(all.get() + 1);
        let spec = draft.text();
        let loaded = draft.load();
        let worked = pipeline::work_out(&loaded).expect("profile");
        if worked.counts().0 > 0 {
            let errors = worked.findings.iter().filter(|f| f.severity == Severity::Error);
            refused.borrow_mut().extend(errors.map(|f| f.headline.chars().take(90).collect::<String>()));
            return Ok(());
        }
        clean.set(clean.get() + 1);
        let sheets = pipeline::sheets(&worked, &Only::default()).map_err(|e| TestCaseError::fail(e.to_string()))?;
        files::are_well_formed(&sheets);
        files::are_data(&pipeline::data(&worked).expect("data"));
        // While a fault is made smaller, every build is typeset whole.
        if let Some(desk) = desk.as_ref().filter(|_| failed.get() || made.get() < most) {
            let turn = made.get() % sheets.len();
            let chosen: Vec<&Sheet> = if failed.get() { sheets.iter().collect() } else { vec![&sheets[turn]] };
            for sheet in chosen {
                let spec = sheet.holds_spec.then_some(spec.as_str());
                if let Err(fault) = desk.typeset(&sheet.stem, &sheet.typst, spec) {
                    failed.set(true);
                    return Err(TestCaseError::fail(fault));
                }
            }
            made.set(made.get() + 1);
        }
        Ok(())
    });
    println!("{} of {} builds were clean, {} documents typeset", clean.get(), all.get(), made.get());
    assert!(clean.get() * 2 > all.get(), "only {} of {} builds are clean: {refused:#?}", clean.get(), all.get());
}

/// In every face of the style: upright, bold, slanted, both, and of fixed width.
#[test]
fn every_letter_that_is_called_covered_is_typeset() {
    let Some(desk) = Desk::of("unicode-covered") else { return };
    let covered: Vec<char> = ('\u{21}'..=char::MAX).filter(|c| rigbinder::assets::has_glyph(*c)).collect();
    let covered: Vec<char> = covered.into_iter().filter(|c| !letters::shows_nothing(*c)).collect();
    assert!(covered.len() > 3000, "{} letters", covered.len());
    let mut text = "+++\ntitle = \"Letters\"\n+++\n".to_owned();
    for letters in covered.chunks(60) {
        let close: String = letters.iter().collect();
        let apart: String = letters.iter().flat_map(|c| [*c, ' ']).collect();
        let plain = rigbinder::render::markdown_text(&close);
        let code = rigbinder::render::code_span(&close);
        let apart = rigbinder::render::markdown_text(&apart);
        let inline = format!("\nx{plain}\n\n**x{plain}x**\n\n*x{plain}x*\n\n***x{plain}x***\n\n{code}\n\nx{apart}\n");
        text.push_str(&inline);
    }
    let document = typeset::parse(&text).expect("parses");
    let written = typeset::to_typst(&document, &setup(), &typeset::Pictures::new()).expect("writes");
    assert_eq!(written.warnings, [""; 0]);
    desk.typeset("letters", &written.text, None).expect("typeset");
}

fn setup() -> typeset::PageSetup {
    typeset::PageSetup {
        build: "Letters".into(),
        number: String::new(),
        revision: String::new(),
        mark: String::new(),
        shop: String::new(),
        date: (2027, 5, 14),
        paper: typeset::Paper::A4,
        draft: false,
        lang: "en".into(),
        region: "GB".into(),
        brand: typeset::Brand::default(),
    }
}

/// The reports of a check are for the places of the text that they are about.
#[test]
fn what_cannot_be_seen_is_found_with_its_place() {
    for c in [
        '\u{61c}', '\u{200b}', '\u{200e}', '\u{200f}', '\u{2060}', '\u{2063}', '\u{206a}', '\u{202e}', '\u{feff}',
        '\u{fff9}',
    ]
    .into_iter()
    .chain(['\u{fdd0}', '\u{ffff}', '\u{10fffe}', '\u{e000}', '\u{f0000}'])
    {
        let text = format!("[build]\ntitle = \"T\"\n[place.here]\nabout = \"Inq{c}uire\"\n");
        let findings = crate::harness::findings(&text);
        let found =
            findings.iter().find(|f| f.name == "control-character").unwrap_or_else(|| panic!("U+{:04X}", u32::from(c)));
        assert_eq!(found.span.map(|s| s.start), text.find("\"Inq"), "U+{:04X}", u32::from(c));
    }
    for c in ['\u{200c}', '\u{200d}', '\u{301}', '\u{34f}', '\u{fe0f}', '\u{e0101}'] {
        let findings =
            crate::harness::findings(&format!("[build]\ntitle = \"T\"\n[place.here]\nabout = \"Inq{c}uire\"\n"));
        let is = findings
            .iter()
            .any(|f| f.name == "letters-not-in-typeface" && f.headline.contains(&format!("{:04X}", u32::from(c))));
        assert!(is, "U+{:04X}: {findings:?}", u32::from(c));
    }
}
