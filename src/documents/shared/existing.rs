//! What a job finds in a van that was fitted out before: defects to be signed for, values nobody has looked at, joints of
//! new and old, and what of old and new is on the scales.

use super::conductors::{Wire, body};
use super::{Reader, Told, Wired, name_and_place, signed, worked};
use crate::build::{ASSUMED, Circuit, Conductor, Landing, Part, Scope};
use crate::compute::handover::AS_FOUND;
use crate::compute::network::{DeviceAt, is_worked_on, post_words};
use crate::compute::weight::aboard::Aboard;
use crate::diag::{Finding, Severity};
use crate::documents::Context;
use crate::documents::facts::{self, Voice};
use crate::documents::owners_manual::DefectText;
use crate::kinds::{Role, Stage};
use crate::letters::capital;
use crate::units::{Bound, Dimension, print, print_bound};
use serde::Serialize;

/// A defect of existing work.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Defect {
    /// Name of the finding.
    pub name: String,
    /// What it is about, for people.
    pub about: String,
    /// What is wrong.
    pub what: String,
    /// What it rests on.
    pub basis: String,
    /// The same for one who knows no ids.
    pub said: String,
    /// Id of the component that it is of.
    pub part: String,
    /// What may happen.
    pub may: String,
    /// What to do until it is mended.
    pub until: String,
}

/// The defects, and who signed for them.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Defects {
    /// Each.
    pub rows: Vec<Defect>,
    /// Who signed, and when; "" where nobody has.
    pub signed: String,
}

/// The defects of existing work; `None` where there are none.
pub(crate) fn defects(context: &Context<'_>) -> Option<Defects> {
    let build = context.build;
    let row = |f: &Finding| {
        let DefectText { may, until } = context.texts.of_defect(f.name);
        Defect {
            name: f.name.to_owned(),
            about: f.subject.as_deref().map_or_else(String::new, |id| build.name(id).to_owned()),
            what: f.headline.clone(),
            said: format!("{}{}", capital(without_id(f)), if rests_on_guess(f) { UNSEEN } else { "" }),
            basis: f.basis.join("; "),
            part: f.subject.as_deref().and_then(|id| id.split('.').next()).unwrap_or_default().to_owned(),
            may,
            until,
        }
    };
    let rows: Vec<Defect> = context.findings.iter().filter(|f| f.severity == Severity::AsFound).map(row).collect();
    (!rows.is_empty()).then(|| Defects { rows, signed: signed(build, AS_FOUND) })
}

/// Stands behind a defect that is reckoned from what nobody has looked at.
const UNSEEN: &str = ". Nobody has looked at it yet: have it looked at first";

/// Whether a finding rests on a guess, as `checks::assumed` says.
fn rests_on_guess(finding: &Finding) -> bool {
    finding.basis.iter().any(|basis| basis.starts_with(ASSUMED))
}

/// What a finding says behind the id that it begins with.
fn without_id(finding: &Finding) -> &str {
    let headline = finding.headline.as_str();
    let rest = || headline.strip_prefix(finding.subject.as_deref()?)?.strip_prefix(": ");
    rest().unwrap_or(headline)
}

/// A value that nobody has looked at.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct ToSurvey {
    /// Part.
    pub part: String,
    /// Its place.
    pub place: String,
    /// Which value.
    pub what: String,
    /// What is reckoned with until then.
    pub reckoned: String,
}

/// What is to be looked up in the van: what the spec says is assumed, and what was sized since nobody said it.
pub(crate) fn survey(context: &Context<'_>) -> Vec<ToSurvey> {
    let build = context.build;
    let mut rows = Vec::new();
    for part in build.parts.values().filter(|p| p.was_there() && !p.confidential) {
        let mut fields: Vec<&str> = part.common.known.all().iter().map(|(field, _)| field.value.as_str()).collect();
        fields.retain(|field| part.known(field) == Some(ASSUMED));
        let mut put = |what: &str, reckoned: String| {
            rows.push(ToSurvey {
                part: part.name.clone(),
                place: super::place_in_packet(context, part),
                what: what.replace('_', " "),
                reckoned,
            });
        };
        // A part of a size that the spec gives has no figure that would tell it otherwise.
        for field in fields.iter().filter(|field| part.says(field)) {
            let value = part.record.get(field).map(|entry| facts::show(build, &entry.value, Voice::Shop));
            let guess = build.spec.guesses.get(&part.id).and_then(|guesses| guesses.get(*field));
            let worse = value.map(|value| match guess {
                Some(guess) if *guess != value => format!("{value}, the worse side of {guess}"),
                _ => value,
            });
            put(field, guessed_fuse(context, part, field).or(worse).unwrap_or_default());
        }
        let own = build.arriving(&part.id).chain(build.leaving(&part.id));
        for circuit in own.filter(|c| c.owner == part.id) {
            for (field, reckoned) in sized(context, part, circuit) {
                put(&field, reckoned);
            }
        }
    }
    rows
}

