//! One conductor size against all that a circuit asks of it.

use super::ampacity::{Ampacity, ampacity};
use super::conductor_temperature::conductor_temperature;
use super::resistance::{OhmsPerMetre, per_metre};
use super::size_request::{Candidate, Criterion, SizeRequest};
use super::voltage_drop::voltage_drop;
use crate::units::{Amps, ConductorSize};

/// Currents come from products of decimals; a size must not fail on their last bits.
const SLACK: f64 = 1.0 + 1e-9;

/// Tries `size`, with `rating` the device that protects it.
pub(super) fn try_size(
    size: ConductorSize,
    request: &SizeRequest,
    rating: Option<Amps>,
) -> (Candidate, Option<Ampacity>) {
    let installation = &request.installation;
    // Those side by side are of one size and one length: each takes the same share.
    let shares = f64::from(request.side_by_side.max(1));
    let carries = ampacity(size, installation).map(|a| Ampacity { corrected: a.corrected * shares, ..a });
    let limit = installation.insulation.limit();
    let corrected = carries.as_ref().map(|a| a.corrected);
    let temperature = carries
        .as_ref()
        .and_then(|a| conductor_temperature(request.load_current, a.corrected, a.ambient, limit))
        .unwrap_or(limit);
    // Beyond its limit a conductor is out for its ampacity anyway; its drop is told at the limit.
    let resistance = per_metre(size, request.finish, temperature.min(limit));
    let drop =
        voltage_drop(OhmsPerMetre(resistance.0 / shares), request.one_way, request.load_current, request.nominal);

    let below = |needed: Amps, share: f64| corrected.is_none_or(|a| a.0 * share * SLACK < needed.0);
    let mut fails = Vec::new();
    if below(request.design_current, 1.0) {
        fails.push(Criterion::Ampacity);
    }
    if rating.is_some_and(|rating| below(rating, request.fuse_cap.0)) {
        fails.push(Criterion::Protection);
    }
    if request.drop_limit.is_some_and(|limit| drop.share.0 > limit.0 * SLACK) {
        fails.push(Criterion::VoltageDrop);
    }
    if size.area().0 * SLACK < request.minimum.area().0 {
        fails.push(Criterion::Mechanical);
    }
    if request.least_ring.is_some_and(|least| size.area().0 * SLACK < least.area().0) {
        fails.push(Criterion::Ring);
    }
    (Candidate { size, ampacity: corrected, drop, conductor_temperature: temperature, fails }, carries)
}
