//! One document of a build as text, and what all of them are made with: drawings, paper, head, mark.

use super::told::Open;
use super::{Fault, Worked, templates, words};
use crate::documents::facts::Facts;
use crate::documents::snapshot::{STALE, digest};
use crate::documents::{Context, PictureView, View, owners_manual};
use crate::drawings::{self, Drawing};
use crate::render::{Engine, Words};
use crate::spec::is_about_the_words;
use crate::typeset::tree::Meta;
use crate::typeset::{self, Brand, Logo, PageSetup, Paper, Pictures};
use std::borrow::Cow;
use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// One document as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// File name without an ending.
    pub stem: String,
    /// The master.
    pub markdown: String,
    /// What the master says of itself.
    pub meta: Meta,
    /// The documents that it binds, by file name without an ending.
    pub binds: Vec<String>,
    /// For a screen.
    pub html: String,
    /// For the typesetter.
    pub typst: String,
    /// Its PDF holds the spec: under the name of [`super::SPEC`] in the typesetter's folder.
    pub holds_spec: bool,
    /// Files of a shop's folder that its PDF holds beside the spec, by their names in the typesetter's folder.
    pub holds: Vec<(String, Arc<[u8]>)>,
    /// Other files that belong to it, by full name.
    pub beside: Vec<(String, Arc<str>)>,
}

impl Sheet {
    /// The other documents that its links lead to, by file name without an ending.
    #[must_use]
    pub fn leads_to(&self) -> BTreeSet<&str> {
        let targets = self.markdown.split("](").skip(1).filter_map(|rest| rest.split([')', '#']).next());
        targets.filter_map(|target| target.strip_suffix(".md")).collect()
    }
}

/// Gives `work` what documents are made from.
pub(super) fn in_context<T>(
    worked: &Worked<'_>,
    pictures: &[PictureView],
    work: impl FnOnce(&Context<'_>) -> Result<T, Fault>,
) -> Result<T, Fault> {
    let engine = templates::engine(&worked.catalogue)?;
    let texts = owners_manual::Texts::of(&worked.catalogue);
    let texts = &*texts.map_err(|e| Fault::of("the owner's manual cannot be written", &e))?;
    let words = words::of(worked)?;
    let trouble = RefCell::new(None);
    let say =
        |text: &str, facts: &Facts| match engine.fill(text, &asked(text, |name| facts.get(name).map(String::as_str))) {
            Ok(line) => line,
            Err(error) => {
                trouble.borrow_mut().get_or_insert_with(|| Fault::of("a text of a kind cannot be filled in", &error));
                String::new()
            }
        };
    let open = worked.open();
    let findings = open.map_or(&worked.findings, |o| &o.findings);
    let mut told = Cow::Borrowed(findings.as_slice());
    if told.iter().any(|f| is_about_the_words(f.name)) {
        told.to_mut().retain(|f| !is_about_the_words(f.name));
    }
    let made = Open::look(worked, |computed| {
        work(&Context {
            place_numbers: &OnceCell::new(),
            computed,
            schedule: worked.schedule.as_ref(),
            due_dates: worked.due_dates(),
            findings: &told,
            missing: open.map_or(&worked.missing, |o| &o.missing),
            hidden: open.map_or(&[], |o| &o.hidden),
            pictures,
            texts,
            facts: open.map_or_else(|| worked.facts(), |o| &o.facts),
            said: open.map_or_else(|| worked.said(), |o| &o.said),
            say: &say,
            worded: &|text| words.in_plain(text),
        })
    })?;
    trouble.into_inner().map_or(Ok(made), Err)
}

/// The facts that a text may ask for: it names few of the many, and the others need not be handed over.
pub(super) fn asked<'f>(text: &'f str, fact: impl Fn(&str) -> Option<&'f str>) -> BTreeMap<&'f str, &'f str> {
    if !text.contains('{') {
        return BTreeMap::new();
    }
    let words = text.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|word| !word.is_empty());
    words.filter_map(|word| Some((word, fact(word)?))).collect()
}

/// A document as text: printed from its view, read, and written for screen and typesetter.
pub(super) fn sheet(
    (engine, words): (&Engine, &Words),
    setup: &PageSetup,
    shown: &Shown,
    stem: String,
    template: &str,
    view: &View,
) -> Result<Sheet, Fault> {
    let printed = view.print(engine, &format!("documents/{template}.md"));
    let mut markdown = words.in_markdown(&printed.map_err(|e| Fault::of("a document cannot be rendered", &e))?);
    markdown.truncate(markdown.trim_end().len());
    markdown.push('\n');
    let broken = |errors| broken(&stem, errors);
    let document = typeset::parse(&markdown).map_err(broken)?;
    let pictures = typeset::pictures_in(&document);
    let drawn: Vec<&str> = pictures.iter().filter_map(|name| shown.pictures.get(name)).map(AsRef::as_ref).collect();
    let mark = mark_of([markdown.as_str()].into_iter().chain(drawn), &setup.revision);
    let setup = &PageSetup { mark, ..setup.clone() };
    let mut html = typeset::to_html(&document, setup, &shown.pictures).map_err(broken)?;
    let mut typst = typeset::to_typst(&document, setup, &shown.pictures).map_err(broken)?.text;
    // They live on while others are made.
    html.shrink_to_fit();
    typst.shrink_to_fit();
    let files = pictures.into_iter();
    let beside = files.filter_map(|name| Some((name.clone(), shown.pictures.get(&name)?.clone()))).collect();
    let (meta, binds) = (document.meta.clone(), document.bound());
    Ok(Sheet { stem, markdown, meta, binds, html, typst, holds_spec: false, holds: Vec::new(), beside })
}

