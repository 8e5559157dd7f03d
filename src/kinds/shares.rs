//! Holds the shares of kinds in procedures: each by itself, and those of all kinds against each other.

use super::coherent::{addressed, unknown_state};
use super::fault::Fault;
use super::procedure::{InOrder, Registers, Share, Step};
use super::state::Need;
use super::template::Kind;

/// Holds the shares of a kind against the registers, and gives the upkeep that takes its steps from one what it has not
/// itself.
///
/// # Errors
/// The first that does not hold, and where.
pub(super) fn hold(kind: &mut Kind, registers: &Registers) -> Result<(), Fault> {
    for (place, share) in kind.procedures.iter().enumerate() {
        if let Some((key, message)) = fault(kind, place, share, registers) {
            return Err(Fault::at(&["procedure", &place.to_string(), key], message));
        }
    }
    for (place, item) in kind.upkeep.iter_mut().enumerate() {
        let Some(of) = &item.procedure else { continue };
        let at = |key: &str, message| Err(Fault::at(&["upkeep", &place.to_string(), key], message));
        let Some(share) = kind.procedures.iter().find(|share| share.of == *of) else {
            let near = super::perhaps(of, kind.procedures.iter().map(|share| share.of.as_str()));
            return at("procedure", format!("this kind has no share in a procedure `{of}`{near}"));
        };
        let season = registers.procedures.get(of).and_then(|procedure| procedure.season.as_deref());
        if season.is_none() || season != item.season.as_deref() {
            let message = season.map_or_else(
                || format!("`{of}` is told on its own and is no upkeep"),
                |season| format!("the procedure `{of}` belongs to the season `{season}`"),
            );
            return at("procedure", message);
        }
        // What is like another kind may say one of them anew.
        if item.steps.is_empty() {
            item.steps.clone_from(&share.steps);
        }
        if item.cautions.is_empty() {
            item.cautions.clone_from(&share.cautions);
        }
        if item.when.is_none() {
            item.when.clone_from(&share.when);
        }
    }
    Ok(())
}

/// What is wrong with a share: the key and the words.
fn fault(kind: &Kind, place: usize, share: &Share, registers: &Registers) -> Option<(&'static str, String)> {
    let states = &registers.states;
    if registers.procedures.get(&share.of).is_none() {
        let near = super::perhaps(&share.of, registers.procedures.iter().map(|(id, _)| id));
        let known: Vec<&str> = registers.procedures.iter().map(|(id, _)| id).collect();
        return Some(("of", format!("there is no procedure `{}`{near}; there are {}", share.of, known.join(", "))));
    }
    if kind.procedures[..place].iter().any(|other| other.of == share.of) {
        return Some(("of", format!("a share in `{}` stands twice", share.of)));
    }
    if share.steps.is_empty() {
        return Some(("steps", "a share has `steps`".to_owned()));
    }
    if let Some(state) = share.brings.iter().find(|state| states.get(state).is_none()) {
        return Some(("brings", unknown_state(states, state)));
    }
    for need in &share.needs {
        let read = Need::read(need);
        if states.get(read.state()).is_none() {
            return Some(("needs", unknown_state(states, read.state())));
        }
        match read {
            Need::Plain(state) if share.brings.iter().any(|own| own == state) => {
                return Some(("needs", format!("it brings `{state}` itself")));
            }
            Need::Plain(state) if !states.is_of_van(state) => {
                let message = format!(
                    "`{state}` is a state of a part, and this part has one share: name whose, as in `fed_from.{state}`"
                );
                return Some(("needs", message));
            }
            Need::Plain(_) => {}
            Need::Of(of, state) => {
                if let Some(message) = addressed(kind, states, of, state) {
                    return Some(("needs", message));
                }
            }
        }
    }
    let when = share.when.as_ref().and_then(|when| when.fault(&kind.fields));
    when.map(|message| ("when", message))
}

/// A kind whose share in a procedure waits for itself over those of others.
pub(super) struct Circle {
    /// Ids of the kinds in the circle.
    pub(super) kinds: Vec<String>,
    /// The procedure.
    pub(super) of: String,
}

impl Circle {
    /// The first circle among the shares of kinds. States of parts that a field names are left out: which part that is
    /// the spec says.
    pub(super) fn among<'k>(kinds: &(impl Iterator<Item = &'k Kind> + Clone), registers: &Registers) -> Option<Self> {
        for (of, _) in registers.procedures.iter() {
            let shares: Vec<(&Kind, &Share)> = kinds.clone().filter_map(|kind| Some((kind, kind.share(of)?))).collect();
            let steps: Vec<Step> = shares.iter().map(|(kind, share)| step(kind, share, registers)).collect();
            let circle = InOrder::of(&steps).circle;
            if !circle.is_empty() {
                let kinds = circle.into_iter().map(|place| shares[place].0.id.clone()).collect();
                return Some(Self { kinds, of: of.to_owned() });
            }
        }
        None
    }

    /// What is wrong, in words.
    pub(super) fn message(&self) -> String {
        format!("shares in `{}` wait for each other in a circle: {}", self.of, self.kinds.join(", "))
    }

    /// Place of the share of one of its kinds.
    pub(super) fn at(&self, kind: &Kind) -> Fault {
        let place = kind.procedures.iter().position(|share| share.of == self.of).unwrap_or(0);
        Fault::at(&["procedure", &place.to_string(), "needs"], self.message())
    }
}

/// A share as a step; the roles of a kind stand for its parts.
fn step(kind: &Kind, share: &Share, registers: &Registers) -> Step {
    let states = &registers.states;
    let mut step = Step::of_van(states, &share.needs, &share.brings);
    step.needs.extend(share.needs.iter().filter_map(|need| match Need::read(need) {
        Need::Of(of, state) => Some((of.to_owned(), state.to_owned())),
        Need::Plain(_) => None,
    }));
    for state in share.brings.iter().filter(|state| !states.is_of_van(state)) {
        step.brings.extend(kind.roles.iter().map(|role| ((*role).to_owned(), state.clone())));
    }
    step
}
