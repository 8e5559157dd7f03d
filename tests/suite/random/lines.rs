//! Lines of AC: what each of two carries, added up anew; nothing hangs on a line that does not arrive without a finding.

use rigbinder::build::{Build, Circuit};
use rigbinder::kinds::{Carries, Network, Role};
use rigbinder::pipeline::Worked;

/// Whether two lines arrive at a part: by the cores of the cables, and of an inlet by what the spec says.
fn has_two(build: &Build<'_>, part: &str) -> bool {
    let of_inlet = build.parts[part].record.count("lines").is_some_and(|lines| lines > 1);
    let second = |c: &Circuit| build.conductors_of(c).any(|core| core.carries == Carries::LineTwo);
    of_inlet || build.arriving(part).filter(|c| c.network == Network::Ac).any(second)
}

/// Lines of a circuit that leaves a panel with two, counted from 0.
fn lines_of(build: &Build<'_>, circuit: &Circuit) -> Vec<usize> {
    match build.parts[&circuit.to].record.text("line") {
        Some("1") => vec![0],
        Some("2") => vec![1],
        Some("both") => vec![0, 1],
        _ => vec![usize::from(circuit.way.is_some_and(|way| way % 2 == 0))],
    }
}

/// Holds both laws; returns how many panels had two lines.
pub(super) fn carry_what_hangs_on_them(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let mut held = 0;
    for circuit in build.circuits.values().filter(|c| c.network == Network::Ac) {
        let to = &build.parts[&circuit.to];
        let asks = to.record.text("line").is_some_and(|line| line != "1") && circuit.owner == circuit.to;
        if asks && circuit.id == circuit.to && !has_two(build, &circuit.from) {
            let about = format!("{}: ", to.id);
            let told = worked.findings.iter().any(|f| f.name == "line-not-there" && f.headline.starts_with(&about));
            assert!(told, "{}: on a line that does not arrive", circuit.id);
        }
    }
    for part in build.parts.values().filter(|p| p.role() == Some(Role::AcPanel)) {
        let panel = &worked.electrical.panels[&part.id];
        assert_eq!(panel.lines.is_some(), has_two(build, &part.id), "{}: lines", part.id);
        let Some(told) = panel.lines else { continue };
        held += 1;
        let volts = worked.electrical.profile.ac.volts.0;
        let mut each: [Vec<f64>; 2] = Default::default();
        for circuit in build.leaving(&part.id).filter(|c| c.network == Network::Ac) {
            let to = &build.parts[&circuit.to];
            let load = worked.electrical.circuits[&circuit.id].demand.load.0;
            // NEC 220.14(I), from memory: 180 VA for an outlet.
            let outlet = to.role() == Some(Role::Outlet);
            let load = if outlet { load.min(180.0 / volts * to.times()) } else { load };
            for line in lines_of(build, circuit) {
                each[line].push(load);
            }
        }
        let share = part.record.ratio("diversity").map_or(1.0, |r| r.0);
        for (line, (loads, told)) in each.iter().zip(told).enumerate() {
            let largest = loads.iter().copied().fold(0.0, f64::max);
            let sum = (loads.iter().sum::<f64>() * share).max(largest);
            assert!((told.0 - sum).abs() <= 1e-9 * sum.max(1.0), "{}: line {line}: {told:?}, {sum} A", part.id);
        }
    }
    held
}