/// The fault of a document that the typesetter does not take.
#[expect(clippy::needless_pass_by_value, reason = "handed over by `map_err`")]
pub(super) fn broken(stem: &str, errors: Vec<typeset::TypesetError>) -> Fault {
    let all: Vec<_> = errors.iter().map(ToString::to_string).collect();
    Fault::of(&format!("{stem}.md cannot be typeset"), &all.join("; "))
}

/// Folder of the drawings below that of the documents.
pub const DRAWINGS: &str = "drawings";

/// The drawings of a build.
#[must_use]
pub fn drawings(worked: &Worked<'_>) -> Vec<Drawing> {
    let mut all = Open::look(worked, |computed| drawings::all(&computed));
    // Without its words no document is made, and that is told there.
    let Ok(words) = words::of(worked) else { return all };
    for drawing in &mut all {
        drawing.svg = words.in_svg(&drawing.svg);
        for text in [&mut drawing.title, &mut drawing.description] {
            *text = words.in_plain(text);
        }
    }
    all
}

/// The drawings of a build as documents and typesetter want them.
#[derive(Debug, Default)]
pub(super) struct Shown {
    pub(super) views: Vec<PictureView>,
    pub(super) pictures: Pictures,
}

impl Shown {
    pub(super) fn of(worked: &Worked<'_>) -> Self {
        let mut shown = Self::default();
        for Drawing { stem, subject, about, title, description, true_size, size, svg, .. } in drawings(worked) {
            let file = format!("{DRAWINGS}/{stem}.svg");
            // Higher than half of a page when it is as wide as one.
            let tall = size.1 / size.0 > 0.8;
            shown.pictures.insert(file.clone(), svg.into());
            shown.views.push(PictureView { file, subject: subject.word(), about, title, description, tall, true_size });
        }
        shown
    }
}

/// Paper, head and date of the sheets. A spec without a handover date is dated 2000-01-01: never by the clock.
#[must_use]
pub fn page_setup(worked: &Worked<'_>) -> PageSetup {
    let build = &worked.build;
    let us = build.about.rules.is("us");
    let paper = match build.about.paper.or_empty() {
        "letter" => Paper::UsLetter,
        "a4" => Paper::A4,
        _ if us => Paper::UsLetter,
        _ => Paper::A4,
    };
    let date = build.about.handover.get().unwrap_or(jiff::civil::date(2000, 1, 1));
    let unsigned = |n: i8| u8::try_from(n).unwrap_or(1);
    PageSetup {
        build: build.about.title.or_empty().to_owned(),
        number: build.about.number.or_empty().to_owned(),
        revision: build.about.revision.or_empty().to_owned(),
        mark: String::new(),
        shop: build.about.shop.or_empty().to_owned(),
        date: (i32::from(date.year()), unsigned(date.month()), unsigned(date.day())),
        paper,
        draft: worked.missing.iter().any(|m| m.id != STALE),
        lang: "en".to_owned(),
        region: if us { "US" } else { "GB" }.to_owned(),
        brand: brand(worked),
    }
}

/// What the shop's page puts on covers, heads and feet.
fn brand(worked: &Worked<'_>) -> Brand {
    let page = &worked.build.spec.page;
    let lines =
        ["address", "telephones"].into_iter().flat_map(|field| page.shop.list(field)).map(|line| line.value.as_str());
    let logo = page.shop.text("logo").and_then(|name| {
        let path = format!("pictures/{name}");
        let bytes = worked.catalogue.layers().iter().find_map(|layer| layer.bytes(&path))?;
        let (_, ending) = name.rsplit_once('.')?;
        Some(Logo { bytes: bytes.into(), name: format!("logo.{}", ending.to_ascii_lowercase()) })
    });
    Brand {
        contact: lines.collect::<Vec<_>>().join(", "),
        accent: page.shop.text("accent").unwrap_or_default().to_owned(),
        foot: page.text("foot").to_owned(),
        cover: page.text("cover").to_owned(),
        logo,
    }
}

/// Seconds since 1970 of the sheets' date.
#[must_use]
pub fn timestamp(setup: &PageSetup) -> i64 {
    let (year, month, day) = setup.date;
    let small = |n: u8| i8::try_from(n).unwrap_or(1);
    let date = jiff::civil::Date::new(i16::try_from(year).unwrap_or(2000), small(month), small(day));
    let epoch = jiff::civil::date(1970, 1, 1);
    date.ok().and_then(|d| epoch.until(d).ok()).map_or(0, |span| i64::from(span.get_days()) * 86_400)
}

/// A document that stays the same when the revision alone changes.
pub(super) fn neutral(markdown: &str, revision: &str) -> String {
    if revision.is_empty() {
        return markdown.replace("no revision", "revision");
    }
    markdown.replace(&format!("revision {revision}"), "revision").replace(&format!("Revision {revision}"), "Revision")
}

/// So many digits of a digest tell two texts under one revision apart.
const MARK: usize = 6;

/// The mark in the foot of a document: the same for the same texts and drawings, whatever their revision.
pub(super) fn mark_of<'t>(texts: impl IntoIterator<Item = &'t str>, revision: &str) -> String {
    let all: Vec<String> = texts.into_iter().map(|text| digest(&neutral(text, revision))).collect();
    let mut mark = digest(&all.concat());
    mark.truncate(MARK);
    mark
}
