//! Rating of each circuit's own device and its conductor, together.

use super::device::{Device, DeviceAt};
use super::{CircuitFigures, Demand, Electrical};
use crate::build::{Build, Circuit};
use crate::compute::electrical::ampacity::Installation;
use crate::compute::electrical::size::{NoSize, Protection, SizeRequest, Sized, size_conductor};
use crate::kinds::{Network, Role};
use crate::tables::ac_minimum;
use crate::tables::conductor_series::{Finish, Series};
use crate::units::{Amps, ConductorSize, Metres, Ratio, Volts};

/// What sizing one circuit takes.
pub(super) struct Job<'a, 'k> {
    pub build: &'a Build<'k>,
    pub all: &'a Electrical,
    pub circuit: &'a Circuit,
    pub demand: Demand,
    pub design: Amps,
    /// Least rating that stays above every device further down.
    pub floor: Amps,
    pub nominal: Volts,
    pub drop_limit: Ratio,
    pub installation: &'a Installation,
    pub wanted: Device,
}

/// The device with its rating, and the conductor.
pub(super) fn size(job: &Job<'_, '_>) -> (Device, Result<Sized, NoSize>) {
    let mut device = job.wanted.clone();
    let protection = match (device.rating, device.family, device.is_own()) {
        (Some(rating), _, _) => Protection::Given(rating),
        (None, Some(family), true) => Protection::Smallest(family),
        _ => Protection::None,
    };
    let sized = size_conductor(&request(job, protection));
    if device.is_own() && device.rating.is_none() {
        device.rating = match &sized {
            Ok(sized) => sized.protection,
            Err(_) => device.family.and_then(|f| f.series().at_least(job.design.max(job.floor))),
        };
    }
    (device, sized)
}

fn request(job: &Job<'_, '_>, protection: Protection) -> SizeRequest {
    let profile = &job.all.profile;
    let given = job.circuit.given_conductor.or_else(|| return_conductor(job));
    let series = given.map_or(profile.series, Series::of);
    // The cable of an array carries the short-circuit current times 1.25 for bright sun, besides the continuous
    // factor. NEC 690.8, from memory: it sizes, it is no error.
    let sun = if job.circuit.network == Network::Pv { 1.25 } else { 1.0 };
    let design_current = (job.design * sun).max(if device_is_open(job) { job.floor } else { Amps(0.0) });
    SizeRequest {
        series,
        given,
        design_current,
        load_current: job.demand.load,
        one_way: job.circuit.run.unwrap_or(Metres(0.0)),
        nominal: job.nominal,
        drop_limit: job.circuit.run.map(|_| job.drop_limit),
        minimum: least_size(job, series, protection, design_current),
        finish: Finish::Plain,
        installation: *job.installation,
        protection,
        fuse_cap: profile.fuse_cap,
    }
}

/// Least size for mechanical strength, and on the AC side behind the breaker.
fn least_size(job: &Job<'_, '_>, series: Series, protection: Protection, design: Amps) -> ConductorSize {
    let minimum = &job.all.profile.mechanical_minimum;
    let mechanical = if job.circuit.sheathed { minimum.sheathed } else { minimum.separate };
    let rating = match protection {
        Protection::Given(rating) => Some(rating),
        Protection::Smallest(family) => family.series().at_least(design),
        Protection::None => None,
    };
    let ac = rating.filter(|_| job.circuit.network == Network::Ac);
    match ac.and_then(|rating| ac_minimum::behind_breaker(rating, series)) {
        Some((size, _)) if size > mechanical => size,
        _ => mechanical,
    }
}

/// Whether the circuit's own device is still to be rated.
fn device_is_open(job: &Job<'_, '_>) -> bool {
    job.wanted.is_own() && job.wanted.rating.is_none()
}

/// A shunt's cable is the return of the bank: as large as the positive main cable.
fn return_conductor(job: &Job<'_, '_>) -> Option<ConductorSize> {
    if job.wanted.at != DeviceAt::Return {
        return None;
    }
    let main = job.build.leaving(&job.circuit.from).find(|c| {
        c.to != job.circuit.to && job.build.parts.get(&c.to).and_then(crate::build::Part::role) != Some(Role::Shunt)
    })?;
    job.all.circuits.get(&main.id).and_then(CircuitFigures::conductor).map(|s| s.size)
}
