//! What a part has several of: `[has.switch]` in a kind, held against the role like a `[role.*]`, makes a field of the
//! role's name with a table for each.

use super::contracts::{declare, differing, hold_to, of_table};
use super::fault::Fault;
use super::template::Kind;
use crate::fields::{Declarations, FieldDecl};
use crate::roles::{Common, Output, Supply};

/// Gives a kind the fields of those that it has several of.
///
/// # Errors
/// The first that does not hold against its role, and where.
pub(super) fn take(kind: &mut Kind) -> Result<(), Fault> {
    for (id, table) in std::mem::take(&mut kind.several) {
        let contract = of_table("has", &id)?;
        let of_all = [&Common::CONTRACT, &Supply::CONTRACT, &Output::CONTRACT];
        if kind.fields.contains_key(&id) || of_all.iter().any(|role| role.field(&id).is_some()) {
            let message = format!("`{id}` is a field of a component already; no part of this kind can have several");
            return Err(Fault::at(&["has", &id], message));
        }
        let mut differs = Vec::new();
        for (key, value) in table {
            let Some(field) = contract.field(&key) else {
                let near = super::perhaps(&key, contract.fields.iter().map(|f| f.name));
                return Err(Fault::at(&["has", &id, &key], format!("`{key}` is no field of the role `{id}`{near}")));
            };
            differs.push(differing("has", contract, field, value)?);
        }
        let mut fields = Declarations::new();
        declare("has", contract, &differs, &mut fields)?;
        hold_to("has", contract, &fields, &Declarations::new())?;
        let about = format!("Each by an id of its own. {}", contract.about.trim());
        kind.fields.insert(id, FieldDecl::parts(&about, fields));
        kind.has.push(contract.id);
    }
    Ok(())
}
