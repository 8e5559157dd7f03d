//! What a part has several of: `[has.switch]` in a kind, held against the role like a `[role.*]`, makes a field of the
//! role's name with a table for each.

use super::contracts::{declare, hold_to};
use super::fault::Fault;
use super::template::Kind;
use crate::fields::{Declarations, FieldDecl};
use crate::roles::{self, Common, Output, Supply};

/// Gives a kind the fields of those that it has several of.
///
/// # Errors
/// The first that does not hold against its role, and where.
pub(super) fn take(kind: &mut Kind) -> Result<(), Fault> {
    for (id, table) in std::mem::take(&mut kind.several) {
        let at = |key: &str, message| Err(Fault::at(&["has", &id, key], message));
        let Some(contract) = roles::contract(&id) else {
            let near = super::perhaps(&id, roles::ALL.iter().map(|c| c.id));
            let message = format!("there is no role `{id}`{near}; `rigbinder kinds --role` lists them all");
            return Err(Fault::at(&["has", &id], message));
        };
        let of_all = [&Common::CONTRACT, &Supply::CONTRACT, &Output::CONTRACT];
        if kind.fields.contains_key(&id) || of_all.iter().any(|role| role.field(&id).is_some()) {
            let message = format!("`{id}` is a field of a component already; no part of this kind can have several");
            return Err(Fault::at(&["has", &id], message));
        }
        let mut differs = Vec::new();
        for (key, value) in table {
            let Some(field) = contract.field(&key) else {
                let near = super::perhaps(&key, contract.fields.iter().map(|f| f.name));
                return at(&key, format!("`{key}` is no field of the role `{id}`{near}"));
            };
            if !value.is_table() {
                return at(&key, format!("say what differs in it, as in `{key} = {{ default = … }}`"));
            }
            differs.push((field, value));
        }
        let mut fields = Declarations::new();
        declare("has", contract, &differs, &mut fields)?;
        hold_to("has", contract, &fields, &Declarations::new())?;
        let about = format!("Each by an id of its own. {}", contract.about.trim());
        kind.fields.insert(id, FieldDecl::parts(about, fields));
        kind.has.push(contract.id);
    }
    Ok(())
}
