//! Shares of parts in a procedure as steps: what each waits for and brings, by the ids of the parts that are meant.

use super::part::meant;
use super::{Build, Part};
use crate::kinds::{Need, Share, States, Step};

/// The share of parts as a step among those of others.
#[must_use]
pub fn share_of_parts(build: &Build<'_>, states: &States, share: &Share, parts: &[&Part<'_>]) -> Step {
    let mut step = Step::of_van(states, &share.needs, &share.brings);
    for need in &share.needs {
        let Need::Of(of, state) = Need::read(need) else { continue };
        let meant = parts.iter().flat_map(|part| meant(&build.parts, part, of));
        step.needs.extend(meant.map(|part| (part.id.clone(), state.to_owned())));
    }
    for state in share.brings.iter().filter(|state| !states.is_of_van(state)) {
        step.brings.extend(parts.iter().map(|part| (part.id.clone(), state.clone())));
    }
    step
}
