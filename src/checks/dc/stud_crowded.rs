//! More lugs on a stud than it may hold.

use crate::build::{Build, Conductor, Landing, Part, Spot};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PostForm;
use indexmap::IndexMap;

/// Most lugs on one stud. ABYC E-11, from memory.
const MOST: usize = 4;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "stud-crowded",
        severity: Severity::Warning,
        what: "More than four lugs end on one stud, or on a bar more than four for each of its `studs`; on a chassis bond with several, of which the negative has one for itself, more than four for each other one.",
        why: "The upper lugs sit on lugs and not on metal: the joint gets hot, and the nut has no thread left to hold on.",
        example: "[component.busbar]\nkind = \"busbar\"\nfed_from = \"disconnect\"\nstuds = 2   # and nine cables end on it",
        basis: "ABYC E-11: no more than four conductors on one terminal stud; from memory.",
    },
    run,
};

/// A post, and the lugs that end on it.
struct Stud<'a> {
    part: &'a Part<'a>,
    landing: &'a Landing,
    lugs: Vec<&'a str>,
}

fn run(context: &Context<'_>, sink: &mut Sink) {
    for stud in studs(context.build).values() {
        let several = is_bar(stud.part) || stud.part.roles.chassis_bond.is_some();
        // The negative has a stud of the bonding point for itself, where that has several.
        let shared = |studs: usize| if is_bar(stud.part) || studs < 2 { MOST * studs } else { MOST * (studs - 1) + 1 };
        let Some(most) = (if several { stud.part.studs().map(shared) } else { Some(MOST) }) else {
            continue;
        };
        if stud.lugs.len() <= most {
            continue;
        }
        let on = [stud.part.name.clone(), stud.landing.terminal(context.build)];
        let on = on.iter().filter(|word| !word.is_empty()).map(String::as_str).collect::<Vec<_>>().join(", ");
        let help = if is_bar(stud.part) {
            "take a bar with more studs, or lead some of them to a second bar"
        } else if several {
            "give the point another stud beside the first, and say `studs`"
        } else {
            "put a busbar beside it and lead all but one of them there"
        };
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: {} lugs on {on}, at most {most}", stud.part.id, stud.lugs.len()),
            )
            .about(&stud.part.id)
            .at(stud.part.span, stud.lugs.join(", "))
            .help(help),
        );
    }
}

/// What stands on a stud: rings, by post.
fn studs<'a>(build: &'a Build<'_>) -> IndexMap<Spot<'a>, Stud<'a>> {
    let mut studs: IndexMap<Spot<'_>, Stud<'_>> = IndexMap::new();
    let ends =
        build.wiring.conductors.values().flat_map(|c: &Conductor| c.ends().map(|landing| (c.id.as_str(), landing)));
    for (id, landing) in ends {
        let Some(part) = build.parts.get(&landing.part) else { continue };
        let ring = part.post(landing).is_some_and(|post| part.form(post) == Some(PostForm::Ring));
        if landing.is_collecting_bar() || !ring && !is_bar(part) {
            continue;
        }
        studs.entry(landing.spot()).or_insert_with(|| Stud { part, landing, lugs: Vec::new() }).lugs.push(id);
    }
    studs
}

/// Whether it is a bar, which has several studs.
fn is_bar(part: &Part<'_>) -> bool {
    part.roles.bus.is_some() || part.roles.negative_bar.is_some()
}
