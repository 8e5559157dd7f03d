//! How a field is declared in `templates/`.

use crate::units::{Bound, Dimension};
use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::{Deserialize, Deserializer, Serialize};

/// Fields by name, in the order of the declaring file.
pub type Declarations = IndexMap<String, FieldDecl>;

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FieldType {
    /// A quantity of one dimension.
    Quantity(Dimension),
    /// Three lengths: aft of the front axle, to the left, above the floor (`at`), or along those axes (`size`).
    Lengths3,
    /// Two lengths: to the right and up, from the lower left corner of what they are on.
    Lengths2,
    /// A way: several points, each of three lengths as in `at`.
    Points,
    /// Plain text.
    Text,
    /// Inline Markdown.
    Prose,
    /// true or false.
    Flag,
    /// Whole number.
    Count,
    /// One of `choices`.
    Choice,
    /// A date (TOML local date).
    Date,
    /// Month and day of any year, such as "10-15".
    MonthDay,
    /// Id of a component.
    Component,
    /// One id of a component or a list of them.
    Components,
    /// A component and a switch on it: "control-panel.pump".
    Switch,
    /// Id of a place.
    Place,
    /// One id of a place or a list of them.
    Places,
    /// List of plain texts.
    Texts,
    /// Conductor size such as "10 AWG" or "6 mm2".
    Conductor,
    /// Money, such as "USD 240".
    Price,
    /// One of `choices` for each of some fields of the same table, such as { conductor = "read" }.
    ChoiceByField,
    /// A list of small tables.
    Rows(RowsOf),
    /// What a part has several of: a table for each by its id, with the fields of `has`. No declaration can ask for it but
    /// a kind's `[has.<role>]`.
    Parts,
}

/// What each table of a list of small tables is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowsOf {
    /// A safety message.
    Cautions,
    /// A reading to take.
    Readings,
    /// A symptom and what to do.
    Troubles,
}

impl RowsOf {
    /// All there are.
    pub const ALL: [Self; 3] = [Self::Cautions, Self::Readings, Self::Troubles];

    /// The word for it in a declaration.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Cautions => "cautions",
            Self::Readings => "readings",
            Self::Troubles => "troubles",
        }
    }

    /// One of them as a spec writes it.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Cautions => {
                "{ signal = \"warning\", hazard = \"Hot.\", consequence = \"Burns.\", avoid = \"Let it cool.\" }"
            }
            Self::Readings => {
                "{ id = \"group\", what = \"Pressure\", type = \"pressure\", is = \"9 bar\", within = \"1 bar\" }"
            }
            Self::Troubles => "{ symptom = \"It does not start.\", do = [\"Look at its fuse.\"] }",
        }
    }
}

impl FieldType {
    /// Reads the `type` of a declaration.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Some(match word {
            "lengths3" => Self::Lengths3,
            "lengths2" => Self::Lengths2,
            "points" => Self::Points,
            "text" => Self::Text,
            "prose" => Self::Prose,
            "flag" => Self::Flag,
            "count" => Self::Count,
            "choice" => Self::Choice,
            "date" => Self::Date,
            "month-day" => Self::MonthDay,
            "component" => Self::Component,
            "components" => Self::Components,
            "switch" => Self::Switch,
            "place" => Self::Place,
            "places" => Self::Places,
            "texts" => Self::Texts,
            "conductor" => Self::Conductor,
            "price" => Self::Price,
            "choice-by-field" => Self::ChoiceByField,
            other => match RowsOf::ALL.into_iter().find(|rows| rows.word() == other) {
                Some(rows) => Self::Rows(rows),
                None => Self::Quantity(Dimension::from_word(other)?),
            },
        })
    }
}

