//! Parts by what they do for the safety of people.

use crate::build::Part;
use crate::checks::Context;
use crate::kinds::SafetyRole;

/// Parts that play `role`.
pub(super) fn of_role<'a>(context: &Context<'a>, role: SafetyRole) -> impl Iterator<Item = &'a Part<'a>> {
    let build = context.build;
    build.parts.values().filter(move |p| p.kind.safety.as_ref().is_some_and(|s| s.role == role))
}

/// The first part that plays one of `roles`.
pub(super) fn first<'a>(context: &Context<'a>, roles: &[SafetyRole]) -> Option<&'a Part<'a>> {
    roles.iter().find_map(|role| of_role(context, *role).next())
}

/// The first burner that runs on LPG.
pub(super) fn burns_gas<'a>(context: &Context<'a>) -> Option<&'a Part<'a>> {
    crate::compute::heat::gas_burners(context.build).next()
}
