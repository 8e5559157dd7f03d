//! A certificate whose file is another than its digest says.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "certificate-digest-mismatch",
        severity: Severity::Error,
        what: "The `digest` of a [[certificate]] is not that of the file beside the spec.",
        why: "The file is not the one that was signed: it was changed, scanned again, or is another. Documents would vouch for it.",
        example: "[[certificate]]\nof     = \"gas\"\nnumber = \"G-118\"\ndate   = 2027-06-01\nby     = \"L. Orme\"\nfile   = \"gas.pdf\"\ndigest = \"…\"                    # of another file",
        basis: "FIPS 180-4: SHA-256.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (certificate, paper) in context.build.papers() {
        let (Ok(paper), Some(said)) = (paper, certificate.digest.text()) else { continue };
        if paper.digest.eq_ignore_ascii_case(said.trim()) {
            continue;
        }
        let number = certificate.number.or_empty();
        sink.push(
            Finding::error(
                CHECK.doc.name,
                format!("certificate {number}: {} is another file", certificate.file.or_empty().escape_debug()),
            )
            .about(number)
            .at(certificate.digest.span, "not the digest of that file")
            .label(certificate.file.span, "this file")
            .basis(format!("SHA-256 of the file (FIPS 180-4): {}", paper.digest))
            .help("put the file back that was signed; where this is the one, write the digest above"),
        );
    }
}
