//! A certificate whose digest is none.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

/// Hexadecimal digits of a SHA-256 digest (FIPS 180-4: 256 bits).
const DIGITS: usize = 64;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "certificate-digest-unreadable",
        severity: Severity::Error,
        what: "The digest of a [[certificate]] is no SHA-256 digest of 64 hexadecimal digits, or there is a digest and no file that it is of.",
        why: "The digest proves in ten years that the file in the folder is the one that was signed. One that cannot be compared proves nothing.",
        example: "[[certificate]]\nof     = \"gas\"\nnumber = \"G-118\"\ndate   = 2027-06-01\nby     = \"L. Orme\"\nfile   = \"gas.pdf\"\ndigest = \"9f2c\"",
        basis: "FIPS 180-4: SHA-256 has 256 bits.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for certificate in &context.build.site.certificates {
        let Some(digest) = certificate.digest.text() else { continue };
        let number = certificate.number.or_empty();
        let is_digest = digest.len() == DIGITS && digest.chars().all(|c| c.is_ascii_hexdigit());
        let (headline, here, help) = if !is_digest {
            let headline = format!("certificate {number}: the digest has {} characters", digest.chars().count());
            (headline, "no SHA-256 digest", "write the 64 digits that `sha256sum` prints for the file")
        } else if !certificate.file.given {
            let headline = format!("certificate {number}: a digest, and no file");
            (headline, "of which file?", "say `file` as well, or take `digest` out")
        } else {
            continue;
        };
        let finding = Finding::error(CHECK.doc.name, headline).about(number).at(certificate.digest.span, here);
        sink.push(finding.basis("FIPS 180-4: SHA-256 has 256 bits, 64 hexadecimal digits").help(help));
    }
}
