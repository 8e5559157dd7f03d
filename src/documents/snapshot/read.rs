//! From a build and its figures to a snapshot.

use super::{FigureItem, Item, Snapshot, Stated, TaskItem};
use crate::build::{Build, Circuit, Part};
use crate::compute::ledger::Figure;
use crate::compute::network::CircuitFigures;
use crate::documents::Context;
use crate::documents::alike::plain;
use crate::documents::facts::{self, Facts};
use crate::documents::shared::{self, Reader, cable};
use crate::fields::{Record, Value};
use crate::kinds::TaskTemplate;
use std::collections::{BTreeMap, BTreeSet};

/// Fields of a component that say where it stands.
const PLACES: [&str; 4] = ["place", "places", "second_place", "at"];

pub(super) fn read(context: &Context<'_>) -> Snapshot {
    let build = context.build;
    let spec = build.spec;
    let mut settings = BTreeMap::new();
    let mut put = |section: &str, record: &Record| {
        for (field, stated) in values(build, record) {
            settings.insert(format!("{section}.{field}"), stated);
        }
    };
    put("vehicle", &spec.vehicle);
    put("use", &spec.usage);
    for (section, records) in [
        ("climate", &spec.climates),
        ("shell", &spec.shell),
        ("place", &spec.places),
        ("stage", &spec.stages),
        ("contact", &spec.contacts),
    ] {
        for (id, record) in records {
            put(&format!("{section}.{id}"), record);
        }
    }
    let formula_names: BTreeMap<&str, &str> =
        crate::compute::formulas::all().map(|formula| (formula.id, formula.name)).collect();
    Snapshot {
        head: values(build, &spec.build),
        settings,
        components: components(build),
        circuits: shared::wired(context).map(|(c, f)| (c.id.clone(), circuit(context, c, f))).collect(),
        tasks: build.tasks.values().map(|t| (t.id.clone(), task(context, t))).collect(),
        figures: context.ledger.figures().map(|f| (f.id.clone(), figure(build, f, &formula_names))).collect(),
        upkeep: upkeep(context),
        recorded: recorded(build),
        signed: spec.recorded.signed.keys().map(|id| (id.clone(), shared::signed(build, id))).collect(),
        sheets: BTreeMap::new(),
    }
}

/// Fields that the spec gives.
fn values(build: &Build<'_>, record: &Record) -> BTreeMap<String, Stated> {
    let given = record.fields.iter().filter(|(_, e)| e.given);
    given.map(|(name, entry)| (name.clone(), stated(build, &entry.value))).collect()
}

fn stated(build: &Build<'_>, value: &Value) -> Stated {
    let shown = facts::show(build, value, facts::Voice::Shop);
    match value {
        Value::Quantity(q) => Stated::exactly(shown, q.value.to_string()),
        Value::Quantities(list) => {
            let exact: Vec<_> = list.iter().map(|q| q.value.value.to_string()).collect();
            Stated::exactly(shown, exact.join(" "))
        }
        Value::Components(ids) => Stated::ids(shown, ids.iter().map(|i| i.value.as_str())),
        Value::Places(ids) => {
            let exact: Vec<_> = ids.iter().map(|i| i.value.as_str()).collect();
            Stated::exactly(shown, exact.join(" "))
        }
        _ => Stated::plain(shown),
    }
}

pub(super) fn components(build: &Build<'_>) -> BTreeMap<String, Item> {
    build.parts.values().map(|p| (p.id.clone(), component(build, p))).collect()
}

fn component(build: &Build<'_>, part: &Part<'_>) -> Item {
    let mut values = values(build, part.record);
    if build.is_secret(part) {
        values.retain(|field, _| !PLACES.contains(&field.as_str()));
    }
    values.insert("kind".to_owned(), Stated::exactly(part.kind.name.clone(), part.kind.id.clone()));
    Item { name: part.name.clone(), values }
}

/// What was recorded: serials, readings and weights.
fn recorded(build: &Build<'_>) -> BTreeMap<String, Stated> {
    let recorded = &build.spec.recorded;
    let serials = recorded.serials.iter().map(|(id, s)| (format!("{id}.serial"), Stated::plain(s.value.clone())));
    let readings = recorded.readings.iter().map(|(id, r)| (id.clone(), Stated::plain(r.value.clone())));
    let weights = values(build, &recorded.weights).into_iter().map(|(name, w)| (format!("weights.{name}"), w));
    serials.chain(readings).chain(weights).collect()
}

