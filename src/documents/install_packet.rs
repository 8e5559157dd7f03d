//! Install packet: everything a technician at the van needs for one stage, printable alone in black and white.

mod bolted;
mod build_calendar;
mod channels;
mod circuit_tests;
pub(super) mod hazards;
mod pick;
mod pull_test;
mod stage_text;
pub(super) mod task;
mod terminations;
mod together;
mod wiring;
pub(super) mod work;

use super::hidden::Hidden;
use super::identity;
use super::shared::{self, cable, existing, fuses, openings, site, small_parts, wire, working_time};
use super::{BuildView, CautionView, Context, PictureView};
use crate::compute::electrical::resistance::COLD;
use crate::compute::network::slack;
use crate::compute::wiring_hours;
use crate::kinds::{Stage, TaskTemplate};
use serde::Serialize;
use std::collections::BTreeSet;

/// File name of a packet, before the number and the id of its stage.
pub(crate) const STEM: &str = "packet";

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Id of the stage.
    pub stage: &'static str,
    /// Its title.
    pub title: String,
    /// Its number, from 1.
    pub number: usize,
    /// What the stage is for.
    pub purpose: &'static str,
    /// Note of the spec on this stage, inline Markdown.
    pub note: String,
    /// Which vehicle it is.
    pub vehicle: Vec<[String; 2]>,
    /// Hours and counts.
    pub glance: Vec<Glance>,
    /// Plans of where its parts go.
    pub plans: Vec<PictureView>,
    /// What must be finished before.
    pub before: Vec<pick::EarlierStage>,
    /// Hidden parts that are fitted or wired here, and where they are.
    pub confidential: Vec<Confidential>,
    /// Hazards of the whole stage.
    pub hazards: Vec<CautionView>,
    /// Whether components come from the store in this stage; else the list is of serial numbers to record.
    pub picks: bool,
    /// Some component has a serial number, or should have.
    pub serials: bool,
    /// Components.
    pub components: Vec<pick::AtPlace>,
    /// The wire that the sizes count on (rough-in).
    pub wire: Vec<wire::WireRow>,
    /// Cable to take to the van (rough-in).
    pub cable: Vec<cable::CutRow>,
    /// Some piece of it must be measured in the van.
    pub cable_open: bool,
    /// Length added to each piece of cable.
    pub allowance: String,
    /// Temperature at which resistances are told.
    pub cold: String,
    /// Fuses and breakers to take to the van (fit-off).
    pub fuses: Vec<fuses::FuseRow>,
    /// Lugs, sleeves and holders to take to the van (fit-off).
    pub small_parts: Vec<small_parts::SmallPart>,
    /// What goes on the ends of conductors, by their size.
    pub lugs: Vec<small_parts::EndsOfSize>,
    /// Tools, sorted, in rows of five; the last row is filled up with "".
    pub tools: Vec<[String; 5]>,
    /// Openings to cut.
    pub cut_outs: Vec<pick::CutOutRow>,
    /// The opening schedule, in the packet that cuts first.
    pub openings: Vec<openings::SurfaceRows>,
    /// The surfaces of the van with the openings, in that packet.
    pub opening_plans: Vec<PictureView>,
    /// Numbers of the openings that this packet cuts by the schedule of an earlier one, and the number of that packet.
    pub openings_of: Option<(String, usize)>,
    /// Channels, and what lies in each.
    pub channels: Vec<channels::ChannelRow>,
    /// The van with its channels (rough-in).
    pub pull_plans: Vec<PictureView>,
    /// Wires to pull (rough-in).
    pub pulls: Vec<wiring::PullGroup>,
    /// Conductors to cut where they stay: on a board, within a bank (fit-off).
    pub links: Vec<wiring::PullGroup>,
    /// What their conductors may measure by their length, where that is measured in the van.
    pub by_length: Vec<circuit_tests::ByLength>,
    /// Length from which a cable without a channel is told.
    pub unled_from: String,
    /// What crimped ends must hold (fit-off).
    pub pull_tests: Vec<pull_test::PullTest>,
    /// Terminations (fit-off, and of what a later stage fits).
    pub terminations: Option<terminations::Terminations>,
    /// Electrical boards (fit-off).
    pub boards: Vec<PictureView>,
    /// How a bolted fuse goes in, where a task says so.
    pub bolted: Option<bolted::Bolted>,
    /// Tests of circuits (commissioning).
    pub tests: Option<circuit_tests::Tests>,
    /// All stages of the build with their hours, in the packet of the first.
    pub calendar: Vec<build_calendar::StageRow>,
    /// Tasks in the order of work.
    pub tasks: Vec<task::TaskView>,
    /// Defects of existing work, in the first packet.
    pub defects: Option<existing::Defects>,
    /// Values to look up in the van, in the first packet.
    pub survey: Vec<existing::ToSurvey>,
    /// What of old and new is on the scales, in a packet that weighs.
    pub scales: Option<existing::OnScales>,
    /// Old cables that new ones replace (rough-in).
    pub old_cables: Vec<existing::OldCable>,
    /// Joints of new and old conductors (fit-off).
    pub joints: Vec<existing::Joint>,
    /// Joints of new and old pipes (plumbing fit-off).
    pub pipe_joints: Vec<existing::PipeJoint>,
    /// What the customer brings, in the first packet.
    pub brought: Vec<site::BroughtRow>,
    /// What is still to be put right, in the last packet.
    pub snags: Vec<site::SnagRow>,
    /// What was done otherwise, where something of it stands in this packet.
    pub deviations: Vec<site::DeviationRow>,
    /// Labels of conductors that were laid otherwise.
    pub otherwise: Vec<String>,
    /// Components whose openings were made otherwise.
    pub opened_otherwise: Vec<String>,
    /// Who signed the stage, "" where nobody has.
    pub signed: String,
}

