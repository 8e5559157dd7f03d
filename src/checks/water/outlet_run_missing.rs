//! An outlet without its cold or hot pipe, or a basin without its waste pipe.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "outlet-run-missing",
        severity: Severity::Warning,
        what: "The build tells its pipes, and one is missing: the cold one to an outlet that has only a hot one, the hot one to an outlet with a mixer (without a water heater it has to say `mixer = false`), or the waste of a basin or shower.",
        why: "No one lays it, cuts its hole or drains it before frost, and an outlet is tested hot that has no hot water.",
        example: "[component.outside-shower]\nkind = \"exterior-shower\"           # hot and cold\n\n[component.cold]\nkind = \"pipe-run\"\nmedium = \"cold\"\nfrom = \"pump\"\nto = \"outside-shower\"              # and no hot pipe-run to it",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let (mut arrive, mut leave) = (BTreeSet::new(), BTreeSet::new());
    for pipe in of_role(build, PlumbingRole::Pipe) {
        let medium = pipe.roles.medium().or_empty();
        arrive.extend(pipe.roles.to().first().map(|to| (to, medium)));
        leave.extend(pipe.roles.from().first().map(|from| (from, medium)));
    }
    if arrive.is_empty() && leave.is_empty() {
        return;
    }
    let heated = of_role(build, PlumbingRole::Heater).next().map(|h| h.id.as_str());
    let pump = of_role(build, PlumbingRole::Pump).next().map_or("pump", |p| p.id.as_str());
    for outlet in of_role(build, PlumbingRole::Outlet) {
        let id = outlet.id.as_str();
        let (cold, hot) = (arrive.contains(&(id, "cold")), arrive.contains(&(id, "hot")));
        if hot && !cold {
            sink.push(missing(outlet, "cold", format!("a pipe-run with from = \"{pump}\" and to = \"{id}\"")));
        }
        let mixes = outlet.roles.mixer().get().unwrap_or(false);
        if cold && !hot && mixes {
            let pipe = |from| format!("a pipe-run with medium = \"hot\", from = \"{from}\" and to = \"{id}\"");
            let pipe = heated.map_or_else(|| "a water heater, and a pipe-run from it".to_owned(), pipe);
            sink.push(missing(outlet, "hot", pipe).help("or say mixer = false: it gives cold water only"));
        }
    }
    let drains = build.parts.values().filter_map(|p| Some((p, p.roles.drains_to().first()?)));
    for (basin, tank) in drains.filter(|(p, _)| !leave.contains(&(p.id.as_str(), "waste"))) {
        let pipe = format!("a pipe-run with medium = \"waste\", from = \"{}\" and to = \"{tank}\"", basin.id);
        sink.push(missing(basin, "waste", pipe));
    }
}

fn missing(part: &Part<'_>, medium: &str, help: String) -> Finding {
    let (way, words) = if medium == "waste" { ("from", "begins") } else { ("to", "ends") };
    Finding::warning(CHECK.doc.name, format!("no {medium} pipe leads {way} {}", part.id))
        .about(&part.id)
        .at(part.span, format!("no {medium} pipe-run {words} here"))
        .basis("structure of the spec: every other pipe of the build is told")
        .help(help)
}
