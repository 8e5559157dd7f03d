//! The spec: TOML → typed values with their places; many faults in one run.
//!
//! [`read`] splits the text (`scan`), parses it with recovery (`syntax`), and decodes the tree by the declarations
//! of `templates/`: fixed sections ([`Language`]) and the fields of the kinds.

mod bare;
mod components;
mod docs;
mod earlier;
mod faults;
mod field;
mod inside;
mod limits;
mod mend;
mod model;
mod page;
mod parts;
mod quantity;
mod read;
mod record;
mod recorded;
mod references;
mod repair;
mod rows;
mod scan;
mod schema;
mod sections;
mod shop_docs;
mod starter;
mod stock;
mod suggest;
mod syntax;
#[cfg(test)]
mod tests;
mod texts;
mod tree;
mod typed;
mod unfit;
mod value;
mod whole;

pub use docs::{READ_FINDINGS, is_about_the_words, is_syntax};
pub use model::{Accepted, Component, Page, Recorded, Signature, Spec};
pub use page::of_shop;
pub use read::{decode_text, read, read_shop};
pub use schema::schema;
pub use sections::{ComponentFields, Form, Language, Section, Sections};
pub use shop_docs::SHOP_FINDINGS;
pub use starter::{starter, starter_kind, starter_shop};
pub use stock::{Shelf, starter_item};
pub use suggest::is_plain;
pub use texts::Typed;
pub use typed::{
    BuildSection, Certificate, Channel, Climate, Deviation, Goals, PlaceSection, Snag, StageSection, Surface,
    TaskSection, Times, UpkeepSection, Usage, Vehicle, Weights,
};
#[cfg(test)]
pub(crate) use value::template_faults;
