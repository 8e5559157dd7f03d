//! What a role is: its fields with type, meaning and need, as one struct and one contract.

use crate::fields::{Change, Declarations, FieldDecl, FieldType};
use serde::Deserialize;

/// Which block of a kind a role stands for: of each block a kind plays one part at most, but for `Other`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Block {
    /// Part in an electrical network.
    Electric,
    /// Part in the water system.
    Plumbing,
    /// Part in heating and cooling.
    Thermal,
    /// Part in life safety.
    Safety,
    /// Part in holding things.
    Mechanics,
    /// Part in compressed air.
    Air,
    /// A part beside those: as many as there are.
    Other,
}

/// A field of a role.
#[derive(Clone, Copy, Debug)]
pub struct RoleField {
    /// Its name in specs and kinds.
    pub name: &'static str,
    /// What it holds.
    pub ty: FieldType,
    /// What it means, one sentence.
    pub about: &'static str,
    /// A kind of the role must have it, with a default or `required = true`; the others a kind may take.
    pub must: bool,
    /// What the role says of it beyond type and meaning, as the inside of a TOML inline table.
    attributes: &'static str,
}

impl RoleField {
    /// The field as declared by macro `role!`.
    pub(super) const fn new(
        name: &'static str,
        ty: FieldType,
        about: &'static str,
        must: bool,
        attributes: &'static str,
    ) -> Self {
        Self { name, ty, about, must, attributes }
    }

    /// The declaration of the field in a kind that says `differs` of it.
    ///
    /// # Errors
    /// What `differs` holds that a kind may not say, as words.
    pub fn declare(&self, differs: &toml::Table) -> Result<FieldDecl, String> {
        let differs = FieldDiffers::deserialize(differs.clone()).map_err(|e| e.message().trim().to_owned())?;
        // Embedded in the program; a test reads all of it.
        let own = self.own().unwrap_or_default();
        if let (Some(choices), Some(words)) = (&differs.choices, &own.choices)
            && let Some(unknown) = choices.iter().find(|choice| !words.contains(choice))
        {
            return Err(format!("its role knows no `{unknown}`; it knows {}", words.join(", ")));
        }
        Ok(FieldDecl {
            about: differs.about.unwrap_or_else(|| self.about.trim().to_owned()),
            default: differs.default.or(own.default),
            required: differs.required.or(own.required).unwrap_or_default(),
            min: differs.min.or(own.min),
            max: differs.max.or(own.max),
            bound: differs.bound.or(own.bound),
            choices: differs.choices.or(own.choices).unwrap_or_default(),
            change: differs.change.or(own.change),
            tells_place: differs.tells_place.or(own.tells_place),
            per_12_volts: differs.per_12_volts.or(own.per_12_volts).unwrap_or_default(),
            ..FieldDecl::of(self.ty, "")
        })
    }

    /// Its default, where that is a whole number that the role itself says.
    #[must_use]
    pub fn usual_count(&self) -> Option<i64> {
        self.own().ok()?.default?.as_integer()
    }

    /// What the role itself says.
    fn own(&self) -> Result<FieldDiffers, toml::de::Error> {
        // The compiler breaks long lines of tokens wherever it likes; TOML does not.
        let line = self.attributes.split_whitespace().collect::<Vec<_>>().join(" ");
        toml::from_str(&line.replace(';', "\n"))
    }
}

/// What a kind may say of a field of its role.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct FieldDiffers {
    about: Option<String>,
    default: Option<toml::Value>,
    required: Option<bool>,
    min: Option<toml::Value>,
    max: Option<toml::Value>,
    bound: Option<crate::units::Bound>,
    choices: Option<Vec<String>>,
    change: Option<Change>,
    tells_place: Option<bool>,
    per_12_volts: Option<bool>,
}

/// What a kind must tell to play a part.
#[derive(Clone, Copy, Debug)]
pub struct Contract {
    /// The word behind `role.` in a kind.
    pub id: &'static str,
    /// What the part is, one sentence.
    pub about: &'static str,
    /// Which block it belongs to.
    pub block: Block,
    /// Its fields.
    pub fields: &'static [RoleField],
}

impl Contract {
    /// All its fields as a component has them, of which no kind can say anything else.
    #[must_use]
    pub fn declarations(&self) -> Declarations {
        let empty = toml::Table::new();
        self.fields.iter().filter_map(|f| Some((f.name.to_owned(), f.declare(&empty).ok()?))).collect()
    }

    /// The field of that name.
    #[must_use]
    pub fn field(&self, name: &str) -> Option<&RoleField> {
        self.fields.iter().find(|f| f.name == name)
    }
}

/// Declares a role: a struct with a [`Field`](crate::fields::Field) for each of its fields, and its contract.
///
/// `must` fields are in every kind of the role, `may` fields in those that take them.
macro_rules! role {
    (
        $(#[doc = $about:literal])+
        $name:ident = $id:literal in $block:ident {
            $($(#[doc = $what:literal])+ $field:ident: $need:ident $ty:ty $({ $($attribute:tt)* })?;)*
        }
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, Debug)]
        pub struct $name {
            $($(#[doc = $what])+ pub $field: crate::fields::Field<$ty>,)*
        }

        impl $name {
            /// What a kind must tell to play this part.
            pub const CONTRACT: crate::roles::Contract = crate::roles::Contract {
                id: $id,
                about: concat!($($about),+),
                block: crate::roles::Block::$block,
                fields: &[$(crate::roles::contract::RoleField::new(
                    stringify!($field),
                    <$ty as crate::fields::FieldValue>::TYPE,
                    concat!($($what),+),
                    role!(@$need),
                    concat!($(stringify!($($attribute)*))?),
                ),)*],
            };

            /// The part a component with these fields plays.
            #[must_use]
            pub fn of(record: &crate::fields::Record) -> Self {
                // A role without fields has nothing to read.
                let _ = record;
                Self { $($field: crate::fields::Field::of(record, stringify!($field)),)* }
            }
        }
    };
    (@must) => { true };
    (@may) => { false };
}
pub(super) use role;

#[cfg(test)]
mod tests {
    use crate::roles::ALL;

    #[test]
    fn roles_hold_together() {
        for (place, role) in ALL.iter().enumerate() {
            assert!(!role.about.trim().is_empty(), "{}", role.id);
            assert!(ALL[..place].iter().all(|other| other.id != role.id), "{} stands twice", role.id);
            for field in role.fields {
                let read = field.own();
                assert!(read.is_ok(), "{}.{}: {:?}", role.id, field.name, read.err());
                assert!(field.about.trim().ends_with('.'), "{}.{}", role.id, field.name);
            }
        }
    }
}
