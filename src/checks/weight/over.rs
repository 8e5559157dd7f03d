//! The load case that goes furthest above a limit, and the finding about it.

use crate::checks::Context;
use crate::checks::compare::above;
use crate::compute::weight::cases::Case;
use crate::diag::Finding;
use crate::units::Kilograms;

/// Load of one case: all of it, and what the spec gives itself.
pub(super) struct Over<'a> {
    pub(super) case: &'a Case,
    pub(super) load: Kilograms,
    pub(super) known: Kilograms,
}

/// The case furthest above `limit`, if one is. A case that the known masses alone bring above it comes first.
pub(super) fn worst<'a>(cases: impl Iterator<Item = Over<'a>>, limit: Kilograms) -> Option<Over<'a>> {
    let certain = |o: &Over<'_>| above(o.known.0, limit.0);
    cases
        .filter(|o| above(o.load.0, limit.0))
        .max_by(|a, b| certain(a).cmp(&certain(b)).then(a.load.0.total_cmp(&b.load.0)))
}

/// An error where the masses of the spec alone go above, else a warning.
pub(super) fn finding(name: &'static str, headline: String, worst: &Over<'_>, limit: Kilograms) -> Finding {
    if above(worst.known.0, limit.0) {
        Finding::error(name, headline)
    } else {
        Finding::warning(name, headline)
            .basis("usual values of masses, or masses without a place, lead above the limit")
    }
}

/// The heaviest things of the case behind (or before) the middle of the wheelbase, in words.
pub(super) fn heaviest(context: &Context<'_>, worst: &Over<'_>, axle: &str) -> String {
    let system = context.build.prints();
    let middle = context.weight.base.map_or(0.0, |b| b.wheelbase.0 / 2.0);
    let counts = |x: f64| match axle {
        "front" => x <= middle,
        "rear" => x >= middle,
        _ => true,
    };
    let aboard = context.weight.items.all.iter().filter(|i| worst.case.id.has(i.content));
    let mut heavy: Vec<_> = aboard.filter(|i| i.at.is_none_or(|p| counts(p.x.0))).collect();
    heavy.sort_by(|a, b| b.mass.0.total_cmp(&a.mass.0).then(a.part.cmp(&b.part)));
    let named = heavy.iter().take(4).map(|i| {
        let what = match i.content {
            None => "",
            Some(crate::kinds::Content::People) => " (people)",
            Some(_) => " (what it holds)",
        };
        format!("{}{what} {}", context.build.name(&i.part), i.mass.show(system))
    });
    format!("heaviest there: {}", named.collect::<Vec<_>>().join(", "))
}
