//! Reads one kind file and holds it against the contracts of the roles it claims.

use super::Condition;
use super::claim::Claim;
use super::coherent::coherent;
use super::contracts::{declare, differing, hold_to, of_table};
use super::fault::{Fault, KindError};
use super::like::{Kin, Unlike, Whole};
use super::procedure::Registers;
use super::settings::set;
use super::shares;
use super::template::Kind;
use super::values::misfit;
use crate::catalogue::{Catalogue, Text};
use crate::fields::Declarations;
use crate::roles::{Block, Contract};
use crate::source::{SourceFile, Span};
use serde::Deserialize;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Reads the kind of a file, with what it is like.
///
/// # Errors
/// The first thing in it that does not hold together, with its line and column.
pub(super) fn read<'c>(file: &Text<'c>, kin: &Kin<'c>, registers: &Registers) -> Result<Kind, KindError> {
    read_whole(file.stem, file.text, registers, true, || kin.whole(file))
}

/// The same of a built-in file, of which the tests know that all names in it are right: looking them up again would take a
/// quarter of the reading.
pub(super) fn read_built_in<'c>(file: &Text<'c>, kin: &Kin<'c>, registers: &Registers) -> Result<Kind, KindError> {
    read_whole(file.stem, file.text, registers, false, || kin.whole(file))
}

/// Reads the text of the kind `id`, which is like no other.
///
/// # Errors
/// The first thing in it that does not hold together, with its line and column.
pub(super) fn read_alone(id: &str, text: &str, registers: &Registers) -> Result<Kind, KindError> {
    read_whole(id, text, registers, true, || Whole::alone(text))
}

fn read_whole<'t>(
    id: &str,
    text: &str,
    registers: &Registers,
    in_full: bool,
    whole: impl Fn() -> Result<Whole<'t>, Unlike>,
) -> Result<Kind, KindError> {
    let failed = |at: Option<usize>, message: &str, shadows: bool| KindError {
        kind: id.to_owned(),
        at: at.map(|byte| SourceFile::new("", text).position(byte)),
        message: message.trim().to_owned(),
        shadows,
    };
    let unlike = |e: Unlike| failed(e.at, &e.message, e.shadows);
    let Whole { table, like, like_at } = whole().map_err(unlike)?;
    // What bears the place of `like` stands in the file of another kind.
    let of_own = |at: Option<usize>, message: &str| match like.first() {
        Some(other) if at.is_some() && at == like_at.as_ref().map(|at| at.start) => {
            failed(at, &format!("{} (taken over from the kind `{other}`)", message.trim()), false)
        }
        _ => failed(at, message, false),
    };
    let of_toml = |e: toml::de::Error| of_own(e.span().map(|span| span.start), e.message());
    let texts = if in_full { tagged(&table) } else { Vec::new() };
    let mut kind = Kind::deserialize(toml::de::Deserializer::from(table)).map_err(of_toml)?;
    id.clone_into(&mut kind.id);
    id.clone_into(&mut kind.group);
    // A kind that stands in the place of a built-in one is like that by its own name.
    kind.like = like.iter().filter(|other| *other != id).cloned().collect();
    kind.like.dedup();
    let fault = claims(&mut kind)
        .and_then(|()| shares::hold(&mut kind, registers))
        .and_then(|()| if in_full { coherent(&kind, &texts, &registers.states) } else { Ok(()) });
    fault.map_err(|fault| {
        let at = whole().ok().and_then(|whole| fault.at.byte_in(whole.table.get_ref()));
        of_own(at, &fault.message)
    })?;
    Ok(kind)
}

/// The texts of a kind that have tags of the template language, with their places in its file.
pub(crate) fn tagged_texts<'c>(catalogue: &'c Catalogue, file: &Text<'c>) -> Vec<(Span, String)> {
    Kin::of(catalogue).whole(file).map(|whole| tagged(&whole.table)).unwrap_or_default()
}

