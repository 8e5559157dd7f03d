//! Settings of a role, read into the kind that claims it.

use super::fault::Fault;
use super::template::Kind;
use crate::roles::{Block, Contract};
use serde::Deserialize;
use serde::de::DeserializeOwned;

/// Reads the settings of a role into the kind.
pub(super) fn set(kind: &mut Kind, contract: &Contract, mut settings: toml::Table) -> Result<(), Fault> {
    if contract.block != Block::Other {
        settings.insert("role".to_owned(), contract.id.into());
    }
    match contract.block {
        Block::Electric => {
            let of_energy = |key: &String| matches!(key.as_str(), "at" | "follows" | "faces");
            let (energy, settings) = settings.into_iter().partition(|(key, _)| of_energy(key));
            kind.energy = settings_of(contract, energy)?;
            kind.electric = Some(settings_of(contract, settings)?);
        }
        Block::Plumbing => kind.plumbing = Some(settings_of(contract, settings)?),
        Block::Thermal => kind.thermal = Some(settings_of(contract, settings)?),
        Block::Safety => kind.safety = Some(settings_of(contract, settings)?),
        Block::Mechanics => kind.mechanics = Some(settings_of(contract, settings)?),
        Block::Air => kind.air = Some(settings_of(contract, settings)?),
        Block::Other => match contract.id {
            "mass" => kind.load = Some(settings_of(contract, settings)?),
            "envelope" => kind.envelope = Some(settings_of(contract, settings)?),
            "evidence" => kind.evidence = Some(settings_of(contract, settings)?),
            _ => settings_of::<NoSettings>(contract, settings).map(|_| ())?,
        },
    }
    Ok(())
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NoSettings {}

fn settings_of<T: DeserializeOwned>(contract: &Contract, settings: toml::Table) -> Result<T, Fault> {
    let known = |key: &str| key == "role" || contract.settings().iter().any(|(name, _)| *name == key);
    if let Some(unknown) = settings.keys().find(|key| !known(key)) {
        let of_fields = contract.fields.iter().map(|f| f.name);
        let names: Vec<&str> = contract.settings().iter().map(|(name, _)| *name).chain(of_fields).collect();
        let near = super::perhaps(unknown, names.iter().copied());
        let message = format!(
            "`{unknown}` is no setting and no field of the role `{}`{near}; it has {}",
            contract.id,
            names.join(", ")
        );
        return Err(Fault::at(&["role", contract.id, unknown], message));
    }
    let keys: Vec<String> = settings.keys().cloned().collect();
    T::deserialize(settings).map_err(|e| {
        let message = e.message().trim().to_owned();
        let key = keys.iter().find(|key| message.contains(&format!("field `{key}`")));
        let path = ["role", contract.id, key.map_or("", String::as_str)];
        Fault::at(&path, format!("role `{}`: {message}", contract.id))
    })
}
