//! From a build and its figures to a snapshot.

use super::{END_NAMES, FORM, FigureItem, Item, STALE, Snapshot, Stated, TaskItem, WHOLE, digest};
use crate::build::{Build, Circuit, Part, Purpose};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::formulas;
use crate::compute::ledger::{Amount, Figure, Holds};
use crate::compute::network::CircuitFigures;
use crate::compute::network::colours;
use crate::documents::Context;
use crate::documents::alike::plain;
use crate::documents::calendar_feed;
use crate::documents::facts::{self, Facts, SWITCHED};
use crate::documents::ics::Entry;
use crate::documents::shared::conductors::cuts;
use crate::documents::shared::{self, Reader, Told};
use crate::fields::{Declarations, Record, Value};
use crate::kinds::{Reading, TaskTemplate};
use crate::roles::Common;
use crate::units::{Dimension, System};
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn read(context: &Context<'_>) -> Snapshot {
    let build = context.build;
    let spec = build.spec;
    let formula_names: BTreeMap<&str, &str> =
        crate::compute::formulas::all().map(|formula| (formula.id, formula.name)).collect();
    Snapshot {
        form: FORM,
        units: if build.prints() == System::Us { "us" } else { "metric" }.to_owned(),
        head: values(build, &spec.build),
        settings: settings(build),
        components: components(build),
        circuits: shared::wired(context).map(|(c, f)| (c.id.clone(), circuit(context, c, f))).collect(),
        tasks: build.tasks.values().map(|t| (t.id.clone(), task(context, t))).collect(),
        figures: context.ledger.figures().map(|f| (f.id.clone(), figure(context, f, &formula_names))).collect(),
        upkeep: upkeep(context),
        calendar: calendar(context),
        findings: findings(context),
        recorded: recorded(context),
        hidden: build.parts.values().filter(|p| p.confidential).map(|p| p.id.clone()).collect(),
        signed: spec.recorded.signed.keys().map(|id| (id.clone(), shared::signed(build, id))).collect(),
        ..Snapshot::default()
    }
}

/// Fields of the sections that are no components, by `section.field`.
pub(super) fn settings(build: &Build<'_>) -> BTreeMap<String, Stated> {
    let spec = build.spec;
    let mut settings = BTreeMap::new();
    let mut put = |section: &str, record: &Record| {
        for (field, stated) in values(build, record) {
            settings.insert(format!("{section}.{field}"), stated);
        }
    };
    put("vehicle", &spec.vehicle);
    put("use", &spec.usage);
    put("use.goals", &spec.goals);
    for (section, records) in [
        ("climate", &spec.climates),
        ("shell", &spec.shell),
        ("place", &spec.places),
        ("channel", &spec.channels),
        ("stage", &spec.stages),
        ("contact", &spec.contacts),
    ] {
        for (id, record) in records {
            put(&format!("{section}.{id}"), record);
        }
    }
    for (id, record) in &spec.stock {
        let told = values(build, record).into_iter();
        settings.extend(told.map(|(field, stated)| (format!("stock.{id}.{field}"), stated)));
    }
    settings
}

/// Fields that the spec gives.
fn values(build: &Build<'_>, record: &Record) -> BTreeMap<String, Stated> {
    let given = record.open().filter(|(_, e)| e.given);
    given.map(|(name, entry)| (name.clone(), stated(build, &entry.value))).collect()
}

fn stated(build: &Build<'_>, value: &Value) -> Stated {
    let shown = facts::show(build, value, facts::Voice::Shop);
    match value {
        Value::Quantity(q) => Stated::number(shown, q.value),
        Value::Quantities(list) => {
            let exact: Vec<_> = list.iter().map(|q| q.value.value.to_string()).collect();
            Stated::exactly(shown, exact.join(" "))
        }
        Value::Points(list) => {
            let exact: Vec<_> = list.iter().flat_map(|p| &p.value).map(|q| q.value.to_string()).collect();
            Stated::exactly(shown, exact.join(" "))
        }
        Value::Components(ids) => Stated::ids(shown, ids.iter().map(|i| i.value.as_str())),
        Value::Places(ids) => Stated::places(shown, ids.iter().map(|i| i.value.as_str())),
        _ => Stated::plain(shown),
    }
}

