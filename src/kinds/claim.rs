//! A role that not all parts of a kind play alike, as their fields say.

use super::Condition;
use crate::fields::{Record, Value};
use crate::roles::Contract;

/// Behind the name of a setting: the field that says it.
pub(super) const FROM: &str = "_from";

/// The word that leaves a setting out.
pub(super) const NONE: &str = "none";

/// A role that parts of a kind play where its condition holds, some settings being said by fields of the part.
#[derive(Clone, Debug)]
pub(super) struct Claim {
    pub(super) contract: &'static Contract,
    pub(super) when: Option<Condition>,
    pub(super) settings: toml::Table,
    /// Settings that fields say, each with its field.
    pub(super) from: Vec<(String, String)>,
    /// Fields that are declared in its table.
    pub(super) own: Vec<String>,
}

impl Claim {
    /// The claim of a role that not all parts play alike; `None` where they do. Takes what fields say out of the settings.
    pub(super) fn of(
        contract: &'static Contract,
        when: Option<Condition>,
        settings: &mut toml::Table,
        own: Vec<String>,
    ) -> Option<Self> {
        let mut from = Vec::new();
        for (setting, _) in contract.settings() {
            if let Some(toml::Value::String(field)) = settings.get(&format!("{setting}{FROM}")) {
                from.push(((*setting).to_owned(), field.clone()));
            }
        }
        for (setting, _) in &from {
            settings.remove(&format!("{setting}{FROM}"));
        }
        let plain = when.is_none() && from.is_empty();
        (!plain).then(|| Self { contract, when, settings: settings.clone(), from, own })
    }

    pub(super) fn holds(&self, record: &Record) -> bool {
        Condition::lets(self.when.as_ref(), record)
    }

    /// Its settings for a part.
    pub(super) fn settings(&self, record: &Record) -> toml::Table {
        let mut settings = self.settings.clone();
        for (setting, field) in &self.from {
            let said = match record.get(field).map(|e| &e.value) {
                Some(Value::Flag(flag)) => toml::Value::from(*flag),
                _ => toml::Value::from(record.text(field).unwrap_or(NONE)),
            };
            if said.as_str() != Some(NONE) {
                settings.insert(setting.clone(), said);
            }
        }
        settings
    }
}
