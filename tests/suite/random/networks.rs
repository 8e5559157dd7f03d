//! DC networks: every circuit has the voltage of what feeds it, and no device is below its network without a finding.

use rigbinder::build::{Build, Circuit, Feeding};
use rigbinder::compute::network::DeviceAt;
use rigbinder::kinds::{Network, Role};
use rigbinder::pipeline::Worked;
use rigbinder::tables::fuse_series::Family;

/// Nominal voltage of the system of something of `volts`.
fn system(volts: f64) -> f64 {
    [(36.0, 48.0), (18.0, 24.0)].into_iter().find(|(above, _)| volts > *above).map_or(12.0, |(_, system)| system)
}

/// Nominal and highest voltage of the source that a part hangs on, found by walking up anew.
fn source(build: &Build<'_>, at: &str, left: usize) -> Option<[f64; 2]> {
    let part = build.parts.get(at)?;
    let volts = |field: &str| Some(part.record.volts(field)?.0);
    match part.role()? {
        Role::Bank => {
            let own = volts("voltage")?;
            let highest = ["absorb_voltage", "float_voltage"].into_iter().filter_map(volts).fold(own, f64::max);
            Some([system(own), highest])
        }
        Role::Converter => volts("output_voltage").map(|out| [system(out), out]),
        Role::StartBattery => volts("voltage").map(|own| [system(own), system(own) * 1.2]),
        role if role.passes_through() || role == Role::InverterCharger => {
            let dc = |c: &&Circuit| matches!(c.network, Network::Dc | Network::Start) && c.feeding == Feeding::Supply;
            let mut above = build.arriving(at).filter(dc).filter(|_| left > 0);
            above.find_map(|c| source(build, &c.from, left - 1))
        }
        _ => None,
    }
}

/// Whether a finding of one of these names is about one of these parts.
fn told(worked: &Worked<'_>, names: &[&str], ids: &[&str]) -> bool {
    let about = |headline: &str| ids.iter().any(|id| headline.starts_with(&format!("{id}:")));
    worked.findings.iter().any(|f| names.contains(&f.name) && about(&f.headline))
}

/// Holds both laws; returns how many circuits of 24 V and 48 V were held.
pub(super) fn are_kept_apart(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let mut held = 0;
    for circuit in build.circuits.values().filter(|c| matches!(c.network, Network::Dc | Network::Start)) {
        let bank_side = if circuit.feeding == Feeding::Output { &circuit.to } else { &circuit.from };
        let Some([nominal, highest]) = source(build, bank_side, 100) else { continue };
        let figures = &worked.electrical.circuits[&circuit.id];
        assert!(
            (figures.nominal.0 - nominal).abs() < 1e-9,
            "{}: {:?}, fed with {nominal} V",
            circuit.id,
            figures.nominal
        );
        held += usize::from(nominal > 12.0);
        let device = &figures.device;
        let Some(family) = device.family.filter(|_| device.is_own()) else { continue };
        let given = |part: &str, field: &str| build.parts.get(part)?.record.volts(field).map(|v| v.0);
        let own = if circuit.feeding == Feeding::Output { "output_protection_voltage" } else { "protection_voltage" };
        let marked = match &device.at {
            DeviceAt::Component(id) => given(id, "rated_voltage"),
            DeviceAt::Way => given(&circuit.owner, own).or_else(|| given(&circuit.from, "way_voltage")),
            _ => given(&circuit.owner, own),
        };
        // ISO 8820-3, -5 and -6 as reprinted; UL 248 leaves it to the mark.
        let by_family = match family {
            Family::Blade | Family::MiniBlade | Family::MaxiBlade | Family::SmallBoltDown | Family::LargeBoltDown => {
                Some(32.0)
            }
            Family::TerminalCube => Some(58.0),
            _ => None,
        };
        let ids = [circuit.id.as_str(), circuit.owner.as_str(), circuit.from.as_str()];
        match marked.or(by_family) {
            Some(rated) if rated < highest => {
                assert!(told(worked, &["fuse-below-network"], &ids), "{}: {rated} V on {highest} V", circuit.id);
            }
            None if nominal > 12.0 && !(device.breaks.sourced && device.breaks.given.is_some()) => {
                assert!(told(worked, &["fuse-voltage-untold"], &ids), "{}: nothing told on {nominal} V", circuit.id);
            }
            _ => {}
        }
    }
    held
}
