//! A text holds letters that the typefaces of the PDFs do not have.

use crate::assets::uncovered;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink, is_steering};
use std::collections::BTreeSet;

/// Letters named in one finding.
const NAMED: usize = 6;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "letters-not-in-typeface",
        severity: Severity::Warning,
        what: "A text holds letters or signs that the typefaces of the PDFs do not have.",
        why: "On paper a code number stands in their place, in drawings an empty box. Markdown, HTML, calendar and data files hold them as they are written, so nothing is lost and it may be accepted.",
        example: "[contact.shop]\nname = \"工房\"                    # name = \"Kobo\"",
        basis: "The typefaces of the PDFs: Latin, Greek, Cyrillic, basic Arabic, common signs.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut seen = BTreeSet::new();
    context.build.spec.each_text(&mut |typed| {
        let missing = uncovered(typed.text);
        // `like` copies a text with its place.
        if missing.is_empty() || !seen.insert((typed.span.start, typed.span.end)) {
            return;
        }
        let shown = |c: &char| match u32::from(*c) {
            code if is_nothing(*c) => format!("U+{code:04X}"),
            code => format!("{c} (U+{code:04X})"),
        };
        let mut named: Vec<String> = missing.iter().take(NAMED).map(shown).collect();
        if missing.len() > NAMED {
            named.push(format!("{} more", missing.len() - NAMED));
        }
        let headline = format!("{}: `{}` holds what no PDF can show: {}", typed.owner, typed.field, named.join(", "));
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

/// Whether a character shows nothing by itself: it steers, or no letter has its code.
fn is_nothing(c: char) -> bool {
    let code = u32::from(c);
    is_steering(c) || (0xe000..=0xf8ff).contains(&code) || code & 0xfffe == 0xfffe || code >= 0xe0000
}
