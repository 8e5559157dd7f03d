//! A text holds letters that the typefaces of the PDFs do not have.

use crate::assets::{is_accent, uncovered, undrawn};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::letters::shows_nothing;
use std::collections::BTreeSet;

/// Letters named in one finding.
const NAMED: usize = 6;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "letters-not-in-typeface",
        severity: Severity::Warning,
        what: "A text holds letters or signs that the typefaces of the PDFs do not have, or an accent that makes no letter with the one before it.",
        why: "On paper a code number stands in their place, in drawings an empty box. Markdown, HTML, calendar and data files hold them as they are written, so nothing is lost and it may be accepted.",
        example: "[contact.shop]\nname = \"工房\"                    # name = \"Kobo\"",
        basis: "The typefaces of the PDFs: Latin, Greek, Cyrillic, basic Arabic, common signs; that of drawings: Latin, Greek, Cyrillic, fewer signs.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut seen = BTreeSet::new();
    context.build.spec.each_text(&mut |typed| {
        let missing = uncovered(typed.text);
        // Names, places and the like stand in drawings too; notes do not.
        let only_drawings = missing.is_empty() && !typed.prose;
        let missing = if only_drawings { undrawn(typed.text) } else { missing };
        // `like` copies a text with its place.
        if missing.is_empty() || !seen.insert((typed.span.start, typed.span.end)) {
            return;
        }
        let shown = |c: &char| match u32::from(*c) {
            code if shows_nothing(*c) || is_accent(*c) => format!("U+{code:04X}"),
            code => format!("{c} (U+{code:04X})"),
        };
        let mut named: Vec<String> = missing.iter().take(NAMED).map(shown).collect();
        if missing.len() > NAMED {
            named.push(format!("{} more", missing.len() - NAMED));
        }
        let what = if only_drawings { "no drawing" } else { "no PDF" };
        let headline = format!("{}: `{}` holds what {what} can show: {}", typed.owner, typed.field, named.join(", "));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(typed.owner)
                .at(typed.span, "in this text")
                .basis("the typefaces have Latin, Greek, Cyrillic, basic Arabic and common signs")
                .help("write it in letters the typefaces have")
                .help("or accept it: PDFs then show the code number, like [U+5DE5], and drawings an empty box"),
        );
    });
}
