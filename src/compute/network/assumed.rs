//! What a verdict on a circuit rests on that nobody has looked at: conductors and fuses of parts that were there before.

use crate::build::{Build, Circuit};

/// What is assumed of a circuit itself, of these fields.
fn own(build: &Build<'_>, circuit: &Circuit, fields: &[&str]) -> Option<String> {
    let assumed: Vec<&str> = fields.iter().copied().filter(|field| build.is_assumed(circuit, field)).collect();
    let verb = if assumed.len() == 1 { "is" } else { "are" };
    (!assumed.is_empty()).then(|| format!("its {} {verb} assumed", assumed.join(" and ")))
}

/// What is assumed of a conductor and of what protects it.
pub(super) fn of_conductor(build: &Build<'_>, circuit: &Circuit) -> Option<String> {
    own(build, circuit, &["conductor", "protection"])
}

/// What is assumed of the conductor alone.
pub(super) fn of_length(build: &Build<'_>, circuit: &Circuit) -> Option<String> {
    own(build, circuit, &["conductor"])
}

/// What is assumed of the device, and of the conductors from the source to it.
pub(super) fn of_fault(build: &Build<'_>, circuit: &Circuit) -> Option<String> {
    let device = own(build, circuit, &["protection"]);
    let before = build.upstream(&circuit.from).any(|c| build.is_assumed(c, "conductor"));
    let before = before.then(|| "a conductor before it is assumed".to_owned());
    let all: Vec<String> = device.into_iter().chain(before).collect();
    (!all.is_empty()).then(|| all.join(", "))
}

/// What is assumed of the conductors from the source to the end of a circuit.
pub(super) fn of_path(build: &Build<'_>, circuit: &Circuit) -> Option<String> {
    let before = || build.upstream(&circuit.from).any(|c| build.is_assumed(c, "conductor"));
    of_length(build, circuit).or_else(|| before().then(|| "a conductor before it is assumed".to_owned()))
}
