//! Batteries in parallel, each with a fuse of its own and a cable to the bars that collect them: what each carries, and what
//! its fuse has to break.

use super::{Electrical, highest};
use crate::build::{Build, Feeding, Part};
use crate::compute::electrical::interrupting::{Interrupting, Known, judge};
use crate::compute::electrical::size::{Protection, SizeRequest, Sized, size_conductor};
use crate::kinds::Network;
use crate::tables::conductor_series::{Finish, Series};
use crate::tables::fuse_series::Family;
use crate::units::{Amps, Metres};
use serde::Serialize;

/// What each of several batteries has.
#[derive(Clone, Debug, Serialize)]
pub struct Batteries {
    /// How many there are.
    pub number: i64,
    /// Design current of what leaves the bank, charge current included.
    pub design: Amps,
    /// Current of each, if all share alike.
    pub share: Amps,
    /// Fuse of each.
    pub fuse: Option<Amps>,
    /// Its family.
    #[serde(skip)]
    pub family: Option<Family>,
    /// Cable of each, both ways of one size.
    #[serde(skip)]
    pub cable: Option<Sized>,
    /// What the fuse of one breaks when that battery fails inside: all others together.
    pub fault: Option<Amps>,
    /// What the fuse is credited with.
    pub credited: Option<Amps>,
    /// Whether it is shown to break that.
    pub breaking: Option<Interrupting>,
}

/// Of a bank with that `fault` current; `None` for one battery.
pub(super) fn of(build: &Build<'_>, all: &Electrical, bank: &Part<'_>, fault: Option<Amps>) -> Option<Batteries> {
    let role = bank.roles.bank.as_deref()?;
    let number = role.parallel.get().filter(|n| *n > 1)?;
    let times = super::count(number);
    let family = role.battery_fuse_family.text().and_then(Family::parse).filter(|_| role.battery_fuse.get().is_some());
    let design = design(build, all, bank);
    let share = design * (1.0 / times);
    let one_gone = fault.map(|all| all * ((times - 1.0) / times));
    let first = leaving(build, bank).next();
    let volts = first.map(|c| highest(build, c, &all.profile));
    let known = family.zip(volts).map(|(family, volts)| Known {
        given: role.battery_interrupting.get(),
        sourced: role.battery_interrupting_from.text().is_some_and(|t| !t.trim().is_empty()),
        pair: false,
        family: family.series().breaks_at(volts, None).map(|b| Amps(b.amps)),
    });
    Some(Batteries {
        number,
        design,
        share,
        fuse: role.battery_fuse.get(),
        family,
        cable: cable(build, all, bank, share),
        fault: one_gone,
        credited: known.and_then(|known| known.credited()),
        breaking: known.zip(one_gone).map(|(known, fault)| judge(fault, &known)),
    })
}

fn leaving<'a>(build: &'a Build<'_>, bank: &'a Part<'_>) -> impl Iterator<Item = &'a crate::build::Circuit> {
    build.leaving(&bank.id).filter(|c| c.network == Network::Dc && c.feeding == Feeding::Supply)
}

fn design(build: &Build<'_>, all: &Electrical, bank: &Part<'_>) -> Amps {
    let positive = leaving(build, bank).filter(|c| !super::returns::stands_in_return(build, &c.to));
    positive.filter_map(|c| Some(all.circuits.get(&c.id)?.design)).sum()
}

/// The cable of each battery of a bank: one size both ways, which its fuse protects.
fn cable(build: &Build<'_>, all: &Electrical, bank: &Part<'_>, share: Amps) -> Option<Sized> {
    let role = bank.roles.bank.as_deref()?;
    let like = leaving(build, bank).find_map(|c| all.circuits.get(&c.id))?;
    let given = role.battery_conductor.get();
    let sized = size_conductor(&SizeRequest {
        side_by_side: 1,
        series: given.map_or(all.profile.series, Series::of),
        given,
        design_current: share,
        load_current: share,
        // A drop is asked of the whole way alone.
        one_way: Metres(0.0),
        nominal: like.nominal,
        drop_limit: None,
        minimum: all.profile.mechanical_minimum.separate,
        least_ring: None,
        finish: Finish::Plain,
        installation: like.installation,
        protection: role.battery_fuse.get().map_or(Protection::None, Protection::Given),
        fuse_cap: all.profile.fuse_cap,
    });
    sized.ok()
}
