//! A certificate whose file is not beside the spec.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::papers::Unread;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "certificate-file-missing",
        severity: Severity::Warning,
        what: "The `file` of a [[certificate]] is not there: it is looked for beside the spec, in its folder or one below it.",
        why: "No copy goes with the documents, and no digest tells later whether a paper is the one that was signed.",
        example: "[[certificate]]\nof     = \"gas\"\nnumber = \"G-118\"\ndate   = 2027-06-01\nby     = \"L. Orme\"\nfile   = \"papers/gas.pdf\"        # and no such file",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let missing = context.build.papers().filter(|(_, paper)| matches!(paper, Err(Unread::Missing)));
    for (certificate, _) in missing {
        let (number, file) = (certificate.number.or_empty(), certificate.file.or_empty());
        sink.push(
            Finding::warning(CHECK.doc.name, format!("certificate {number}: there is no file {}", file.escape_debug()))
                .about(number)
                .at(certificate.file.span, "not beside the spec")
                .basis("a certificate that is kept elsewhere is told by its number and day alone")
                .help("put the file there, or take `file` out and say in `by` or a note where the paper is kept"),
        );
    }
}
