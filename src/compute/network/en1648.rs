//! EN 1648-2: how much of 12 V a supply line loses from the source to the load and back, by the formula of the standard.
//!
//! A second opinion beside the drop of each circuit: it counts the whole route, and copper as warm as the standard has it.

use super::{CircuitFigures, Electrical, device, is_end};
use crate::build::{Build, Circuit, Part};
use crate::kinds::{Network, Role};
use crate::tables::ampacity_rule::AmpacityRule;
use crate::units::{Ohms, Volts};

/// Resistivity of the formula, Ω mm²/m: copper at 50 °C to 59 °C. Source: [`crate::tables::sources::EN_1648_2`].
const RESISTIVITY: f64 = 0.01989;

/// Most that a supply line of 12 V may lose. Source: [`crate::tables::sources::EN_1648_2`].
const MOST: f64 = 0.8;

/// What a supply line loses by the standard, and the most it may.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupplyDrop {
    /// The whole route, out and back.
    pub ohms: Ohms,
    /// Lost while the load runs alone.
    pub drop: Volts,
    /// The most; at 24 V and 48 V in proportion, for want of a figure.
    pub most: Volts,
}

impl SupplyDrop {
    /// Whether it loses no more than it may.
    #[must_use]
    pub fn is_kept(self) -> bool {
        self.drop.0 <= self.most.0 * (1.0 + 1e-9)
    }
}

/// Of a circuit that ends at a load; `None` where the rules are others, or a length or size on the way is not known.
#[must_use]
pub fn supply_drop(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Option<SupplyDrop> {
    let figures = all.circuits.get(&circuit.id)?;
    let asked = all.profile.ampacity == AmpacityRule::Iec && circuit.network == Network::Dc && is_end(build, circuit);
    let ohms = Ohms(route(build, all, circuit, figures).filter(|_| asked)?);
    let most = Volts(MOST * figures.nominal.0 / 12.0);
    Some(SupplyDrop { ohms, drop: figures.demand.running * ohms, most })
}

/// Ω of all conductors from the source, out and back.
fn route(build: &Build<'_>, all: &Electrical, circuit: &Circuit, figures: &CircuitFigures) -> Option<f64> {
    let sized = figures.conductor()?;
    let own = RESISTIVITY * 2.0 * circuit.run?.0 / (sized.size.area().0 * sized.shares());
    let passes = build.parts.get(&circuit.from).and_then(Part::role).is_some_and(Role::passes_through);
    let feeders = device::feeders_of(build, circuit).filter(|_| passes);
    let feeders = feeders.filter_map(|c| Some((c, all.circuits.get(&c.id)?)));
    let worst = feeders.reduce(|a, b| if b.1.drop_from_source > a.1.drop_from_source { b } else { a });
    let above = match worst {
        Some((feeder, figures)) => route(build, all, feeder, figures)?,
        None => 0.0,
    };
    Some(own + above)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::rows;

    /// EN 1648-2 as quoted: A = 0.01989 · L · I / ΔV; 6 mm² over 5 m one way carry 24 A at 0.8 V. The published 6.5 A on
    /// 2.5 mm² over 15 m counts the way out alone, and is told so beside the row.
    #[test]
    fn the_formula_is_that_of_the_standard() {
        let table = rows("en1648-2-voltage-drop");
        let amps = |area: f64, one_way: f64, drop: f64| drop * area / (RESISTIVITY * 2.0 * one_way);
        let computed = |case: &str| {
            let row = table.iter().find(|r| r["case"].starts_with(case)).expect("row");
            crate::tables::reference::num(row, "computed")
        };
        assert!((amps(6.0, 5.0, MOST) - computed("6 mm2")).abs() < 0.01);
        assert!((amps(2.5, 15.0, MOST) - computed("2.5 mm2")).abs() < 0.01);
        assert!((RESISTIVITY * 10.0 * 60.0 / 0.2 - computed("60 A")).abs() < 0.01);
    }
}
