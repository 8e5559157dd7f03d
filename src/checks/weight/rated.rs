//! Loads above ratings, for the checks of carriers, trays and stores.

use crate::checks::Context;
use crate::checks::compare::above;
use crate::compute::weight::ratings::Loading;
use crate::diag::{Finding, Sink};
use crate::kinds::Rated;
use crate::units::Bound;

/// Reports every rating of this sort that is exceeded; a warning where a usual value leads above it or is the limit.
pub(super) fn report(context: &Context<'_>, of: Rated, name: &'static str, help: &str, sink: &mut Sink) {
    let system = context.build.prints();
    for l in context.weight.loadings.iter().filter(|l| l.of == of && above(l.load.0, l.limit.0)) {
        let Some(part) = context.part(&l.part) else { continue };
        let side = l.side.map_or_else(String::new, |s| format!(", {s}"));
        let headline =
            format!("{}{side}: {} on it, rated {}", l.part, l.load.show(system), l.limit.bound(Bound::Most, system));
        let certain = l.limit_given && above(l.known.0, l.limit.0);
        let finding = Finding::error_if(certain, name, headline);
        let rating = part.masses.as_ref().and_then(|m| m.rating.as_ref());
        let span = rating.map_or(part.common.mass.span, |r| r.limit.span);
        let usual = if l.limit_given { "" } else { " (usual value; give the maker's)" };
        sink.push(
            finding
                .about(&l.part)
                .at(span, format!("rated {}{usual}", l.limit.bound(Bound::Most, system)))
                .basis(carried(context, l))
                .help(help),
        );
    }
}

/// What makes up the load, in words.
fn carried(context: &Context<'_>, loading: &Loading) -> String {
    let system = context.build.prints();
    let holds = context.weight.items.all.iter().filter(|i| i.part == loading.part && i.content.is_some());
    let own: crate::units::Kilograms = holds.map(|i| i.mass).sum();
    let riding = context.build.parts.values().filter(|p| context.build.rests_on(&p.id, &loading.part));
    let mut words: Vec<String> = riding.map(|p| p.name.clone()).collect();
    if own.0 > 0.0 && loading.side.is_none() {
        words.insert(0, format!("what it holds, {}", own.show(system)));
    }
    format!("load: {}", words.join("; "))
}
