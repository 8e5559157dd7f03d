//! The DC voltage that a fuse or breaker is rated for: what is marked on it, else what its family is made for.

use super::device_at::{Device, DeviceAt};
use crate::build::{Build, Circuit};
use crate::fields::Field;
use crate::tables::fuse_series::Family;
use crate::units::Volts;

/// What is known of a device's rated voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rated {
    /// Marked on it, as the spec says.
    Marked(Volts),
    /// What every device of its family is made for, by the family's standard.
    Family(Volts),
    /// Nothing: its family is for whatever is marked.
    Untold,
}

/// The rated voltage of the device of a circuit; `None` for one that is further up, or for a family of AC.
#[must_use]
pub fn rated(build: &Build<'_>, circuit: &Circuit, device: &Device) -> Option<Rated> {
    let family = device.family.filter(|_| device.is_own())?;
    if matches!(family, Family::AcBreakerUs | Family::AcBreakerEu) {
        return None;
    }
    Some(match marked(build, circuit, device).get() {
        Some(marked) => Rated::Marked(marked),
        None => family.series().breaks.map_or(Rated::Untold, |breaks| Rated::Family(Volts(breaks.volts))),
    })
}

/// Where the spec says which voltage is marked on the device of a circuit: the circuit's own field, that of the fuse that
/// is a component, or that of the ways of the panel.
pub(super) fn marked<'a>(build: &'a Build<'_>, circuit: &Circuit, device: &Device) -> &'a Field<Volts> {
    let own = in_line(build, circuit);
    let part = |id: &str| build.parts.get(id);
    match &device.at {
        DeviceAt::Component(id) => part(id).map_or(Field::NONE, |p| p.roles.rated_voltage()),
        DeviceAt::Way if own.get().is_none() => part(&circuit.from).map_or(Field::NONE, |p| p.roles.way_voltage()),
        _ => own,
    }
}

/// What the spec says is marked on a fuse in line of the circuit.
pub(super) fn marked_in_line(build: &Build<'_>, circuit: &Circuit) -> Option<Volts> {
    in_line(build, circuit).get()
}

fn in_line<'a>(build: &'a Build<'_>, circuit: &Circuit) -> &'a Field<Volts> {
    let Some(owner) = build.parts.get(&circuit.owner).filter(|_| !circuit.end.is_second()) else { return Field::NONE };
    if circuit.end.is_output() { &owner.output.output_protection_voltage } else { &owner.supply.protection_voltage }
}