/// A hidden part in the packet that fits it.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Confidential {
    /// Where it is.
    #[serde(flatten)]
    pub part: Hidden,
    /// What the spec itself says is done to it in this stage.
    pub tasks: Vec<task::TaskView>,
}

/// One line of the glance.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Glance {
    /// What.
    pub what: &'static str,
    /// How much.
    pub value: String,
}

/// The packet of `stage`; `None` where the build has nothing to do in it.
#[must_use]
pub(crate) fn view(context: &Context<'_>, stage: Stage) -> Option<View> {
    let build = context.build;
    if shared::is_skipped(build, stage) {
        return None;
    }
    let (tasks, task_count) = work::tasks(context, stage);
    let (pulls, links) = match stage {
        Stage::ElectricalFitOff => (Vec::new(), wiring::pulls(context, stage)),
        _ => (wiring::pulls(context, stage), Vec::new()),
    };
    let terminations = terminations::terminations(context, stage);
    let fit_off = terminations.as_ref().is_some_and(|t| t.fit_off);
    let tests = circuit_tests::tests(context, stage, &tasks);
    let first = stage == Stage::Intake;
    let defects = if first { existing::defects(context) } else { None };
    let survey = if first { existing::survey(context) } else { Vec::new() };
    let brought = if first { site::brought(context) } else { Vec::new() };
    let snags = if stage == Stage::Handover { site::snags(build) } else { Vec::new() };
    let finds = defects.is_some() || !survey.is_empty() || !brought.is_empty() || !snags.is_empty();
    // A van is handed over, and that is signed, whatever else is done to it.
    let finds = finds || stage == Stage::Handover;
    if !finds && tasks.is_empty() && pulls.is_empty() && terminations.is_none() && tests.is_none() {
        return None;
    }
    let opening_schedule = if pick::cuts_skin(context, stage) { openings::schedule(context) } else { Vec::new() };
    let prints_openings = openings::printed_in(&opening_schedule) == Some(stage);
    let components = pick::components(context, stage);
    let cable = if pulls.is_empty() { Vec::new() } else { cable::cut_list(context) };
    let pull_tests = if fit_off { pull_test::rows(context) } else { Vec::new() };
    let (terminates, cuts, tested) = (terminations.is_some(), !links.is_empty(), !pull_tests.is_empty());
    let work = pick::Work { terminates, tests: tests.as_ref(), links: cuts, pulls: tested };
    let tools = pick::tools(context, stage, &work);
    let confidential = |part: &Hidden| Confidential { part: part.clone(), tasks: work::hidden(context, part, stage) };
    let note = build.stages.get(stage.id()).and_then(|r| r.note.text());
    Some(View {
        build: BuildView::of(build),
        stage: stage.id(),
        title: shared::stage_title(build, stage),
        number: number_of(stage),
        purpose: stage_text::purpose(stage),
        note: note.unwrap_or("").to_owned(),
        vehicle: identity::of(build),
        glance: glance(context, stage, (&tasks, task_count), &pulls),
        plans: context.pictures_of("stage").into_iter().filter(|p| p.about == stage.id()).cloned().collect(),
        before: pick::before(context, stage),
        confidential: context.hidden.iter().filter(|h| h.stages.contains(&stage)).map(confidential).collect(),
        hazards: hazards::of(context, stage),
        picks: pick::picks(stage),
        serials: components.iter().flat_map(|at| &at.components).any(|c| c.serial_expected || !c.serial.is_empty()),
        components,
        wire: if cable.is_empty() { Vec::new() } else { wire::types(context) },
        cable_open: cable.iter().any(|c| !c.to_measure.is_empty()),
        cable,
        allowance: slack(build).show(build.prints()),
        cold: COLD.show(build.prints()),
        fuses: if fit_off { fuses::fuse_list(context) } else { Vec::new() },
        small_parts: small_parts::of_stage(context, stage),
        lugs: small_parts::by_size(context, stage),
        tools,
        cut_outs: pick::cut_outs(context, stage),
        openings_of: openings_of(&opening_schedule, stage),
        opening_plans: if prints_openings { pictures(context, "openings") } else { Vec::new() },
        openings: opening_schedule.into_iter().filter(|_| prints_openings).collect(),
        pull_plans: if pulls.is_empty() { Vec::new() } else { pictures(context, "pull-plan") },
        channels: if pulls.is_empty() { Vec::new() } else { channels::channels(context) },
        by_length: circuit_tests::by_length(
            pulls.iter().chain(&links).flat_map(|g| &g.rows).filter_map(|r| r.test.as_ref()),
        ),
        pulls,
        links,
        unled_from: wiring::LONG.show(build.prints()),
        pull_tests,
        boards: if fit_off { pictures(context, "board") } else { Vec::new() },
        terminations,
        bolted: bolted::of(context, &tasks),
        tests,
        calendar: build_calendar::rows(context, stage),
        deviations: deviations(context, stage, &tasks),
        otherwise: build.laid_otherwise().into_iter().map(str::to_owned).collect(),
        opened_otherwise: build.parts.keys().filter(|id| build.site.has_opening(id)).cloned().collect(),
        brought,
        snags,
        tasks,
        defects,
        survey,
        scales: existing::on_scales(context, stage),
        old_cables: if stage == Stage::ElectricalRoughIn { existing::old_cables(context) } else { Vec::new() },
        joints: if stage == Stage::ElectricalFitOff { existing::joints(context) } else { Vec::new() },
        pipe_joints: if stage == Stage::PlumbingFitOff { existing::pipe_joints(context) } else { Vec::new() },
        signed: shared::signed(build, stage.id()),
    })
}

