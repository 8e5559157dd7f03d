//! Figures: every number is one, energy is kept, and currents add up.

use rigbinder::build::{Build, Circuit, Feeding, Part};
use rigbinder::kinds::{Network, Role};
use rigbinder::pipeline::Worked;
use std::fmt::Debug;

/// Every number of every figure is finite.
pub(super) fn are_numbers(worked: &Worked<'_>) {
    let all: [(&str, &dyn Debug); 3] =
        [("figures", &worked.figures), ("schedule", &worked.schedule), ("due dates", &worked.due_dates())];
    for (what, figures) in all {
        let shown = format!("{figures:?}");
        if let Some(at) = not_a_number(&shown) {
            let start = (0..=at.saturating_sub(300)).rev().find(|i| shown.is_char_boundary(*i)).unwrap_or(0);
            panic!("{what}: not a number: …{}", shown[start..].chars().take(420).collect::<String>());
        }
    }
}

/// Where `NaN` or `inf` stands outside the quoted texts of a debug print, which JSON would hide as `null`.
fn not_a_number(shown: &str) -> Option<usize> {
    let (mut quoted, mut escaped, mut word) = (false, false, 0);
    for (at, c) in shown.char_indices() {
        if quoted {
            (quoted, escaped) = (escaped || c != '"', !escaped && c == '\\');
            word = at + c.len_utf8();
        } else if !(c.is_alphanumeric() || c == '_') {
            if matches!(&shown[word..at], "NaN" | "inf") {
                return Some(word);
            }
            quoted = c == '"';
            word = at + c.len_utf8();
        }
    }
    None
}

/// What a DC circuit has to carry, worked out anew: the share of the loads behind it that runs together, at least the
/// largest of them, or the charge current that comes back through it. Returns how many circuits were compared.
pub(super) fn currents_add_up(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let mut compared = 0;
    for circuit in build.circuits.values() {
        let expected = drawn(worked, circuit).map(|drawn| drawn.max(charge(build, &circuit.to)));
        if let (true, Some(expected)) = (divides(build, circuit), expected) {
            let carried = worked.electrical.circuits[&circuit.id].demand.load.0;
            let same = (carried - expected).abs() <= 1e-9 * expected.max(1.0);
            assert!(same, "{} carries {carried} A, and {expected} A are behind it", circuit.id);
            compared += 1;
        }
    }
    compared
}

fn role(build: &Build<'_>, part: &str) -> Option<Role> {
    build.parts.get(part).and_then(Part::role)
}

/// Whether current divides at the end of a circuit. A shunt stands beside the others of its bank.
fn divides(build: &Build<'_>, circuit: &Circuit) -> bool {
    let to = role(build, &circuit.to);
    let supply = circuit.network == Network::Dc && circuit.feeding == Feeding::Supply;
    supply && to.is_some_and(Role::passes_through) && to != Some(Role::Shunt)
}

/// What is drawn through a circuit, in amperes; `None` where something behind it gives as well as takes.
fn drawn(worked: &Worked<'_>, circuit: &Circuit) -> Option<f64> {
    let build = &worked.build;
    match role(build, &circuit.to) {
        Some(Role::InverterCharger | Role::Shunt) => return None,
        _ if !divides(build, circuit) => return Some(worked.electrical.circuits[&circuit.id].demand.load.0),
        _ => {}
    }
    let behind = build.leaving(&circuit.to).filter(|c| c.network == Network::Dc);
    let behind: Vec<f64> = behind.map(|c| drawn(worked, c)).collect::<Option<_>>()?;
    let share = build.parts[&circuit.to].record.ratio("diversity").map_or(1.0, |r| r.0);
    let largest = behind.iter().copied().fold(0.0, f64::max);
    Some((behind.iter().sum::<f64>() * share).max(largest))
}

/// What chargers behind `part` send back towards the bank, in amperes.
fn charge(build: &Build<'_>, part: &str) -> f64 {
    let here = build.arriving(part).filter(|c| c.network == Network::Dc && c.feeding == Feeding::Output);
    let amps = |c: &Circuit| {
        let part = &build.parts[&c.from];
        // A charger gives what it is set to, an alternator its rating.
        let given = part.record.amps("output_current").map(|a| a.0 * part.times());
        given.or_else(|| part.record.amps("rating").map(|a| a.0)).unwrap_or_default()
    };
    let further = build.leaving(part).filter(|c| divides(build, c));
    here.map(amps).sum::<f64>() + further.map(|c| charge(build, &c.to)).sum::<f64>()
}
