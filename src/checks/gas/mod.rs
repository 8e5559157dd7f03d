//! Checks of the way of gas: cylinder, regulator, line, valve, appliance.

mod gas_chain_broken;
mod gas_line_without_valve;
mod gas_pressure_differs;
mod regulator_too_small;

use crate::build::Part;
use crate::checks::Context;
use crate::roles::GasLine;

crate::checks::checks! {
    gas_chain_broken
    gas_line_without_valve
    gas_pressure_differs
    regulator_too_small
}

/// The gas lines that lead to an appliance.
fn lines_to<'a>(context: &Context<'a>, appliance: &'a Part<'a>) -> impl Iterator<Item = (&'a Part<'a>, &'a GasLine)> {
    let lines = context.build.parts.values().filter_map(|p| Some((p, p.roles.gas_line.as_deref()?)));
    lines.filter(|(_, line)| line.to.names(&appliance.id))
}
