//! What differs between two snapshots.

use super::renames::{self, Renames, renamed, same};
use crate::compute::formulas::electrical as formulas;
use crate::compute::ledger::Formula;
use crate::documents::snapshot::{END_NAMES, FigureItem, IDS, Item, SheetItem, Snapshot, Stated};
use crate::fields::Change;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// A value that changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ValueChange {
    /// Name of the value.
    pub name: String,
    /// As it was, "" where it is new.
    pub was: String,
    /// As it is, "" where it went.
    pub is: String,
    /// What has to be done with the part that it is of.
    #[serde(skip)]
    pub change: Option<Change>,
}

/// A thing that is new or went.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Named {
    /// Id.
    pub id: String,
    /// What people call it.
    pub name: String,
}

/// A thing that changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Changed {
    /// Id as it was.
    pub was: String,
    /// Id as it is.
    pub id: String,
    /// What people called it.
    pub name_was: String,
    /// What people call it.
    pub name: String,
    /// Its values that changed, by name.
    pub values: Vec<ValueChange>,
}

/// Differences of one list.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Difference {
    /// New.
    pub added: Vec<Named>,
    /// Gone.
    pub removed: Vec<Named>,
    /// Changed.
    pub changed: Vec<Changed>,
}

impl Difference {
    /// Whether nothing differs.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.added.is_empty() && self.removed.is_empty() && self.changed.is_empty()
    }

    fn reversed(self) -> Self {
        let turn = |c: Changed| Changed {
            was: c.id,
            id: c.was,
            name_was: c.name,
            name: c.name_was,
            values: c.values.into_iter().map(ValueChange::reversed).collect(),
        };
        let mut changed: Vec<_> = self.changed.into_iter().map(turn).collect();
        changed.sort_by(|a, b| a.id.cmp(&b.id));
        Self { added: self.removed, removed: self.added, changed }
    }
}

impl ValueChange {
    fn reversed(self) -> Self {
        Self { was: self.is, is: self.was, ..self }
    }
}

/// All differences of two builds.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Changes {
    /// Components whose id alone changed: (old, new).
    pub renamed: Vec<(String, String)>,
    /// Places whose id alone changed: (old, new).
    pub places: Vec<(String, String)>,
    /// `[build]`.
    pub head: Vec<ValueChange>,
    /// Other sections, by `section.field`.
    pub settings: Vec<ValueChange>,
    /// Components.
    pub components: Difference,
    /// Circuits.
    pub circuits: Difference,
    /// Tasks.
    pub tasks: Difference,
    /// Figures; the name of a figure's one value is "value".
    pub figures: Difference,
    /// Upkeep.
    pub upkeep: Difference,
    /// Entries of the calendar file.
    pub calendar: Difference,
    /// Warnings.
    pub findings: Difference,
    /// What was recorded on the van.
    pub recorded: Vec<ValueChange>,
    /// Labels of circuits and equipment.
    pub labels: Difference,
    /// Head and foot of every page.
    pub page: Option<ValueChange>,
    /// Documents; values are "text" and the file names of drawings.
    pub sheets: Difference,
    /// Nothing that may be told changed, but documents of a build with a hidden switch did: it may have moved.
    pub unsaid: bool,
}

impl Changes {
    /// Those that are work: of what was there before and stays, another figure is better knowledge, and no work.
    #[must_use]
    pub fn as_work(&self, old: &Snapshot, new: &Snapshot) -> Self {
        let was_there = |snapshot: &Snapshot, id: &str| {
            let part = snapshot.components.get(id.split('.').next().unwrap_or(id));
            part.and_then(|item| item.values.get("scope")).is_some_and(|scope| scope.shown == "existing")
        };
        let mut work = self.clone();
        for list in [&mut work.components, &mut work.circuits] {
            list.changed.retain(|c| !(was_there(old, &c.was) && was_there(new, &c.id)));
            list.removed.retain(|n| !was_there(old, &n.id));
            list.added.retain(|n| !was_there(new, &n.id));
        }
        work
    }

