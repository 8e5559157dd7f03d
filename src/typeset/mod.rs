//! Markdown to HTML and to Typst, through one document tree.
//!
//! [`parse`] reads a document and finds its faults; [`to_html`] and [`to_typst`] write it. Neither writer can fail on
//! text: whatever a person typed comes out as text.

mod bind;
mod check;
mod columns;
mod contents;
mod decimals;
mod directive;
mod escape;
mod html;
mod inlines;
pub(crate) mod markdown;
mod meta;
mod parse;
mod reader;
mod sections;
mod tables;
mod to_html;
mod to_typst;
pub mod tree;
mod typst_parts;
mod units;
mod visit;

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt;
use std::sync::Arc;

pub use bind::{Attached, bind};

pub use escape::html_text;
pub use parse::parse;
pub use to_html::to_html;
pub use to_typst::{TypstText, to_typst};
pub use tree::{Block, Document};

/// The Typst style of all PDFs; stands beside the documents as [`STYLE_NAME`].
pub const STYLE: &str = include_str!("../../templates/typst/style.typ");
/// File name of [`STYLE`] in the work folder.
pub const STYLE_NAME: &str = "style.typ";

/// Drawings by file name: SVG text.
pub type Pictures = BTreeMap<String, Arc<str>>;

/// Names of the drawings that a document shows.
#[must_use]
pub fn pictures_in(document: &Document) -> std::collections::BTreeSet<String> {
    let mut names = std::collections::BTreeSet::new();
    visit::figures(&document.blocks, &mut |name| {
        names.insert(name.to_owned());
    });
    names
}

/// What every sheet of a build says about the build, and the paper it is printed on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageSetup {
    /// Name of the build.
    pub build: String,
    /// Number of the build in the shop's books; may be empty.
    pub number: String,
    /// Revision of the specification; may be empty.
    pub revision: String,
    /// Short mark that tells two texts under one revision apart; may be empty.
    pub mark: String,
    /// The shop: author in the PDF's metadata.
    pub shop: String,
    /// Date of the document: year, month 1 to 12, day 1 to 31.
    pub date: (i32, u8, u8),
    /// Paper of the PDF.
    pub paper: Paper,
    /// Every page says DRAFT.
    pub draft: bool,
    /// Language, ISO 639-1, such as `en`.
    pub lang: String,
    /// Region, ISO 3166-1, such as `GB`.
    pub region: String,
    /// What a shop puts on covers, heads and feet.
    pub brand: Brand,
}

/// What a shop puts on covers, heads and feet. All of it may be empty; nothing else of the look is a shop's.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Brand {
    /// Address and telephones, in one line.
    pub contact: String,
    /// Colour of titles and heads, `#` and six digits.
    pub accent: String,
    /// A few words for the running foot.
    pub foot: String,
    /// A text for covers.
    pub cover: String,
    /// The logo.
    pub logo: Option<Logo>,
}

/// A logo, checked before it comes here: it only shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Logo {
    /// The picture.
    pub bytes: Arc<[u8]>,
    /// File name in the work folder of the typesetter: "logo" with the ending of the picture.
    pub name: String,
}

/// The media type of a picture by the ending of its name.
#[must_use]
pub fn media_of(name: &str) -> &'static str {
    match name.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase()).as_deref() {
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        _ => "image/jpeg",
    }
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm × 297 mm.
    A4,
    /// 8.5 in × 11 in.
    UsLetter,
}

impl Paper {
    /// Name in Typst.
    #[must_use]
    pub const fn typst_name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::UsLetter => "us-letter",
        }
    }

    /// Width and height in points.
    #[must_use]
    pub const fn points(self) -> (f64, f64) {
        match self {
            Self::A4 => (595.28, 841.89),
            Self::UsLetter => (612.0, 792.0),
        }
    }
}

/// A fault of a Markdown document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypesetError {
    /// Line in the Markdown from 1; 0 when the fault belongs to the whole document.
    pub line: usize,
    /// What is wrong.
    pub message: String,
}

impl fmt::Display for TypesetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line > 0 {
            write!(f, "line {}: ", self.line)?;
        }
        write!(f, "{}", self.message)
    }
}

impl Error for TypesetError {}