fn circuit(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Item {
    let build = context.build;
    let mut values = BTreeMap::new();
    let mut put = |name: &str, stated: Stated| {
        if !stated.shown.is_empty() {
            values.insert(name.to_owned(), stated);
        }
    };
    put("from", Stated::ids(build.name(&circuit.from), [circuit.from.as_str()]));
    put("to", Stated::ids(build.name(&circuit.to), [circuit.to.as_str()]));
    put("way", Stated::plain(shared::way(circuit)));
    put("run", circuit.run.map_or_else(Stated::default, |r| Stated::exactly(r.show(build.prints()), r.0.to_string())));
    put("conductor", Stated::plain(shared::conductor(figures)));
    put("colours", Stated::plain(cable::colours(context, circuit, figures)));
    put("route", Stated::plain(shared::passes(build, circuit)));
    put("sheath", Stated::plain(if circuit.sheathed { "sheathed" } else { "single conductors" }));
    let cut = cable::cut(build, circuit, figures);
    put(
        "cut",
        cut.map_or_else(Stated::default, |c| Stated::plain(format!("{} × {}", c.pieces, c.each.show(build.prints())))),
    );
    put("protection", Stated::plain(shared::protection(build, &figures.device)));
    let place = shared::device_place(context, circuit, &figures.device, Reader::Binder);
    put("protection at", Stated::plain(place.unwrap_or_default()));
    Item { name: build.name(&circuit.owner).to_owned(), values }
}

fn task(context: &Context<'_>, task: &crate::build::Task<'_>) -> TaskItem {
    let build = context.build;
    let stage = task.stage.id().to_owned();
    let mut values = BTreeMap::from([("time".to_owned(), Stated::plain(shared::working_time(task.minutes.into())))]);
    if let (Some(template), Some(part)) = (task.template, task.part.as_ref().and_then(|p| build.parts.get(p))) {
        let facts = context.facts.part(&part.id);
        for (name, value) in told(template, facts) {
            values.insert(name, Stated::plain(value));
        }
    } else if let Some(record) = build.spec.tasks.get(&task.id) {
        values.extend(self::values(build, record));
    }
    TaskItem { stage, item: Item { name: plain(&shared::task_title(context, task)), values } }
}

/// Facts that the texts of a task tell: what a technician would do otherwise were one of them another.
fn told(template: &TaskTemplate, facts: &Facts) -> BTreeMap<String, String> {
    let torques = template.torque.iter().flat_map(|t| [&t.what, &t.value]);
    let readings = template.readings.iter().flat_map(|r| [&r.what, &r.expect, &r.tolerance]);
    let texts = template.steps.iter().chain(torques).chain(readings).chain(&template.hold);
    let words: BTreeSet<&str> = texts.flat_map(|text| mentioned(text)).collect();
    let known = words.into_iter().filter_map(|word| Some((word.to_owned(), facts.get(word)?.clone())));
    // What a part is called changes no work.
    known
        .filter(|(word, value)| !value.is_empty() && !["id", "name", "kind_name", "label"].contains(&word.as_str()))
        .collect()
}

/// Words inside the braces of a template.
fn mentioned(text: &str) -> Vec<&str> {
    let mut words = Vec::new();
    let mut rest = text;
    while let Some((_, inside)) = rest.split_once('{') {
        let (code, after) = inside.split_once('}').unwrap_or((inside, ""));
        words.extend(code.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|w| !w.is_empty()));
        rest = after;
    }
    words
}

fn figure(build: &Build<'_>, figure: &Figure, names: &BTreeMap<&str, &str>) -> FigureItem {
    let system = build.prints();
    FigureItem {
        name: names.get(figure.formula).unwrap_or(&figure.formula).to_string(),
        subject: figure.subject.clone(),
        // A difference that no document prints is none.
        value: Stated::plain(figure.value.show(system)),
        limit: figure.limit.as_ref().map_or_else(String::new, |l| {
            format!("{} {}", if l.at_most { "at most" } else { "at least" }, l.bound.show(system))
        }),
        kept: figure.limit.as_ref().is_none_or(|l| l.kept),
    }
}

/// Upkeep with its dates.
fn upkeep(context: &Context<'_>) -> BTreeMap<String, Item> {
    let Some(plan) = context.plan else { return BTreeMap::new() };
    let mut all: BTreeMap<String, Item> = BTreeMap::new();
    for due in &plan.dated {
        let id = format!("{}.{}", due.component, due.upkeep);
        let item = all.entry(id).or_insert_with(|| Item { name: plain(&due.title), ..Item::default() });
        item.values.insert("how often".to_owned(), Stated::plain(due.cadence.clone()));
        let dates = item.values.entry("dates".to_owned()).or_default();
        if !dates.shown.is_empty() {
            dates.shown.push(' ');
        }
        dates.shown.push_str(&due.date.to_string());
    }
    for (list, word) in
        [(&plan.before_trip, "before each trip"), (&plan.by_use, "by use"), (&plan.without_date, "no date")]
    {
        for item in list {
            let id = format!("{}.{}", item.component, item.upkeep);
            let name = plain(&item.title);
            let use_limits =
                [&item.distance, &item.hours].into_iter().flatten().cloned().collect::<Vec<_>>().join(" or ");
            let entry = all.entry(id).or_insert_with(|| Item { name, ..Item::default() });
            let often = if use_limits.is_empty() { word.to_owned() } else { use_limits };
            entry.values.entry("how often".to_owned()).or_insert_with(|| Stated::plain(often));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::mentioned;

    #[test]
    fn words_of_a_template_are_those_inside_its_braces() {
        assert_eq!(
            mentioned("Fit the fuse {{ fuse }} in {% if way %}way {{ way }}{% endif %} always."),
            ["fuse", "if", "way", "way", "endif"]
        );
        assert!(mentioned("no braces, an open { one").contains(&"one"));
    }
}
