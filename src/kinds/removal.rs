//! How what comes out of a van is taken out, by the parts it plays: the register `templates/removal.toml`.

use super::energy::Follows;
use super::{Kind, Network, Proof, States, System, TaskTemplate};
use crate::catalogue::{Catalogue, Fault};
use crate::fields::Record;
use crate::roles::contract;
use serde::Deserialize;
use std::sync::Arc;

/// The register.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Removal {
    #[serde(default)]
    removal: Vec<Entry>,
}

/// A task, and whose it is.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    /// Roles of which a part with the task plays one.
    #[serde(default)]
    roles: Vec<String>,
    /// Electrical networks.
    #[serde(default)]
    networks: Vec<Network>,
    /// Systems.
    #[serde(default)]
    systems: Vec<System>,
    /// Fuels.
    #[serde(default)]
    burns: Vec<String>,
    /// What its use of energy follows.
    #[serde(default)]
    follows: Vec<Follows>,
    /// Roles of what has it not.
    #[serde(default)]
    but: Vec<String>,
    /// The same of its use of energy.
    #[serde(default)]
    but_follows: Vec<Follows>,
    /// The task.
    task: TaskTemplate,
}

impl Entry {
    /// Whether a part of this kind and with these fields has the task.
    fn is_of(&self, kind: &Kind, record: &Record) -> bool {
        let plays = |roles: &[String]| roles.iter().any(|role| kind.roles.contains(&role.as_str()));
        let follows = |uses: &[Follows]| kind.energy.follows.is_some_and(|f| uses.contains(&f));
        let fuel = kind.safety.as_ref().and_then(|s| s.fuel.as_deref()).or_else(|| record.text("fuel"));
        let on = |network: Network| self.networks.contains(&network);
        let any = [
            plays(&self.roles),
            kind.electric.is_some_and(|e| on(e.network) || e.second.is_some_and(on)),
            self.systems.contains(&kind.system),
            kind.safety.is_some() && fuel.is_some_and(|fuel| self.burns.iter().any(|f| f == fuel)),
            follows(&self.follows),
        ];
        let for_all = self.roles.is_empty()
            && self.networks.is_empty()
            && self.systems.is_empty()
            && self.burns.is_empty()
            && self.follows.is_empty();
        kind.bought && (for_all || any.contains(&true)) && !plays(&self.but) && !follows(&self.but_follows)
    }
}

impl Removal {
    /// The word in a spec without which nothing comes out.
    pub const WORD: &'static str = "removed";

    /// The register of a catalogue, read once.
    ///
    /// # Errors
    /// Where it does not read, or names a role or a state that is none.
    pub fn of(catalogue: &Catalogue, states: &States) -> Result<Arc<Self>, Fault> {
        const FILE: &str = "removal.toml";
        catalogue.keep("removal", |catalogue| {
            let register: Self = catalogue.read(FILE)?;
            for Entry { roles, but, task, .. } in &register.removal {
                if let Some(role) = roles.iter().chain(but).find(|role| contract(role).is_none()) {
                    return Err(Fault::of(FILE, &format!("`{}` is of `{role}`, which is no role", task.id)));
                }
                let unknown = task.needs.iter().chain(&task.brings).find(|state| states.get(state).is_none());
                if let Some(state) = unknown {
                    return Err(Fault::of(FILE, &format!("`{}` tells of `{state}`, which is no state", task.id)));
                }
                if matches!(task.proof, Proof::Of(_)) {
                    return Err(Fault::of(FILE, &format!("`{}` is proved by its own readings alone", task.id)));
                }
            }
            Ok(register)
        })
    }

    /// The tasks that take a part of this kind and with these fields out.
    pub fn tasks<'r>(&'r self, kind: &'r Kind, record: &'r Record) -> impl Iterator<Item = &'r TaskTemplate> {
        self.removal.iter().filter(|entry| entry.is_of(kind, record)).map(|entry| &entry.task)
    }

    /// All tasks.
    pub fn all(&self) -> impl Iterator<Item = &TaskTemplate> {
        self.removal.iter().map(|entry| &entry.task)
    }
}
