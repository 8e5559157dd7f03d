//! A shop's folder drawn for a build: items that its parts come from, and kinds of the shop that are like others.

use super::draft::{Draft, Table};
use super::plan::{KindPlan, ShopPlan};
use super::text;
use super::value::{Die, value};
use super::wiring::{fields_of, kind_of, pick};
use indexmap::{IndexMap, IndexSet};
use rigbinder::fields::FieldType;
use rigbinder::kinds::{Kind, Signer, Stage, UpkeepTemplate};
use std::collections::BTreeMap;
use std::fmt::Write;
use toml::Value;

/// Fields that stay with the component, beside those that name others and places.
const OF_ONE_BUILD: [&str; 11] =
    ["kind", "like", "stock", "count", "way", "run", "output_run", "at", "scope", "known", "on_board"];

/// The folder: items by id with their kind, kinds of its own by id with the kind they are like and their files.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Shop {
    pub(super) items: IndexMap<String, (String, IndexMap<String, Value>)>,
    pub(super) kinds: IndexMap<String, (String, String)>,
}

impl Shop {
    pub(super) fn is_empty(&self) -> bool {
        self.items.is_empty() && self.kinds.is_empty()
    }

    /// Its files.
    pub(super) fn files(&self) -> BTreeMap<String, Vec<u8>> {
        let mut stock = String::new();
        for (id, (kind, fields)) in &self.items {
            let _ = writeln!(stock, "[stock.{id}]\nkind = \"{kind}\"");
            fields.iter().for_each(|(name, value)| stock.extend([name, " = ", &value.to_string(), "\n"]));
        }
        let kinds = self.kinds.iter().map(|(id, (_, text))| (format!("kinds/{id}.toml"), text.clone()));
        let rest = [("shop.toml", "[shop]\nname = \"Drawn\"\n".to_owned()), ("stock/drawn.toml", stock)];
        let rest = rest.map(|(path, text)| (path.to_owned(), text));
        kinds.chain(rest).map(|(path, text)| (path, text.into_bytes())).collect()
    }

    /// The built-in kind that a kind is, or is like.
    pub(super) fn base<'s>(&'s self, kind: &'s str) -> &'s str {
        self.kinds.get(kind).map_or(kind, |(base, _)| base)
    }

    /// The built-in kind behind what a component says of itself; "" where it says nothing.
    pub(super) fn kind_of<'s>(&'s self, table: &'s Table) -> &'s str {
        let said = |field: &str| table.fields.get(field).and_then(Value::as_str);
        let of_item = || self.items.get(said("stock")?).map(|(kind, _)| kind.as_str());
        said("kind").or_else(of_item).map_or("", |kind| self.base(kind))
    }
}

/// Puts parts of a build on the shelf, and makes kinds of the shop of some of theirs.
pub(super) fn stock(draft: &mut Draft, plan: &ShopPlan) {
    for of in &plan.kinds {
        let there: IndexSet<String> = parts(draft).iter().filter_map(|n| plain(&draft.tables[*n], "kind")).collect();
        let there: Vec<String> = there.into_iter().filter(|kind| !draft.shop.kinds.contains_key(kind)).collect();
        let Some(base) = pick(&of.of, &there) else { break };
        // Of a name of its own, or in the place of the built-in one.
        let id = if of.shadows { base.clone() } else { format!("own-{}", draft.shop.kinds.len()) };
        let text = if plan.same { format!("like = \"{base}\"\n") } else { changed(kind_of(base), of) };
        draft.shop.kinds.insert(id.clone(), (base.clone(), text));
        for table in draft.tables.iter_mut().filter(|t| plain(t, "kind").as_ref() == Some(base)) {
            table.fields.insert("kind".to_owned(), Value::from(id.clone()));
        }
    }
    for (which, mask) in &plan.items {
        let there = parts(draft);
        let Some(part) = pick(which, &there) else { break };
        let id = format!("item-{}", draft.shop.items.len());
        let base = draft.shop.kind_of(&draft.tables[*part]).to_owned();
        let table = &mut draft.tables[*part];
        let Some(kind) = plain(table, "kind").filter(|_| !table.fields.contains_key("like")) else { continue };
        let stays = |name: &str, turn: usize| {
            use FieldType::{Component, Components, Place, Places};
            let ty = fields_of(&base).get(name).map(|decl| decl.ty);
            OF_ONE_BUILD.contains(&name)
                || ty.is_none_or(|ty| matches!(ty, Component | Components | Place | Places))
                || mask >> (turn % 16) & 1 == 0
        };
        let (own, item): (IndexMap<_, _>, IndexMap<_, _>) = std::mem::take(&mut table.fields)
            .into_iter()
            .enumerate()
            .map(|(n, (name, value))| (name, (n, value)))
            .partition(|(name, (n, _))| stays(name, *n));
        let in_turn = |fields: IndexMap<String, (usize, Value)>| -> IndexMap<String, Value> {
            fields.into_iter().map(|(name, (_, value))| (name, value)).collect()
        };
        table.fields = in_turn(own);
        table.fields.shift_remove("kind");
        table.fields.shift_insert(0, "stock".to_owned(), Value::from(id.clone()));
        table.needed.push("stock".to_owned());
        draft.shop.items.insert(id, (kind, in_turn(item)));
    }
}

fn parts(draft: &Draft) -> Vec<usize> {
    (0..draft.tables.len()).filter(|n| draft.tables[*n].section == "component").collect()
}

fn plain(table: &Table, field: &str) -> Option<String> {
    table.fields.get(field).and_then(Value::as_str).map(str::to_owned).filter(|_| table.section == "component")
}