pub(super) fn components(build: &Build<'_>) -> BTreeMap<String, Item> {
    let every = Common::CONTRACT.declarations();
    build.parts.values().map(|p| (p.id.clone(), component(build, p, &every))).collect()
}

fn component(build: &Build<'_>, part: &Part<'_>, every: &Declarations) -> Item {
    let mut values = values(build, part.record);
    values.insert("kind".to_owned(), Stated::exactly(part.kind.name.clone(), part.kind.id.clone()));
    for (field, stated) in &mut values {
        stated.change = part.kind.fields.get(field).or_else(|| every.get(field)).and_then(|declared| declared.change);
    }
    Item { name: part.name.clone(), values }
}

/// What was recorded: serials, readings, tests of circuits, weights, who signed and who took readings, papers, photos.
fn recorded(context: &Context<'_>) -> BTreeMap<String, Stated> {
    let build = context.build;
    let recorded = &build.spec.recorded;
    let serials = recorded.serials.iter().map(|(id, s)| (format!("{id}.serial"), Stated::plain(s.value.clone())));
    let readings = recorded.readings.iter().map(|(id, r)| (id.clone(), Stated::plain(r.value.clone())));
    let mut all: BTreeMap<String, Stated> = serials.chain(readings).collect();
    let mut put = |id: String, record: &Record| {
        all.extend(values(build, record).into_iter().map(|(name, value)| (format!("{id}.{name}"), value)));
    };
    put("weights".to_owned(), &recorded.weights);
    for (id, test) in &recorded.circuits {
        put(id.clone(), test);
    }
    for (what, records) in [("warranty", &recorded.warranty), ("photos", &recorded.photos)] {
        for (id, record) in records {
            put(format!("{id}.{what}"), record);
        }
    }
    for (id, text) in &recorded.conductors {
        all.insert(format!("{id}.conductor"), Stated::plain(text.value.clone()));
    }
    // What stands for a circuit grows old with it.
    for (id, result) in context.readings.circuit_results.iter().filter(|(_, r)| r.of_conductor.is_some()) {
        all.entry(id.clone()).or_insert_with(|| Stated::plain(result.recorded.clone()));
    }
    for (what, signatures) in [("signed", &recorded.signed), ("taken", &recorded.taken)] {
        for (id, signature) in signatures {
            let date = signature.value.date.map_or_else(String::new, |d| format!(", {d}"));
            all.insert(format!("{id}.{what}"), Stated::plain(format!("{}{date}", signature.value.by)));
        }
    }
    all
}

/// Warnings, with who accepted them.
fn findings(context: &Context<'_>) -> BTreeMap<String, Item> {
    let mut all: BTreeMap<String, Item> = BTreeMap::new();
    for finding in context.findings.iter().filter(|f| f.name != STALE) {
        // A headline begins with what it is about, where that is one thing.
        let head = finding.headline.split_once(": ").map(|(about, _)| about).filter(|about| !about.contains(' '));
        let about = finding.subject.as_deref().or(head);
        let id = format!("{}.{}", about.unwrap_or_default(), finding.name);
        let item = all.entry(id).or_insert_with(|| Item { name: finding.name.to_owned(), ..Item::default() });
        let says = item.values.entry("says".to_owned()).or_default();
        if !says.shown.is_empty() {
            says.shown.push_str("; ");
        }
        says.shown.push_str(&finding.headline);
        if let Some(accepted) = &finding.accepted {
            let words = format!("{} ({})", accepted.reason, accepted.by);
            item.values.insert("accepted".to_owned(), Stated::plain(words));
        }
    }
    all
}

