//! Tests of the reader as a whole.

mod decoding;
mod findings;
mod hostile;
mod recovery;
mod schema;
mod typing;

use super::{Language, Shelf, Spec, read};
use crate::catalogue::{Catalogue, Text};
use crate::diag::{Finding, Sink};
use crate::fields::{Declarations, KindFields};
use crate::roles::{self, Block};
use crate::source::SourceFile;
use serde::Deserialize;
use std::sync::{Arc, LazyLock};

/// What these tests need of a kind file.
#[derive(Deserialize)]
struct KindFile {
    #[serde(default)]
    fields: Declarations,
    #[serde(default)]
    role: indexmap::IndexMap<String, toml::Table>,
}

/// What is built in.
fn built_in() -> &'static Catalogue {
    static BUILT_IN: LazyLock<Catalogue> = LazyLock::new(Catalogue::built_in);
    &BUILT_IN
}

/// The sections and the common fields.
fn language() -> &'static Language {
    static LANGUAGE: LazyLock<Arc<Language>> = LazyLock::new(|| Language::of(built_in()).expect("declarations"));
    &LANGUAGE
}

/// The commented spec of `new`.
fn starter() -> &'static str {
    super::starter(built_in()).expect("starter")
}

/// All kinds under `templates/kinds`, with the common fields.
fn known() -> &'static KindFields {
    static KNOWN: LazyLock<KindFields> = LazyLock::new(|| {
        let shared = &language().component;
        let mut known = KindFields::default();
        for Text { stem: id, text, .. } in built_in().folder("kinds", "toml") {
            let file: KindFile = toml::from_str(text).unwrap_or_else(|e| panic!("{id}: {e}"));
            let mut fields = shared.common.clone();
            for (role, table) in &file.role {
                let contract = roles::contract(role).unwrap_or_else(|| panic!("{id}: {role}"));
                if contract.block == Block::Electric {
                    fields.extend(shared.supply.clone());
                    if ["charger", "inverter", "inverter-charger", "alternator"].contains(&contract.id) {
                        fields.extend(shared.output.clone());
                    }
                }
                for (name, differs) in table {
                    let Some(field) = contract.field(name) else { continue };
                    let differs = differs.as_table().unwrap_or_else(|| panic!("{id}: {name}"));
                    fields.insert(name.clone(), field.declare(differs).expect("declares"));
                }
            }
            fields.extend(file.fields);
            known.kinds.insert(id.to_owned(), fields);
        }
        known
    });
    &KNOWN
}

fn read_text(text: &str) -> (SourceFile, Spec, Vec<Finding>) {
    let file = SourceFile::new("test.toml", text);
    let mut sink = Sink::default();
    let spec = read(&file, language(), known(), &Shelf::default(), &mut sink);
    (file, spec, sink.into_sorted())
}

/// `line:column name` of every finding, in order of place.
fn places(text: &str) -> Vec<String> {
    let (file, _, findings) = read_text(text);
    findings
        .iter()
        .map(|f| match f.span {
            Some(span) => {
                let (line, column) = file.position(span.start);
                format!("{line}:{column} {}", f.name)
            }
            None => format!("- {}", f.name),
        })
        .collect()
}

/// The text with the finding's mend made.
fn mended(text: &str, finding: &Finding) -> Option<String> {
    let fix = finding.fix.as_ref()?;
    Some(format!("{}{}{}", text.get(..fix.span.start)?, fix.replacement, text.get(fix.span.end..)?))
}
