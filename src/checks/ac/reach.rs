//! Which AC source reaches which part, and what stands between.

use crate::build::{Build, Circuit, Part};
use crate::checks::Context;
use crate::checks::compare::above;
use crate::compute::network::AcSource;
use crate::kinds::{Network, Role};
use crate::units::Amps;

/// The AC sources of some role whose fixed loads, all at once, take more than they give.
pub(super) fn overloaded<'c>(
    context: &'c Context<'_>,
    is_meant: impl Fn(Role) -> bool,
) -> impl Iterator<Item = (&'c Part<'c>, &'c AcSource)> {
    let all = context.electrical.ac_sources.iter().filter_map(|(id, source)| Some((context.part(id)?, source)));
    all.filter(move |(part, source)| {
        part.role().is_some_and(&is_meant) && above(source.fixed_load.0, source.capacity.0)
    })
}

/// AC circuits that arrive at `part`.
pub(super) fn arriving<'a>(build: &'a Build<'_>, part: &'a str) -> impl Iterator<Item = &'a Circuit> {
    build.arriving(part).filter(|c| c.network == Network::Ac)
}

/// The parts that `ends` accepts on the way from `part` up against the current, nearest first. The walk ends there.
pub(super) fn up_to<'a, 'k>(build: &'a Build<'k>, part: &str, ends: impl Fn(&Part<'k>) -> bool) -> Vec<&'a Part<'k>> {
    let ended = |c: &Circuit| build.parts.get(&c.from).is_some_and(&ends);
    build.upstream(part).along(|c| c.network == Network::Ac).until(ended).parts().filter(|p| ends(p)).collect()
}

/// The AC sources above `part`. A transfer counts as the one source it connects, and so does an inverter-charger.
pub(super) fn settled_sources<'a, 'k>(build: &'a Build<'k>, part: &str) -> Vec<&'a Part<'k>> {
    up_to(build, part, |p| p.role().is_some_and(|r| r == Role::Transfer || r.gives_ac()))
}

/// What uses AC behind `part`, each with the circuit that arrives at it.
pub(super) fn users<'a, 'k>(build: &'a Build<'k>, part: &str) -> Vec<(&'a Part<'k>, &'a Circuit)> {
    users_before(build, part, |_| false)
}

/// The same, but not what lies behind a part that `stops` accepts.
pub(super) fn users_before<'a, 'k>(
    build: &'a Build<'k>,
    part: &str,
    stops: impl Fn(&Part<'k>) -> bool,
) -> Vec<(&'a Part<'k>, &'a Circuit)> {
    let goes_on = |p: &Part<'_>| p.role().is_some_and(|r| r.passes_through() || r == Role::InverterCharger);
    let ended = |c: &Circuit| build.parts.get(&c.to).is_none_or(|to| stops(to) || !goes_on(to));
    let below = build.downstream(part).along(|c| c.network == Network::Ac).until(ended).reached();
    below.filter(|(to, _)| !stops(to) && !goes_on(to)).collect()
}

/// A source whose current reaches `part` without passing a residual-current device.
pub(super) fn unguarded<'a>(build: &'a Build<'_>, part: &str) -> Option<&'a Part<'a>> {
    let is_rcd = |p: &Part<'_>| p.role() == Some(Role::Rcd);
    let ends = up_to(build, part, |p| is_rcd(p) || p.role().is_some_and(Role::gives_ac));
    if let Some(source) = ends.iter().find(|p| !is_rcd(p)) {
        return Some(*source);
    }
    // A device on the shore side alone does not guard what the inverter feeds.
    let shore_only = ends.into_iter().filter(|p| !p.roles.on_inverter().is_set());
    let inverts = |p: &Part<'_>| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger));
    shore_only.into_iter().find_map(|rcd| up_to(build, &rcd.id, inverts).first().copied())
}

/// Rated AC output current of an inverter.
pub(super) fn output_current(part: &Part<'_>, volts: crate::units::Volts) -> Option<Amps> {
    Some(part.roles.power().get()? * part.times() / volts)
}
