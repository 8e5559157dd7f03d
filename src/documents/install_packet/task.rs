//! A task as the packet prints it, and its texts with the facts of a part.

use crate::build::{Build, Part, Task};
use crate::compute::network::MAKERS;
use crate::documents::facts::Facts;
use crate::documents::shared::{plain, stage_title};
use crate::documents::{CautionView, Context};
use crate::kinds::{Proof, Proving, Reading, Signer, Stage, TaskTemplate};
use crate::units::{Dimension, System, print};
use serde::Serialize;

/// A task as the packet prints it.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct TaskView {
    /// Id; that of the first part where it is told once for several.
    pub id: String,
    /// Title, Markdown.
    pub title: String,
    /// Component, "" for a task of the build and where the title says it.
    pub component: String,
    /// Its place.
    pub place: String,
    /// Working time.
    pub time: String,
    /// Hands needed.
    pub people: u32,
    /// How long it cures before what waits for it may begin; "" where it does not.
    pub cures: String,
    /// On the critical path.
    pub critical: bool,
    /// Title of the stage that it may slip to; "" where it may not.
    pub latest: String,
    /// Tasks of the same stage that come before, by their numbers in the packet: "3, 5–8".
    pub after: String,
    /// Notes for the technician, inline Markdown.
    pub notes: Vec<String>,
    /// Safety messages, before the steps.
    pub cautions: Vec<CautionView>,
    /// Steps, Markdown.
    pub steps: Vec<String>,
    /// How many pieces the steps are done at, each with a box of its own; 1 where it is one, or several parts share the task.
    pub pieces: usize,
    /// Number of the task before it that has the same steps: they are told there alone. 0 where none has.
    pub steps_of: usize,
    /// Those of its steps that are other than there, with their numbers.
    pub other_steps: Vec<(usize, String)>,
    /// Torques.
    pub torques: Vec<TorqueView>,
    /// Readings.
    pub readings: Vec<ReadingView>,
    /// Hold point, Markdown; "" where there is none.
    pub hold: String,
    /// It stands before the steps.
    pub hold_first: bool,
    /// Who signs it, as words after "by"; "" for the technician.
    pub signs: &'static str,
    /// What is recorded and good before it is signed, Markdown, where that is not all readings of the task after its steps.
    pub proof: Vec<String>,
    /// Who signed it, "" where nobody has.
    pub signed: String,
    /// The parts, where it is told once for several.
    pub group: Option<GroupView>,
}

/// A torque.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct TorqueView {
    /// Which fastener, Markdown.
    pub what: String,
    /// How tight, Markdown.
    pub value: String,
    /// Nobody told it: there is a blank to write it in.
    pub blank: bool,
    /// Source, Markdown; "" where the next torque has the same.
    pub source: String,
}

/// A reading.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct ReadingView {
    /// Id without that of the part: `[recorded]` names it with both.
    pub id: String,
    /// Name of the part.
    pub component: String,
    /// What is read, Markdown.
    pub what: String,
    /// Expected value, Markdown; "" where the build does not give it.
    pub expect: String,
    /// Tolerance, Markdown.
    pub tolerance: String,
    /// Recorded value, "" where none is.
    pub recorded: String,
}

/// The parts of a task that is told once.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct GroupView {
    /// How many.
    pub count: usize,
    /// Working time of all.
    pub time: String,
    /// The table shows the way: the steps speak of it.
    pub ways: bool,
    /// The one reading that stands in the rows themselves; `None` where there are more or none.
    pub reading: Option<SharedReading>,
    /// Several readings, with a column for each part; empty where they stand in a list of their own.
    pub matrix: Vec<MatrixRow>,
    /// One row for each part.
    pub rows: Vec<PartRow>,
}

/// A reading that all parts of a group share.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SharedReading {
    /// What is read, Markdown.
    pub what: String,
    /// Tolerance, Markdown.
    pub tolerance: String,
    /// Id without that of the part.
    pub id: String,
}

/// A reading of several parts.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct MatrixRow {
    /// What is read, tolerance, id without that of the part.
    pub reading: SharedReading,
    /// One for each part.
    pub parts: Vec<ReadingView>,
}

