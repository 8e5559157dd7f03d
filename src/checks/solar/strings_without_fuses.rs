//! Three or more solar strings in parallel, and no fuse in each.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "strings-without-fuses",
        severity: Severity::Warning,
        what: "Three or more solar strings are joined in parallel without a fuse in each that fits, or with one above what the module may have. An error where the module's own plate says so.",
        why: "A short in one module draws the current of all other strings backwards through it: its cells and its cable burn on the roof.",
        example: "[component.roof-array]\nkind = \"solar-array\"\nparallel = 3",
        basis: "NEC 690.9 (protection of strings) and 690.8 (1.25 for bright sun times 1.25 for lasting current: 1.56 × Isc), from memory, so it warns. The largest series fuse of a module is its maker's figure.",
    },
    run,
};

/// Bright sun and lasting current, 1.25 each. NEC 690.8, from memory.
const DESIGN: f64 = 1.25 * 1.25;

/// Strings in parallel from which one can be driven backwards by more than its own current.
const SEVERAL: f64 = 3.0;

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(array) = &part.roles.array else { continue };
        let (Some(strings), Some(isc)) = (array.parallel.get(), array.isc.get()) else { continue };
        let strings = crate::compute::network::count(strings) * part.times();
        let show = |amps: Amps| amps.show(System::Metric);
        let design = isc * DESIGN;
        let about = |finding: Finding| finding.about(&part.id);
        if let (Some(fuse), Some(most)) = (array.string_fuse.get(), array.max_fuse.get())
            && fuse > most
        {
            let headline =
                format!("{}: fuses of {} in its strings, the module may have {}", part.id, show(fuse), show(most));
            sink.push(
                about(Finding::error(CHECK.doc.name, headline))
                    .at(array.string_fuse.span, "above the module's")
                    .label(array.max_fuse.span, format!("{} at most", show(most)))
                    .help(format!("a fuse from {} to {}", show(design), show(most))),
            );
            continue;
        }
        if strings < SEVERAL {
            continue;
        }
        let back = isc * (strings - 1.0);
        let (headline, span, words) = match array.string_fuse.get() {
            Some(fuse) if fuse >= design => continue,
            Some(fuse) => (
                format!(
                    "{}: fuses of {} in its strings are below 1.56 times their short-circuit current",
                    part.id,
                    show(fuse)
                ),
                array.string_fuse.span,
                "it opens in bright sun".to_owned(),
            ),
            None => (
                format!("{}: {strings} strings in parallel, and no fuse in each", part.id),
                array.parallel.span,
                format!("the others drive {} into a short in one", show(back)),
            ),
        };
        sink.push(
            about(Finding::warning(CHECK.doc.name, headline))
                .at(span, words)
                .basis(format!("1.56 × {} = {} (NEC 690.8, 690.9, from memory)", show(isc), show(design)))
                .help(format!("write `string_fuse` with a rating of {} or more, no more than the plate of the module allows (`max_fuse`)", show(design)))
                .help("or give each pair of strings a controller of its own"),
        );
    }
}
