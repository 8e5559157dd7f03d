//! Arrays grouped by their controller, and the way between.

use crate::build::{Circuit, Part};
use crate::checks::Context;
use crate::compute::network::Strings;
use crate::kinds::{Network, Role};
use crate::units::Volts;
use indexmap::IndexMap;

/// Arrays with their figures.
pub(super) fn arrays<'a>(context: &Context<'a>) -> impl Iterator<Item = (&'a Part<'a>, &'a Strings)> {
    let parts = &context.build.parts;
    context.figures.electrical.strings.iter().filter_map(move |(id, s)| Some((parts.get(id)?, s)))
}

/// Controllers, each with the arrays that reach it.
pub(super) fn by_controller<'a>(context: &Context<'a>) -> Vec<(&'a Part<'a>, Vec<(&'a Part<'a>, &'a Strings)>)> {
    let mut groups: IndexMap<&str, Vec<_>> = IndexMap::new();
    for (array, strings) in arrays(context) {
        if let Some(controller) = &strings.controller {
            groups.entry(controller).or_default().push((array, strings));
        }
    }
    groups.into_iter().filter_map(|(id, arrays)| Some((context.part(id)?, arrays))).collect()
}

/// Parts that the current of an array passes on its way to the controller.
pub(super) fn between<'a>(context: &Context<'a>, array: &'a Part<'a>) -> Vec<&'a Part<'a>> {
    let passes = |c: &Circuit| context.part(&c.to).and_then(Part::role).is_some_and(Role::passes_through);
    context.build.downstream(&array.id).along(|c| c.network == Network::Pv && passes(c)).parts().collect()
}

/// Highest voltage of an array's strings that can be told: at the record low where one is known, else at 25 °C.
pub(super) fn highest(strings: &Strings) -> Volts {
    strings.voc_cold.map_or(strings.voc, |cold| cold.max(strings.voc))
}

/// How [`highest`] came about.
pub(super) fn how(context: &Context<'_>, strings: &Strings) -> String {
    let system = context.build.prints();
    match strings.coldest {
        Some(low) => format!(
            "Voc of the string {} × (1 + {} %/K × ({} − 25 °C))",
            strings.voc.show(system),
            crate::units::number(strings.per_kelvin.0 * 100.0),
            low.show(crate::units::System::Metric),
        ),
        None => format!(
            "Voc of the string at 25 °C: {}; no record low is given, colder is higher",
            strings.voc.show(system)
        ),
    }
}