/// A part of a group.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PartRow {
    /// Id of the task.
    pub id: String,
    /// Name of the part.
    pub component: String,
    /// Its place.
    pub place: String,
    /// How many pieces it is.
    pub pieces: usize,
    /// Its way, "" where it has none.
    pub way: String,
    /// Its reading, where the group has one alone.
    pub reading: Option<ReadingView>,
    /// Who signed its hold point.
    pub signed: String,
}

/// More pieces are counted by whoever does them: their boxes would fill the card.
const MOST_PIECES: usize = 12;

/// How many pieces of a part have a box each.
pub(super) fn pieces(part: &Part<'_>) -> usize {
    Some(part.bodies()).filter(|bodies| (2..=MOST_PIECES).contains(bodies)).unwrap_or(1)
}

/// The part of a task.
pub(super) fn part_of<'c>(context: &'c Context<'_>, task: &Task<'_>) -> Option<&'c Part<'c>> {
    context.build.bearer(task.part.as_ref()?)
}

/// A torque as the maker of the fastener gives it, and on the scale of a US wrench.
fn in_both(torque: String, system: System) -> String {
    let metres = torque.strip_suffix(" N m").and_then(|n| n.parse::<f64>().ok()).filter(|_| system == System::Us);
    match metres {
        Some(metres) => format!("{torque} ({})", print(Dimension::Torque, metres, system)),
        None => torque,
    }
}

/// What lets current into a part for the first time: what is no way of a panel, or a way that was left alone while its panel
/// was made live.
const FUSES: &str = "{% if own_fuses %}With it switched off, put in {{ own_fuses }}.{% elif way_later %}\
                     With it switched off, {{ way_later }} of way {{ way }} in {{ panel }}.{% endif %}";

/// The same where a step of the kind says how it is switched on, its fuse with it.
const NOT_SAID: &str = "{% if own_fuses %}With it switched off, put in {{ own_fuses }}.{% elif way_later and not goes_on is containing(pat='of way') %}\
     With it switched off, {{ way_later }} of way {{ way }} in {{ panel }}.{% endif %}";

/// The step before those of a kind in the first task that runs a part, where no step of the kind says that its fuse goes in.
pub(super) fn first_of(build: &Build<'_>, template: &TaskTemplate, parts: &[&Part<'_>]) -> Option<&'static str> {
    let part = parts.first()?;
    let runs = |t: &&TaskTemplate| t.stage == Stage::Commissioning;
    let all: Vec<&TaskTemplate> = build.tasks_of(&part.id).filter_map(|t| t.template).filter(runs).collect();
    let is_first = all.first().is_some_and(|first| first.id == template.id);
    let says = |words: &str| all.iter().flat_map(|t| &t.steps).any(|step| step.contains(words));
    let text = if says("{{ goes_on ") || says("feeder's fuse") { NOT_SAID } else { FUSES };
    (is_first && template.stage == Stage::Commissioning && !says("own_fuses")).then_some(text)
}