/// What was done otherwise in a stage: of its tasks, of the openings it cuts, of conductors where these are pulled and
/// terminated.
fn deviations(context: &Context<'_>, stage: Stage, tasks: &[task::TaskView]) -> Vec<site::DeviationRow> {
    let build = context.build;
    let wires = matches!(stage, Stage::ElectricalRoughIn | Stage::ElectricalFitOff);
    let told = |id: &str| build.tasks.get(id).is_some_and(|t| t.stage == stage);
    let cuts = |part: &str| {
        let here = build.tasks_of(part).filter(|t| t.stage == stage);
        here.filter_map(|t| t.template).any(TaskTemplate::cuts_skin)
    };
    let mut rows = site::deviations(build);
    rows.retain(|row| match row.of {
        "Conductor" => wires,
        "Task" => told(&row.id),
        _ => !tasks.is_empty() && cuts(&row.id),
    });
    rows
}

/// Numbers of the openings that a packet cuts by the schedule of an earlier one, and the number of that packet.
fn openings_of(schedule: &[openings::SurfaceRows], stage: Stage) -> Option<(String, usize)> {
    let printed = openings::printed_in(schedule).filter(|printed| *printed < stage)?;
    let rows = schedule.iter().flat_map(|s| &s.rows);
    let numbers: BTreeSet<usize> = rows.filter(|row| row.stage == stage).map(|row| row.number).collect();
    (!numbers.is_empty()).then(|| (shared::ranges(&numbers), number_of(printed)))
}

/// Number of the packet of a stage.
fn number_of(stage: Stage) -> usize {
    Stage::ALL.iter().position(|s| *s == stage).map_or(0, |at| at + 1)
}

fn pictures(context: &Context<'_>, subject: &str) -> Vec<PictureView> {
    context.pictures_of(subject).into_iter().cloned().collect()
}

fn glance(
    context: &Context<'_>,
    stage: Stage,
    (tasks, count): (&[task::TaskView], usize),
    pulls: &[wiring::PullGroup],
) -> Vec<Glance> {
    let mut glance = Vec::new();
    let mut put = |what, value: String| glance.push(Glance { what, value });
    let time = context.schedule.and_then(|s| s.stages.iter().find(|t| t.stage == stage.id()));
    if let Some((schedule, time)) = context.schedule.zip(time.filter(|t| t.tasks > 0)) {
        let wiring = wiring_hours::in_stage(schedule, stage);
        let parts: Vec<String> =
            wiring.map(|(what, minutes)| format!("{} of it {what}", working_time(minutes))).collect();
        let parts = if parts.is_empty() { String::new() } else { format!(", {}", parts.join(", ")) };
        put("Work", format!("{} of one person{parts}", working_time(time.person_minutes)));
        // With a shop full of hands; the length of the chain matters, not the number of tasks.
        put("Longest chain of tasks that wait for each other", working_time(time.finish.saturating_sub(time.start)));
    }
    let told = if tasks.len() < count { format!(", told in {}", tasks.len()) } else { String::new() };
    put("Tasks", format!("{count}{told}"));
    let signatures = |t: &task::TaskView| t.group.as_ref().map_or(1, |g| g.count);
    let holds: usize = tasks.iter().filter(|t| !t.hold.is_empty()).map(signatures).sum();
    if holds > 0 {
        put("Hold points to sign", holds.to_string());
    }
    let circuits = shared::worked(context).count();
    match stage {
        Stage::ElectricalRoughIn => {
            let pieces: usize = pulls.iter().flat_map(|g| &g.rows).map(|r| r.pieces).sum();
            put("Circuits to pull", format!("{circuits}, in {pieces} pieces of cable"));
        }
        Stage::ElectricalFitOff => put("Circuits to terminate", circuits.to_string()),
        Stage::Commissioning => put("Circuits to test", circuits.to_string()),
        _ => {}
    }
    glance
}