fn tagged(table: &Spanned<DeTable<'_>>) -> Vec<(Span, String)> {
    let mut texts = Vec::new();
    table.get_ref().values().for_each(|value| gather(value, &mut texts));
    texts
}

fn gather(value: &Spanned<DeValue<'_>>, texts: &mut Vec<(Span, String)>) {
    match value.get_ref() {
        DeValue::String(text) if text.contains("{{") || text.contains("{%") => {
            texts.push((Span::from(value.span()), text.to_string()));
        }
        DeValue::Array(list) => list.iter().for_each(|value| gather(value, texts)),
        DeValue::Table(table) => table.values().for_each(|value| gather(value, texts)),
        _ => {}
    }
}

/// Gives the kind the fields and settings of the roles it claims.
fn claims(kind: &mut Kind) -> Result<(), Fault> {
    let mut fields = Declarations::new();
    let mut blocks: Vec<(Block, &str)> = Vec::new();
    let mut claimed: Vec<&Contract> = Vec::new();
    for (id, mut table) in std::mem::take(&mut kind.claims) {
        let contract = of_table("role", &id)?;
        let when = match table.remove("when") {
            None => None,
            Some(toml::Value::String(when)) => Some(Condition::from(when)),
            Some(_) => return Err(Fault::at(&["role", &id, "when"], "`when` is a text".to_owned())),
        };
        // Which of several stands, the fields of a part say.
        if contract.block != Block::Other
            && when.is_none()
            && let Some((_, other)) = blocks.iter().find(|(block, _)| *block == contract.block)
        {
            let message = format!("a kind is `{other}` or `{id}`, not both: a role of one system stands alone");
            return Err(Fault::at(&["role", &id], message));
        }
        if when.is_none() {
            blocks.push((contract.block, contract.id));
        }
        let mut settings = toml::Table::new();
        let mut differs = Vec::new();
        for (key, value) in table {
            match contract.field(&key) {
                Some(field) => differs.push(differing("role", contract, field, value)?),
                None => {
                    settings.insert(key, value);
                }
            }
        }
        declare("role", contract, &differs, &mut fields)?;
        claimed.push(contract);
        let own = differs.iter().map(|(field, _)| field.name.to_owned()).collect();
        if let Some(claim) = Claim::of(contract, when, &mut settings, own) {
            kind.may.push(claim);
        } else {
            set(kind, contract, settings)?;
            kind.roles.push(contract.id);
        }
    }
    for contract in claimed {
        hold_to("role", contract, &fields, &kind.fields)?;
    }
    for (name, field) in std::mem::take(&mut kind.fields) {
        if fields.contains_key(&name) {
            let message = format!("`{name}` is a field of one of its roles; say there what differs");
            return Err(Fault::at(&["fields", &name], message));
        }
        if let Some((key, message)) = misfit(&name, &field) {
            return Err(Fault::at(&["fields", &name, key], message));
        }
        fields.insert(name, field);
    }
    kind.fields = fields;
    super::has::take(kind)?;
    super::variant::hold(kind)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    fn lamp(roles: &str, rest: &str, what: &str) -> Result<Kind, KindError> {
        let text = format!(
            "name = \"Lamp\"\nsystem = \"lighting\"\nsummary = \"A lamp.\"\nalso = []\n{roles}\n{rest}\n[owner]\nwhat = \"{what}\"\n{POSTS}"
        );
        read_alone("lamp", &text, &Registers::of(&Catalogue::built_in()).expect("the registers"))
    }

    const POSTS: &str =
        "[[posts]]\nid = \"plus\"\ntakes = \"positive\"\n[[posts]]\nid = \"minus\"\ntakes = \"negative\"\n";

    /// What is wrong with a kind that holds together, but for these roles and the rest.
    fn fault(roles: &str, rest: &str) -> String {
        lamp(roles, rest, "A lamp.").err().map_or_else(String::new, |e| e.to_string())
    }

    const LOAD: &str = "[role.load]\nnetwork = \"dc\"\ndraw = { default = \"5 W\" }\n";

    #[test]
    fn a_kind_that_holds_is_read_with_the_fields_of_its_roles() {
        assert_eq!(fault(LOAD, ""), "");
        let kind = lamp(LOAD, "", "A lamp of {{ draw }}.").expect("reads");
        let draw = &kind.fields["draw"];
        assert_eq!(draw.ty, crate::fields::FieldType::Quantity(crate::units::Dimension::Power));
        assert_eq!(draw.default.as_ref().and_then(toml::Value::as_str), Some("5 W"));
        assert!(!draw.about.is_empty() && kind.electric.is_some());
    }

    #[test]
    fn what_does_not_hold_against_a_role_is_told_at_its_place() {
        let bank = "[role.bank]\nnetwork = \"dc\"\n";
        for (roles, rest, place, words) in [
            ("[role.lode]\n", "", "5:7", "perhaps `load`"),
            ("[role.load]\nnetwork = \"dc\"\ndraww = { default = \"5 W\" }\n", "", "7:1", "draww"),
            ("[role.load]\nnetwork = \"dc\"\ndraw = \"5 W\"\n", "", "7:1", "say what differs in it"),
            ("[role.load]\nnetwork = \"dc\"\ndraw = { type = \"mass\" }\n", "", "7:1", "`type`"),
            ("[role.load]\nnetwork = \"dc\"\ndraw = { default = \"5 V\" }\n", "", "7:10", "is power"),
            ("[role.load]\nnetwork = \"dc\"\ndraw = { default = 5 }\n", "", "7:10", "is power"),
            (
                "[role.load]\nnetwork = \"dc\"\ndraw = { default = \"5 W\", max = \"4 W\" }\n",
                "",
                "7:10",
                "its default is not",
            ),
            (LOAD, "[fields.shade]\ntype = \"flag\"\nabout = \"Shaded.\"\ndefault = \"yes\"\n", "12:1", "is flag"),
            (LOAD, "[has.swich]\nrating = { default = \"10 A\" }\n", "9:6", "perhaps `switch`"),
            (LOAD, "[has.switch]\nrating = { default = \"10 V\" }\n", "10:12", "is current"),
            (LOAD, "[has.switch]\nrating = {}\n", "10:1", "`default`, or `required = true`"),
            (LOAD, "[has.switch]\nlabel = {}\n", "9:6", "needs `rating` (current)"),
            (LOAD, "[has.switch]\nrating = { default = \"10 A\" }\nlable = {}\n", "11:1", "perhaps `label`"),
            (LOAD, "[has.switch]\nrating = \"10 A\"\n", "10:1", "say what differs in it"),
            (LOAD, "[has.switch]\nwhen = \"dimmable\"\n", "10:1", "`when` is no field of the role `switch`"),
            (LOAD, "[has.mass]\n", "9:6", "a field of a component already"),
            (
                LOAD,
                "[fields.switch]\ntype = \"text\"\nabout = \"Own.\"\n[has.switch]\nrating = { default = \"10 A\" }\n",
                "12:6",
                "a field of a component already",
            ),
            ("[role.load]\nnetwork = \"gas\"\n", "", "5:7", "gas"),
            ("[role.load]\ndraw = {}\n", "", "5:7", "missing field `network`"),
            (bank, "", "5:7", "needs `chemistry` (choice)"),
            ("[role.bank]\nnetwork = \"dc\"\nchemistry = {}\n", "", "7:1", "`default`, or `required = true`"),
            (
                "[role.bank]\nnetwork = \"dc\"\nchemistry = { default = \"x\", choices = [\"x\"] }\n",
                "",
                "7:1",
                "knows no `x`",
            ),
            (LOAD, "[role.inverter]\nnetwork = \"dc\"\n", "9:7", "not both"),
            (LOAD, "[fields.draw]\ntype = \"power\"\nabout = \"Twice.\"\n", "9:9", "field of"),
            (LOAD, "[role.mass]\nown = \"weight\"\n", "10:1", "names `weight`"),
            (LOAD, "[role.mass]\nown = \"draw\"\n", "10:1", "`draw` is power"),
        ] {
            let told = fault(roles, rest);
            assert!(told.contains(words), "{roles}{rest}: {told}");
            assert!(told.starts_with(&format!("kinds/lamp.toml:{place}")), "{roles}{rest}: {told}");
        }
    }

    #[test]
    fn texts_and_conditions_that_name_nothing_known_are_told_at_their_place() {
        let task = "[[task]]\nid = \"fit\"\nstage = \"furniture\"\ntitle = \"Fit\"\nminutes = 5\n";
        for (rest, words) in [
            (format!("{task}steps = [\"Read {{{{ drawn }}}}.\"]\n"), "names `drawn`"),
            (format!("{task}steps = [\"{{% if drawn %}}Read.{{% endif %}}\"]\n"), "perhaps `draw`"),
            (format!("{task}when = \"shiny\"\n"), "names no flag field"),
            (format!("{task}needs = [\"mountd\"]\n"), "no state of the register; perhaps `mounted`"),
            (format!("{task}{task}"), "stands twice"),
            (format!("{task}signs = \"second-person\"\n"), "`signs` needs a `hold`"),
            (format!("{task}hold = \"Stop.\"\nsigns = \"second\"\n"), "unknown variant `second`"),
            (format!("{task}hold = \"Stop.\"\n"), "nothing proves the hold point of task `fit`"),
            (format!("{task}hold = \"Stop.\"\nproof = []\n"), "nothing proves the hold point of task `fit`"),
            (format!("{task}hold = \"Stop.\"\nproof = \"looking\"\n"), "`proof` is \"inspection\", or a list"),
            (format!("{task}hold = \"Stop.\"\nproof = [\"amps\"]\n"), "`amps` is no state of the register"),
            (format!("{task}hold = \"Stop.\"\nproof = [\"dead-test\"]\n"), "perhaps `dead-tests`"),
            (format!("{task}hold = \"Stop.\"\nproof = [\"mounted\"]\n"), "no task of this kind brings `mounted`"),
            (format!("{task}hold = \"Stop.\"\nproof = [\"lamp.mounted\"]\n"), "`lamp` is no role"),
            (format!("{task}proof = \"inspection\"\n"), "`proof` needs a `hold`"),
            (format!("{task}essential = false\n"), "`essential` needs a `hold`"),
            (format!("{task}latest = \"furniture\"\n"), "a stage after that of the task, `furniture`"),
            (format!("{task}latest = \"intake\"\n"), "`intake` is none"),
            (format!("{task}latest = \"someday\"\n"), "unknown variant `someday`"),
            (
                format!(
                    "{task}latest = \"handover\"\nbrings = [\"mounted\"]\n[[task]]\nid = \"try\"\nstage = \"exterior\"\n\
                     title = \"Try\"\nminutes = 5\nneeds = [\"mounted\"]\n"
                ),
                "task `try` waits for this one and comes by the stage `exterior`",
            ),
        ] {
            let told = fault(LOAD, &rest);
            assert!(told.contains(words), "{rest}: {told}");
            assert!(told.starts_with("kinds/lamp.toml:"), "{told}");
        }
        for proof in ["\"inspection\"", "[\"dead-tests\"]", "[\"proved-tight\", \"pipe.tight\"]"] {
            assert_eq!(fault(LOAD, &format!("{task}hold = \"Stop.\"\nproof = {proof}\n")), "");
        }
        assert_eq!(fault(LOAD, &format!("{task}steps = [\"Read {{{{ drop_most }}}} and {{{{ draw }}}}.\"]\n")), "");
    }
}
