//! What protects each circuit, and where that device sits.

use super::device_at::{Device, DeviceAt};
use super::{Electrical, converter, evidence, highest, rated, returns};
use crate::build::{Build, Circuit, Feeding, Lines, Part};
use crate::kinds::{Network, Role};
use crate::tables::breaker_curve::Curve;
use crate::tables::fuse_series::Family;
use crate::units::{Amps, Dimension, Volts, parse_quantity};

/// Reads `protection`: a rating, perhaps with a family ("200 A class-t") or a curve ("16 A curve C"), or "none".
#[must_use]
pub fn read_protection(text: &str) -> Option<(Option<Amps>, Option<Family>)> {
    let text = text.trim();
    if text == "none" {
        return Some((None, None));
    }
    let end = text.find('A').map(|i| i + 1)?;
    let rating = parse_quantity(&text[..end], Dimension::Current).ok().filter(|q| q.value > 0.0)?;
    let word = text[end..].trim();
    let family = if word.is_empty() || read_curve(word).is_some() { None } else { Some(Family::parse(word)?) };
    Some((Some(Amps(rating.value)), family))
}

/// The curve that stands behind a rating: "curve C", or its letter alone.
fn read_curve(word: &str) -> Option<Curve> {
    Curve::parse(word.strip_prefix("curve").map_or(word, str::trim_start))
}

/// What is told of a breaker for AC: its curve and its poles.
fn marked(build: &Build<'_>, all: &Electrical, circuit: &Circuit, device: Device) -> Device {
    let is_breaker = device.family == Some(all.profile.ac.breaker);
    if circuit.network != Network::Ac || !device.is_own() || !is_breaker {
        return device;
    }
    let panel = build.parts.get(&circuit.from).and_then(|p| p.roles.ac_panel.as_ref());
    let said = circuit.given_protection.as_deref().and_then(|text| read_curve(text.split_once('A')?.1.trim()));
    let of_panel = || panel.and_then(|p| curve_of(p.curve.text()));
    let poles = panel.and_then(|p| p.way_poles.get()).and_then(|poles| u32::try_from(poles).ok());
    let poles = poles.unwrap_or(all.profile.ac.way_poles);
    Device {
        curve: said.or_else(of_panel).or(all.profile.ac.curve),
        poles: Some(if build.line_of(circuit) == Lines::Both { poles.max(2) } else { poles }),
        ..device
    }
}

fn curve_of(word: Option<&str>) -> Option<Curve> {
    Curve::parse(word?)
}

/// The device a circuit wants: its place, family and given rating. An own device without a rating is still to be sized.
/// Where the spec leaves the family open, the `design` current and the `fault` current at its place decide.
pub(super) fn wanted(build: &Build<'_>, all: &Electrical, circuit: &Circuit, design: Amps, fault: Amps) -> Device {
    let (Some(from), Some(to)) = (build.parts.get(&circuit.from), build.parts.get(&circuit.to)) else {
        return Device::at(DeviceAt::Nothing);
    };
    let given = circuit.given_protection.as_deref().and_then(read_protection);
    if let Some((None, _)) = given.filter(|_| !returns::is_return(build, circuit)) {
        return inherited(build, all, circuit);
    }
    let volts = highest(build, circuit, &all.profile);
    let asked = Asked { amps: design, fault, volts, marked: rated::marked_in_line(build, circuit) };
    let mut device = place(build, all, circuit, from, to, asked);
    if let Some((Some(rating), family)) = given {
        if !device.is_own() {
            device = Device::at(DeviceAt::InLine);
            device.family = Some(default_family(circuit, from, all, Asked { amps: rating, ..asked }));
        }
        device.given = true;
        device.family = family.or(device.family);
        device.rating = Some(larger_if_guessed(build, circuit, device.family, rating));
    }
    device.breaks = evidence::of(build, circuit, &device, volts);
    marked(build, all, circuit, device)
}

/// A rating that the spec gives; of a guess the worse side for the cable, the next one that is made.
fn larger_if_guessed(build: &Build<'_>, circuit: &Circuit, family: Option<Family>, rating: Amps) -> Amps {
    let larger = family.and_then(|family| family.series().above(rating));
    larger.filter(|_| build.is_assumed(circuit, "protection")).unwrap_or(rating)
}

/// What a family is chosen by.
#[derive(Clone, Copy)]
struct Asked {
    amps: Amps,
    /// Current of a dead short at its place.
    fault: Amps,
    /// Highest voltage there.
    volts: Volts,
    /// What the spec says is marked on a fuse in line.
    marked: Option<Volts>,
}

