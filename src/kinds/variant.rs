//! Kinds whose parts differ: which roles a part plays, by which settings, what it is told by, as its fields say.

use super::claim::{Claim, FROM, NONE};
use super::fault::Fault;
use super::post::endless;
use super::settings::set;
use super::template::Kind;
use super::{Carries, Network, Role, Said};
use super::{System, Trouble};
use crate::fields::{FieldType, Record, RowsOf};
use crate::roles::Block;

/// Holds what fields of a kind say of its roles against these fields.
pub(super) fn hold(kind: &Kind) -> Result<(), Fault> {
    for claim in &kind.may {
        let id = claim.contract.id;
        if let Some(fault) = claim.when.as_ref().and_then(|when| when.fault(&kind.fields)) {
            return Err(Fault::at(&["role", id, "when"], fault));
        }
        let mut settings = claim.settings.clone();
        for (setting, field) in &claim.from {
            let key = format!("{setting}{FROM}");
            let words: Vec<toml::Value> = match kind.fields.get(field) {
                Some(decl) if decl.ty == FieldType::Choice => {
                    let may =
                        |word: &&String| claim.when.as_ref().and_then(|when| when.allows(field, word)).unwrap_or(true);
                    decl.choices
                        .iter()
                        .filter(|word| *word != NONE)
                        .filter(may)
                        .map(|word| toml::Value::from(word.as_str()))
                        .collect()
                }
                Some(decl) if decl.ty == FieldType::Flag => vec![true.into(), false.into()],
                Some(_) => {
                    let message = format!("`{key}` needs a choice or a flag; `{field}` is none");
                    return Err(Fault::at(&["role", id, &key], message));
                }
                None => {
                    let message = format!("`{key}` names `{field}`, which is no field of this kind");
                    return Err(Fault::at(&["role", id, &key], message));
                }
            };
            for word in words {
                settings.insert(setting.clone(), word);
                tried(kind, claim, &settings)?;
            }
        }
        tried(kind, claim, &settings)?;
    }
    let texts = |field: &Option<String>, wanted: FieldType, key: &str| match field {
        Some(field) if kind.fields.get(field).is_none_or(|decl| decl.ty != wanted) => {
            let message = format!("`{key}` names `{field}`, which is no field of type {} of this kind", wanted.word());
            Err(Fault::at(&["owner", key], message))
        }
        _ => Ok(()),
    };
    let owner = &kind.owner;
    texts(&owner.use_from, FieldType::Texts, "use_from")?;
    texts(&owner.normal_from, FieldType::Texts, "normal_from")?;
    texts(&owner.limits_from, FieldType::Texts, "limits_from")?;
    texts(&owner.trouble_from, FieldType::Rows(RowsOf::Troubles), "trouble_from")?;
    let Some(field) = &kind.system_from else { return Ok(()) };
    let decl = kind.fields.get(field).filter(|decl| decl.ty == FieldType::Choice);
    let Some(decl) = decl else {
        let message = format!("`system_from` names `{field}`, which is no choice of this kind");
        return Err(Fault::at(&["system_from"], message));
    };
    match decl.choices.iter().find(|word| System::from_id(word).is_none()) {
        Some(word) => Err(Fault::at(&["fields", field, "choices"], format!("there is no system `{word}`"))),
        None => Ok(()),
    }
}

/// Whether a role can be claimed by these settings.
fn tried(kind: &Kind, claim: &Claim, settings: &toml::Table) -> Result<(), Fault> {
    let mut one = kind.clone();
    set(&mut one, claim.contract, settings.clone())?;
    match one.electric.and_then(|electric| endless(electric, &kind.posts)) {
        Some(message) => Err(Fault::at(&["posts"], message)),
        None => Ok(()),
    }
}