/// A line that is no fault as a text of a kind, which the template language reads.
fn line(which: u16) -> String {
    let line = text::words(which);
    if line.contains(['{', '}']) { format!("Plain {which}") } else { line }
}

/// A kind of the shop that is like another and changes, adds and drops what was rolled.
fn changed(base: &Kind, plan: &KindPlan) -> String {
    let said = |turn: u16| Value::from(line(plan.line.wrapping_add(turn))).to_string();
    let wanted = |bit: u32| plan.what >> bit & 1 == 1;
    let mut text = format!("like = \"{}\"\n", base.id);
    let mut put = |wanted: bool, part: String| text.push_str(if wanted { &part } else { "" });
    put(wanted(0), format!("name = {}\n", said(0)));
    put(wanted(1), format!("summary = {}\n", said(1)));
    let gone = pick(&plan.of, &base.upkeep).filter(|_| wanted(2)).map(|u| u.id.as_str());
    put(gone.is_some(), format!("drop = [\"upkeep.{}\"]\n", gone.unwrap_or("")));
    put(wanted(3), format!("[fields.own]\ntype = \"text\"\nabout = {}\ndefault = {}\n", said(2), said(3)));
    // A figure of one of its roles has another default.
    // One of a role that only some of its parts play is told under that role too, which nobody here can name.
    let of_some = |name: &str| {
        let in_role = |id: &&str| rigbinder::roles::contract(id).is_some_and(|c| c.field(name).is_some());
        !base.roles.iter().any(in_role) && rigbinder::roles::ALL.iter().any(|c| c.field(name).is_some())
    };
    let figures: Vec<_> =
        base.fields.iter().filter(|(name, d)| d.default.is_some() && d.choices.is_empty() && !of_some(name)).collect();
    if let Some((name, decl)) = pick(&plan.of, &figures).filter(|_| wanted(4))
        && let Some(value) = value(name, decl, Die { wild: false, ..plan.die })
    {
        let of = |role: &&&str| rigbinder::roles::contract(role).is_some_and(|c| c.field(name).is_some());
        let role =
            base.roles.iter().find(of).map_or_else(|| format!("fields.{name}"), |role| format!("role.{role}.{name}"));
        put(true, format!("[{role}]\ndefault = {value}\n"));
    }
    if let Some(task) = pick(&plan.of, &base.tasks).filter(|_| wanted(5)) {
        put(true, format!("[[task]]\nid = \"{}\"\ntitle = {}\nsteps = [{}, {}]\n", task.id, said(4), said(5), said(6)));
    }
    let own_stage = Stage::ALL[usize::from(plan.die.which) % Stage::ALL.len()];
    let stage = own_stage.id();
    let own = if wanted(3) { "\"See {{ own }}.\"" } else { "\"Look.\"" };
    let who = Signer::ALL[usize::from(plan.die.share) % Signer::ALL.len()].id();
    let later = Stage::ALL.iter().rev().find(|later| wanted(11) && **later > own_stage);
    let latest = later.map_or_else(String::new, |later| format!("latest = \"{}\"\n", later.id()));
    put(
        wanted(6),
        format!(
            "[[task]]\nid = \"own-work\"\nstage = \"{stage}\"\ntitle = {}\nminutes = {}\nsteps = [{own}, {}]\nhold = {}\nproof = \"inspection\"\n\
             signs = \"{who}\"\n{latest}\
             cautions = [{{ signal = \"notice\", hazard = {}, consequence = {}, avoid = {} }}]\n",
            said(7),
            plan.die.share % 300 + 1,
            said(8),
            said(9),
            said(10),
            said(11),
            said(12)
        ),
    );
    let every = ["1 week", "1 month", "6 months", "12 months", "3 years"][usize::from(plan.die.share) % 5];
    // What takes its steps from a procedure keeps the season of that.
    let keeps = |u: &&UpkeepTemplate| u.procedure.is_none() && gone != Some(u.id.as_str());
    if let Some(item) = pick(&plan.of, &base.upkeep).filter(|u| wanted(7) && keeps(u)) {
        put(true, format!("[[upkeep]]\nid = \"{}\"\nevery = \"{every}\"\ntitle = {}\n", item.id, said(13)));
    }
    put(
        wanted(8),
        format!(
            "[[upkeep]]\nid = \"own-care\"\ntitle = {}\nevery = \"{every}\"\nby = \"owner\"\nminutes = 9\nsteps = [{}]\n",
            said(14),
            said(15)
        ),
    );
    // Its share in what is told once for the van, in whatever order the states come out.
    for (turn, of) in ["winterise", "store", "wake"].iter().enumerate() {
        let free = base.share(of).is_none() && wanted(12 + u32::try_from(turn).unwrap_or(0));
        // One order for all, so that no two of them wait for each other.
        let states = ["heat-off", "outlets-open", "sources-off", "loads-off", "bank-off"];
        let (one, other) = (usize::from(plan.die.which) % 5, usize::from(plan.die.share) % 5);
        let (needs, brings) = (one.min(other), one.max(other));
        let needs = if needs == brings { String::new() } else { format!("\"{}\"", states[needs]) };
        put(
            free,
            format!(
                "[[procedure]]\nof = \"{of}\"\nneeds = [{needs}]\nbrings = [\"{}\"]\nsteps = [{}]\n",
                states[brings],
                said(20 + u16::try_from(turn).unwrap_or(0))
            ),
        );
    }
    put(wanted(9), format!("[owner]\nwhat = {}\nuse = [{}]\n", said(16), said(17)));
    put(wanted(10), format!("[[owner.trouble]]\nsymptom = {}\ndo = [{}]\n", said(18), said(19)));
    text
}
