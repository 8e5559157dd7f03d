//! What the spec says of the fault current a device can break, and where that is read.

use super::device_at::{Device, DeviceAt};
use super::rated;
use crate::build::{Build, Circuit, Part};
use crate::compute::electrical::interrupting::Known;
use crate::fields::{Component, Field, Text};
use crate::kinds::Role;
use crate::units::{Amps, Volts};

/// What three fields of a part say of a device.
#[derive(Clone, Copy, Debug)]
pub struct Evidence<'a> {
    /// The figure.
    pub figure: &'a Field<Amps>,
    /// The data sheet it is read from.
    pub sheet: &'a Field<Text>,
    /// The device upstream that it was tested with.
    pub with: &'a Field<Component>,
}

impl<'a> Evidence<'a> {
    fn of_supply(part: &'a Part<'_>) -> Self {
        let supply = &part.supply;
        Self { figure: &supply.interrupting, sheet: &supply.interrupting_from, with: &supply.tested_with }
    }

    fn of_output(part: &'a Part<'_>) -> Self {
        let output = &part.output;
        Self {
            figure: &output.output_interrupting,
            sheet: &output.output_interrupting_from,
            with: &output.output_tested_with,
        }
    }

    fn of_ways(part: &'a Part<'_>) -> Self {
        let roles = &part.roles;
        Self { figure: roles.way_interrupting(), sheet: roles.way_interrupting_from(), with: roles.way_tested_with() }
    }
}

/// Where the spec speaks of the device of `circuit`: the circuit's own fields, else for a way those of the panel.
#[must_use]
pub fn evidence<'a>(build: &'a Build<'_>, circuit: &Circuit, device: &Device) -> Option<Evidence<'a>> {
    let owner = build.parts.get(&circuit.owner)?;
    let own = if circuit.end.is_output() { Evidence::of_output(owner) } else { Evidence::of_supply(owner) };
    match &device.at {
        DeviceAt::Way if !own.figure.given => Some(Evidence::of_ways(build.parts.get(&circuit.from)?)),
        DeviceAt::Way | DeviceAt::InLine | DeviceAt::Component(_) => Some(own),
        _ => None,
    }
}

impl Evidence<'_> {
    /// The data sheet that the spec names, if it names one.
    #[must_use]
    pub fn source(&self) -> Option<&str> {
        self.sheet.text().map(str::trim).filter(|t| !t.is_empty())
    }

    /// The device upstream that it was tested with, as the spec names it.
    #[must_use]
    pub fn pair(&self) -> Option<&str> {
        self.with.first()
    }
}

pub(super) fn of(build: &Build<'_>, circuit: &Circuit, device: &Device, volts: Volts) -> Known {
    let marked = rated::marked(build, circuit, device).get();
    let family = device.family.and_then(|f| f.series().breaks_at(volts, marked)).map(|b| Amps(b.amps));
    let Some(evidence) = evidence(build, circuit, device) else { return Known { family, ..Known::default() } };
    // A pair counts where the other one really stands before it; elsewhere the figure of the pair says nothing.
    let pair = evidence.pair().map(|with| is_before(build, circuit, with));
    Known {
        given: evidence.figure.get(),
        sourced: evidence.source().is_some() && pair != Some(false),
        pair: pair == Some(true),
        family,
    }
}

/// Whether the fuse `with` stands between the bank and the device of `circuit`: a fuse that is a component of its own, or
/// a part whose own feed is fused.
fn is_before(build: &Build<'_>, circuit: &Circuit, with: &str) -> bool {
    let below = if circuit.owner == circuit.from { &circuit.to } else { &circuit.from };
    let mut above = build.upstream(below).along(|c| c.owner == c.to && c.network == circuit.network).single();
    if below != with && !above.any(|c| c.from == with) {
        return false;
    }
    let fused = |c: &Circuit| {
        let bus = build.parts.get(&c.from).and_then(Part::role);
        c.given_protection.as_deref() != Some("none")
            && bus.is_some_and(|r| r.has_ways() || matches!(r, Role::Bus | Role::Bank))
    };
    build.parts.get(with).and_then(Part::role) == Some(Role::Protection)
        || build.arriving(with).find(|c| c.owner == c.to).is_some_and(fused)
}
