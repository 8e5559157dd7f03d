//! Readings of single conductors: each is held to its own length, and all of a circuit stand for the circuit.

use super::band::{Band, SIGNS, Verdict};
use super::{CircuitTest, Result, is_record};
use crate::build::{Build, Conductor, Purpose};
use crate::compute::network::{Electrical, Good, is_worked_on};
use crate::kinds::{Limits, Measured};
use crate::source::Spanned;
use crate::units::{Amps, Bound, Dimension, parse_quantity, print_bound};
use std::collections::BTreeMap;

/// What was recorded of conductors that this job pulls, by their labels.
pub(super) fn results(build: &Build<'_>, electrical: &Electrical, tests: &[CircuitTest]) -> BTreeMap<String, Result> {
    let written = build.spec.recorded.conductors.iter().filter(|(_, text)| is_record(&text.value));
    let one = |(id, text): (&String, &Spanned<String>)| {
        let conductor = build.wiring.conductors.get(id).filter(|c| is_worked_on(build, c))?;
        let good = electrical.conductors.get(id)?.good?;
        let test = conductor.circuit.as_ref().and_then(|id| tests.iter().find(|test| test.circuit == *id));
        Some((id.clone(), judged(build, conductor, good, test, text)))
    };
    written.filter_map(one).collect()
}

/// A figure of a voltage is a drop, any other a resistance.
fn is_drop(text: &str) -> bool {
    parse_quantity(text.trim().trim_start_matches(SIGNS), Dimension::Voltage).is_ok()
}

fn judged(
    build: &Build<'_>,
    conductor: &Conductor,
    good: Good,
    test: Option<&CircuitTest>,
    written: &Spanned<String>,
) -> Result {
    let system = build.prints();
    let limit = |dimension, most: f64| format!("≤ {}", print_bound(dimension, most, system, Bound::Most));
    let most = |high: f64| Limits { low: None, high: Some(high) };
    let (dimension, limits, expect, tolerance) = if is_drop(&written.value) {
        let recorded = test.and_then(|test| build.spec.recorded.circuits.get(&test.circuit)?.text("amps"));
        let read = test.and_then(|test| test.measured_amps(recorded));
        let at = |amps: Amps| {
            let most = limit(Dimension::Voltage, good.drop_most(amps).0);
            (good.drop(amps).show(system), format!("{most} (at {})", amps.show(system)))
        };
        let (expect, tolerance) = read.or_else(|| Some(test?.amps)).map(at).unwrap_or_default();
        // A drop without its current says nothing.
        (Dimension::Voltage, read.map(|amps| most(good.drop_most(amps).0)), expect, tolerance)
    } else {
        let high = good.conductor_most.0;
        let (expect, tolerance) = (good.conductor.show(system), limit(Dimension::Resistance, high));
        (Dimension::Resistance, Some(most(high)), expect, tolerance)
    };
    let band = Band { measured: Measured::Of(dimension), limits };
    Result {
        id: conductor.id.clone(),
        part: conductor.owner.clone(),
        recorded: written.value.clone(),
        expect,
        tolerance,
        verdict: band.judge(&written.value, None),
        band,
        span: written.span,
        of_conductor: None,
    }
}

/// What the readings of all conductors of a circuit say of its `continuity` or `drop`: the worst of them. `None` where one of
/// them was not read, or not by that test.
pub(super) fn of_circuit(
    build: &Build<'_>,
    results: &BTreeMap<String, Result>,
    test: &CircuitTest,
    field: &str,
) -> Option<Result> {
    let carries = |c: &&Conductor| matches!(c.purpose, Purpose::Circuit | Purpose::Beside) && c.is_cut();
    let all: Option<Vec<&Result>> =
        build.wiring.of_circuit(&test.circuit).filter(carries).map(|c| results.get(&c.id)).collect();
    let all = all.filter(|all| all.iter().all(|one| is_drop(&one.recorded) == (field == "drop")))?;
    let worst = all.into_iter().reduce(|most, one| if used(one) > used(most) { one } else { most })?;
    Some(Result {
        id: format!("{}.{field}", test.circuit),
        part: test.circuit.split('.').next().unwrap_or_default().to_owned(),
        of_conductor: Some(worst.id.clone()),
        ..worst.clone()
    })
}

/// How much of what is good a reading takes; all where nobody can tell.
fn used(result: &Result) -> f64 {
    let (Measured::Of(dimension), Verdict::Within | Verdict::Outside) = (result.band.measured, result.verdict) else {
        return f64::INFINITY;
    };
    let read = parse_quantity(result.recorded.trim().trim_start_matches(SIGNS), dimension);
    let high = result.band.limits.and_then(|limits| limits.high);
    read.ok().zip(high).map_or(f64::INFINITY, |(read, high)| read.value / high)
}
