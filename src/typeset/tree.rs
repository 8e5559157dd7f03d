//! The small document tree between the Markdown parser and the writers.

use std::collections::BTreeMap;

pub use super::visit::{is_tick, page_mark, plain_text, text_length, walk};

/// A parsed document: front matter, blocks and footnotes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Document {
    /// Front matter.
    pub meta: Meta,
    /// Contents in order, without the title.
    pub blocks: Vec<Block>,
    /// Footnote texts by label.
    pub footnotes: BTreeMap<String, Vec<Block>>,
}

/// Front matter of a document: what the template says about the sheet. All texts are plain.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "these are the switches of the front matter")]
pub struct Meta {
    /// Title; never empty in a parsed document.
    pub title: String,
    /// Line under the title.
    pub subtitle: String,
    /// Short name of the sheet for the running head; the title when empty.
    pub document: String,
    /// What the document is for.
    pub purpose: String,
    /// Who should read it.
    pub audience: String,
    /// Print a contents list.
    pub contents: bool,
    /// The title stands alone on a first page.
    pub cover: bool,
    /// All pages lie on their side.
    pub landscape: bool,
    /// Headings are numbered 1, 1.1 and so on.
    pub numbered: bool,
    /// Smaller text, for sheets that are mostly tables.
    pub compact: bool,
    /// No colour at all.
    pub mono: bool,
}

/// A block of a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// A heading; `level` starts at 1 and never skips.
    Heading {
        /// 1 to 6.
        level: u8,
        /// Target of links.
        id: Option<String>,
        /// Text.
        body: Vec<Inline>,
    },
    /// What else people call what the next heading names: for the search alone.
    Also(String),
    /// A paragraph.
    Paragraph(Vec<Inline>),
    /// A bullet, ordered or check list.
    List(List),
    /// A table.
    Table(Table),
    /// Terms with their definitions.
    Definitions(Vec<Definition>),
    /// A safety message or note.
    Callout {
        /// Which one.
        kind: Callout,
        /// Text.
        body: Vec<Block>,
    },
    /// A quotation.
    Quote(Vec<Block>),
    /// Preformatted text.
    Code(String),
    /// A drawing.
    Figure {
        /// Name of the SVG in the map given to the writers.
        name: String,
        /// Alternative text, never empty.
        alt: String,
        /// Caption, may be empty.
        caption: String,
        /// How large it is printed.
        size: FigureSize,
    },
    /// A horizontal rule.
    Rule,
    /// A full-width line to write on.
    WritingLine,
    /// What follows starts a new page.
    PageBreak,
    /// Pages on their side.
    Landscape(Vec<Block>),
    /// Not to be broken over pages.
    Keep(Vec<Block>),
    /// In two columns: indexes, label lists.
    Columns(Vec<Block>),
    /// Pages in two columns, which a long run of short texts fills; drawings go over both.
    Narrow(Vec<Block>),
    /// A short contents list, of the first level alone.
    Contents,
    /// Another document: a link to it, or, where several are bound into one, the document itself.
    Document {
        /// Its file name without an ending.
        stem: String,
        /// What it is called.
        title: String,
    },
}

/// How large a drawing is printed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum FigureSize {
    /// As wide as the page, but about half as high at most.
    #[default]
    Part,
    /// As wide or as high as the page.
    Page,
    /// At the size it says itself, in millimetres.
    True,
    /// The same, at the head or foot of the next page that has the room: the text goes on meanwhile.
    Floating,
}

/// A list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct List {
    /// First number of an ordered list.
    pub start: Option<u64>,
    /// Items stand close together.
    pub tight: bool,
    /// Items in order.
    pub items: Vec<Item>,
}

/// An item of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// `Some` when the item has a tick box; true when ticked.
    pub tick: Option<bool>,
    /// Contents.
    pub body: Vec<Block>,
}

/// A term and its definitions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Definition {
    /// The term.
    pub term: Vec<Inline>,
    /// One or more definitions.
    pub bodies: Vec<Vec<Block>>,
}

/// A table with a header row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Caption, may be empty.
    pub caption: Vec<Inline>,
    /// Alignment of each column.
    pub columns: Vec<Align>,
    /// Widths forced by the template: `None` is automatic, a number a share of the rest.
    pub widths: Option<Vec<Option<u16>>>,
    /// Header cells.
    pub head: Vec<Vec<Inline>>,
    /// Rows of cells, each as many as there are columns.
    pub rows: Vec<Vec<Vec<Inline>>>,
}

/// Alignment of a table column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// To the left (start).
    Left,
    /// Centred.
    Center,
    /// To the right: numbers.
    Right,
}

/// Safety messages as in ANSI Z535.6, and notes without safety meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Callout {
    /// Will cause death or serious injury if not avoided.
    Danger,
    /// Could cause death or serious injury.
    Warning,
    /// Could cause minor or moderate injury.
    Caution,
    /// Not related to injury: damage to things.
    Notice,
    /// Something good to know.
    Note,
    /// A helpful hint.
    Tip,
    /// Something not to be missed.
    Important,
}

impl Callout {
    /// Every kind.
    pub const ALL: [Self; 7] =
        [Self::Danger, Self::Warning, Self::Caution, Self::Notice, Self::Note, Self::Tip, Self::Important];

    /// The word that stands first in the message, in capitals.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Danger => "DANGER",
            Self::Warning => "WARNING",
            Self::Caution => "CAUTION",
            Self::Notice => "NOTICE",
            Self::Note => "NOTE",
            Self::Tip => "TIP",
            Self::Important => "IMPORTANT",
        }
    }

    /// Whether the safety alert symbol belongs to it: only where people can be hurt.
    #[must_use]
    pub const fn alerts(self) -> bool {
        matches!(self, Self::Danger | Self::Warning | Self::Caution)
    }

    /// The kind for a word, any case.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.word().eq_ignore_ascii_case(word))
    }
}

/// Part of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Inline {
    /// Plain text.
    Text(String),
    /// Emphasis.
    Emphasis(Vec<Self>),
    /// Strong emphasis.
    Strong(Vec<Self>),
    /// Code.
    Code(String),
    /// A link. One to a place in this document whose text is `@` alone stands for the number of its page: nothing on
    /// a screen, where the words beside it are the link.
    Link {
        /// Where to.
        target: Target,
        /// Text.
        body: Vec<Self>,
    },
    /// A place that links can point to.
    Anchor(String),
    /// A reference to a footnote.
    Footnote(String),
    /// A blank to write on; the length in underscores.
    Blank(usize),
    /// A tick box in text or a cell; true when ticked.
    Tick(bool),
    /// A forced line break.
    Break,
}

/// Where a link points.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// An identifier in this document.
    Here(String),
    /// Another file of the binder, by plain name, and an identifier in it.
    File {
        /// File name without folder; `.md` stands for the document in any format.
        name: String,
        /// Identifier in it.
        id: Option<String>,
    },
    /// A web, mail or telephone address.
    Address(String),
}
