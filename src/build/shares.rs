//! Shares of parts in a procedure as steps: what each waits for and brings, by the ids of the parts that are meant.

use super::{Build, Part};
use crate::kinds::{Key, Need, Share, States, Step};

/// The share of parts as a step among those of others.
#[must_use]
pub fn share_of_parts(build: &Build<'_>, states: &States, share: &Share, parts: &[&Part<'_>]) -> Step {
    let mut step = share_of_van(states, &share.needs, &share.brings);
    for (of, state) in share.needs.iter().filter_map(|need| match Need::read(need) {
        Need::Of(of, state) => Some((of, state)),
        Need::Plain(_) => None,
    }) {
        for part in parts {
            let named = part.record.list(of);
            let key = |id: &String| (id.clone(), state.to_owned());
            if named.is_empty() {
                let has_role = build.parts.values().filter(|p| p.kind.roles.contains(&of));
                step.needs.extend(has_role.map(|p| key(&p.id)));
            } else {
                step.needs.extend(named.iter().map(|id| key(&id.value)));
            }
        }
    }
    for state in share.brings.iter().filter(|state| !states.is_of_van(state)) {
        step.brings.extend(parts.iter().map(|part| (part.id.clone(), state.clone())));
    }
    step
}

/// A step that needs and brings states of the van alone, as far as these are such.
#[must_use]
pub fn share_of_van(states: &States, needs: &[String], brings: &[String]) -> Step {
    let key = |state: &str| -> Key { (String::new(), state.to_owned()) };
    let brought = || brings.iter().filter(|state| states.is_of_van(state)).map(String::as_str);
    let before = states.all_before(brings).into_iter();
    let plain = needs.iter().map(String::as_str).filter(|need| matches!(Need::read(need), Need::Plain(_)));
    Step { needs: plain.chain(before).map(key).collect(), brings: brought().map(key).collect() }
}
