//! Documents of a build as text: Markdown, HTML, Typst, iCalendar.

use super::told::Open;
use super::{Fault, Worked, binder, changes, templates};
use crate::documents::facts::Facts;
use crate::documents::snapshot::STALE;
use crate::documents::{
    Context, PictureView, calculation_sheet, calendar_feed, drawing_sheets, handover_binder, install_packet,
    label_sheets, maintenance_calendar, owners_manual, schedule, test_record,
};
use crate::drawings::{self, Drawing};
use crate::kinds::Stage;
use crate::parallel;
use crate::typeset::tree::Meta;
use crate::typeset::{self, PageSetup, Paper, Pictures};
use serde::Serialize;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

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
    /// Other files that belong to it, by full name.
    pub beside: Vec<(String, Arc<str>)>,
}

/// Whether a file name is one that [`sheets`] may give, with any ending.
#[must_use]
pub fn is_document(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or("");
    stem == BINDER || stem == super::changes::STEM || Job::of_stem(stem).is_some()
}

/// File name of the binder.
pub(super) const BINDER: &str = "handover-binder";

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
    Drawings,
    TestRecord,
    Binder,
}

impl Job {
    /// Whether drawings may stand in it. They take longer to draw than a document without them to write.
    const fn shows_drawings(self) -> bool {
        !matches!(self, Self::Schedule | Self::Calculations | Self::Calendar | Self::TestRecord)
    }

    /// The job that gives a document of this file name.
    fn of_stem(stem: &str) -> Option<Self> {
        let packets = Stage::ALL.iter().enumerate().map(|(number, stage)| Self::Packet(number, *stage));
        let others = [
            Self::Schedule,
            Self::Calculations,
            Self::Calendar,
            Self::Drawings,
            Self::Manual,
            Self::TestRecord,
            Self::Labels,
        ];
        packets.chain(others).find(|j| j.stem() == stem)
    }

    fn stem(self) -> String {
        match self {
            Self::Packet(number, stage) => packet_stem(number, stage),
            Self::Schedule => "schedule".into(),
            Self::Calculations => "calculation-sheet".into(),
            Self::Calendar => "maintenance-calendar".into(),
            Self::Drawings => "drawings".into(),
            Self::Manual => "owners-manual".into(),
            Self::TestRecord => "test-record".into(),
            Self::Labels => "labels".into(),
            Self::Binder => BINDER.into(),
        }
    }
}

/// The documents `only` asks for, in their fixed order.
fn jobs(only: &Only) -> Vec<Job> {
    let stages = Stage::ALL.iter().enumerate().filter(|(_, s)| only.wants_stage(**s));
    let packets = stages.filter(|_| only.wants("packet")).map(|(number, stage)| Job::Packet(number, *stage));
    let others = [
        ("schedule", Job::Schedule),
        ("calculations", Job::Calculations),
        ("calendar", Job::Calendar),
        ("drawings", Job::Drawings),
        ("manual", Job::Manual),
        ("labels", Job::Labels),
        ("test-record", Job::TestRecord),
        ("binder", Job::Binder),
    ];
    packets.chain(others.into_iter().filter(|(name, _)| only.wants(name)).map(|(_, job)| job)).collect()
}

/// Makes the documents `only` asks for, several at once, in a fixed order.
///
/// # Errors
/// Where a template does not fit its view: a fault of rigbinder.
pub fn sheets(worked: &Worked<'_>, only: &Only) -> Result<Vec<Sheet>, Fault> {
    let setup = page_setup(worked);
    let asked = jobs(only);
    let shown = if asked.iter().any(|job| job.shows_drawings()) { Shown::of(worked) } else { Shown::default() };
    let of_job = |job| make(worked, &shown, &setup, job);
    let mut made = side_by_side(&asked, &of_job)?;
    let Some(at) = made.iter().position(|sheet| sheet.stem == BINDER) else { return Ok(made) };
    let front = made.remove(at);
    // The binder may hold documents that nobody asked for by themselves.
    let absent = front.binds.iter().filter(|stem| made.iter().all(|sheet| sheet.stem != **stem));
    let more = side_by_side(&absent.filter_map(|stem| Job::of_stem(stem)).collect::<Vec<_>>(), &of_job)?;
    let secret = worked.build.hides();
    let parts = made.iter().chain(&more).filter(|sheet| front.binds.contains(&sheet.stem));
    let mut marked: Vec<&Sheet> = parts.clone().chain([&front]).collect();
    marked.sort_by_key(|sheet| &sheet.stem);
    // A calendar feed beside its document counts the revisions.
    let texts = marked.iter().flat_map(|sheet| {
        let drawn = sheet.beside.iter().filter(|(name, _)| shown.pictures.contains_key(name));
        [sheet.markdown.as_str()].into_iter().chain(drawn.map(|(_, text)| text.as_ref()))
    });
    let mark = changes::mark(texts, &setup.revision);
    let setup = PageSetup { draft: !worked.missing.is_empty(), mark, ..setup };
    let binder = binder::bound(&front, parts, &setup, &shown.pictures, secret)?;
    made.insert(at, binder);
    Ok(made)
}

/// Does the jobs, several at once; what they give stands in their order.
fn side_by_side(
    jobs: &[Job],
    of_job: &(dyn Fn(Job) -> Result<Option<Sheet>, Fault> + Sync),
) -> Result<Vec<Sheet>, Fault> {
    // The longest stand last in the list, so the work is taken from its end.
    let mut made = parallel::map(jobs.len(), |at| of_job(jobs[jobs.len() - 1 - at]));
    made.reverse();
    made.into_iter().filter_map(Result::transpose).collect()
}

