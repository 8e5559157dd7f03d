//! More cable in a channel than it has room for.

use crate::build::Conductor;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::fill;
use crate::units::significant;
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "channel-overfull",
        severity: Severity::Warning,
        what: "The cables in one piece of a channel fill more of it than lets them be drawn in.",
        why: "The last ones tear the insulation of the others, or don't go in at all, and what lies tight cannot cool.",
        example: "[channel.riser]\ninside = \"8 mm\"             # and twenty cables in it",
        basis: "NEC Chapter 9 Table 1: 53 % for one cable, 31 % for two, 40 % for more; from memory. Outside diameters of thin-wall flexible cable: common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for (id, channel) in &build.channels {
        let Some(room) = fill::room(channel.form.or_empty(), channel.inside.get(), channel.inside_width.get()) else {
            continue;
        };
        let size = |c: &Conductor| context.electrical.conductors.get(&c.id).and_then(|f| f.size);
        let area = |c: &Conductor| fill::cable(size(c));
        let (filled, cables) = build.wiring.fullest(id, area);
        let count = cables.iter().map(|c| c.cable.as_str()).collect::<BTreeSet<_>>().len();
        let limit = fill::limit(count);
        if count == 0 || filled <= room * limit * (1.0 + 1e-9) {
            continue;
        }
        let percent = |share: f64| format!("{} %", significant(share * 100.0, 2));
        let headline = format!(
            "channel {id}: {count} cables fill {} of it; {} let them be drawn in",
            percent(filled / room),
            percent(limit)
        );
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(id)
                .at(channel.inside.span, "inside")
                .help("a larger conduit or duct, or a second one beside it for some of the cables"),
        );
    }
}
