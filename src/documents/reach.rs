//! Facts of reach: from where a part is worked in danger, what it hangs behind, and what can stand before a way out.

use crate::build::{Build, Part};
use crate::compute::geometry::exits;
use crate::kinds::Role;

/// The facts of a part; each "" where it does not apply.
pub(super) fn facts(build: &Build<'_>, part: &Part<'_>) -> [(&'static str, String); 5] {
    let led_through = || build.parts.values().any(|route| route.roles.leads_through().names(&part.id));
    let way_out = if exits::is_exit(part) && !led_through() { "yes" } else { "" };
    let bars = if exits::is_exit(part) { exits::exit(build, part).barred_by } else { Vec::new() };
    let steps: Vec<&str> = part.roles.to_free().all().iter().map(|s| s.value.as_str()).collect();
    [
        ("way_out", way_out.to_owned()),
        ("barred_by", bars.iter().map(|p| p.name.as_str()).collect::<Vec<_>>().join(", ")),
        ("to_free", steps.join(" ")),
        ("reached_at", reached_at(build, part)),
        ("rcd_above", rcd_above(build, part)),
    ]
}

/// What is said of a way out that nobody can free from inside.
const NOT_FREED: &str = "nobody can free it from inside";

/// The residual-current devices that a part hangs behind, each with its place.
fn rcd_above(build: &Build<'_>, part: &Part<'_>) -> String {
    let above = build.upstream(&part.id).parts().filter(|p| p.role() == Some(Role::Rcd));
    let told =
        above.map(|rcd| match rcd.places.iter().map(|p| build.place_name(p)).collect::<Vec<_>>().join("; ").as_str() {
            "" => rcd.name.clone(),
            place => format!("{} ({place})", rcd.name),
        });
    told.collect::<Vec<_>>().join(", ")
}

/// From where else a part is worked, and how one gets there: "Flap in the rear door (fold the carrier down first)".
fn reached_at(build: &Build<'_>, part: &Part<'_>) -> String {
    let place = part.common.reached_at.all().first().filter(|_| !part.confidential);
    let Some(place) = place else { return String::new() };
    let way = part.common.reached_past.text().unwrap_or_default().trim().trim_end_matches('.');
    let way = if way.is_empty() { String::new() } else { format!(" ({way})") };
    format!("{}{way}", build.place_name(&place.value))
}

/// What stands before the steps that free it.
const FREED: &str = "to free it from inside: ";

/// Ways out that something can bar, by what, and the steps that free them from inside: "Way out through the rear doors, by
/// Bike carrier (nobody can free it from inside)".
pub(super) fn barred_exits(build: &Build<'_>) -> String {
    let exits = exits::exits(build).into_iter().filter(|e| !e.barred_by.is_empty());
    let one = |e: exits::Exit<'_>| {
        let by: Vec<&str> = e.barred_by.iter().map(|p| p.name.as_str()).collect();
        let steps: Vec<&str> =
            e.part.roles.to_free().all().iter().map(|s| s.value.trim().trim_end_matches('.')).collect();
        let free = if steps.is_empty() { NOT_FREED.to_owned() } else { format!("{FREED}{}", steps.join("; ")) };
        format!("{}, by {} ({free})", e.part.name, by.join(", "))
    };
    exits.map(one).collect::<Vec<_>>().join("; ")
}
