//! Warnings that were accepted, by name.

use crate::documents::Context;
use serde::Serialize;

/// A deviation that was accepted.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Accepted {
    /// Component; "" for the whole build.
    pub about: String,
    /// What deviates.
    pub what: String,
    /// Why it is accepted.
    pub reason: String,
    /// By whom.
    pub by: String,
}

/// The accepted warnings of a build, in the order of the findings.
#[must_use]
pub(crate) fn rows(context: &Context<'_>) -> Vec<Accepted> {
    let one = |f: &crate::diag::Finding| {
        let acceptance = f.accepted.as_ref()?;
        let about = f.subject.as_deref().filter(|id| context.build.parts.contains_key(*id));
        Some(Accepted {
            about: about.map_or_else(String::new, |id| context.build.name(id).to_owned()),
            what: f.headline.clone(),
            reason: acceptance.reason.clone(),
            by: acceptance.by.clone(),
        })
    };
    context.findings.iter().filter_map(one).collect()
}