/// Texts of a task with the facts of a part.
pub(super) fn fill(
    context: &Context<'_>,
    view: &mut TaskView,
    template: &TaskTemplate,
    facts: &Facts,
    parts: &[&Part<'_>],
) {
    let system = context.build.prints();
    let say = |text: &str| context.text(facts, text);
    view.cautions = CautionView::all(context, facts, &template.cautions);
    // A step for what this part has not says nothing.
    let first = first_of(context.build, template, parts).map(&say);
    view.steps =
        first.into_iter().chain(template.steps.iter().map(|s| say(s))).filter(|s| !s.trim().is_empty()).collect();
    let torque = |t: &crate::kinds::Torque| {
        let what = say(&t.what);
        let given = || Some(print(Dimension::Torque, Part::torque_of(parts, &t.what)?.0, System::Metric));
        let told = t.figure(&what).or_else(given);
        let blank = told.is_none();
        let figure = told.unwrap_or_else(|| MAKERS.to_owned());
        let value = in_both(context.as_written(facts, &figure), system);
        TorqueView { value, blank, source: say(&t.basis(&what)), what }
    };
    // A fastener that this part has not says nothing either.
    view.torques = template.torque.iter().map(torque).filter(|t| !t.what.trim().is_empty()).collect();
    // A source that several torques share stands at the last of them.
    for at in 1..view.torques.len() {
        if view.torques[at - 1].source == view.torques[at].source {
            view.torques[at - 1].source.clear();
        }
    }
    view.hold = template.hold.as_deref().map_or_else(String::new, say);
    view.hold_first = template.hold_first;
    // Most hold points say who checks; then it is not said again.
    let signer = template.other_signer().map(Signer::title);
    view.signs = signer.filter(|signer| !view.hold.to_lowercase().contains(signer)).unwrap_or_default();
    view.proof = proof(context, template, parts, &say);
    view.latest = template.latest.map_or_else(String::new, |stage| stage_title(context.build, stage));
}

/// What proves the hold point of a task, where the packet does not show it by its place: readings by their ids, states
/// by their sentences.
fn proof(
    context: &Context<'_>,
    template: &TaskTemplate,
    parts: &[&Part<'_>],
    say: &dyn Fn(&str) -> String,
) -> Vec<String> {
    let Some(part) = parts.first() else { return Vec::new() };
    let code = |id: &str| format!("`{id}`");
    match &template.proof {
        Proof::Own if template.hold_first => context.build.readings_of(part, template).map(|r| code(&r.id)).collect(),
        Proof::Own | Proof::Inspection => Vec::new(),
        Proof::Of(list) => {
            let word = |entry: &String| match part.kind.proving(entry) {
                Proving::Reading(id) => code(id),
                Proving::DeadTests => "the dead tests of every circuit".to_owned(),
                Proving::State(need) => {
                    let says = context.texts.says(need.state());
                    let mut letters = says.trim_end_matches('.').chars();
                    let lower = letters.next().map(|c| c.to_lowercase().chain(letters).collect::<String>());
                    say(&lower.unwrap_or_default())
                }
            };
            list.iter().map(word).collect()
        }
    }
}

/// Readings of a task for one part.
pub(in crate::documents) fn readings(
    context: &Context<'_>,
    template: &TaskTemplate,
    part: &Part<'_>,
) -> Vec<ReadingView> {
    let facts = context.facts.part(&part.id);
    let say = |text: &str| context.text(facts, text);
    let view = |r: &Reading| reading(context, (&part.id, &part.name), r, say(&r.what), say);
    context.build.readings_of(part, template).map(view).collect()
}

/// Readings of a task of the build; its texts are plain.
pub(in crate::documents) fn own_readings(context: &Context<'_>, task: &Task<'_>) -> Vec<ReadingView> {
    let about = task.part.as_deref().unwrap_or(&task.id);
    let component = task.part.as_deref().map_or("", |part| context.build.name(part));
    plain_readings(context, (about, component), &task.readings)
}

/// Readings of the spec about the part or task of that id, with the name of the component.
pub(super) fn plain_readings(context: &Context<'_>, about: (&str, &str), readings: &[Reading]) -> Vec<ReadingView> {
    let view = |r: &Reading| {
        // A figure is printed in the units of the build, words as they stand.
        let say = |text: &str| {
            if r.is_in_words() { plain(context, text) } else { context.text(&Facts::new(), text) }
        };
        reading(context, about, r, plain(context, &r.what), say)
    };
    readings.iter().map(view).collect()
}

/// A reading about the part or task of that id, with the name of its component and what is read.
fn reading(
    context: &Context<'_>,
    (about, component): (&str, &str),
    reading: &Reading,
    what: String,
    say: impl Fn(&str) -> String,
) -> ReadingView {
    let build = context.build;
    let id = format!("{about}.{}", reading.id);
    let shown = |value: &str| match context.readings.results.get(&id) {
        Some(result) => result.band.in_units(value, build.prints()),
        None => value.to_owned(),
    };
    ReadingView {
        component: component.to_owned(),
        what,
        expect: say(&reading.expected()),
        tolerance: say(&reading.tolerance_of(&|name| say(&format!("{{{{ {name} }}}}")))),
        recorded: build.spec.recorded.readings.get(&id).map_or_else(String::new, |v| shown(&v.value)),
        id: reading.id.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_torques_are_in_inch_pounds() {
        assert_eq!(in_both("2 N m".to_owned(), System::Us), "2 N m (18 in lb)");
        assert_eq!(in_both("23 N m".to_owned(), System::Us), "23 N m (17 ft lb)");
        assert_eq!(in_both("25.5 N m".to_owned(), System::Us), "25.5 N m (18.8 ft lb)");
        assert_eq!(in_both("23 N m".to_owned(), System::Metric), "23 N m");
        assert_eq!(in_both("hand tight".to_owned(), System::Us), "hand tight");
    }
}
