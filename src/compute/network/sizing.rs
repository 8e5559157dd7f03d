//! Rating of each circuit's own device and its conductor, together.

use super::device_at::{Device, DeviceAt};
use super::{CircuitFigures, Demand, Electrical, ends, returns};
use crate::build::{Build, Circuit};
use crate::compute::electrical::ampacity::Installation;
use crate::compute::electrical::size::{Criterion, NoSize, Protection, SizeRequest, Sized, size_conductor};
use crate::kinds::Network;
use crate::tables::conductor_series::{Finish, Series};
use crate::tables::{ac_minimum, side_by_side};
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
    /// What of the limit is left for the circuit itself, and the whole of it.
    pub drop_limit: (Ratio, Ratio),
    pub installation: &'a Installation,
    pub wanted: Device,
}

/// The device with its rating, and the conductor.
pub(super) fn size(job: &Job<'_, '_>) -> (Device, Result<Sized, NoSize>) {
    let mut device = job.wanted.clone();
    let positive = if device.at == DeviceAt::Return { Positive::of(job) } else { Positive::default() };
    let protection = match (device.rating.or(positive.rating), device.family, device.is_own()) {
        (Some(rating), _, _) => Protection::Given(rating),
        (None, Some(family), true) => Protection::Smallest(family),
        _ => Protection::None,
    };
    let request = request(job, protection);
    let sized = match positive.size.filter(|_| request.given.is_none()) {
        Some(size) => as_large_as(size, &request),
        None => within_budget(job, &request),
    };
    if device.is_own() && device.rating.is_none() {
        device.rating = match &sized {
            Ok(sized) => sized.protection,
            Err(_) => device.family.and_then(|f| f.series().at_least(job.design.max(job.floor))),
        };
    }
    (device, sized)
}

/// The size that keeps what is left of the drop limit; where that takes more than can be had, twice as much may be lost, and
/// so on up to the whole limit: the sum is told.
fn within_budget(job: &Job<'_, '_>, request: &SizeRequest) -> Result<Sized, NoSize> {
    let (mut left, whole) = job.drop_limit;
    loop {
        let share = Ratio(left.0.min(whole.0));
        let sized = size_conductor(&SizeRequest { drop_limit: request.drop_limit.map(|_| share), ..request.clone() });
        if sized.is_ok() || left.0 <= 0.0 || left >= whole || request.given.is_some() {
            return sized;
        }
        left = Ratio(left.0 * 2.0);
    }
}

fn request(job: &Job<'_, '_>, protection: Protection) -> SizeRequest {
    let profile = &job.all.profile;
    let given = job.circuit.given_conductor;
    let series = given.map_or(profile.series, Series::of);
    // The cable of an array carries the short-circuit current times 1.25 for bright sun, besides the continuous
    // factor. NEC 690.8, from memory: it sizes, it is no error.
    let sun = if job.circuit.network == Network::Pv { 1.25 } else { 1.0 };
    let design_current = (job.design * sun).max(if device_is_open(job) { job.floor } else { Amps(0.0) });
    SizeRequest {
        series,
        given,
        side_by_side: job.circuit.side_by_side,
        design_current,
        load_current: job.demand.load,
        one_way: job.circuit.run.unwrap_or(Metres(0.0)),
        nominal: job.nominal,
        drop_limit: job.circuit.run.map(|_| job.drop_limit.0),
        minimum: least_size(job, series, protection, design_current),
        least_ring: ends::least_ring(job.build, job.circuit, series),
        finish: Finish::Plain,
        installation: *job.installation,
        protection,
        fuse_cap: profile.fuse_cap,
    }
}

/// The size of the positive cable where that does, else the next that does: a longer way or a warmer place may ask more.
fn as_large_as(positive: ConductorSize, request: &SizeRequest) -> Result<Sized, NoSize> {
    // Several side by side have its copper between them.
    let series = Series::of(positive);
    let positive = match request.side_by_side {
        0 | 1 => positive,
        shares => series.at_least(positive.area().0 / f64::from(shares)),
    };
    let same = SizeRequest { given: Some(positive), series, ..request.clone() };
    if let Some(sized) = size_conductor(&same).ok().filter(|s| s.fails.is_empty()) {
        return Ok(Sized { governed_by: Criterion::Positive, ..sized });
    }
    let minimum = if positive > request.minimum { positive } else { request.minimum };
    size_conductor(&SizeRequest { minimum, ..request.clone() })
}

/// Least size for mechanical strength, and on the AC side behind the breaker.
fn least_size(job: &Job<'_, '_>, series: Series, protection: Protection, design: Amps) -> ConductorSize {
    let minimum = &job.all.profile.mechanical_minimum;
    let mechanical = match job.circuit.network {
        Network::Ac => job.all.profile.ac.least,
        _ if job.circuit.sheathed => minimum.sheathed,
        _ => minimum.separate,
    };
    let rating = match protection {
        Protection::Given(rating) => Some(rating),
        Protection::Smallest(family) => family.series().at_least(design),
        Protection::None => None,
    };
    let ac = rating.filter(|_| job.circuit.network == Network::Ac);
    let mechanical = match job.circuit.side_by_side {
        0 | 1 => mechanical,
        _ if mechanical < side_by_side::least(series) => side_by_side::least(series),
        _ => mechanical,
    };
    match ac.map(|rating| ac_minimum::behind_breaker(rating, series)) {
        Some((size, _)) if size > mechanical => size,
        _ => mechanical,
    }
}

/// Whether the circuit's own device is still to be rated.
fn device_is_open(job: &Job<'_, '_>) -> bool {
    job.wanted.is_own() && job.wanted.rating.is_none()
}

/// What a return answers: it is as large as the largest positive cable, and carries what the largest device in them lets
/// through.
#[derive(Default)]
struct Positive {
    size: Option<ConductorSize>,
    rating: Option<Amps>,
}

impl Positive {
    fn of(job: &Job<'_, '_>) -> Self {
        let answered = returns::answered(job.build, job.circuit);
        let figures = || answered.iter().filter_map(|c| job.all.circuits.get(&c.id));
        let sizes = figures().filter_map(CircuitFigures::conductor).map(Sized::as_one);
        Self {
            size: sizes.reduce(|a, b| if b.area() > a.area() { b } else { a }),
            rating: figures().filter_map(|f| f.device.rating).reduce(Amps::max),
        }
    }
}
