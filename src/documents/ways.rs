//! What a technician is told of where current comes from: ways that earlier work left with a fuse too large, taps of the
//! vehicle's loom, and the source from which a drop is read.

use crate::build::{Build, Circuit, Part, VEHICLE};
use crate::compute::isolation;
use crate::compute::network::{CircuitFigures, Electrical};
use crate::kinds::{LeadEnd, Role};

/// What a drop is read from: the battery, the converter or what makes or brings AC, that feeds a circuit.
pub(super) fn source(build: &Build<'_>, circuit: Option<&Circuit>) -> String {
    let is_source = |p: &Part<'_>| {
        let battery = matches!(p.role(), Some(Role::Bank | Role::StartBattery | Role::Converter));
        battery || p.role().is_some_and(Role::gives_ac)
    };
    let own = circuit.and_then(|c| build.parts.get(&c.from)).filter(|p| is_source(p));
    let above = || circuit.map_or_else(Vec::new, |c| isolation::nearest(build, &c.from, is_source));
    let names: Vec<&str> = own.map_or_else(above, |p| vec![p]).iter().map(|p| p.name.as_str()).collect();
    if names.is_empty() { "its source".to_owned() } else { names.join(" or ") }
}

/// Ways of a panel that earlier work left with a fuse that their conductor does not bear, and the largest that it does: "way 3,
/// Exterior light (awning-light), not with its 30 A blade fuse: a 20 A fuse may go in, no larger one".
pub(super) fn wrong(build: &Build<'_>, electrical: &Electrical, part: &Part<'_>) -> String {
    let is_too_large = |c: &Circuit| electrical.circuits.get(&c.id).is_some_and(CircuitFigures::lets_too_much_through);
    let wrong = |c: &&Circuit| c.way.is_some() && !build.is_worked_on(c) && is_too_large(c);
    let one = |c: &Circuit| {
        let figures = electrical.circuits.get(&c.id)?;
        let cap = figures.conductor()?.ampacity.as_ref()?.corrected * electrical.profile.fuse_cap.0;
        let fits = figures.device.family.and_then(|family| family.largest_within(cap));
        let told = fits.filter(|rating| *rating >= figures.design).map_or_else(
            || "leave it out until the cable is changed".to_owned(),
            |rating| format!("a {} fuse may go in, no larger one", rating.show(build.prints())),
        );
        Some(format!(
            "way {}, {} ({}), not with its {}: {told}",
            c.way?,
            build.name(&c.to),
            c.id,
            figures.device.show()
        ))
    };
    build.leaving(&part.id).filter(wrong).filter_map(one).collect::<Vec<_>>().join("; ")
}

/// The part before this one whose lead comes from the same point of the vehicle's loom: one tap serves both.
pub(super) fn tapped_by(build: &Build<'_>, part: &Part<'_>) -> String {
    if part.kind.leads.iter().all(|lead| !matches!(LeadEnd::read(&lead.from), LeadEnd::Vehicle(_))) {
        return String::new();
    }
    let taps = || build.wiring.conductors.values().filter(|c| c.from.part == VEHICLE);
    let own = taps().find(|c| c.owner == part.id);
    let first = own.and_then(|own| taps().find(|c| c.from.words == own.from.words && !c.confidential));
    first.filter(|first| first.owner != part.id).map_or_else(String::new, |first| build.name(&first.owner).to_owned())
}

/// Stands behind a fuse that is.
pub(super) const TOO_LARGE: &str = " (too large for its cable)";
