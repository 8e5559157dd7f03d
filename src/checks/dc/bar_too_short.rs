//! A bar too short for the studs that are said of it and the lugs on them.

use crate::checks::{Check, Context};
use crate::compute::network::bars;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::sources;
use crate::units::{Bound, Dimension, Metres, print_bound};

/// Room for lengths that are rounded to the centimetre.
const ROUNDING: f64 = 0.005;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bar-too-short",
        severity: Severity::Warning,
        what: "A bar is shorter by its `size` than its `studs` with their lugs and washers side by side.",
        why: "Lugs that overlap sit on lugs and not on metal: the joint gets hot. On the board there is no room for a longer bar then.",
        example: "[component.busbar]\nkind = \"busbar\"\nfed_from = \"disconnect\"\nstuds = 12\nsize = [\"60 mm\", \"180 mm\", \"50 mm\"]   # twelve washers of M8 alone take 214 mm",
        basis: "Width of lugs by their cross-section and of washers by their thread: common practice, no source; the maker's sheet wins.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for bar in bars(context.build, &context.electrical) {
        let Some(part) = context.part(bar.part).filter(|_| bar.words.is_empty()) else { continue };
        if part.roles.bus.is_none() && part.roles.negative_bar.is_none() {
            continue;
        }
        let Some((size, needed)) = part.common.size.metres().zip(bar.length) else { continue };
        let long = size.into_iter().fold(0.0, f64::max);
        if long + ROUNDING >= needed.0 {
            continue;
        }
        let needed = print_bound(Dimension::Length, needed.0, system, Bound::Least);
        let long = Metres(long).show(system);
        let (studs, lugs, thread) = (bar.studs, bar.lugs, &bar.thread);
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: {long} long, and {studs} studs of {thread} with {lugs} lugs take {needed}", bar.part),
            )
            .about(bar.part)
            .at(part.common.size.span, "too short for its studs")
            .label(part.span, format!("{lugs} lugs come to it"))
            .basis(sources::LUG_WIDTHS.text)
            .help("take a longer bar, or fewer studs if lugs may share one")
            .help("or lead some of the conductors to a second bar"),
        );
    }
}
