//! Documents of a build as text: Markdown, HTML, Typst, iCalendar.

use super::{Fault, Worked, templates};
use crate::documents::facts::{FactBook, Facts};
use crate::documents::{
    Context, PictureView, calculation_sheet, calendar_feed, install_packet, label_sheets, maintenance_calendar,
    owners_manual, schedule,
};
use crate::drawings::{self, Drawing};
use crate::kinds::Stage;
use crate::render::Engine;
use crate::typeset::{self, PageSetup, Paper, Pictures};
use serde::Serialize;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Which documents to make.
#[derive(Clone, Debug, Default)]
pub struct Only {
    /// Names of documents ("packet", "schedule", …); all where empty.
    pub documents: Vec<String>,
    /// Stages whose packet to make; all where empty.
    pub stages: Vec<Stage>,
}

impl Only {
    fn wants(&self, document: &str) -> bool {
        self.documents.is_empty() && (self.stages.is_empty() || document == "packet")
            || self.documents.iter().any(|d| d == document)
    }

    fn wants_stage(&self, stage: Stage) -> bool {
        self.stages.is_empty() || self.stages.contains(&stage)
    }
}

/// One document as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// File name without an ending.
    pub stem: String,
    /// The master.
    pub markdown: String,
    /// For a screen.
    pub html: String,
    /// For the typesetter.
    pub typst: String,
    /// Other files that belong to it, by full name.
    pub beside: Vec<(String, String)>,
}

/// Whether a file name is one that [`sheets`] may give, with any ending.
#[must_use]
pub fn is_document(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or("");
    ["schedule", "calculation-sheet", "maintenance-calendar", "owners-manual", "labels"].contains(&stem)
        || Stage::ALL.iter().enumerate().any(|(i, s)| stem == packet_stem(i, *s))
}

fn packet_stem(number: usize, stage: Stage) -> String {
    format!("packet-{:02}-{}", number + 1, stage.id())
}

/// A document to make.
#[derive(Clone, Copy, Debug)]
enum Job {
    Packet(usize, Stage),
    Schedule,
    Calculations,
    Calendar,
    Manual,
    Labels,
}

/// The documents `only` asks for, in their fixed order.
fn jobs(only: &Only) -> Vec<Job> {
    let stages = Stage::ALL.iter().enumerate().filter(|(_, s)| only.wants_stage(**s));
    let packets = stages.filter(|_| only.wants("packet")).map(|(number, stage)| Job::Packet(number, *stage));
    let others = [
        ("schedule", Job::Schedule),
        ("calculations", Job::Calculations),
        ("calendar", Job::Calendar),
        ("manual", Job::Manual),
        ("labels", Job::Labels),
    ];
    packets.chain(others.into_iter().filter(|(name, _)| only.wants(name)).map(|(_, job)| job)).collect()
}

/// Makes the documents `only` asks for, several at once, in a fixed order.
///
/// # Errors
/// Where a template does not fit its view: a fault of rigbinder.
pub fn sheets(worked: &Worked<'_>, only: &Only) -> Result<Vec<Sheet>, Fault> {
    let engine = templates::engine()?;
    let setup = page_setup(worked);
    let facts = FactBook::of(&worked.build, &worked.electrical, &worked.ledger);
    let shown = Shown::of(worked);
    let jobs = jobs(only);
    let next = AtomicUsize::new(0);
    let workers = thread::available_parallelism().map_or(1, usize::from).min(jobs.len().max(1));
    // The longest stand last in the list, so the work is taken from its end.
    let take = || jobs.len().checked_sub(next.fetch_add(1, Ordering::Relaxed) + 1);
    let work = || {
        let mut made = Vec::new();
        while let Some(place) = take() {
            made.push((place, make(worked, &facts, &shown, &engine, &setup, jobs[place])));
        }
        made
    };
    let mut made = thread::scope(|scope| {
        let handles: Vec<_> = (0..workers).map(|_| scope.spawn(work)).collect();
        handles.into_iter().flat_map(|h| h.join().unwrap_or_default()).collect::<Vec<_>>()
    });
    if made.len() < jobs.len() {
        return Err(Fault::of("a document cannot be made", &"its maker broke off"));
    }
    made.sort_by_key(|(place, _)| *place);
    made.into_iter().filter_map(|(_, sheet)| sheet.transpose()).collect()
}

/// Makes one document; `None` for a packet without work.
fn make(
    worked: &Worked<'_>,
    facts: &FactBook,
    shown: &Shown,
    engine: &Engine,
    setup: &PageSetup,
    job: Job,
) -> Result<Option<Sheet>, Fault> {
    in_context(worked, facts, &shown.views, engine, |context| {
        Ok(match job {
            Job::Packet(number, stage) => install_packet::view(context, stage)
                .map(|view| sheet(engine, setup, shown, packet_stem(number, stage), "install_packet", &view))
                .transpose()?,
            Job::Schedule => {
                Some(sheet(engine, setup, shown, "schedule".into(), "schedule", &schedule::view(context))?)
            }
            Job::Calculations => {
                let view = calculation_sheet::view(context);
                Some(sheet(engine, setup, shown, "calculation-sheet".into(), "calculation_sheet", &view)?)
            }
            Job::Calendar => {
                let view = maintenance_calendar::view(context);
                let mut calendar =
                    sheet(engine, setup, shown, "maintenance-calendar".into(), "maintenance_calendar", &view)?;
                calendar.beside.push(("maintenance-calendar.ics".into(), calendar_feed::calendar(context).to_ics()));
                Some(calendar)
            }
            Job::Labels => label_sheets::view(context)
                .map(|view| sheet(engine, setup, shown, "labels".into(), "labels", &view))
                .transpose()?,
            Job::Manual => Some(sheet(
                engine,
                setup,
                shown,
                "owners-manual".into(),
                "owners_manual",
                &owners_manual::view(context),
            )?),
        })
    })
}

