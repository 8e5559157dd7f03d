//! Drawings: from the build and its figures to SVG with a title and a description. One folder or file per drawing.
//!
//! All are drawn in millimetres, in black, white and greys, with [`canvas::Canvas`], which remembers the room of every
//! text: a test holds that no two labels overlap and that nothing leaves the sheet.

pub(crate) mod area;
mod board;
pub mod canvas;
mod cards;
mod climate_day;
pub mod energy;
pub mod fuse_sticker;
pub mod labels;
pub(crate) mod letters;
mod one_line;
mod opening_plan;
pub(crate) mod pen;
pub mod plan;
mod pull_plan;
pub(crate) mod qr;
mod storage;
pub(crate) mod switch_panel;
mod symbols;
mod terminals;
pub(crate) mod water;
mod weight;

use crate::parallel;
use canvas::{Canvas, Label};

/// Room of a drawing that fills a page of either paper under its heading and caption, mm.
pub const PAGE: (f64, f64) = (176.0, 215.0);

/// What drawings are made from.
pub use crate::compute::figures::Computed as Context;

/// What a drawing shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// One-line diagram of direct current.
    DcOneLine,
    /// One-line diagram of alternating current.
    AcOneLine,
    /// Electrical boards with their devices, seen from before.
    Board,
    /// Conductors on the posts of panels, bars and fuses.
    Terminals,
    /// Tanks, pumps, pipes, valves, outlets.
    Water,
    /// The van from above and from the side, with every placed component.
    Plan,
    /// Where the work of a stage is done.
    Stage,
    /// Openings in the skin of the van.
    Openings,
    /// Channels and what lies in them.
    PullPlan,
    /// What is looked for in an emergency, and the ways out.
    Emergency,
    /// Weights on the axles and side to side.
    Weight,
    /// State of charge and power by the hour.
    Energy,
    /// A usual day of a season: temperatures, air inside, sun and state of charge.
    ClimateDay,
    /// Face of a switch panel, at true size.
    SwitchPanel,
    /// Sticker of a fuse panel, at true size.
    FuseSticker,
    /// What may be kept where.
    Storage,
    /// Card to cut out, at true size.
    Card,
    /// Sheets of labels for wires and equipment, at true size.
    Labels,
}

impl Subject {
    /// Every one, in the order of the drawings.
    pub const ALL: [Self; 18] = [
        Self::Emergency,
        Self::Plan,
        Self::Stage,
        Self::Openings,
        Self::PullPlan,
        Self::DcOneLine,
        Self::AcOneLine,
        Self::Board,
        Self::Terminals,
        Self::SwitchPanel,
        Self::FuseSticker,
        Self::Water,
        Self::Energy,
        Self::ClimateDay,
        Self::Weight,
        Self::Storage,
        Self::Card,
        Self::Labels,
    ];

    /// How templates and file names call it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::DcOneLine => "dc-one-line",
            Self::AcOneLine => "ac-one-line",
            Self::Board => "board",
            Self::Terminals => "terminals",
            Self::Water => "water",
            Self::Plan => "plan",
            Self::Stage => "stage",
            Self::Openings => "openings",
            Self::PullPlan => "pull-plan",
            Self::Emergency => "emergency",
            Self::Weight => "weight",
            Self::Energy => "energy",
            Self::ClimateDay => "climate-day",
            Self::SwitchPanel => "switch-panel",
            Self::FuseSticker => "fuse-sticker",
            Self::Storage => "storage",
            Self::Card => "card",
            Self::Labels => "labels",
        }
    }
}

/// A finished drawing.
#[derive(Clone, Debug)]
pub struct Drawing {
    /// File name without folder and ending: the word of its subject, and what tells it from its siblings.
    pub stem: String,
    /// What it shows.
    pub subject: Subject,
    /// Id of the panel, season or other thing it is about; "" where it is about the whole build.
    pub about: String,
    /// Title, plain text.
    pub title: String,
    /// What can be seen on it, in words: for those who cannot see it.
    pub description: String,
    /// Printed at its own size, never made smaller or larger.
    pub true_size: bool,
    /// Its size, mm.
    pub size: (f64, f64),
    /// The texts on it and their room.
    pub labels: Vec<Label>,
    /// The picture.
    pub svg: String,
}

impl Drawing {
    /// Finishes a sheet. `tail` tells it from its siblings in the file name; plain letters, digits and hyphens are kept.
    #[must_use]
    pub fn finish(canvas: &Canvas, subject: Subject, tail: &str, about: &str, title: &str, description: &str) -> Self {
        let plain: String =
            tail.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
        let plain = plain.trim_matches('-');
        let stem = if plain.is_empty() { subject.word().to_owned() } else { format!("{}-{plain}", subject.word()) };
        Self {
            stem,
            subject,
            about: about.to_owned(),
            title: title.to_owned(),
            description: description.to_owned(),
            true_size: false,
            size: canvas.size(),
            labels: canvas.labels().to_vec(),
            svg: canvas.svg(title, description),
        }
    }

    /// The same, printed at its own size.
    #[must_use]
    pub fn at_true_size(self) -> Self {
        Self { true_size: true, ..self }
    }
}

/// All drawings of a build, in the order of [`Subject::ALL`].
#[must_use]
pub fn all(context: &Context<'_>) -> Vec<Drawing> {
    // The longest first.
    let of: [&(dyn Fn() -> Vec<Drawing> + Sync); 16] = [
        &|| plan::stages(context),
        &|| plan::drawings(context),
        &|| labels::draw(context),
        &|| one_line::sheets(context),
        &|| terminals::sheets(context),
        &|| pull_plan::sheets(context),
        &|| opening_plan::sheets(context),
        &|| board::elevations(context),
        &|| water::diagrams(context),
        &|| weight::drawing(context).into_iter().collect(),
        &|| energy::charts(context),
        &|| climate_day::sheets(context),
        &|| switch_panel::faces(context),
        &|| fuse_sticker::stickers(context),
        &|| storage::drawing(context),
        &|| cards::drawings(context),
    ];
    let mut all: Vec<Drawing> = parallel::map(of.len(), |at| of[at]()).into_iter().flatten().collect();
    all.sort_by_key(|d| Subject::ALL.iter().position(|s| *s == d.subject));
    all
}