/// Makes one document; `None` for a packet without work.
fn make(worked: &Worked<'_>, shown: &Shown, setup: &PageSetup, job: Job) -> Result<Option<Sheet>, Fault> {
    in_context(worked, &shown.views, |context| {
        Ok(match job {
            Job::Packet(_, stage) => install_packet::view(context, stage)
                .map(|view| sheet(setup, shown, job.stem(), "install_packet", &view))
                .transpose()?,
            Job::Schedule => Some(sheet(setup, shown, job.stem(), "schedule", &schedule::view(context))?),
            Job::Calculations => {
                let view = calculation_sheet::view(context);
                Some(sheet(setup, shown, job.stem(), "calculation_sheet", &view)?)
            }
            Job::Calendar => {
                let view = maintenance_calendar::view(context);
                let mut calendar = sheet(setup, shown, job.stem(), "maintenance_calendar", &view)?;
                calendar
                    .beside
                    .push(("maintenance-calendar.ics".into(), calendar_feed::calendar(context).to_ics().into()));
                Some(calendar)
            }
            Job::Drawings => drawing_sheets::view(context)
                .map(|view| sheet(setup, shown, job.stem(), "drawings", &view))
                .transpose()?,
            Job::Labels => {
                label_sheets::view(context).map(|view| sheet(setup, shown, job.stem(), "labels", &view)).transpose()?
            }
            Job::Manual => Some(sheet(setup, shown, job.stem(), "owners_manual", &owners_manual::view(context))?),
            Job::TestRecord => Some(sheet(setup, shown, job.stem(), "test_record", &test_record::view(context))?),
            Job::Binder => Some(sheet(setup, shown, job.stem(), "handover_binder", &handover_binder::view(context))?),
        })
    })
}

/// Gives `work` what documents are made from.
pub(super) fn in_context<T>(
    worked: &Worked<'_>,
    pictures: &[PictureView],
    work: impl FnOnce(&Context<'_>) -> Result<T, Fault>,
) -> Result<T, Fault> {
    let engine = templates::engine()?;
    let trouble = RefCell::new(None);
    let say = |text: &str, facts: &Facts| match engine.fill(text, &asked(text, facts)) {
        Ok(line) => line,
        Err(error) => {
            trouble.borrow_mut().get_or_insert_with(|| Fault::of("a text of a kind cannot be filled in", &error));
            String::new()
        }
    };
    let open = worked.open();
    let made = Open::look(worked, |figures| {
        work(&Context {
            figures,
            schedule: worked.schedule.as_ref(),
            plan: worked.plan.as_ref(),
            findings: open.map_or(&worked.findings, |o| &o.findings),
            missing: open.map_or(&worked.missing, |o| &o.missing),
            hidden: open.map_or(&[], |o| &o.hidden),
            pictures,
            facts: open.map_or_else(|| worked.facts(), |o| &o.facts),
            said: open.map_or_else(|| worked.said(), |o| &o.said),
            say: &say,
        })
    })?;
    trouble.into_inner().map_or(Ok(made), Err)
}

/// The facts that a text may ask for: it names few of the many, and the others need not be handed over.
pub(super) fn asked<'f>(text: &str, facts: &'f Facts) -> BTreeMap<&'f str, &'f str> {
    if !text.contains('{') {
        return BTreeMap::new();
    }
    let words = text.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|word| !word.is_empty());
    words.filter_map(|word| facts.get_key_value(word)).map(|(name, value)| (name.as_str(), value.as_str())).collect()
}

pub(super) fn sheet(
    setup: &PageSetup,
    shown: &Shown,
    stem: String,
    template: &str,
    view: &impl Serialize,
) -> Result<Sheet, Fault> {
    let rendered = templates::engine()?.render(&format!("documents/{template}.md"), view);
    let mut markdown = rendered.map_err(|e| Fault::of("a document cannot be rendered", &e))?;
    markdown.truncate(markdown.trim_end().len());
    markdown.push('\n');
    let broken = |errors| broken(&stem, errors);
    let document = typeset::parse(&markdown).map_err(broken)?;
    let pictures = typeset::pictures_in(&document);
    let drawn: Vec<&str> = pictures.iter().filter_map(|name| shown.pictures.get(name)).map(AsRef::as_ref).collect();
    let mark = changes::mark([markdown.as_str()].into_iter().chain(drawn), &setup.revision);
    let setup = &PageSetup { mark, ..setup.clone() };
    let mut html = typeset::to_html(&document, setup, &shown.pictures).map_err(broken)?;
    let mut typst = typeset::to_typst(&document, setup, &shown.pictures).map_err(broken)?.text;
    // They live on while others are made.
    html.shrink_to_fit();
    typst.shrink_to_fit();
    let files = pictures.into_iter();
    let beside = files.filter_map(|name| Some((name.clone(), shown.pictures.get(&name)?.clone()))).collect();
    let (meta, binds) = (document.meta.clone(), document.bound());
    Ok(Sheet { stem, markdown, meta, binds, html, typst, holds_spec: false, beside })
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
    Open::look(worked, |figures| drawings::all(&figures))
}

/// The drawings of a build as documents and typesetter want them.
#[derive(Debug, Default)]
pub(super) struct Shown {
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
        mark: String::new(),
        shop: build.text("shop").to_owned(),
        date: (i32::from(date.year()), unsigned(date.month()), unsigned(date.day())),
        paper,
        draft: worked.missing.iter().any(|m| m.id != STALE),
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
