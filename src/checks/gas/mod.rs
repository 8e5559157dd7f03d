//! Checks of the way of gas: cylinder, regulator, line, valve, appliance.

mod gas_chain_broken;
mod gas_line_without_valve;
mod gas_pressure_differs;
mod regulator_too_small;

use crate::build::Part;
use crate::checks::Context;
use crate::compute::heat::fuel_word;
use crate::kinds::SafetyRole;

crate::checks::checks! {
    gas_chain_broken
    gas_line_without_valve
    gas_pressure_differs
    regulator_too_small
}

/// What burns LPG.
fn appliances<'a>(context: &Context<'a>) -> impl Iterator<Item = &'a Part<'a>> {
    let build = context.build;
    let burns = |p: &&Part<'_>| p.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::Burner);
    build.parts.values().filter(burns).filter(|p| fuel_word(p) == Some("lpg"))
}