/// Entries of the calendar file.
fn calendar(context: &Context<'_>) -> BTreeMap<String, Item> {
    let entries = calendar_feed::calendar(context).entries.into_iter();
    let item = |entry: Entry| {
        let again = entry.repeat.map_or_else(String::new, |r| format!(", every {} days, {} times", r.days, r.times));
        let text = format!("{:?} {:?} {:?}", entry.description, entry.categories, entry.alarm_days_before);
        let values = [
            ("date", Stated::plain(format!("{}{again}", entry.date))),
            ("title", Stated::plain(entry.summary.clone())),
            ("text", Stated::plain(digest(&text))),
        ];
        let values = values.map(|(name, value)| (name.to_owned(), value)).into();
        (entry.id, Item { name: entry.summary, values })
    };
    entries.map(item).collect()
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
    put("way", circuit.way.map_or_else(Stated::default, |way| Stated::number(shared::way(circuit), way.into())));
    put("run", circuit.run.map_or_else(Stated::default, |r| Stated::number(r.show(build.prints()), r.0)));
    put("conductor", Stated::plain(shared::conductor(figures)));
    put("colours", Stated::plain(colours(build, circuit, &context.electrical.profile.colours)));
    put("route", Stated::plain(shared::passes(build, circuit)));
    put("sheath", Stated::plain(if circuit.sheathed { "sheathed" } else { "single conductors" }));
    put("cut", Stated::printed(build.prints(), |units| cuts(build, &context.electrical, circuit, units)));
    let live = build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit && !c.is_back());
    let live: Vec<_> = live.filter_map(|c| context.electrical.conductors.get(&c.id)).collect();
    let ends = live.first().zip(live.last()).map(|(first, last)| [&first.ends[0], &last.ends[1]]);
    for (name, end) in END_NAMES.iter().zip(ends.into_iter().flatten()) {
        put(name, Stated::printed(build.prints(), |units| end.show(units)));
    }
    put("protection", Stated::plain(shared::protection(build, &figures.device.unmarked())));
    let place = shared::device_place(context, circuit, &figures.device, Told::Name(Reader::Binder));
    put("protection at", Stated::plain(place.unwrap_or_default()));
    Item { name: build.name(&circuit.owner).to_owned(), values }
}

fn task(context: &Context<'_>, task: &crate::build::Task<'_>) -> TaskItem {
    let build = context.build;
    let stage = task.stage.id().to_owned();
    let mut values = BTreeMap::from([("time".to_owned(), Stated::plain(shared::working_time(task.minutes.into())))]);
    if let (Some(template), Some(part)) = (task.template, task.part.as_ref().and_then(|p| build.bearer(p))) {
        let readings = build.readings_of(part, template);
        let facts = told(template, readings, context.facts.part(&part.id));
        values.extend(facts.into_iter().map(|(fact, value)| (fact, Stated::plain(value))));
    } else if let Some(record) = build.spec.tasks.get(&task.id) {
        values.extend(self::values(build, record));
    }
    let cuts_skin = task.template.is_some_and(TaskTemplate::cuts_skin);
    TaskItem { stage, cuts_skin, item: Item { name: plain(&shared::task_title(context, task)), values } }
}