fn place(
    build: &Build<'_>,
    all: &Electrical,
    circuit: &Circuit,
    from: &Part<'_>,
    to: &Part<'_>,
    asked: Asked,
) -> Device {
    let own = |at, family| Device { family: Some(family), ..Device::at(at) };
    let role = from.role();
    if circuit.network == Network::Pv {
        return Device::at(DeviceAt::Source);
    }
    // What else hangs on an alternator is laid by the shop, and is live from the starter battery.
    if role == Some(Role::Alternator) && circuit.feeding == Feeding::Output && to.role() == Some(Role::StartBattery) {
        return Device::at(DeviceAt::Vehicle);
    }
    if returns::is_return(build, circuit) {
        return Device::at(DeviceAt::Return);
    }
    if to.role() == Some(Role::Protection) {
        let family = to.roles.family().text().and_then(Family::parse).unwrap_or(Family::ClassT);
        let told = to.roles.rating().get();
        let rating = told.map(|rating| larger_if_guessed(build, circuit, Some(family), rating));
        return Device { rating, given: to.roles.rating().given, ..own(DeviceAt::Component(to.id.clone()), family) };
    }
    match (circuit.feeding, role) {
        (Feeding::Shore, Some(r)) if r.has_ways() => own(DeviceAt::Way, way_family(from, circuit, all)),
        // A generator brings its own breaker.
        (_, Some(Role::Generator)) if circuit.network == Network::Ac => {
            Device { rating: from.roles.rating().get(), ..Device::at(DeviceAt::Source) }
        }
        (Feeding::Shore, _) | (_, Some(Role::Inlet)) => {
            // The breaker of the pitch or house protects the inlet and what hangs on it up to the main breaker.
            let inlet = if role == Some(Role::Inlet) { from } else { to };
            Device {
                rating: inlet.roles.rating().get().or(inlet.roles.transfer_rating().get()),
                ..Device::at(DeviceAt::Source)
            }
        }
        (_, Some(Role::Inverter | Role::InverterCharger)) if circuit.network == Network::Ac => {
            inverter_output(from, all)
        }
        // Its own limit protects what it feeds, as long as the cable carries that.
        (_, Some(Role::Converter)) => {
            Device { rating: converter::through_output(build, from, to), ..Device::at(DeviceAt::Source) }
        }
        (Feeding::Output, _) => own(DeviceAt::InLine, in_line_family(asked)),
        (_, Some(r)) if r.has_ways() => own(DeviceAt::Way, way_family(from, circuit, all)),
        (_, Some(Role::Bus | Role::Bank | Role::StartBattery | Role::Alternator)) => {
            own(DeviceAt::InLine, default_family(circuit, from, all, asked))
        }
        (_, Some(r)) if r.passes_through() => inherited(build, all, circuit),
        // A load on the output of a charger, or on the bank side of an inverter-charger.
        (_, Some(r)) if r.has_output() && circuit.network != Network::Ac => {
            own(DeviceAt::InLine, in_line_family(asked))
        }
        _ => Device::at(DeviceAt::Nothing),
    }
}

/// The breakers that are parts, or in one.
pub(super) fn breakers(build: &Build<'_>, all: &Electrical) -> indexmap::IndexMap<String, Device> {
    let is_breaker = |p: &&Part<'_>| match p.role() {
        Some(Role::AcPanel) => true,
        Some(Role::Rcd) => p.roles.with_overcurrent().is_set(),
        _ => false,
    };
    let device = |p: &Part<'_>| {
        let rating = p.roles.rating().get()?;
        let device = Device {
            family: Some(all.profile.ac.breaker),
            rating: Some(rating),
            given: p.roles.rating().given,
            curve: curve_of(main_curve(p)).or(all.profile.ac.curve),
            poles: p.roles.main_poles().get().or(p.roles.poles().get()).and_then(|poles| u32::try_from(poles).ok()),
            ..Device::at(DeviceAt::Component(p.id.clone()))
        };
        Some((p.id.clone(), device))
    };
    build.parts.values().filter(is_breaker).filter_map(device).collect()
}

/// The curve that the spec gives a breaker that is a part, or in one.
fn main_curve<'a>(part: &'a Part<'_>) -> Option<&'a str> {
    let of_panel = part.roles.ac_panel.as_ref().and_then(|p| p.main_curve.text());
    of_panel.or_else(|| part.roles.rcd.as_ref()?.curve.text())
}

