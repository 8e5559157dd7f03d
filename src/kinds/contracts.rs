//! Fields of a role as a kind has them: what differs of them declared, and held against the contract.

use super::fault::Fault;
use super::values::misfit;
use crate::fields::Declarations;
use crate::roles::{self, Contract, RoleField};

/// The role that a table of a kind bears the name of.
///
/// # Errors
/// Where there is none.
pub(super) fn of_table(table: &str, id: &str) -> Result<&'static Contract, Fault> {
    roles::contract(id).ok_or_else(|| {
        let near = super::perhaps(id, roles::ALL.iter().map(|c| c.id));
        Fault::at(&[table, id], format!("there is no role `{id}`{near}; `rigbinder kinds --role` lists them"))
    })
}

/// What differs of a field of a role, as a table.
///
/// # Errors
/// Where it is none.
pub(super) fn differing<'r>(
    table: &str,
    contract: &Contract,
    field: &'r RoleField,
    value: toml::Value,
) -> Result<(&'r RoleField, toml::Table), Fault> {
    let toml::Value::Table(differs) = value else {
        let (id, key) = (contract.id, field.name);
        let message =
            format!("`{key}` is a field of the role `{id}`: say what differs in it, as in `{key} = {{ default = … }}`");
        return Err(Fault::at(&[table, id, key], message));
    };
    Ok((field, differs))
}

/// Declares the fields of a role as the kind has them.
pub(super) fn declare(
    table: &str,
    contract: &Contract,
    differs: &[(&RoleField, toml::Table)],
    fields: &mut Declarations,
) -> Result<(), Fault> {
    for (field, differs) in differs {
        let path = [table, contract.id, field.name];
        let declared = field.declare(differs);
        let declared = declared.map_err(|e| Fault::at(&path, format!("`{}`: {e}", field.name)))?;
        if let Some((key, message)) = misfit(field.name, &declared) {
            return Err(Fault::at(&[table, contract.id, field.name, key], message));
        }
        // Two roles may count on one field; it is said once.
        if fields.contains_key(field.name) {
            let message = format!("`{}` stands in another role of this kind already", field.name);
            return Err(Fault::at(&path, message));
        }
        fields.insert(field.name.to_owned(), declared);
    }
    Ok(())
}

/// Holds the fields of a kind against the contract of one of its roles.
pub(super) fn hold_to(
    table: &str,
    contract: &Contract,
    fields: &Declarations,
    own: &Declarations,
) -> Result<(), Fault> {
    for field in contract.fields {
        let path = [table, contract.id];
        match fields.get(field.name) {
            Some(there) if there.ty != field.ty => {
                let message = format!(
                    "`{}` is {} for the role `{}`, but {} for another of its roles",
                    field.name,
                    field.ty.word(),
                    contract.id,
                    there.ty.word()
                );
                return Err(Fault::at(&path, message));
            }
            Some(there) if field.must && there.default.is_none() && !there.required => {
                let message = format!(
                    "`{}` needs a `default`, or `required = true`: nothing can be computed of a part of the role `{}` without it",
                    field.name, contract.id
                );
                return Err(Fault::at(&[table, contract.id, field.name], message));
            }
            None if own.contains_key(field.name) => {
                let message =
                    format!("`{}` is a field of the role `{}`: it belongs into that table", field.name, contract.id);
                return Err(Fault::at(&["fields", field.name], message));
            }
            None if field.must => {
                let message = format!(
                    "the role `{}` needs `{}` ({}): {}",
                    contract.id,
                    field.name,
                    field.ty.word(),
                    field.about.trim()
                );
                return Err(Fault::at(&path, message));
            }
            _ => {}
        }
    }
    Ok(())
}