/// A fuse whose rating is a guess: the larger one that its cable is held against.
fn guessed_fuse(context: &Context<'_>, part: &Part<'_>, field: &str) -> Option<String> {
    let build = context.build;
    let mut own = build.arriving(&part.id).chain(build.leaving(&part.id)).filter(|c| c.owner == part.id);
    let is_fuse = part.role() == Some(Role::Protection);
    let circuit = own.find(|c| if is_fuse { field == "rating" } else { c.end.field("protection") == field })?;
    let device = &context.electrical.circuits.get(&circuit.id)?.device;
    let guess = if is_fuse { part.roles.rating().show(build.prints())? } else { circuit.given_protection.clone()? };
    Some(format!("{}, the worse side of {guess} for its cable", device.unmarked().show()))
}

/// Conductor and protection of a circuit of a part that stays, where they are what they would be today: the least that
/// does, so that less than that is a defect.
fn sized(context: &Context<'_>, part: &Part<'_>, circuit: &Circuit) -> Vec<(String, String)> {
    let Some(figures) = context.electrical.circuits.get(&circuit.id).filter(|f| f.device.at != DeviceAt::Vehicle)
    else {
        return Vec::new();
    };
    let protection = if part.role() == Some(Role::Protection) { "rating" } else { "protection" };
    let most =
        figures.conductor().and_then(|sized| sized.ampacity.as_ref()).map(|a| a.corrected.show(context.build.prints()));
    let limit = most.map_or_else(String::new, |most| format!("; a defect if above {most}"));
    let device = figures.device.is_own().then(|| (protection, format!("{}{limit}", figures.device.unmarked().show())));
    let conductor = figures.conductor().map(|sized| ("conductor", format!("{}; a defect if thinner", sized.show())));
    let open = |(name, reckoned): (&str, String)| {
        let field = circuit.end.field(name);
        let open = part.known_if_sized(&field) == Some(ASSUMED) && !part.says(&field);
        open.then_some((field, reckoned))
    };
    conductor.into_iter().chain(device).filter_map(open).collect()
}

/// A conductor with one end on new work and the other on what was there.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Joint {
    /// Label: the circuit, or the conductor of none.
    pub label: String,
    /// Id of the conductor within it, and its sign.
    pub conductor: String,
    /// Post and part of this job.
    pub new: String,
    /// Post and part that stays.
    pub old: String,
    /// The conductor is the old one.
    pub stays: bool,
    /// Size, and how that is known.
    pub size: String,
    /// How it ends at the side that is made now.
    pub end: String,
    /// Torque there, "" where it is the maker's.
    pub torque: String,
    /// What it measures at most; by its drop under load where a meter can't tell.
    pub most: String,
}

/// The joints of new and old.
pub(crate) fn joints<'c>(context: &'c Context<'_>) -> Vec<Joint> {
    let build = context.build;
    if !build.keeps_or_removes() {
        return Vec::new();
    }
    let known = |c: &'c Conductor| Some((c, context.electrical.conductors.get(&c.id)?));
    let all = build.wiring.conductors.values().filter(|c| !c.confidential).filter_map(known);
    all.filter_map(|wire| joint(context, wire)).collect()
}

fn joint(context: &Context<'_>, (conductor, figures): Wire<'_>) -> Option<Joint> {
    let build = context.build;
    let system = build.prints();
    let (new, old) = build.joint(conductor)?;
    let stays = !is_worked_on(build, conductor);
    // The end that is made now is on the new part of an old conductor, and on the old part of a new one.
    let made = if stays { new } else { old };
    let end = if made.part == conductor.from.part { &figures.ends[0] } else { &figures.ends[1] };
    let figures_at = |end: &Landing| &figures.ends[usize::from(end.part != conductor.from.part)];
    let at = |end: &Landing| {
        format!("{}, {}", body(context, end, Told::Name(Reader::Shop)), post_words(build, end, Some(figures_at(end))))
    };
    let size = figures.size.map_or_else(String::new, |s| s.to_string());
    let circuit = conductor.circuit.as_ref().and_then(|id| build.circuits.get(id));
    let assumed = circuit.and_then(|c| build.known(c, "conductor")).filter(|_| stays);
    let good = figures.good.filter(|good| good.is_tellable() && conductor.route.length.is_some());
    Some(Joint {
        label: conductor.circuit.clone().unwrap_or_else(|| conductor.id.clone()),
        conductor: match conductor.carries.sign() {
            // Of a bond its id tells already what it carries.
            sign if sign == conductor.local => sign.to_owned(),
            sign => format!("{} {sign}", conductor.local).trim().to_owned(),
        },
        new: at(new).trim_end_matches(", ").to_owned(),
        old: at(old).trim_end_matches(", ").to_owned(),
        stays,
        size: assumed.map_or_else(|| size.clone(), |how| format!("{size} ({how})")),
        end: if conductor.is_cut() { end.lug() } else { String::new() },
        torque: end.torque.map_or_else(String::new, |t| print(Dimension::Torque, t, system)),
        most: good.map_or_else(
            || "by drop".to_owned(),
            |good| format!("≤ {}", print_bound(Dimension::Resistance, good.conductor_most.0, system, Bound::Most)),
        ),
    })
}