impl Kind {
    /// The kind as the part `id` with these fields is one; `None` where all parts are alike.
    #[must_use]
    pub fn variant(&self, id: &str, record: &Record) -> Option<Self> {
        let owner = &self.owner;
        let told = [&owner.use_from, &owner.normal_from, &owner.limits_from, &owner.trouble_from];
        if self.may.is_empty() && self.system_from.is_none() && told.iter().all(|field| field.is_none()) {
            return None;
        }
        let mut variant = self.clone();
        // No id has two hyphens in a row.
        variant.group = format!("of--{id}");
        for claim in &self.may {
            let there = |block: Block| match block {
                Block::Electric => variant.electric.is_some(),
                Block::Plumbing => variant.plumbing.is_some(),
                Block::Thermal => variant.thermal.is_some(),
                Block::Safety => variant.safety.is_some(),
                Block::Mechanics => variant.mechanics.is_some(),
                Block::Air => variant.air.is_some(),
                Block::Other => false,
            };
            if !claim.holds(record) {
                continue;
            }
            // Of two that hold in one system the first counts; the fields of both do.
            if !there(claim.contract.block) && set(&mut variant, claim.contract, claim.settings(record)).is_err() {
                continue;
            }
            variant.roles.push(claim.contract.id);
        }
        // A conductor ends where the networks of the part can.
        let networks = variant.electric.map(|electric| [Some(electric.network), electric.second]);
        let ac = networks.is_some_and(|networks| networks.contains(&Some(Network::Ac)));
        let dc = networks.is_some_and(|networks| networks.iter().any(|n| n.is_some_and(|n| n != Network::Ac)));
        variant.posts.retain(|post| match post.takes {
            Carries::Positive | Carries::Negative => dc,
            Carries::Line | Carries::LineTwo | Carries::Neutral | Carries::Earth => ac,
            _ => ac || dc,
        });
        let idle = self.may.iter().filter(|claim| !claim.holds(record));
        variant.idle = idle.flat_map(|claim| claim.own.iter().cloned()).collect();
        if let Some(system) = self.system_from.as_ref().and_then(|field| System::from_id(record.text(field)?)) {
            variant.system = system;
        }
        variant.tell(record);
        Some(variant)
    }

    /// Whether a part of the kind has that field, and plays a role that asks for it.
    #[must_use]
    pub fn takes(&self, field: &str) -> bool {
        self.fields.contains_key(field) && !self.idle.iter().any(|idle| idle == field)
    }

    /// Part that parts of it play in an electrical network, or may play.
    #[must_use]
    pub fn may_be_electric(&self) -> Option<Role> {
        let mut may = self.may.iter().filter(|claim| claim.contract.block == Block::Electric);
        let may = may.find_map(|claim| toml::Value::from(claim.contract.id).try_into().ok());
        self.electric.map(|electric| electric.role).or(may)
    }

    /// Puts what the spec says of a part in texts of its own before those of the kind: each text is a fact, so that it is
    /// printed as it stands.
    fn tell(&mut self, record: &Record) {
        let mut said = Said::under("said".to_owned());
        let mut before = |field: &Option<String>, texts: &mut Vec<String>| {
            let own = field.iter().flat_map(|field| record.list(field)).map(|text| said.fact(&text.value));
            *texts = own.collect::<Vec<_>>().into_iter().chain(std::mem::take(texts)).collect();
        };
        let owner = &mut self.owner;
        before(&owner.use_from.clone(), &mut owner.usage);
        before(&owner.normal_from.clone(), &mut owner.normal);
        before(&owner.limits_from.clone(), &mut owner.limits);
        let troubles: Vec<Trouble> = owner
            .trouble_from
            .iter()
            .flat_map(|field| record.rows(field))
            .map(|row| Trouble {
                symptom: said.fact(row.text("symptom").unwrap_or_default()),
                actions: row.list("do").iter().map(|text| said.fact(&text.value)).collect(),
            })
            .collect();
        owner.trouble.splice(0..0, troubles);
        self.said = said.into_texts();
    }
}
