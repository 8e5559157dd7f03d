//! Acceptance of warnings: `[[accepted]]` entries are held against all findings of a compile.

use crate::diag::{Acceptance, Finding, FindingDoc, Severity};
use crate::spec::{Accepted, Spec};

/// Findings that acceptance itself can bring.
pub(crate) const ACCEPTANCE_FINDINGS: &[FindingDoc] = &[
    FindingDoc {
        name: "accepted-nothing",
        severity: Severity::Warning,
        what: "An [[accepted]] entry matches no warning of this compile.",
        why: "The warning is gone, or its name or subject is misspelt and it is not accepted at all.",
        example: "[[accepted]]\nfinding = \"no-contact\"       # while the spec has a contact\nreason = \"given by hand\"\nby = \"the shop\"",
        basis: "Structure of the spec.",
    },
    FindingDoc {
        name: "accepted-error",
        severity: Severity::Error,
        what: "An [[accepted]] entry names an error.",
        why: "An error can hurt someone or makes the documents wrong; it is mended, not accepted.",
        example: "[[accepted]]\nfinding = \"fuse-above-conductor\"\nreason = \"the fuse was at hand\"\nby = \"the shop\"",
        basis: "House rule: a warning may be accepted with a reason and a name, an error can't be.",
    },
];

/// Marks the warnings that `spec` accepts, and adds a finding for every entry that accepts nothing or an error.
pub(crate) fn apply(spec: &Spec, findings: &mut Vec<Finding>) {
    let mut added = Vec::new();
    for entry in &spec.accepted {
        let mut accepts = false;
        let mut error = None;
        for finding in findings.iter_mut().filter(|f| matches(entry, f)) {
            if finding.severity == Severity::Warning {
                accepts = true;
                let acceptance = Acceptance { reason: entry.reason.clone(), by: entry.by.clone() };
                finding.accepted.get_or_insert(acceptance);
            } else {
                error.get_or_insert((finding.span, finding.headline.clone()));
            }
        }
        match error {
            Some((place, headline)) => added.push(accepts_error(entry, place, &headline)),
            None if !accepts => added.push(accepts_nothing(entry, findings)),
            None => {}
        }
    }
    findings.extend(added);
}

fn matches(entry: &Accepted, finding: &Finding) -> bool {
    let names = |about: &str| finding.subject.as_deref() == Some(about);
    let subject = entry.about.as_ref().map_or(!finding.singly, |a| names(&a.value));
    subject && finding.name == entry.finding.value
}

fn accepts_error(entry: &Accepted, place: Option<crate::source::Span>, headline: &str) -> Finding {
    let name = &entry.finding.value;
    let finding = Finding::error("accepted-error", format!("`{name}` is an error and can't be accepted"))
        .at(entry.finding.span, "names an error")
        .basis("a warning may be accepted with a reason and a name, an error can't be")
        .help("mend it and take this entry out");
    match place {
        Some(span) => finding.label(span, headline.to_owned()),
        None => finding,
    }
}

fn accepts_nothing(entry: &Accepted, findings: &[Finding]) -> Finding {
    let name = &entry.finding.value;
    let about = entry.about.as_ref().map_or_else(String::new, |a| format!(" about `{}`", a.value));
    let finding = Finding::warning("accepted-nothing", format!("no warning `{name}`{about} in this compile"))
        .at(entry.finding.span, "accepts nothing")
        .basis("every acceptance is printed; one that accepts nothing misleads");
    let named = |f: &&Finding| f.name == name.as_str() && f.severity == Severity::Warning;
    if let Some(single) = findings.iter().filter(named).find(|f| f.singly && f.accepted.is_none())
        && let Some(subject) = &single.subject
    {
        return finding
            .help(format!("it is accepted one at a time: give `about = \"{subject}\"` and the reason for that one"));
    }
    if let Some(other) = findings.iter().find(named) {
        let subject = other.subject.as_deref();
        let help = subject.map_or_else(|| "leave `about` out".to_owned(), |s| format!("the warning is about `{s}`"));
        return finding.help(help);
    }
    let near = findings
        .iter()
        .filter(|f| f.severity == Severity::Warning)
        .map(|f| (strsim::damerau_levenshtein(f.name, name), f.name))
        .filter(|(distance, _)| *distance <= 3)
        .min();
    match near {
        Some((_, near)) => finding.help(format!("did you mean `{near}`?")),
        None => finding.help("take the entry out"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::{Span, Spanned};

    fn entry(finding: &str, about: Option<&str>) -> Accepted {
        let word = |text: &str| Spanned::new(text.to_owned(), Span { start: 1, end: 2 });
        let (reason, by) = ("it is so".to_owned(), "R. H.".to_owned());
        Accepted { finding: word(finding), about: about.map(word), reason, by, span: Span::default() }
    }

    fn spec(entries: Vec<Accepted>) -> Spec {
        Spec { accepted: entries, ..Spec::default() }
    }

    #[test]
    fn accepts_the_warnings_it_names_and_no_others() {
        let mut findings = vec![
            Finding::warning("run-missing", "a").about("fridge"),
            Finding::warning("run-missing", "b").about("pump"),
            Finding::warning("no-contact", "c"),
        ];
        apply(&spec(vec![entry("run-missing", Some("pump")), entry("no-contact", None)]), &mut findings);
        let accepted: Vec<_> = findings.iter().map(|f| f.accepted.as_ref().map(|a| a.by.as_str())).collect();
        assert_eq!(accepted, [None, Some("R. H."), Some("R. H.")]);
    }

    #[test]
    fn what_is_accepted_singly_is_not_accepted_all_at_once() {
        let singly = |about| Finding::warning("interrupting-unproven", "a").about(about).accepted_singly();
        let mut findings = vec![singly("panel"), singly("charger.out")];
        apply(&spec(vec![entry("interrupting-unproven", None)]), &mut findings);
        assert!(findings[..2].iter().all(|f| f.accepted.is_none()));
        assert_eq!(findings[2].name, "accepted-nothing");
        assert!(findings[2].help[0].contains("about = \"panel\""), "{}", findings[2].help[0]);
        let mut findings = vec![singly("panel"), singly("charger.out")];
        apply(&spec(vec![entry("interrupting-unproven", Some("charger.out"))]), &mut findings);
        assert_eq!(findings.iter().map(|f| f.accepted.is_some()).collect::<Vec<_>>(), [false, true]);
    }

    #[test]
    fn an_error_stays_and_the_entry_is_an_error_too() {
        let mut findings = vec![Finding::error("fuse-above-conductor", "a").about("fridge")];
        apply(&spec(vec![entry("fuse-above-conductor", None)]), &mut findings);
        assert_eq!(findings.len(), 2);
        assert!(findings.iter().all(|f| f.accepted.is_none()));
        assert_eq!((findings[1].name, findings[1].severity), ("accepted-error", Severity::Error));
    }

    #[test]
    fn an_entry_for_nothing_says_what_is_near() {
        let mut findings =
            vec![Finding::warning("no-contact", "a"), Finding::warning("run-missing", "b").about("pump")];
        apply(&spec(vec![entry("no-contacts", None), entry("run-missing", Some("pumpe"))]), &mut findings);
        let help: Vec<_> = findings[2..].iter().map(|f| (f.name, f.help[0].as_str())).collect();
        assert_eq!(
            help,
            [("accepted-nothing", "did you mean `no-contact`?"), ("accepted-nothing", "the warning is about `pump`"),]
        );
    }
}
