//! The sections a spec may have and the fields all components share, as `templates/spec/` declares them.

use crate::assets;
use crate::fields::{Declarations, FieldDecl};
use indexmap::IndexMap;
use serde::Deserialize;
use std::sync::LazyLock;

/// Shape of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// `[name]`.
    Table,
    /// `[name.<id>]`, any number.
    Tables,
    /// `[[name]]`, any number.
    List,
    /// `[name]` with free keys and a text for each.
    Map,
}

/// One section of the spec.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Section {
    /// Its shape.
    pub form: Form,
    /// One sentence for the help and the schema.
    pub about: String,
    /// Fields of the section, or of each of its tables.
    #[serde(default)]
    pub fields: Declarations,
}

/// The sections by name, `recorded.serials` and its like included; `component` is not among them.
pub type Sections = IndexMap<String, Section>;

/// Fields that components have beside those of their kind.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ComponentFields {
    /// Of every component.
    pub common: Declarations,
    /// Of kinds with an electrical role.
    pub supply: Declarations,
    /// Of kinds that feed something themselves.
    pub output: Declarations,
}

impl ComponentFields {
    /// The declaration of `field` in any of the three groups.
    #[must_use]
    pub fn get(&self, field: &str) -> Option<&FieldDecl> {
        self.common.get(field).or_else(|| self.supply.get(field)).or_else(|| self.output.get(field))
    }
}

/// The embedded sections. A test holds that the file reads.
#[must_use]
pub fn sections() -> &'static Sections {
    static SECTIONS: LazyLock<Sections> =
        LazyLock::new(|| assets::text("spec/sections.toml").and_then(|t| toml::from_str(t).ok()).unwrap_or_default());
    &SECTIONS
}

/// The embedded common fields of components. A test holds that the file reads.
#[must_use]
pub fn component_fields() -> &'static ComponentFields {
    static FIELDS: LazyLock<ComponentFields> =
        LazyLock::new(|| assets::text("spec/component.toml").and_then(|t| toml::from_str(t).ok()).unwrap_or_default());
    &FIELDS
}

/// Fields of a section; none where there is no such section.
pub(super) fn fields_of(section: &str) -> &'static Declarations {
    static NONE: LazyLock<Declarations> = LazyLock::new(Declarations::new);
    sections().get(section).map_or(&NONE, |s| &s.fields)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::template_faults;

    #[test]
    fn embedded_declarations_read_and_their_defaults_and_bounds_fit() {
        let text = assets::text("spec/sections.toml").expect("embedded");
        let sections: Sections = toml::from_str(text).expect("sections.toml");
        assert_eq!(sections.len(), super::sections().len());
        for (name, section) in &sections {
            assert_eq!(template_faults(&section.fields), Vec::<String>::new(), "{name}");
            assert!(section.form == Form::Map || !section.fields.is_empty(), "{name}");
        }
        let fields: ComponentFields =
            toml::from_str(assets::text("spec/component.toml").expect("embedded")).expect("component.toml");
        for group in [&fields.common, &fields.supply, &fields.output] {
            assert!(!group.is_empty());
            assert_eq!(template_faults(group), Vec::<String>::new());
        }
        assert!(fields.get("fed_from").is_some() && fields.get("feeds").is_some() && fields.get("mass").is_some());
    }
}
