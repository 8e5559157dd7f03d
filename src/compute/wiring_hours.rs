//! What pulling, terminating and testing of the conductors takes: they have no task of their own.

use crate::build::Build;
use crate::compute::links::Links;
use crate::compute::network::{self, Electrical};
use crate::compute::readings;
use crate::compute::time::Schedule;
use crate::compute::wording;
use crate::fields::Field;
use crate::kinds::Stage;
use crate::spec::Times;
use crate::units::{Seconds, SquareMillimetres};
use std::collections::BTreeSet;

/// Work on conductors in one stage.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WiringHours {
    /// The stage.
    pub stage: Stage,
    /// What is done, as a word of no task's id.
    pub what: &'static str,
    /// Minutes of one person, rounded up.
    pub minutes: u32,
}

/// What the ids of this work in a schedule begin with: no id of a spec holds a blank.
const WORK: &str = "wiring ";

impl WiringHours {
    /// Its id in a schedule.
    pub(crate) fn id(&self) -> String {
        format!("{WORK}{}", self.what)
    }
}

/// What is done to conductors by that id of a schedule; `None` for a task.
pub(crate) fn work_of(id: &str) -> Option<&str> {
    id.strip_prefix(WORK)
}

/// The work on conductors that a schedule has in a stage, with its minutes.
pub(crate) fn in_stage(schedule: &Schedule, stage: Stage) -> impl Iterator<Item = (&str, u64)> {
    let of_stage = schedule.order.iter().filter(move |work| work.stage == stage.id());
    of_stage.filter_map(|work| Some((work_of(&work.id)?, work.person_minutes)))
}

/// From here up an end is crimped with the big press: 16 mm², or 6 AWG, which is 13.3 mm².
const HEAVY: SquareMillimetres = SquareMillimetres(13.0);

/// The work on the conductors of this job, in the order it is done.
pub(crate) fn wiring_hours(build: &Build<'_>, electrical: &Electrical) -> Vec<WiringHours> {
    let times = Times::of(&build.spec.times);
    // A time that nobody can read comes to no hours.
    let each = |field: &Field<Seconds>| field.get().into_iter().map(|time| time.0).sum::<f64>();
    let (mut pull, mut ends, mut dead, mut linking) = (0.0, 0.0, 0.0, 0.0);
    let links = Links::of(build);
    let mut cables = BTreeSet::new();
    let worked = build.wiring.conductors.values().filter(|c| network::is_worked_on(build, c));
    for (conductor, figures) in worked.filter_map(|c| Some((c, electrical.conductors.get(&c.id)?))) {
        let is_link = links.has(conductor);
        if cables.insert(conductor.cable.as_str()) {
            let length = figures.cut.or(conductor.route.length).map_or(0.0, |length| length.0);
            *(if is_link { &mut linking } else { &mut pull }) += each(&times.cable) + each(&times.metre) * length;
        }
        let heavy = figures.size.is_some_and(|size| size.area().0 >= HEAVY.0);
        ends += 2.0 * each(if heavy { &times.heavy_end } else { &times.end });
        *(if is_link { &mut linking } else { &mut dead }) += each(&times.dead_test);
    }
    let circuits = wording::worked(build, electrical).fold(0.0, |sum, _| sum + each(&times.circuit_test));
    let tested = readings::DEAD_TESTS.first().map_or(Stage::ElectricalRoughIn, |t| readings::stage_of(build, t));
    let all = [
        (Stage::ElectricalRoughIn, "pulling", pull),
        (tested, "dead tests", dead),
        (Stage::ElectricalFitOff, "cutting and testing links", linking),
        (Stage::ElectricalFitOff, "making ends", ends),
        (Stage::Commissioning, "circuit tests", circuits),
    ];
    let some = all.into_iter().filter(|(_, _, seconds)| *seconds > 0.0);
    some.map(|(stage, what, seconds)| WiringHours { stage, what, minutes: minutes(seconds) }).collect()
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "not below 0, and the cast saturates")]
fn minutes(seconds: f64) -> u32 {
    (seconds / 60.0).ceil() as u32
}