/// Facts that the texts of a task tell: what a technician would do otherwise were one of them another.
fn told<'a>(
    template: &TaskTemplate,
    readings: impl Iterator<Item = &'a Reading>,
    facts: &Facts,
) -> BTreeMap<String, String> {
    let torques = template.torque.iter().flat_map(|t| [&t.what, &t.value]);
    let readings = readings.flat_map(|r| [r.what.clone(), r.expected(), r.tolerance()]);
    let texts = template.steps.iter().chain(torques).cloned().chain(readings).chain(template.hold.clone());
    let texts: Vec<String> = texts.collect();
    let mut words: BTreeSet<&str> = texts.iter().flat_map(|text| mentioned(text)).collect();
    // How a part is switched follows from its way, which is what a person looks up.
    let before = words.len();
    words.retain(|word| !SWITCHED.contains(word));
    if words.len() < before {
        words.extend(["way", "panel"]);
    }
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

fn figure(context: &Context<'_>, figure: &Figure, names: &BTreeMap<&str, &str>) -> FigureItem {
    let system = context.build.prints();
    let is_fault = figure.formula == formulas::electrical::FAULT.id;
    let breaking = context.electrical.circuits.get(&figure.subject).filter(|_| is_fault).and_then(|c| c.breaking);
    FigureItem {
        name: names.get(figure.formula).unwrap_or(&figure.formula).to_string(),
        subject: figure.subject.clone(),
        // A difference that no document prints is none.
        value: Stated::printed(system, |units| figure.show(units)),
        limit: figure
            .limit
            .as_ref()
            .map_or_else(String::new, |l| format!("{} {}", l.holds.words(), l.show(system)).replace("± ", "±")),
        // Beyond what its family must break a device is not proven: nothing is left, and nothing over.
        margin: figure.show_margin(system).filter(|_| !is_beyond(figure)).unwrap_or_default(),
        share: share(figure),
        kept: figure.limit.as_ref().is_none_or(|l| l.kept),
        unproven: breaking == Some(Interrupting::Unproven),
    }
}

/// Whether a figure lies on the wrong side of its bound, be it excused or not.
fn is_beyond(figure: &Figure) -> bool {
    let bound = figure.limit.as_ref().map(|l| &l.bound);
    matches!((figure.margin(), bound), (Some(Amount::Of(_, left)), Some(Amount::Of(_, bound))) if left < -1e-9 * bound.abs())
}

/// How much of its limit a figure takes up, in ten-thousandths; nothing where there is no such share.
fn share(figure: &Figure) -> u32 {
    let Some(limit) = &figure.limit else { return 0 };
    let (Amount::Of(of, value), Amount::Of(dimension, bound)) = (&figure.value, &limit.bound) else { return 0 };
    // Degrees are no share of anything.
    if of != dimension || *of == Dimension::Temperature {
        return if is_beyond(figure) { WHOLE + 1 } else { 0 };
    }
    let share = match limit.holds {
        Holds::AtMost => value / bound,
        Holds::AtLeast => bound / value,
        Holds::Within => value.abs() / bound,
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a float is cast to the nearest count")]
    let share = (share * f64::from(WHOLE)).round() as u32;
    share
}

/// Fields of upkeep of the spec itself that change what is done.
const TOLD_OF_UPKEEP: [&str; 7] = ["steps", "cautions", "readings", "hold", "place", "by", "minutes"];

/// Upkeep with its dates.
fn upkeep(context: &Context<'_>) -> BTreeMap<String, Item> {
    let Some(plan) = context.due_dates else { return BTreeMap::new() };
    let mut all: BTreeMap<String, Item> = BTreeMap::new();
    let said = |part: &str, title: &str| plain(&(context.say)(title, context.facts.part(part)));
    for due in &plan.dated {
        let id = format!("{}.{}", due.component, due.upkeep);
        let item = all.entry(id).or_insert_with(|| Item { name: said(&due.component, &due.title), ..Item::default() });
        item.values.insert("how often".to_owned(), Stated::plain(due.cadence.clone()));
        let dates = item.values.entry("dates".to_owned()).or_default();
        if !dates.shown.is_empty() {
            dates.shown.push(' ');
        }
        dates.shown.push_str(&due.date.to_string());
    }
    let undated = [
        (&plan.before_trip, "before each trip"),
        (&plan.by_use, "by use"),
        (&plan.age_unknown, "age not known"),
        (&plan.without_date, "no date"),
    ];
    for (list, word) in undated {
        for item in list {
            let id = format!("{}.{}", item.component, item.upkeep);
            let name = said(&item.component, &item.title);
            let use_limits =
                [&item.distance, &item.hours].into_iter().flatten().cloned().collect::<Vec<_>>().join(" or ");
            let entry = all.entry(id).or_insert_with(|| Item { name, ..Item::default() });
            let often = if use_limits.is_empty() { word.to_owned() } else { use_limits };
            entry.values.entry("how often".to_owned()).or_insert_with(|| Stated::plain(often));
        }
    }
    // What the spec itself says of its upkeep; how often stands there already.
    for upkeep in context.build.own_upkeep() {
        let record = context.build.spec.upkeep.get(&upkeep.template.id);
        let (Some(item), Some(record)) = (all.get_mut(&upkeep.id), record) else { continue };
        let said = values(context.build, record).into_iter();
        item.values.extend(said.filter(|(field, _)| TOLD_OF_UPKEEP.contains(&field.as_str())));
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