/// A cable that a new one replaces: its part stays, and is fed anew.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct OldCable {
    /// The circuit that is fed anew.
    pub label: String,
    /// What it feeds.
    pub to: String,
    /// What fed it.
    pub from: String,
}

/// The old cables of parts that stay and are fed anew.
pub(crate) fn old_cables<'c>(context: &'c Context<'_>) -> Vec<OldCable> {
    let build = context.build;
    let altered = |c: &&Circuit| build.parts.get(&c.owner).is_some_and(|p| p.scope == Scope::Altered);
    let row = |(circuit, _): Wired<'c>| OldCable {
        label: circuit.id.clone(),
        to: name_and_place(build, &circuit.owner, Reader::Shop),
        from: name_and_place(build, &circuit.from, Reader::Shop),
    };
    worked(context).filter(|(c, _)| altered(c)).map(row).collect()
}

/// A pipe between what is new and what was there.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PipeJoint {
    /// The pipe.
    pub pipe: String,
    /// Part of this job.
    pub new: String,
    /// Part that stays.
    pub old: String,
}

/// Joints of pipes, each between the pipe and what it begins or ends at.
pub(crate) fn pipe_joints(context: &Context<'_>) -> Vec<PipeJoint> {
    let build = context.build;
    let mut rows = Vec::new();
    for part in build.parts.values() {
        let Some(pipe) = &part.roles.pipe else { continue };
        for end in pipe.from.all().iter().chain(pipe.to.all()).filter_map(|id| build.parts.get(&id.value)) {
            if part.is_worked_on() != end.is_worked_on() {
                let (new, old) = if part.is_worked_on() { (part, end) } else { (end, part) };
                rows.push(PipeJoint { pipe: part.name.clone(), new: new.name.clone(), old: old.name.clone() });
            }
        }
    }
    rows
}

/// What of old and new is on the scales.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct OnScales {
    /// The weighing is that of the vehicle as it came.
    pub before: bool,
    /// Names of what stays and is aboard.
    pub stays: Vec<String>,
    /// Names of what comes out and is aboard.
    pub leaves: Vec<String>,
    /// Names of what is not aboard.
    pub ashore: Vec<String>,
}

/// What is aboard in the weighing of a stage; `None` where that has none, or nothing was there before.
pub(crate) fn on_scales(context: &Context<'_>, stage: Stage) -> Option<OnScales> {
    let build = context.build;
    let weighs = build.tasks.values().any(|t| {
        let part = || build.parts.get(t.part.as_ref()?);
        t.stage == stage && part().is_some_and(|p| p.roles.weighing.is_some())
    });
    let before = stage == Stage::Intake;
    if !build.keeps_or_removes() || context.weight.base.is_none() || !(before || weighs) {
        return None;
    }
    let counts = |p: &&Part<'_>| p.kind.bought && !p.confidential;
    let names = |parts: &mut dyn Iterator<Item = &Part<'_>>| parts.map(|p| p.name.clone()).collect::<Vec<_>>();
    let mut stays = names(&mut build.parts.values().filter(counts).filter(|p| p.was_there()));
    let mut leaves = names(&mut build.removed.values().filter(counts));
    let aboard = if before { Aboard::of(build) } else { Aboard { stays: true, leaves: false } };
    let mut ashore = Vec::new();
    for (list, is_aboard) in [(&mut stays, aboard.stays), (&mut leaves, aboard.leaves)] {
        if !is_aboard {
            ashore.append(list);
        }
    }
    if before && build.parts.values().filter(counts).any(|p| p.scope == Scope::New) {
        ashore.push("all that is new".to_owned());
    }
    Some(OnScales { before, stays, leaves, ashore })
}