impl FieldType {
    /// The word for it in a declaration.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Quantity(dimension) => dimension.word(),
            Self::Lengths3 => "lengths3",
            Self::Lengths2 => "lengths2",
            Self::Points => "points",
            Self::Text => "text",
            Self::Prose => "prose",
            Self::Flag => "flag",
            Self::Count => "count",
            Self::Choice => "choice",
            Self::Date => "date",
            Self::MonthDay => "month-day",
            Self::Component => "component",
            Self::Components => "components",
            Self::Switch => "switch",
            Self::Place => "place",
            Self::Places => "places",
            Self::Texts => "texts",
            Self::Conductor => "conductor",
            Self::Price => "price",
            Self::Rows(rows) => rows.word(),
            Self::ChoiceByField => "choice-by-field",
            Self::Parts => "parts",
        }
    }
}

impl FieldType {
    /// Whether such a value tells where its part is, where the declaration says nothing else: texts, ids, places and
    /// lengths do.
    #[must_use]
    pub const fn tells_place(self) -> bool {
        matches!(
            self,
            Self::Text
                | Self::Prose
                | Self::Texts
                | Self::Rows(_)
                | Self::Parts
                | Self::Component
                | Self::Components
                | Self::Switch
                | Self::Place
                | Self::Places
                | Self::Lengths3
                | Self::Lengths2
                | Self::Points
                | Self::Quantity(Dimension::Length)
        )
    }
}

impl<'de> Deserialize<'de> for FieldType {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let word = String::deserialize(deserializer)?;
        Self::from_word(&word).ok_or_else(|| serde::de::Error::custom(format!("`{word}` is not a field type")))
    }
}

/// One declared field.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FieldDecl {
    /// What it holds.
    #[serde(rename = "type")]
    pub ty: FieldType,
    /// One sentence for the help and the schema.
    pub about: String,
    /// Stands in where the spec gives nothing; decoded like a value of the spec.
    #[serde(default)]
    pub default: Option<toml::Value>,
    /// The spec must give it.
    #[serde(default)]
    pub required: bool,
    /// Smallest value allowed.
    #[serde(default)]
    pub min: Option<toml::Value>,
    /// Largest value allowed.
    #[serde(default)]
    pub max: Option<toml::Value>,
    /// The value is itself a limit: documents round it to its safe side alone.
    #[serde(default)]
    pub bound: Option<Bound>,
    /// Words allowed, for `type = "choice"` and `"choice-by-field"`.
    #[serde(default)]
    pub choices: Vec<String>,
    /// What another value of it means for a part that is fitted already.
    #[serde(default)]
    pub change: Option<Change>,
    /// It stays in the shop and with the owner: no data, no record and no attached file holds it.
    #[serde(default)]
    pub private: bool,
    /// Whether a value of it tells where its part is, other than its type says.
    #[serde(default)]
    pub tells_place: Option<bool>,
    /// Its default holds in a network of 12 V: in one of 24 V or 48 V it is so many times as high.
    #[serde(default)]
    pub per_12_volts: bool,
    /// Fields of each of those that a part has several of.
    #[serde(skip)]
    pub has: Declarations,
}

impl FieldDecl {
    /// A field of a type of which nothing else is said.
    #[must_use]
    pub fn of(ty: FieldType, about: &str) -> Self {
        Self {
            ty,
            about: about.to_owned(),
            default: None,
            required: false,
            min: None,
            max: None,
            bound: None,
            choices: Vec::new(),
            change: None,
            private: false,
            tells_place: None,
            per_12_volts: false,
            has: Declarations::new(),
        }
    }

    /// Of what a part has several of, each with these fields.
    #[must_use]
    pub fn parts(about: &str, has: Declarations) -> Self {
        Self { has, ..Self::of(FieldType::Parts, about) }
    }

    /// Whether a value of it tells where its part is: of one that is to be hidden, nobody is shown it.
    #[must_use]
    pub fn tells_place(&self) -> bool {
        self.tells_place.unwrap_or_else(|| self.ty.tells_place())
    }
}

/// What has to be done with a part of which a field changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Change {
    /// It goes to another place.
    Moved,
    /// It is another one.
    Replaced,
}
