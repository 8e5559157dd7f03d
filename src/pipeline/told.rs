//! What documents and drawings are made from: a build without what tells where its hidden parts are, and apart from it
//! what the few who need it are told.

use super::{Worked, readings_of};
use crate::compute::figures::{Computed, Figures};
use crate::compute::handover::{self, Missing};
use crate::diag::Finding;
use crate::documents::fact_book::FactBook;
use crate::documents::facts::Voice;
use crate::documents::hidden::{self, Hidden};
use crate::spec::Spec;

/// A build that hides something, as everyone may see it.
#[derive(Debug)]
pub(super) struct Open {
    spec: Spec,
    figures: Figures,
    pub(super) missing: Vec<Missing>,
    pub(super) findings: Vec<Finding>,
    pub(super) facts: FactBook,
    pub(super) said: FactBook,
    pub(super) hidden: Vec<Hidden>,
}

impl Open {
    /// `None` where nothing is hidden: then all may be told.
    pub(super) fn of(worked: &Worked<'_>) -> Option<Self> {
        let build = &worked.build;
        if !build.hides() {
            return None;
        }
        let spec = build.redacted_spec();
        let open = build.redacted(&spec);
        let mut figures = worked.figures.without_lengths(&|subject| build.is_confidential(subject));
        figures.readings = readings_of(&open, &figures);
        let words = telling(worked);
        let findings: Vec<Finding> = worked.findings.iter().map(|f| told(worked, f, &words)).collect();
        let mut missing = handover::missing(&open, &figures.readings, &figures.weight, &findings);
        missing.retain(|m| worked.missing.iter().any(|w| w.group == m.group));
        let book = |voice| FactBook::of(&open, &figures.electrical, &figures.ledger, voice);
        let (facts, said) = (book(Voice::Shop), book(Voice::Owner));
        let hidden = hidden::of(build, &worked.electrical);
        Some(Self { spec, figures, missing, findings, facts, said, hidden })
    }

    /// Looks at the figures of a build as everyone may see them.
    pub(super) fn look<T>(worked: &Worked<'_>, look: impl FnOnce(Computed<'_>) -> T) -> T {
        let Some(open) = worked.open() else { return look(worked.computed()) };
        let build = worked.build.redacted(&open.spec);
        look(Computed { build: &build, figures: &open.figures })
    }
}

/// Words that tell where something hidden is: ids and names of its places, and what is written about it.
fn telling(worked: &Worked<'_>) -> Vec<String> {
    let build = &worked.build;
    let places = build.confidential_places().into_iter().flat_map(|id| [id.to_owned(), build.place_name(id)]);
    let notes = build.parts.values().flat_map(|p| build.confidential_texts(p)).map(str::to_owned);
    places.chain(notes).collect()
}

/// A finding without what it tells of a hidden part.
fn told(worked: &Worked<'_>, finding: &Finding, words: &[String]) -> Finding {
    let tells = |text: &String| words.iter().any(|w| text.contains(w.as_str()));
    let secret = finding.subject.as_ref().is_some_and(|s| worked.build.is_confidential(s));
    let mut open = finding.clone();
    let reason = open.accepted.as_mut().map(|a| &mut a.reason);
    if let Some(reason) = reason.filter(|r| tells(r)) {
        "as it is written in the specification".clone_into(reason);
    }
    if secret || tells(&open.headline) || open.basis.iter().chain(&open.help).any(tells) {
        open.headline = format!("{}: about a hidden part; `rigbinder check` tells more", open.name.replace('-', " "));
        open.subject = open.subject.filter(|s| !words.contains(s));
        open.basis.clear();
        open.help.clear();
    }
    open
}