/// Gives `work` what documents are made from.
pub(super) fn in_context<T>(
    worked: &Worked<'_>,
    facts: &FactBook,
    pictures: &[PictureView],
    engine: &Engine,
    work: impl FnOnce(&Context<'_>) -> Result<T, Fault>,
) -> Result<T, Fault> {
    let trouble = RefCell::new(None);
    // A text asks for few of the many facts; the others need not be handed over.
    let asked = |text: &str, facts: &'_ Facts| -> BTreeMap<String, String> {
        facts.iter().filter(|(name, _)| text.contains(name.as_str())).map(|(n, v)| (n.clone(), v.clone())).collect()
    };
    let say = |text: &str, facts: &Facts| match engine.render_line(text, &asked(text, facts)) {
        Ok(line) => line,
        Err(error) => {
            trouble.borrow_mut().get_or_insert_with(|| Fault::of("a text of a kind cannot be filled in", &error));
            String::new()
        }
    };
    let context = Context {
        build: &worked.build,
        electrical: &worked.electrical,
        ledger: &worked.ledger,
        schedule: worked.schedule.as_ref(),
        plan: worked.plan.as_ref(),
        findings: &worked.findings,
        energy: &worked.energy,
        water: &worked.water,
        heat: &worked.heat,
        weight: &worked.weight,
        geometry: &worked.geometry,
        air: &worked.air,
        pictures,
        facts,
        say: &say,
    };
    let made = work(&context)?;
    trouble.into_inner().map_or(Ok(made), Err)
}

fn sheet(
    engine: &Engine,
    setup: &PageSetup,
    shown: &Shown,
    stem: String,
    template: &str,
    view: &impl Serialize,
) -> Result<Sheet, Fault> {
    let rendered = engine.render(&format!("documents/{template}.md"), view);
    let markdown = rendered.map_err(|e| Fault::of("a document cannot be rendered", &e))?;
    let broken = |errors: Vec<typeset::TypesetError>| {
        let all: Vec<_> = errors.iter().map(ToString::to_string).collect();
        Fault::of(&format!("{stem}.md cannot be typeset"), &all.join("; "))
    };
    let document = typeset::parse(&markdown).map_err(broken)?;
    let html = typeset::to_html(&document, setup, &shown.pictures).map_err(broken)?;
    let typst = typeset::to_typst(&document, setup, &shown.pictures).map_err(broken)?.text;
    let files = typeset::pictures_in(&document).into_iter();
    let beside = files.filter_map(|name| Some((name.clone(), shown.pictures.get(&name)?.clone()))).collect();
    Ok(Sheet { stem, markdown, html, typst, beside })
}

/// Folder of the drawings below that of the documents.
const DRAWINGS: &str = "drawings";

/// The drawings of a build.
#[must_use]
pub fn drawings(worked: &Worked<'_>) -> Vec<Drawing> {
    drawings::all(&drawings::Context {
        build: &worked.build,
        electrical: &worked.electrical,
        energy: &worked.energy,
        water: &worked.water,
        heat: &worked.heat,
        weight: &worked.weight,
        geometry: &worked.geometry,
        air: &worked.air,
        ledger: &worked.ledger,
    })
}

/// The drawings of a build as documents and typesetter want them.
#[derive(Debug, Default)]
struct Shown {
    views: Vec<PictureView>,
    pictures: Pictures,
}

impl Shown {
    fn of(worked: &Worked<'_>) -> Self {
        let mut shown = Self::default();
        for Drawing { stem, subject, about, title, description, true_size, size, svg, .. } in drawings(worked) {
            let file = format!("{DRAWINGS}/{stem}.svg");
            // Higher than half of a page when it is as wide as one.
            let tall = size.1 / size.0 > 0.8;
            shown.pictures.insert(file.clone(), svg);
            shown.views.push(PictureView { file, subject: subject.word(), about, title, description, tall, true_size });
        }
        shown
    }
}

/// Paper, head and date of the sheets. A spec without a handover date is dated 2000-01-01: never by the clock.
#[must_use]
pub fn page_setup(worked: &Worked<'_>) -> PageSetup {
    let build = &worked.build;
    let us = build.text("rules") == "us";
    let paper = match build.text("paper") {
        "letter" => Paper::UsLetter,
        "a4" => Paper::A4,
        _ if us => Paper::UsLetter,
        _ => Paper::A4,
    };
    let date = build.spec.build.date("handover").unwrap_or(jiff::civil::date(2000, 1, 1));
    let unsigned = |n: i8| u8::try_from(n).unwrap_or(1);
    PageSetup {
        build: build.text("title").to_owned(),
        number: build.text("number").to_owned(),
        revision: build.text("revision").to_owned(),
        shop: build.text("shop").to_owned(),
        date: (i32::from(date.year()), unsigned(date.month()), unsigned(date.day())),
        paper,
        draft: !build.spec.recorded.signed.contains_key(Stage::Handover.id()),
        lang: "en".to_owned(),
        region: if us { "US" } else { "GB" }.to_owned(),
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