    /// What leads from `old` to `new`.
    #[must_use]
    pub fn between(old: &Snapshot, new: &Snapshot) -> Self {
        let map = renames::found(old, new);
        let tasks =
            |s: &Snapshot| s.tasks.iter().map(|(id, t)| (id.clone(), t.item.clone())).collect::<BTreeMap<_, _>>();
        // A record of another form does not know all that this one does.
        let alike = old.form == new.form;
        let sheets = |s: &Snapshot| {
            let item = |d: &SheetItem| {
                let drawings =
                    d.drawings.iter().filter(|_| alike).map(|(file, drawn)| (file.clone(), drawn.digest.clone()));
                let all = drawings.chain([("text".to_owned(), d.digest.clone())]);
                Item { name: d.title.clone(), values: all.map(|(name, text)| (name, Stated::plain(text))).collect() }
            };
            s.sheets.iter().map(|(id, d)| (id.clone(), item(d))).collect::<BTreeMap<_, _>>()
        };
        let none = Renames::new();
        let hidden: BTreeSet<&str> = old.hidden.iter().chain(&new.hidden).map(String::as_str).collect();
        let circuits = circuits(old, new, &map, &hidden);
        let labels = if alike { difference(&old.labels, &new.labels, &map) } else { flags(new, &circuits) };
        // Facts of texts are kept as they are printed: in other units all of them differ, and no work with them.
        let in_same_units = |mut difference: Difference| {
            if alike && old.units != new.units {
                difference.changed.clear();
            }
            difference
        };
        let mut changes = Self {
            unsaid: false,
            head: value_changes(&old.head, &new.head, &none),
            settings: {
                let moved = old.settings.iter().map(|(name, v)| (renames::renamed_setting(name, &map), v.clone()));
                value_changes(&moved.collect(), &new.settings, &map)
            },
            components: without_hidden(difference(&old.components, &new.components, &map), &hidden),
            circuits,
            tasks: in_same_units(without_hidden(difference(&tasks(old), &tasks(new), &map), &hidden)),
            figures: figures(old, new, &map),
            upkeep: in_same_units(difference(&old.upkeep, &new.upkeep, &map)),
            calendar: if alike { difference(&old.calendar, &new.calendar, &map) } else { Difference::default() },
            findings: if alike { difference(&old.findings, &new.findings, &map) } else { Difference::default() },
            labels,
            page: {
                let shown = |s: &Snapshot| s.page.shown.clone();
                let differs = alike && old.page != new.page && !old.sheets.is_empty() && !new.sheets.is_empty();
                differs.then(|| ValueChange { name: "page".to_owned(), was: shown(old), is: shown(new), change: None })
            },
            recorded: {
                let moved = old.recorded.iter().map(|(id, value)| (renamed(id, &map), value.clone())).collect();
                let mut recorded = value_changes(&moved, &new.recorded, &map);
                recorded.retain(|v| alike || !v.was.is_empty());
                recorded
            },
            // Of a snapshot without documents nothing can be said about them.
            sheets: if old.sheets.is_empty() || new.sheets.is_empty() {
                Difference::default()
            } else {
                difference(&sheets(old), &sheets(new), &none)
            },
            places: {
                let bare = |id: &str| id.strip_prefix("place.").map(str::to_owned);
                map.iter().filter_map(|(was, is)| Some((bare(was)?, bare(is)?))).collect()
            },
            renamed: map.into_iter().filter(|(was, _)| !was.starts_with("place.")).collect(),
        };
        let hides = alike && !hidden.is_empty();
        changes.unsaid = hides && !changes.sheets.changed.is_empty() && changes.is_only_revision_and_told();
        changes
    }

    /// Whether the builds are the same. Documents alone may differ between versions of the program.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let lists = [&self.components, &self.circuits, &self.tasks, &self.figures, &self.upkeep, &self.findings];
        self.renamed.is_empty()
            && self.places.is_empty()
            && self.head.is_empty()
            && self.settings.is_empty()
            && self.recorded.is_empty()
            && lists.iter().all(|d| d.is_empty())
    }

    /// Whether nothing differs but the revision itself and what was recorded on the van.
    #[must_use]
    pub fn is_only_revision(&self) -> bool {
        let head = self.head.iter().all(|c| c.name == "revision");
        Self { head: Vec::new(), recorded: Vec::new(), ..self.clone() }.is_empty() && head
    }

    /// Whether nothing at all differs that a notice may tell, but for the revision.
    fn is_only_revision_and_told(&self) -> bool {
        self.is_only_revision() && self.recorded.is_empty()
    }

    /// What leads back.
    #[must_use]
    pub fn reversed(self) -> Self {
        let values = |list: Vec<ValueChange>| list.into_iter().map(ValueChange::reversed).collect();
        let turned = |pairs: Vec<(String, String)>| {
            let mut pairs: Vec<_> = pairs.into_iter().map(|(was, is)| (is, was)).collect();
            pairs.sort();
            pairs
        };
        Self {
            renamed: turned(self.renamed),
            places: turned(self.places),
            head: values(self.head),
            settings: values(self.settings),
            components: self.components.reversed(),
            circuits: self.circuits.reversed(),
            tasks: self.tasks.reversed(),
            figures: self.figures.reversed(),
            upkeep: self.upkeep.reversed(),
            calendar: self.calendar.reversed(),
            findings: self.findings.reversed(),
            labels: self.labels.reversed(),
            page: self.page.map(ValueChange::reversed),
            // Ids of records follow the renames, so their names are those of the other side.
            recorded: values(self.recorded),
            sheets: self.sheets.reversed(),
            unsaid: self.unsaid,
        }
    }
}

