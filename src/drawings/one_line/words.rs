//! What a one-line diagram says about circuits and parts.

use crate::build::{Build, Circuit, Conductor, Feeding, Part, Purpose};
use crate::compute::directory::MAIN;
use crate::compute::network::{Device, DeviceAt, colours};
use crate::drawings::Context;
use crate::drawings::letters::{Weight, width, wrapped};
use crate::drawings::symbols::Symbol;
use crate::fields::Field;
use crate::kinds::Role;
use crate::units::{Amps, Watts};

/// Size of plain text, mm.
pub(super) const SMALL: f64 = 2.2;

/// Size of names, mm.
pub(super) const NAME: f64 = 2.4;

/// From one line of text to the next, mm.
pub(super) const LEADING: f64 = 2.75;

/// Texts of a circuit.
#[derive(Clone, Debug, Default)]
pub(super) struct Words {
    /// Wire label.
    pub(super) label: String,
    /// Own protective device on its line: "15 A blade fuse"; "" where it has none.
    pub(super) device: String,
    /// Symbol of that device, where it sits on this circuit's line.
    pub(super) symbol: Option<Symbol>,
    /// Size, and length where it is known.
    pub(super) conductor: Vec<String>,
    /// Load current and colours: "4.2 A", "red, black".
    pub(super) told: Vec<String>,
    /// Switch of a panel that stands in it: "Control panel, WATER PUMP"; "" where there is none.
    pub(super) switch: String,
}

/// The wire label of a circuit, marked where one of its conductors was laid otherwise on site, until the spec says how.
fn marked(context: &Context<'_>, circuit: &Circuit) -> String {
    let site = &context.build.site;
    let otherwise = !site.deviations.is_empty()
        && context.build.wiring.of_circuit(&circuit.id).any(|conductor| site.has_conductor(conductor));
    if otherwise { format!("{} Δ", circuit.id) } else { circuit.id.clone() }
}

/// The same of a conductor of no circuit.
pub(super) fn marked_alone(build: &Build<'_>, conductor: &Conductor) -> String {
    if build.site.has_conductor(conductor) { format!("{} Δ", conductor.id) } else { conductor.id.clone() }
}

/// The texts of `circuit`.
pub(super) fn of(context: &Context<'_>, circuit: &Circuit) -> Words {
    let build = context.build;
    let system = build.prints();
    let Some(figures) = context.electrical.circuits.get(&circuit.id) else {
        return Words { label: marked(context, circuit), ..Words::default() };
    };
    let on_line = matches!(figures.device.at, DeviceAt::Way | DeviceAt::InLine);
    let as_built = figures.device.at == DeviceAt::Vehicle;
    let size = match figures.conductor() {
        _ if as_built => "as built".to_owned(),
        Some(sized) => sized.show(),
        None => "no size found".to_owned(),
    };
    let colours = colours(build, circuit, &context.electrical.profile.colours);
    let load = Some(figures.demand.load).filter(|l| l.0 > 0.0).map(|l| l.show(system));
    Words {
        label: marked(context, circuit),
        device: if on_line { figures.device.show() } else { String::new() },
        symbol: figures.device.family.filter(|_| on_line).map(Symbol::of_family),
        conductor: [Some(size), circuit.run.map(|r| r.show(system))].into_iter().flatten().collect(),
        told: load
            .into_iter()
            .chain(Some(colours).filter(|c| !as_built && !c.is_empty()))
            .chain(key(context, circuit))
            .collect(),
        switch: switch(context, circuit),
    }
}

/// The key of a keypad that switches a circuit: nothing flows through it, so it stands in words alone.
fn key(context: &Context<'_>, circuit: &Circuit) -> Option<String> {
    let owner = context.build.parts.get(&circuit.owner).filter(|_| circuit.feeding == Feeding::Supply)?;
    let (panel, id) = owner.supply.switched_at.text()?.split_once('.')?;
    let keys = context.build.parts.get(panel).map(Part::keys).unwrap_or_default();
    let (_, key) = keys.into_iter().find(|(own, _)| *own == id)?;
    Some(format!("key: {}, {}", context.build.name(panel), key.label.text().unwrap_or(id)))
}

