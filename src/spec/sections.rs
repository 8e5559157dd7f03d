//! The sections a spec may have and the fields all components share, as `templates/spec/` declares them.

use crate::catalogue::{Catalogue, Fault};
use crate::fields::{Declarations, FieldDecl};
use crate::roles::{Common, Device, Output, Supply};
use indexmap::IndexMap;
use serde::Deserialize;
use std::sync::Arc;

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
#[derive(Clone, Debug, Default)]
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

/// Sections of a shop's page that a spec may have too.
const ALSO_IN_SPEC: [&str; 2] = ["person", "instrument"];

/// What the spec language has beside the kinds.
#[derive(Clone, Debug, Default)]
pub struct Language {
    /// The sections.
    pub sections: Sections,
    /// Fields that components have beside those of their kind.
    pub component: ComponentFields,
    /// The sections of a shop's page, and what a stock item has beside the fields of its kind.
    pub shop: Sections,
    none: Declarations,
}

impl Language {
    /// Reads the declarations of a catalogue, once.
    ///
    /// # Errors
    /// Where they do not hold together.
    pub fn of(catalogue: &Catalogue) -> Result<Arc<Self>, Fault> {
        catalogue.keep("language", |catalogue| {
            let mut sections: Sections = catalogue.read("spec/sections.toml")?;
            if let Some(usage) = sections.get_mut("use") {
                let about = format!("Each by an id of its own. {}", Device::CONTRACT.about.trim());
                let devices = FieldDecl::parts(&about, Device::CONTRACT.declarations());
                usage.fields.insert("devices".to_owned(), devices);
            }
            let component = ComponentFields {
                common: Common::CONTRACT.declarations(),
                supply: Supply::CONTRACT.declarations(),
                output: Output::CONTRACT.declarations(),
            };
            let shop: Sections = catalogue.read("spec/shop.toml")?;
            // One who has no folder says in the spec who signs and with what is read.
            for name in ALSO_IN_SPEC {
                sections.extend(shop.get(name).map(|section| (name.to_owned(), section.clone())));
            }
            Ok(Self { sections, component, shop, none: Declarations::new() })
        })
    }

    /// The language of a shop's page.
    pub(super) fn of_shop(&self) -> Self {
        let sections = self.shop.iter().filter(|(name, _)| *name != "stock");
        Self { sections: sections.map(|(name, s)| (name.clone(), s.clone())).collect(), ..Self::default() }
    }

    /// What a stock item has beside the fields of its kind.
    #[must_use]
    pub fn of_stock(&self) -> &Declarations {
        self.shop_fields("stock")
    }

    /// Fields of a section of a shop's page.
    fn shop_fields(&self, section: &str) -> &Declarations {
        self.shop.get(section).map_or(&self.none, |s| &s.fields)
    }

    /// Fields of a section; none where there is no such section.
    pub(super) fn fields_of(&self, section: &str) -> &Declarations {
        self.sections.get(section).map_or(&self.none, |s| &s.fields)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::template_faults;

    #[test]
    fn embedded_declarations_read_and_their_defaults_and_bounds_fit() {
        let Language { sections, component: fields, shop, .. } =
            &*Language::of(&Catalogue::built_in()).expect("declarations");
        assert!(sections.len() > 10 && shop.len() > 4, "read nothing");
        for (name, section) in sections.iter().chain(shop) {
            assert_eq!(template_faults(&section.fields), Vec::<String>::new(), "{name}");
            assert!(section.form == Form::Map || !section.fields.is_empty(), "{name}");
        }
        for group in [&fields.common, &fields.supply, &fields.output] {
            assert!(!group.is_empty());
            assert_eq!(template_faults(group), Vec::<String>::new());
        }
        assert!(fields.get("fed_from").is_some() && fields.get("feeds").is_some() && fields.get("mass").is_some());
    }
}
