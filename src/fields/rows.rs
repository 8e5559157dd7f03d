//! Lists of small tables in one field: cautions, readings, troubles.

use super::{Declarations, Field, FieldDecl, FieldType, FieldValue, Record, RowsOf, Value};
use crate::units::Dimension;
use serde::Serialize;

impl RowsOf {
    /// The fields of one.
    #[must_use]
    pub fn fields(self) -> Declarations {
        let text = |about: &str, required: bool| field(FieldType::Text, about, required);
        let fields = match self {
            Self::Cautions => vec![
                (
                    "signal",
                    FieldDecl {
                        choices: ["danger", "warning", "caution", "notice"].map(str::to_owned).to_vec(),
                        ..field(FieldType::Choice, "How bad it can get.", true)
                    },
                ),
                ("hazard", text("What the hazard is.", true)),
                ("consequence", text("What can happen.", true)),
                ("avoid", text("How to avoid it.", true)),
            ],
            Self::Readings => vec![
                ("id", text("Id, for its record.", true)),
                ("what", text("What is read.", true)),
                (
                    "type",
                    FieldDecl { choices: measures(), ..field(FieldType::Choice, "What it is a figure of.", false) },
                ),
                ("is", text("What is expected: \"9 bar\", a count in quotes.", false)),
                ("at_least", text("Least that is good.", false)),
                ("at_most", text("Most that is good.", false)),
                ("within", text("How far it may be off: \"1 bar\", \"10 %\".", false)),
                ("above", text("How far it may lie above.", false)),
                ("below", text("How far it may lie below.", false)),
                ("words", text("What is expected, in words: a person judges.", false)),
            ],
            Self::Troubles => vec![
                ("symptom", text("What the owner notices.", true)),
                ("do", field(FieldType::Texts, "What to do, in order.", true)),
            ],
        };
        fields.into_iter().map(|(name, decl)| (name.to_owned(), decl)).collect()
    }
}

/// What can be measured; left out, it is said in words.
fn measures() -> Vec<String> {
    let others = [FieldType::Count, FieldType::Date, FieldType::Text].map(FieldType::word);
    Dimension::ALL.iter().map(|d| d.word()).chain(others).map(str::to_owned).collect()
}

fn field(ty: FieldType, about: &str, required: bool) -> FieldDecl {
    FieldDecl { required, ..FieldDecl::of(ty, about) }
}

macro_rules! rows {
    ($($name:ident $doc:literal;)*) => {$(
        #[doc = $doc]
        #[derive(Clone, Debug, Serialize)]
        #[serde(transparent)]
        pub struct $name(pub Vec<Record>);

        impl FieldValue for $name {
            const TYPE: FieldType = FieldType::Rows(RowsOf::$name);
            fn of(value: &Value) -> Option<Self> {
                match value { Value::Rows(rows) => Some(Self(rows.clone())), _ => None }
            }
        }

        impl Field<$name> {
            /// All of them; none where nothing is said.
            #[must_use]
            pub fn rows(&self) -> &[Record] {
                self.as_ref().map_or(&[], |rows| &rows.0)
            }
        }
    )*};
}

rows! {
    Cautions "Safety messages.";
    Readings "Readings to take.";
    Troubles "Symptoms, each with what to do.";
}