fn value_changes(old: &BTreeMap<String, Stated>, new: &BTreeMap<String, Stated>, map: &Renames) -> Vec<ValueChange> {
    let none = Stated::default();
    let mut names: Vec<&String> = old.keys().chain(new.keys().filter(|n| !old.contains_key(*n))).collect();
    names.sort();
    let change = |name: &String| {
        let (was, is) = (old.get(name), new.get(name));
        if was.zip(is).is_some_and(|(was, is)| same(was, is, map)) {
            return None;
        }
        let shown = |value: Option<&Stated>| value.unwrap_or(&none).shown.clone();
        // A record from before fields had marks knows none: the graver of both sides.
        let change = was.and_then(|was| was.change).max(is.and_then(|is| is.change));
        Some(ValueChange { name: name.clone(), was: shown(was), is: shown(is), change })
    };
    names.into_iter().filter_map(change).collect()
}

fn difference(old: &BTreeMap<String, Item>, new: &BTreeMap<String, Item>, map: &Renames) -> Difference {
    let mut difference = Difference::default();
    let mut met = BTreeSet::new();
    for (id, was) in old {
        let now = renamed(id, map);
        let Some(is) = new.get(&now) else {
            difference.removed.push(Named { id: id.clone(), name: was.name.clone() });
            continue;
        };
        let values = value_changes(&was.values, &is.values, map);
        if !values.is_empty() {
            let names = (was.name.clone(), is.name.clone());
            difference.changed.push(Changed {
                was: id.clone(),
                id: now.clone(),
                name_was: names.0,
                name: names.1,
                values,
            });
        }
        met.insert(now);
    }
    let fresh = new.iter().filter(|(id, _)| !met.contains(*id));
    difference.added = fresh.map(|(id, item)| Named { id: id.clone(), name: item.name.clone() }).collect();
    difference.changed.sort_by(|a, b| a.id.cmp(&b.id));
    difference
}

/// The flags of circuits that changed, for a record that does not know what they said.
fn flags(new: &Snapshot, circuits: &Difference) -> Difference {
    let ids = circuits.changed.iter().map(|c| &c.id).chain(circuits.added.iter().map(|n| &n.id));
    let flag = |id: &String| {
        let flag = format!("{id}.flag");
        new.labels.contains_key(&flag).then(|| Named { id: flag, name: id.clone() })
    };
    Difference { added: ids.filter_map(flag).collect(), ..Difference::default() }
}

/// Circuits; of a cable to a hidden switch not the way that leads to it.
fn circuits(old: &Snapshot, new: &Snapshot, map: &Renames, hidden: &BTreeSet<&str>) -> Difference {
    let names_hidden = |value: &Stated| {
        value.exact().strip_prefix(IDS).is_some_and(|ids| ids.split(' ').any(|id| hidden.contains(id)))
    };
    let leads = |item: Option<&Item>| item.is_some_and(|item| item.values.values().any(names_hidden));
    let mut circuits = difference(&old.circuits, &new.circuits, map);
    for c in &mut circuits.changed {
        if leads(old.circuits.get(&c.was)) || leads(new.circuits.get(&c.id)) {
            c.values.retain(|v| v.name != "route" && v.name != "protection at");
        }
    }
    if old.form == new.form && old.units != new.units {
        // The allowance of a cut is a round length of its own in either system.
        circuits.changed.iter_mut().for_each(|c| c.values.retain(|v| v.name != "cut"));
    }
    // A record from before lugs were reckoned knows none.
    if ![old, new]
        .iter()
        .all(|s| s.circuits.values().any(|c| END_NAMES.iter().any(|name| c.values.contains_key(*name))))
    {
        circuits.changed.iter_mut().for_each(|c| c.values.retain(|v| !END_NAMES.contains(&v.name.as_str())));
    }
    circuits.changed.retain(|c| !c.values.is_empty());
    circuits
}