/// The switch of a panel that stands in a circuit, in words.
fn switch(context: &Context<'_>, circuit: &Circuit) -> String {
    let mut ends = context.build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit).map(|c| &c.to);
    let Some((end, id)) = ends.find_map(|end| Some((end, end.switch.as_ref()?))) else { return String::new() };
    let switches = context.build.parts.get(&end.part).map(Part::switches).unwrap_or_default();
    let label = switches.iter().find(|(own, _)| own == id).and_then(|(_, switch)| switch.label.text());
    format!("{}, {}", context.build.name(&end.part), label.unwrap_or(id))
}

/// What a part is rated for: "300 A", "200 Ah, 12.8 V".
pub(super) fn rating(context: &Context<'_>, part: &Part<'_>) -> String {
    let system = context.build.prints();
    let roles = &part.roles;
    let amps = |field: &Field<Amps>| field.get().map(|a| a.show(system));
    let breaker = |part: &Part<'_>| context.electrical.breakers.get(&part.id).map(Device::rated);
    let watts = |field: &Field<Watts>| field.get().map(|w| w.show(system));
    let known: Vec<Option<String>> = match part.role() {
        Some(Role::Bank | Role::StartBattery) => {
            vec![
                roles.capacity_charge().get().map(|c| c.show(system)),
                part.roles.voltage().get().map(|v| v.show(system)),
                each_fused(context, part),
            ]
        }
        Some(Role::Inverter | Role::Generator) => vec![watts(roles.power())],
        Some(Role::Array) => {
            let fuse = roles.array.as_ref().and_then(|array| array.string_fuse.get());
            vec![watts(roles.power()), fuse.map(|fuse| format!("{} fuse in each string", fuse.show(system)))]
        }
        Some(Role::InverterCharger) => vec![watts(roles.power()), amps(roles.output_current())],
        Some(Role::Charger) => vec![amps(roles.output_current())],
        Some(Role::Converter) => vec![roles.output_voltage().get().map(|v| v.show(system)), amps(roles.rating())],
        Some(Role::Protection) => vec![fitted_at(context, part)],
        Some(Role::AcPanel) => vec![breaker(part).map(|a| format!("{MAIN} {a}"))],
        Some(Role::Rcd) => vec![breaker(part).or_else(|| amps(roles.rating())), amps(roles.trip_current())],
        Some(Role::Load | Role::Display) | None => Vec::new(),
        Some(_) => vec![amps(roles.rating())],
    };
    known.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// "2 batteries, 160 A fuse each".
fn each_fused(context: &Context<'_>, part: &Part<'_>) -> Option<String> {
    let fuse = part.roles.bank.as_ref()?.battery_fuse.get()?;
    let batteries = part.roles.parallel().get().filter(|n| *n > 1)?;
    Some(format!("{batteries} batteries, {} fuse each", fuse.show(context.build.prints())))
}

/// The device that a part of its own is, as the circuit that arrives at it has it.
fn fitted_at(context: &Context<'_>, part: &Part<'_>) -> Option<String> {
    let devices = context.build.arriving(&part.id).filter_map(|c| context.electrical.circuits.get(&c.id));
    let mut own = devices.filter(|f| f.device.at == DeviceAt::Component(part.id.clone()));
    own.next().map(|f| f.device.show()).filter(|d| !d.is_empty())
}

/// Name of a part, and how many there are.
pub(super) fn name(context: &Context<'_>, id: &str) -> String {
    let count = context.build.parts.get(id).map_or(1, |p| p.count);
    let name = context.build.name(id);
    if count > 1 { format!("{count} × {name}") } else { name.to_owned() }
}

/// Place of a part, "" where it has none.
pub(super) fn place(context: &Context<'_>, id: &str) -> String {
    let build = context.build;
    let Some(part) = build.parts.get(id) else { return String::new() };
    part.places.iter().map(|p| build.place_name(p)).collect::<Vec<_>>().join(", ")
}

/// Parts in lines of at most `room`, dots between those on one line; a part that is longer is broken itself.
pub(super) fn together(parts: &[String], room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} · {part}"), SMALL, Weight::Regular) <= room => {
                line.push_str(" · ");
                line.push_str(part);
            }
            _ => lines.extend(wrapped(part, SMALL, Weight::Regular, room, 3)),
        }
    }
    lines
}
