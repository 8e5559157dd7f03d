//! What comes in hour by hour: solar arrays through their controllers, the alternator, shore power.

use super::{Hours, add, feed};
use crate::build::{Build, Feeding, Part};
use crate::compute::network::Electrical;
use crate::compute::solar::day::{Facing, SunDay};
use crate::compute::solar::module;
use crate::kinds::{Faces, Network, Role};
use crate::units::{Celsius, Ratio, Volts, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// An array on a typical day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ArrayDay {
    /// Tilt, degrees.
    pub tilt: f64,
    /// Share of the light lost to shade and dirt.
    pub shading: Ratio,
    /// Irradiation on its plane in a day before shading, kWh/m².
    pub on_plane: f64,
    /// Hour with the hottest cells.
    pub hottest: usize,
    /// Light on the cells in that hour, W/m².
    pub light: f64,
    /// Cell temperature in that hour.
    pub cell: Celsius,
    /// What it gives by hour, on the mean of the days it is set up and those it is not, W.
    pub hours: Hours,
    /// Share of the days that it is set up; `None` of what stays where it is.
    pub set_up: Option<Ratio>,
}

/// All arrays of a typical day.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Solar {
    /// By array.
    pub arrays: IndexMap<String, ArrayDay>,
    /// At the busbar by hour, W.
    pub hours: Hours,
    /// Cut off by the limits of the controllers, Wh a day.
    pub cut: f64,
}

/// The sun on the arrays of a build.
pub(super) fn solar(
    build: &Build<'_>,
    electrical: &Electrical,
    sun: &SunDay,
    air: &Hours,
    albedo: Ratio,
    volts: Option<Volts>,
) -> Solar {
    let mut solar = Solar::default();
    let mut behind: IndexMap<&str, Hours> = IndexMap::new();
    for (id, string) in &electrical.strings {
        let Some(part) = build.parts.get(id) else { continue };
        let Some(day) = array(part, string.power, sun, air, albedo) else { continue };
        if let Some(controller) = string.controller.as_deref().filter(|c| charges(build, c)) {
            add(behind.entry(controller).or_insert([0.0; 24]), &day.hours);
        }
        solar.arrays.insert(id.clone(), day);
    }
    for (id, hours) in behind {
        let (Some(part), Some(volts)) = (build.parts.get(id), volts) else { continue };
        let (Some(efficiency), Some(current)) = (part.roles.efficiency().get(), part.roles.output_current().get())
        else {
            continue;
        };
        let efficiency = efficiency.0.clamp(0.0, 1.0);
        let volts = feed::at(build, &part.id, volts);
        let most = (volts * (current * part.times())).0;
        let out = hours.map(|w| (w * efficiency).min(most));
        solar.cut += hours.iter().zip(&out).map(|(w, o)| w * efficiency - o).sum::<f64>();
        add(&mut solar.hours, &out);
    }
    solar
}

fn array(part: &Part<'_>, peak: Watts, sun: &SunDay, air: &Hours, albedo: Ratio) -> Option<ArrayDay> {
    let tilt = part.roles.tilt().get()?.0;
    let facing = if part.kind.energy.faces == Faces::Equator { Facing::Equator } else { Facing::Any };
    let shading = Ratio(part.roles.shading().get()?.0.clamp(0.0, 1.0));
    // On the mean of its days: what is folded away gives nothing.
    let set_up = part.roles.use_share().get().map(|share| Ratio(share.0.clamp(0.0, 1.0)));
    let mean = |watts: f64| set_up.map_or(watts, |share| share.0 * watts);
    let noct = part.roles.noct().get()?;
    let per_kelvin = part.roles.power_per_kelvin().get()?;
    let plane = sun.on_plane(tilt, facing, albedo.0);
    let lights = plane.map(|g| g * (1.0 - shading.0));
    let cells: Hours = std::array::from_fn(|h| module::cell_temperature(Celsius(air[h]), lights[h], noct).0);
    let hottest = (0..24).fold(0, |top, h| if cells[h] > cells[top] { h } else { top });
    Some(ArrayDay {
        tilt,
        shading,
        on_plane: plane.iter().sum::<f64>() / 1000.0,
        hottest,
        light: lights[hottest],
        cell: Celsius(cells[hottest]),
        set_up,
        hours: std::array::from_fn(|h| mean(module::power(peak, lights[h], per_kelvin, Celsius(cells[h])).0)),
    })
}

/// Whether a charger's output reaches a bank.
fn charges(build: &Build<'_>, charger: &str) -> bool {
    let outputs = build.leaving(charger).filter(|c| c.feeding == Feeding::Output && c.network == Network::Dc);
    outputs.into_iter().any(|c| feed::on_bank(build, &c.to))
}

/// What a charger that runs steadily is driven by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Steady {
    /// The engine, through a DC-DC charger or by an alternator on the bank.
    Engine,
    /// Shore power.
    Shore,
}

/// Chargers of steady output with their power at the busbar.
pub(super) fn steady(build: &Build<'_>, volts: Option<Volts>) -> IndexMap<String, (Steady, Watts)> {
    let mut all = IndexMap::new();
    let Some(volts) = volts else { return all };
    for part in build.parts.values() {
        let network = part.electric().map(|e| e.network);
        let source = match (part.role(), network) {
            (Some(Role::Charger), Some(Network::Start)) | (Some(Role::Alternator), Some(Network::Dc))
                if charges(build, &part.id) =>
            {
                Steady::Engine
            }
            (Some(Role::Charger), Some(Network::Ac)) if charges(build, &part.id) => Steady::Shore,
            (Some(Role::InverterCharger), _) if feed::on_bank(build, &part.id) => Steady::Shore,
            _ => continue,
        };
        let rated = part.roles.rating().get().filter(|_| part.role() == Some(Role::Alternator));
        let Some(current) = part.roles.output_current().get().or(rated) else { continue };
        let volts = feed::at(build, &part.id, volts);
        all.insert(part.id.clone(), (source, volts * (current * part.times())));
    }
    all
}
