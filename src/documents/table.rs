//! The table of documents: what each is called, what it is printed with and what makes its view. Nothing else lists
//! documents: a new one is a file here, its row and its template.

use super::change_notice::{self, changes::Changes};
use super::snapshot::Snapshot;
use super::{
    Context, calculation_sheet, calendar_feed, drawing_sheets, handover_binder, install_packet, label_sheets,
    maintenance_calendar, owners_manual, schedule, service_file, stems, test_record,
};
use crate::kinds::Stage;
use crate::render::{Engine, RenderError};
use serde::Serialize;

/// A document that rigbinder writes.
#[derive(Debug)]
pub struct Document {
    /// Word by which it is asked for; "" where nobody can: it comes with others.
    pub word: &'static str,
    /// What it is, for who asks.
    pub about: &'static str,
    /// File name without an ending; that of a stage's document begins with it.
    pub stem: &'static str,
    /// Its template: a file of `templates/documents`, without its ending.
    pub template: &'static str,
    /// Whether drawings may stand in it. They take longer to draw than a document without them to write.
    pub drawings: bool,
    /// Its PDF holds the spec that it was made from.
    pub holds_spec: bool,
    /// What makes it.
    pub making: Making,
    /// What lies beside it, under its name with this ending.
    pub beside: Option<(&'static str, Writes)>,
}

/// Writes the text of a file that lies beside a document.
pub(crate) type Writes = fn(&Context<'_>) -> String;

/// What makes the view of a document.
#[derive(Debug)]
pub enum Making {
    /// One document a stage; `None` for a stage without work.
    PerStage(fn(&Context<'_>, Stage) -> Option<View>),
    /// One document; `None` where there is nothing to tell.
    Once(fn(&Context<'_>) -> Option<View>),
    /// From the comparison with an earlier build, so only where there is one.
    Compared(fn(&Context<'_>, &Snapshot, &Snapshot, &Changes) -> View),
}

/// What a template prints, whatever its form.
pub type View = Box<dyn Printed>;

/// A view that a template can print.
pub trait Printed {
    /// The text of the template `name` with this view.
    ///
    /// # Errors
    /// Where the template does not fit the view.
    fn print(&self, engine: &Engine, name: &str) -> Result<String, RenderError>;
}

impl<T: Serialize> Printed for T {
    fn print(&self, engine: &Engine, name: &str) -> Result<String, RenderError> {
        engine.render(name, self)
    }
}

/// A document as a rule: asked for by a word, without drawings, with nothing beside it.
const fn plain(word: &'static str, about: &'static str, names: [&'static str; 2], making: Making) -> Document {
    Document {
        word,
        about,
        stem: names[0],
        template: names[1],
        drawings: false,
        holds_spec: false,
        making,
        beside: None,
    }
}

/// The same with drawings in it.
const fn drawn(word: &'static str, about: &'static str, names: [&'static str; 2], making: Making) -> Document {
    Document { drawings: true, ..plain(word, about, names, making) }
}

fn view(view: impl Serialize + 'static) -> View {
    Box::new(view)
}

#[expect(clippy::unnecessary_wraps, reason = "the form of a document that every build has")]
fn some(all: impl Serialize + 'static) -> Option<View> {
    Some(view(all))
}

/// All documents, in their order: word, what it is, file name and template, view.
pub static ALL: &[Document] = &[
    drawn(
        "packet",
        "Install packets, one per stage",
        [install_packet::STEM, "install_packet"],
        Making::PerStage(|c, stage| install_packet::view(c, stage).map(view)),
    ),
    plain(
        "schedule",
        "Component and fuse schedule",
        ["schedule", "schedule"],
        Making::Once(|c| some(schedule::view(c))),
    ),
    drawn(
        "calculations",
        "Calculation sheet",
        ["calculation-sheet", "calculation_sheet"],
        Making::Once(|c| some(calculation_sheet::view(c))),
    ),
    Document {
        beside: Some(("ics", |c| calendar_feed::calendar(c).to_ics())),
        ..plain(
            "calendar",
            "Maintenance calendar, with the iCalendar file",
            ["maintenance-calendar", "maintenance_calendar"],
            Making::Once(|c| some(maintenance_calendar::view(c))),
        )
    },
    drawn(
        "drawings",
        "All drawings in one document",
        ["drawings", "drawings"],
        Making::Once(|c| drawing_sheets::view(c).map(view)),
    ),
    drawn("manual", "Owner's manual", [stems::MANUAL, "owners_manual"], Making::Once(|c| some(owners_manual::view(c)))),
    drawn("labels", "Label sheets", [label_sheets::STEM, "labels"], Making::Once(|c| label_sheets::view(c).map(view))),
    plain(
        "test-record",
        "Test record: every reading with its expected value",
        ["test-record", "test_record"],
        Making::Once(|c| some(test_record::view(c))),
    ),
    drawn(
        "binder",
        "Handover binder: the owner's book",
        [handover_binder::STEM, "handover_binder"],
        Making::Once(|c| some(handover_binder::view(c))),
    ),
    Document {
        holds_spec: true,
        ..drawn(
            "service-file",
            "Service file: what a technician needs of the van later, in one book",
            [stems::SERVICE_FILE, "service_file"],
            Making::Once(|c| some(service_file::view(c))),
        )
    },
    plain(
        "",
        "Change notice: what differs from an earlier revision",
        [change_notice::STEM, "change_notice"],
        Making::Compared(|c, old, new, changes| view(change_notice::view(c, old, new, changes))),
    ),
];

impl Document {
    /// Whether there is one for each stage.
    #[must_use]
    pub const fn per_stage(&self) -> bool {
        matches!(self.making, Making::PerStage(_))
    }

    /// File names without an ending that this document may have, each with its stage.
    pub fn stems(&self) -> impl Iterator<Item = (String, Option<Stage>)> + '_ {
        let stages = Stage::ALL.iter().enumerate().filter(|_| self.per_stage());
        let once = (!self.per_stage()).then(|| (self.stem.to_owned(), None));
        let each = |(at, stage): (usize, &Stage)| (format!("{}-{:02}-{}", self.stem, at + 1, stage.id()), Some(*stage));
        stages.map(each).chain(once)
    }

    /// The view for a stage, or of the whole where it has none; `None` where there is nothing to tell.
    #[must_use]
    pub fn view(&self, context: &Context<'_>, stage: Option<Stage>) -> Option<View> {
        match (&self.making, stage) {
            (Making::PerStage(view), Some(stage)) => view(context, stage),
            (Making::Once(view), None) => view(context),
            _ => None,
        }
    }
}

/// Words by which documents are asked for, each with what it stands for.
pub(crate) fn words() -> impl Iterator<Item = (&'static str, &'static str)> {
    ALL.iter().map(|d| (d.word, d.about)).filter(|(word, _)| !word.is_empty())
}