/// What an inverter lets through: its own electronics, or the relay that passes shore power on.
fn inverter_output(inverter: &Part<'_>, all: &Electrical) -> Device {
    let own = inverter.roles.power().get().map(|w| w * inverter.times() / all.profile.ac.volts);
    let passed = inverter.roles.transfer_rating().get();
    Device { rating: own.into_iter().chain(passed).reduce(Amps::max), ..Device::at(DeviceAt::Source) }
}

fn way_family(panel: &Part<'_>, circuit: &Circuit, all: &Electrical) -> Family {
    if circuit.network == Network::Ac {
        return all.profile.ac.breaker;
    }
    panel.roles.family().text().and_then(Family::parse).unwrap_or(Family::Blade)
}

fn default_family(circuit: &Circuit, from: &Part<'_>, all: &Electrical, asked: Asked) -> Family {
    match (circuit.network, from.role()) {
        (Network::Ac, _) => all.profile.ac.breaker,
        (_, Some(r)) if r.has_ways() => way_family(from, circuit, all),
        (_, Some(Role::StartBattery | Role::Alternator)) if asked.amps <= Family::TerminalCube.series().largest() => {
            Family::TerminalCube
        }
        (_, Some(Role::Bank | Role::StartBattery | Role::Alternator)) => Family::ClassT,
        _ => in_line_family(asked),
    }
}

/// Largest rating of an in-line blade fuse. Common practice, no source.
const LARGEST_BLADE: Amps = Amps(30.0);

/// Family of an in-line fuse at a busbar: the smallest kind that every maker's part breaks the fault current of its
/// place with, at the highest voltage there: a blade fuse up to 30 A, a terminal fuse above, and from its smallest rating
/// up where a blade fuse would need its 58 V marking. Where that current is above what their standards ask for, and
/// beyond the range of terminal fuses: class T, by the rating marked on it.
fn in_line_family(asked: Asked) -> Family {
    let fits = |family: Family| {
        let series = family.series();
        let in_range = asked.amps <= series.largest() && (family == Family::Blade || asked.amps >= series.smallest());
        let holds = asked.marked.unwrap_or(series.volts) >= asked.volts;
        let breaks = series.breaks_at(asked.volts, asked.marked).is_some_and(|b| Amps(b.amps) >= asked.fault);
        in_range && holds && breaks
    };
    if asked.amps <= LARGEST_BLADE && fits(Family::Blade) {
        Family::Blade
    } else if (asked.amps > LARGEST_BLADE || asked.volts > Family::Blade.series().volts) && fits(Family::TerminalCube) {
        Family::TerminalCube
    } else {
        Family::ClassT
    }
}

/// The circuits that feed the part this one leaves. On the DC side a charger's output into a busbar is none of them;
/// on the AC side a transfer switch has two.
pub(super) fn feeders_of<'a>(build: &'a Build<'_>, circuit: &'a Circuit) -> impl Iterator<Item = &'a Circuit> {
    let fits = |c: &&Circuit| c.network == circuit.network && (c.owner == c.to || c.network == Network::Ac);
    build.arriving(&circuit.from).filter(fits)
}

/// The next device up that also protects this circuit.
fn inherited(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Device {
    let Some(from) = build.parts.get(&circuit.from) else { return Device::at(DeviceAt::Nothing) };
    // A residual-current device with a breaker in it protects what is behind it.
    if let Some(breaker) = all.breakers.get(&from.id).filter(|_| from.role() == Some(Role::Rcd)) {
        return Device { at: DeviceAt::Upstream(from.id.clone()), ..breaker.clone() };
    }
    if circuit.network == Network::Ac && matches!(from.role(), Some(Role::Inverter | Role::InverterCharger)) {
        return inverter_output(from, all);
    }
    if !from.role().is_some_and(Role::passes_through) {
        return Device::at(DeviceAt::Nothing);
    }
    // Behind a transfer switch either source may feed it: the larger device counts.
    let feeders = feeders_of(build, circuit).filter_map(|f| Some((f, all.circuits.get(&f.id)?)));
    let larger = feeders.reduce(|a, b| if b.1.device.rating > a.1.device.rating { b } else { a });
    let Some((feeder, figures)) = larger else {
        return Device::at(DeviceAt::Nothing);
    };
    let at = match &figures.device.at {
        DeviceAt::Component(id) => DeviceAt::Upstream(id.clone()),
        DeviceAt::Way | DeviceAt::InLine => DeviceAt::Upstream(feeder.id.clone()),
        other => other.clone(),
    };
    Device { at, ..figures.device.clone() }
}
