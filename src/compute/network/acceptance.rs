//! What the conductors of a circuit, and all from its source to its end, measure when they are good.

use super::{CircuitFigures, DeviceAt};
use crate::build::{Build, Circuit, Part, Purpose};
use crate::compute::electrical::acceptance as good;
use crate::compute::electrical::size::Sized;
use crate::kinds::{Network, Role};
use crate::units::{Amps, ConductorSize, Metres, Ohms, Volts};
use serde::Serialize;

/// Two readings of a voltage, one at the source and one at the load, may be off by this together: the last digit of
/// the meters of the trade. Common practice, no source.
const METERS_DC: Volts = Volts(0.02);
const METERS_AC: Volts = Volts(0.2);

/// Share of its current that a drop is read at, at least: with less, nothing is told. Common practice, no source.
pub const LEAST_LOAD: f64 = 0.2;

/// Resistances of one conductor of good work.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Good {
    /// From end to end at 20 °C.
    pub conductor: Ohms,
    /// The most that it may read, with both its ends.
    pub conductor_most: Ohms,
    /// As warm as its load makes it; of several side by side all together.
    pub warm: Ohms,
    /// The most that it may have then, with both its ends.
    pub warm_most: Ohms,
}

impl Good {
    /// Of a conductor of that size and length, warm as one of its circuit, of which the loop of a run is known.
    pub(super) fn of(size: ConductorSize, length: Metres, circuit: Option<(&Sized, Option<Metres>)>) -> Self {
        let conductor = good::conductor(size, length);
        // A loop is twice the conductor, at its temperature under load; never below that of the cold one.
        let warm = circuit.and_then(|(sized, run)| {
            let run = run.filter(|run| run.0 > 0.0)?;
            Some(sized.drop.loop_resistance * (0.5 * length.0 / run.0))
        });
        // Each of several side by side is measured by itself, and they share the current when they drop it.
        let shares = circuit.map_or(1.0, |(sized, _)| sized.shares());
        let warm = warm.map_or(conductor, |warm| warm * shares).max(conductor);
        Self {
            conductor,
            conductor_most: good::most(size, length, conductor),
            warm: warm * (1.0 / shares),
            warm_most: good::most(size, length, warm) * (1.0 / shares),
        }
    }

    /// Whether a meter at the van tells a good conductor from a bad one; else the drop under load does.
    #[must_use]
    pub fn is_tellable(&self) -> bool {
        self.conductor >= good::TELLABLE
    }

    /// What it drops at a current.
    #[must_use]
    pub fn drop(&self, at: Amps) -> Volts {
        at * self.warm
    }

    /// The most that it may drop.
    #[must_use]
    pub fn drop_most(&self, at: Amps) -> Volts {
        at * self.warm_most
    }
}

/// Resistances of good work in one circuit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Acceptance {
    /// One conductor of its run.
    #[serde(flatten)]
    pub good: Good,
    /// Everything from the source to the end of the circuit and back, warm; `None` where a length on the way is not
    /// known.
    pub path: Option<Path>,
    /// What two readings of a voltage may be off together.
    pub meters: Volts,
}

/// Resistance of a way there and back.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Path {
    /// Conductors alone.
    pub conductors: Ohms,
    /// The most with joints, fuses, switches and busbars.
    pub most: Ohms,
}

impl Acceptance {
    /// The most that the end of the circuit may lie below its source at a current.
    #[must_use]
    pub fn below_most(&self, at: Amps) -> Option<Volts> {
        Some(at * self.path?.most + self.meters)
    }
}

/// Of a circuit whose feeder is known already.
pub(super) fn of(
    build: &Build<'_>,
    circuit: &Circuit,
    figures: &CircuitFigures,
    feeder: Option<&CircuitFigures>,
) -> Option<Acceptance> {
    let run = circuit.run.filter(|run| run.0 > 0.0)?;
    let sized = figures.conductor()?;
    let one = Good::of(sized.size, run, Some((sized, Some(run))));
    // Over a switch the pieces are not alike: the longest has the most.
    let lengths = build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit).filter_map(|c| c.route.length);
    let longest = Good::of(sized.size, lengths.reduce(Metres::max).unwrap_or(run), Some((sized, Some(run))));
    let above = match feeder {
        Some(feeder) => feeder.acceptance.and_then(|a| a.path),
        None => Some(at_source(build, circuit)),
    };
    let ends = good::end(sized.size) * (4.0 / sized.shares());
    let own = Ohms(one.warm.0 * 2.0 * good::stretch(run)) + ends + on_the_way(build, circuit, figures);
    let path =
        above.map(|above| Path { conductors: above.conductors + sized.drop.loop_resistance, most: above.most + own });
    Some(Acceptance { good: longest, path, meters: if circuit.network == Network::Ac { METERS_AC } else { METERS_DC } })
}

/// What the current passes before the first conductor of a path: the shunt in the return of a bank.
fn at_source(build: &Build<'_>, circuit: &Circuit) -> Path {
    let is_bank = build.parts.get(&circuit.from).and_then(Part::role) == Some(Role::Bank);
    let beside = build.leaving(&circuit.from).filter(|c| is_bank && c.network == circuit.network);
    let shunt = beside.filter_map(|c| build.parts.get(&c.to)).find(|p| p.role() == Some(Role::Shunt));
    let rating = shunt.and_then(|s| s.roles.rating().get());
    Path { conductors: Ohms(0.0), most: rating.map_or(Ohms(0.0), good::contact) }
}

/// The fuse or breaker of a circuit, and the contacts of the part that it leaves.
fn on_the_way(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Ohms {
    let fused = matches!(figures.device.at, DeviceAt::Way | DeviceAt::InLine | DeviceAt::Component(_));
    let fuse = figures.device.rating.filter(|_| fused).map_or(Ohms(0.0), good::fuse);
    let passed = build.parts.get(&circuit.from).filter(|p| {
        // A fuse that is a component counts with the circuit that it protects.
        p.role().is_some_and(|r| r.passes_through() && r != Role::Protection)
    });
    let rating = passed.map(|p| p.roles.rating().get().or(figures.device.rating).unwrap_or(figures.design));
    fuse + rating.map_or(Ohms(0.0), good::contact)
}