/// Figures; those of lugs only where both sides know some.
fn figures(old: &Snapshot, new: &Snapshot, map: &Renames) -> Difference {
    let item = |(id, f): (&String, &FigureItem)| {
        let values = BTreeMap::from([("value".to_owned(), f.value.clone())]);
        (id.clone(), Item { name: f.name.clone(), values })
    };
    let items = |s: &Snapshot| s.figures.iter().map(item).collect::<BTreeMap<_, _>>();
    let mut figures = difference(&items(old), &items(new), map);
    let of_lug = |id: &str| LUG_FIGURES.iter().any(|formula| id.ends_with(formula.id));
    if ![old, new].iter().all(|s| s.figures.keys().any(|id| of_lug(id))) {
        figures.added.retain(|n| !of_lug(&n.id));
        figures.removed.retain(|n| !of_lug(&n.id));
    }
    figures
}

/// Formulas that records from before lugs were reckoned do not know.
const LUG_FIGURES: [&Formula; 2] = [&formulas::END_AT_START, &formulas::END_AT_END];

/// Of what is confidential on either side only what both sides tell: where it was open before, that tells where it was, and
/// a record from before told less of what is hidden.
fn without_hidden(mut difference: Difference, hidden: &BTreeSet<&str>) -> Difference {
    let component = |id: &str| id.split('.').next().is_some_and(|head| hidden.contains(head));
    for c in difference.changed.iter_mut().filter(|c| component(&c.was) || component(&c.id)) {
        c.values.retain(|v| !v.was.is_empty() && !v.is.is_empty());
    }
    difference.changed.retain(|c| !c.values.is_empty());
    difference
}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(name: &str, values: &[(&str, Stated)]) -> Item {
        Item { name: name.to_owned(), values: values.iter().map(|(n, v)| ((*n).to_owned(), v.clone())).collect() }
    }

    fn lamp(fed_from: &str, draw: &str) -> Item {
        item("Lamp", &[("draw", Stated::plain(draw)), ("fed_from", Stated::ids("Panel", [fed_from]))])
    }

    fn snapshot(components: &[(&str, Item)]) -> Snapshot {
        let components = components.iter().map(|(id, item)| ((*id).to_owned(), item.clone())).collect();
        Snapshot { components, ..Snapshot::default() }
    }

    #[test]
    fn a_build_against_itself_has_no_changes() {
        let a = snapshot(&[("lamp", lamp("panel", "5 W")), ("panel", item("Panel", &[]))]);
        assert!(Changes::between(&a, &a).is_empty());
    }

    #[test]
    fn a_new_id_alone_is_a_rename_even_where_others_name_it() {
        let a = snapshot(&[("lamp", lamp("panel", "5 W")), ("panel", item("Panel", &[("ways", Stated::plain("8"))]))]);
        let b = snapshot(&[("light", lamp("board", "5 W")), ("board", item("Panel", &[("ways", Stated::plain("8"))]))]);
        let changes = Changes::between(&a, &b);
        let pair = |was: &str, is: &str| (was.to_owned(), is.to_owned());
        assert_eq!(changes.renamed, [pair("lamp", "light"), pair("panel", "board")]);
        assert!(changes.components.is_empty(), "{:?}", changes.components);
    }

    #[test]
    fn a_changed_value_is_told_with_what_it_was() {
        let a = snapshot(&[("lamp", lamp("panel", "5 W")), ("fan", item("Fan", &[]))]);
        let b =
            snapshot(&[("lamp", lamp("panel", "7 W")), ("heater", item("Heater", &[("draw", Stated::plain("9 W"))]))]);
        let changes = Changes::between(&a, &b);
        assert_eq!(changes.components.removed, [Named { id: "fan".into(), name: "Fan".into() }]);
        assert_eq!(changes.components.added, [Named { id: "heater".into(), name: "Heater".into() }]);
        let values = &changes.components.changed[0].values;
        assert_eq!(values, &[ValueChange { name: "draw".into(), was: "5 W".into(), is: "7 W".into(), change: None }]);
        assert_eq!(Changes::between(&b, &a), changes.reversed());
    }

    #[test]
    fn what_prints_otherwise_but_is_the_same_is_no_change() {
        let a = snapshot(&[("lamp", item("Lamp", &[("run", Stated::exactly("4.2 m", "4.2"))]))]);
        let b = snapshot(&[("lamp", item("Lamp", &[("run", Stated::exactly("420 cm", "4.2"))]))]);
        assert!(Changes::between(&a, &b).is_empty());
    }
}
