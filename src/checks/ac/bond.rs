//! Where neutral and earth are joined, as the spec says it.

use crate::build::{Build, Part};
use crate::fields::{Choice, Field};
use crate::kinds::Role;

/// Components that say where the joint is made. They are told by their fields, not by their kind.
pub(super) fn bonds<'a, 'k>(build: &'a Build<'k>) -> impl Iterator<Item = &'a Part<'k>> {
    build.parts.values().filter(|p| p.roles.neutral_bond.is_some())
}

/// Inverters and inverter-chargers that feed something.
pub(super) fn inverters<'a, 'k>(build: &'a Build<'k>) -> impl Iterator<Item = &'a Part<'k>> {
    let inverts = |p: &&Part<'_>| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger));
    build.parts.values().filter(inverts).filter(|p| !super::reach::users(build, &p.id).is_empty())
}

/// Whether the bond `bond` is one of `inverter`: it names it, or names none.
pub(super) fn is_of(bond: &Part<'_>, inverter: &Part<'_>) -> bool {
    let named = bond.roles.switched_by().all();
    named.is_empty() || named.iter().any(|n| n.value == inverter.id)
}

/// The field that says where a bond is made while the inverter runs.
pub(super) fn inverting<'a>(bond: &'a Part<'_>) -> &'a Field<Choice> {
    bond.roles.neutral_bond.as_ref().map_or(Field::NONE, |b| &b.on_inverter)
}

/// Where the bond is made while the inverter runs; "none" and "not-used" where it is not.
pub(super) fn while_inverting<'a>(bond: &'a Part<'_>) -> &'a str {
    inverting(bond).text().unwrap_or("none")
}

/// Where the bonds of the van are made while a generator runs; "not-used" where they are not.
fn while_generating<'a>(bond: &'a Part<'_>) -> &'a str {
    let field = bond.roles.neutral_bond.as_ref().map(|b| &b.on_generator);
    field.and_then(|f| f.text()).unwrap_or("not-used")
}

/// Whether neutral and earth are joined while a generator runs.
pub(super) fn is_made(build: &Build<'_>, generator: &Part<'_>) -> bool {
    is_in(build, generator) || bonds(build).any(|b| while_generating(b) == "transfer-switch")
}

/// Whether a portable generator is plugged in there.
pub(super) fn takes_portable(part: &Part<'_>) -> bool {
    part.roles.inlet.as_ref().is_some_and(|inlet| inlet.portable_power.given)
}

/// Whether they are joined in the generator itself.
pub(super) fn is_in(build: &Build<'_>, generator: &Part<'_>) -> bool {
    let own = generator.roles.generator.as_ref().is_some_and(|g| g.neutral_bonded.is_set());
    let portable = generator.roles.inlet.as_ref().is_some_and(|inlet| inlet.portable_bonded.is_set());
    own || portable || bonds(build).any(|b| while_generating(b) == "at-generator")
}

/// The bond that the transfer makes while a generator runs.
pub(super) fn in_transfer<'a, 'k>(build: &'a Build<'k>) -> Option<&'a Part<'k>> {
    bonds(build).find(|b| while_generating(b) == "transfer-switch")
}
