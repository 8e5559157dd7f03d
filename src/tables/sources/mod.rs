//! The register of sources that tables and formulas cite. One file per field; every citation stands in exactly one.

/// Declares the citations of a field: name, status, id, text, edition.
macro_rules! sources {
    ($($name:ident $status:ident $id:literal, $text:literal, $edition:literal;)*) => {
        $(
            #[doc = $text]
            pub static $name: Citation =
                Citation { id: $id, text: $text, edition: $edition, status: Status::$status };
        )*

        /// All of this file, in its order.
        pub(in crate::tables::sources) static ALL: &[&Citation] = &[$(&$name,)*];
    };
}
pub(crate) use sources;

pub mod air;
pub mod electrical;
pub mod energy;
pub mod geometry;
pub mod heat;
pub mod mechanics;
pub mod solar;
pub mod water;
pub mod weight;

pub use air::*;
pub use electrical::*;
pub use energy::*;
pub use geometry::*;
pub use heat::*;
pub use mechanics::*;
pub use solar::*;
pub use water::*;
pub use weight::*;

use super::citation::Citation;

const FIELDS: &[&[&Citation]] = &[
    electrical::ALL,
    solar::ALL,
    energy::ALL,
    water::ALL,
    heat::ALL,
    weight::ALL,
    geometry::ALL,
    mechanics::ALL,
    air::ALL,
];

/// Every citation, in a fixed order.
pub fn all() -> impl Iterator<Item = &'static Citation> {
    FIELDS.iter().flat_map(|field| field.iter().copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_unique_kebab_case_and_found() {
        let mut seen = std::collections::BTreeSet::new();
        for citation in all() {
            assert!(seen.insert(citation.id), "{} stands twice", citation.id);
            assert!(citation.id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'));
            assert!(!citation.text.is_empty());
        }
    }
}
