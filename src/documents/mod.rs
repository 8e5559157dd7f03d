//! Documents: one file each, from the build and its figures to a plain view that a template prints.

mod aboard;
pub(crate) mod alike;
pub(crate) mod calculation_sheet;
pub(crate) mod calendar_feed;
pub mod change_notice;
pub(crate) mod data;
mod dc_facts;
pub(crate) mod drawing_sheets;
pub mod fact_book;
pub mod facts;
pub(crate) mod handover_binder;
pub(crate) mod hidden;
pub mod ics;
pub(crate) mod identity;
pub(crate) mod install_packet;
pub(crate) mod label_sheets;
pub(crate) mod maintenance_calendar;
pub(crate) mod owners_manual;
mod reach;
pub mod schedule;
pub(crate) mod service_file;
pub(crate) mod shared;
pub mod snapshot;
pub(crate) mod stems;
pub(crate) mod table;
pub(crate) mod test_record;
mod ways;

pub use table::{ALL, Document, Making, View};

use crate::build::{Build, Part};
use crate::compute::figures::Computed;
use crate::compute::handover::Missing;
use crate::compute::place_numbers::PlaceNumbers;
use crate::compute::time::{DueDates, Schedule};
use crate::diag::Finding;
use crate::fields::{Field, Text};
use crate::kinds::Stage;
use crate::units::{in_words, in_words_of_hole};
use fact_book::FactBook;
use facts::Facts;
use serde::Serialize;
use std::cell::OnceCell;
use std::ops::Deref;

/// Prints a small text of a kind with the facts of a part: gives Markdown of one line.
pub type Say<'a> = dyn Fn(&str, &Facts) -> String + 'a;

/// What every document is made from.
pub struct Context<'a> {
    /// The build and its figures.
    pub computed: Computed<'a>,
    /// Order of work and hours; `None` where the tasks run in a circle.
    pub schedule: Option<&'a Schedule>,
    /// Due dates of upkeep; `None` where the spec gives no handover date.
    pub due_dates: Option<&'a DueDates>,
    /// Findings of this compile (warnings, accepted or not).
    pub findings: &'a [Finding],
    /// What handover still needs; empty when the van can be handed over.
    pub missing: &'a [Missing],
    /// Where hidden parts are, for who fits and wires them and for the owner; the build itself does not tell.
    pub hidden: &'a [hidden::Hidden],
    /// The drawings there are, in their order.
    pub pictures: &'a [PictureView],
    /// Numbers of places, once a packet asks for them.
    pub place_numbers: &'a OnceCell<PlaceNumbers>,
    /// Facts of every part, for the shop.
    pub facts: &'a FactBook,
    /// The same for the owner: figures as a person would say them.
    pub said: &'a FactBook,
    /// The manual's own texts, which stand in no kind.
    pub texts: &'a owners_manual::Texts,
    /// Prints kind texts.
    pub say: &'a Say<'a>,
    /// A text without marks in the words of the rules, for what is no Markdown.
    pub worded: &'a dyn Fn(&str) -> String,
}

impl<'a> Deref for Context<'a> {
    type Target = Computed<'a>;

    fn deref(&self) -> &Computed<'a> {
        &self.computed
    }
}

impl Context<'_> {
    /// The drawings of a subject ("plan", "dc-one-line", …; see `drawings::Subject`).
    #[must_use]
    pub fn pictures_of(&self, subject: &str) -> Vec<&PictureView> {
        self.pictures.iter().filter(|p| p.subject == subject).collect()
    }

    /// Numbers of places on the plan of the packet of a stage: "3, 7"; `None` where one of them is not on it.
    #[must_use]
    pub fn numbers(&self, stage: Stage, places: &[String]) -> Option<String> {
        self.place_numbers.get_or_init(|| PlaceNumbers::of(self.build)).show(stage, places)
    }

    /// The same of the places of a part; of a hidden one none.
    #[must_use]
    pub fn number_of(&self, stage: Stage, part: &Part<'_>) -> Option<String> {
        self.numbers(stage, &part.places).filter(|_| !part.confidential)
    }

    /// A kind text with the facts of `part`, in the units of the documents, as Markdown of one line.
    #[must_use]
    pub fn text(&self, facts: &Facts, template: &str) -> String {
        self.as_written(facts, &in_words(template, self.build.prints()))
    }

    /// The same of the size of a hole.
    #[must_use]
    pub fn hole(&self, facts: &Facts, size: &str) -> String {
        self.as_written(facts, &in_words_of_hole(size, self.build.prints()))
    }

    /// The same with the units of the text: of what is measured in them by everyone.
    #[must_use]
    pub fn as_written(&self, facts: &Facts, template: &str) -> String {
        alike::undoubled(&(self.say)(&alike::for_no_way(template, facts), facts), facts)
    }
}

/// A drawing as documents show it.
#[derive(Clone, Debug, Serialize)]
pub struct PictureView {
    /// File, below the folder of the documents.
    pub file: String,
    /// What it shows: a word.
    pub subject: &'static str,
    /// Id of what it is about; "" for the whole build.
    pub about: String,
    /// Title.
    pub title: String,
    /// What can be seen on it.
    pub description: String,
    /// Higher than half a page.
    pub tall: bool,
    /// Printed at its own size.
    pub true_size: bool,
}

/// A safety message as a template prints it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CautionView {
    /// "WARNING".
    pub signal: &'static str,
    /// What the hazard is.
    pub hazard: String,
    /// What can happen.
    pub consequence: String,
    /// How to avoid it.
    pub avoid: String,
}

impl CautionView {
    /// The messages of a kind, with the facts of a part filled in.
    #[must_use]
    pub fn all(context: &Context<'_>, facts: &Facts, cautions: &[crate::kinds::Caution]) -> Vec<Self> {
        let view = |c: &crate::kinds::Caution| Self {
            signal: c.signal.title(),
            hazard: context.text(facts, &c.hazard),
            consequence: context.text(facts, &c.consequence),
            avoid: context.text(facts, &c.avoid),
        };
        // A message about what this part has not says nothing.
        cautions.iter().map(view).filter(|c| !c.hazard.trim().is_empty()).collect()
    }
}

/// The head that every document has.
#[derive(Clone, Debug, Serialize)]
pub struct BuildView {
    /// Title of the build.
    pub title: String,
    /// Number of the build.
    pub number: String,
    /// Revision.
    pub revision: String,
    /// Shop.
    pub shop: String,
    /// Owner.
    pub owner: String,
    /// Handover date, "" where it is not given.
    pub handover: String,
}

impl BuildView {
    /// From the spec's `[build]`.
    #[must_use]
    pub fn of(build: &Build<'_>) -> Self {
        let about = &build.about;
        let text = |field: &Field<Text>| field.or_empty().to_owned();
        Self {
            title: text(&about.title),
            number: text(&about.number),
            revision: text(&about.revision),
            shop: text(&about.shop),
            owner: text(&about.owner),
            handover: build.about.handover.get().map_or_else(String::new, |d| d.to_string()),
        }
    }
}
