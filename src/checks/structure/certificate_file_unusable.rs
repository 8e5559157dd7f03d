//! A certificate whose file is none that is read.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::papers::{ENDINGS, Unread};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "certificate-file-unusable",
        severity: Severity::Error,
        what: "The `file` of a [[certificate]] leads out of the folder of the spec, is a link or no plain file, is larger than 16 MB, or is no document or picture by its ending (pdf, png, jpg, jpeg, txt).",
        why: "It is copied to the documents. A spec from someone else must not copy what is not meant for them.",
        example: "[[certificate]]\nof     = \"gas\"\nnumber = \"G-118\"\ndate   = 2027-06-01\nby     = \"L. Orme\"\nfile   = \"../gas.pdf\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (certificate, paper) in context.build.papers() {
        let Err(Unread::Unusable(why)) = paper else { continue };
        let (number, file) = (certificate.number.or_empty(), certificate.file.or_empty());
        sink.push(
            Finding::error(CHECK.doc.name, format!("certificate {number}: {} {why}", file.escape_debug()))
                .about(number)
                .at(certificate.file.span, "cannot be copied")
                .basis("what is copied lies in the folder of the spec or below it")
                .help(format!("put the file itself beside the spec; it may end in {}", ENDINGS.join(", "))),
        );
    }
}
