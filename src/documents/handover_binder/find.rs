//! Questions an owner asks in a hurry, with the answer and the page that says more.

use crate::build::Part;
use crate::compute::geometry::signs;
use crate::compute::weight::signs::{allowed, present};
use crate::documents::alike::Teller;
use crate::documents::maintenance_calendar::End;
use crate::documents::owners_manual;
use crate::kinds::{PlumbingRole, Role, SafetyRole, System, ThermalRole};
use crate::units::{Kilograms, System as Units};
use serde::Serialize;
use std::collections::BTreeMap;

/// The answers.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Quick {
    /// Fuses of what people miss first.
    pub fuses: Vec<Fuse>,
    /// How water is stopped.
    pub water: Vec<Stop>,
    /// "8038 lb (3646 kg) as weighed …"; "" where it is not known.
    pub weight: String,
    /// "11 ft 7 in (3.53 m)"; "" where it is not known.
    pub height: String,
    /// Work before the first frost: the section and what is to be done, as Markdown.
    pub frost: Option<Frost>,
    /// Alarms and the dates they are replaced by.
    pub alarms: Vec<End>,
    /// Emergencies: title and anchor in the manual.
    pub emergencies: Vec<(String, String)>,
    /// The manual lists safety gear.
    pub safety: bool,
}

/// A fuse.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Fuse {
    /// What stopped.
    pub name: String,
    /// "House panel, way 4: 10 A blade fuse (red)".
    pub answer: String,
    /// Anchor of its section in the manual.
    pub link: String,
}

/// What stops water.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Stop {
    /// What, and where.
    pub what: String,
    /// How, as Markdown.
    pub how: String,
    /// Anchor of its section in the manual.
    pub link: String,
}

/// What to do before frost.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Frost {
    /// Anchor of the section in the manual.
    pub id: String,
    /// Titles of the work, as Markdown.
    pub work: Vec<String>,
    /// What keeps a van that is lived in from freezing, where it has that.
    pub heaters: Option<owners_manual::Link>,
    /// "Grey tank pad: down to about −19 °C": how cold it may be outside.
    pub holds: Vec<String>,
}

/// The answers.
pub(super) fn quick(teller: &Teller<'_>, manual: &owners_manual::View, replace: &[End]) -> Quick {
    let build = teller.context().build;
    let frost = manual.seasons.iter().find(|s| s.id == "season-before-first-frost");
    let is_alarm = |p: &&Part<'_>| {
        let role = p.kind.safety.as_ref().map(|s| s.role);
        matches!(role, Some(SafetyRole::SmokeAlarm | SafetyRole::CoAlarm | SafetyRole::LpAlarm))
    };
    let alarms: Vec<&str> = build.parts.values().filter(is_alarm).map(|p| p.name.as_str()).collect();
    Quick {
        fuses: fuses(teller, manual),
        water: water(teller, manual),
        weight: weight(teller),
        height: height(teller),
        frost: frost.map(|s| Frost {
            id: s.id.clone(),
            work: s.work.iter().map(|w| w.title.clone()).collect(),
            heaters: heaters(teller, manual),
            holds: build.parts.values().filter_map(|p| holds(teller, p)).collect(),
        }),
        alarms: replace.iter().filter(|e| alarms.iter().any(|a| e.parts.contains(a))).cloned().collect(),
        safety: !manual.safety.is_empty(),
        emergencies: manual.emergencies.iter().map(|t| (t.title.clone(), t.id.clone())).collect(),
    }
}

/// Down to which temperature outside a pad or trace keeps up.
fn holds(teller: &Teller<'_>, part: &Part<'_>) -> Option<String> {
    let to = Some(teller.fact(&part.id, "holds_to")).filter(|to| !to.is_empty())?;
    let heats = part.kind.system == System::FreezeProtection && part.role() == Some(Role::Load);
    heats.then(|| format!("{}: down to about {to}", part.name))
}

/// The section on freezing, where something in it draws power to heat.
fn heaters(teller: &Teller<'_>, manual: &owners_manual::View) -> Option<owners_manual::Link> {
    let heats = |p: &Part<'_>| p.kind.system == System::FreezeProtection && matches!(p.role(), Some(Role::Load));
    teller.context().build.parts.values().any(heats).then_some(())?;
    let system = manual.systems.iter().find(|s| s.id == System::FreezeProtection.id())?;
    Some(owners_manual::Link { title: system.title.to_owned(), id: system.id.to_owned() })
}

/// Whether somebody misses it at once: water, warmth, food.
fn missed(part: &Part<'_>) -> bool {
    let plumbing = part.kind.plumbing.as_ref().map(|p| p.role);
    let thermal = part.kind.thermal.as_ref().map(|t| t.role);
    let load = matches!(part.role(), Some(Role::Load));
    load && (plumbing == Some(PlumbingRole::Pump)
        || plumbing == Some(PlumbingRole::Heater)
        || thermal == Some(ThermalRole::Heater)
        || part.kind.system == System::Galley)
}

fn fuses(teller: &Teller<'_>, manual: &owners_manual::View) -> Vec<Fuse> {
    let build = teller.context().build;
    let mut parts: Vec<&Part<'_>> = build.parts.values().filter(|p| missed(p)).collect();
    parts.sort_by_key(|p| p.kind.plumbing.is_none());
    let mut rows = BTreeMap::new();
    for row in &manual.finder {
        rows.entry(row.name.as_str()).or_insert(row);
    }
    let fuse = |part: &&Part<'_>| {
        let row = rows.get(part.name.as_str())?;
        let way = if row.way.is_empty() { String::new() } else { format!(", way {}", row.way) };
        let colour = if row.colour.is_empty() { String::new() } else { format!(" ({})", row.colour) };
        Some(Fuse {
            name: row.name.clone(),
            answer: format!("{}{way}: {}{colour}", row.at, row.fuse),
            link: row.link.clone(),
        })
    };
    parts.iter().filter_map(fuse).collect()
}

fn water(teller: &Teller<'_>, manual: &owners_manual::View) -> Vec<Stop> {
    let build = teller.context().build;
    let part_of = |link: &str| build.parts.get(link.strip_prefix("about-")?);
    let stop = |s: &owners_manual::ShutOff| {
        let link = s.parts.iter().find(|l| part_of(&l.id).is_some_and(|p| p.kind.system == System::Water))?;
        let what = if s.place.is_empty() { s.what.clone() } else { format!("{} ({})", s.what, s.place) };
        Some(Stop { what, how: s.how.clone(), link: link.id.clone() })
    };
    manual.shut_off.iter().filter_map(stop).collect()
}

fn weight(teller: &Teller<'_>) -> String {
    let context = teller.context();
    let weights = &context.build.weights;
    let both = |kg: Kilograms, sign: fn(Kilograms, Units) -> String| {
        let (us, metric) = (sign(kg, Units::Us), sign(kg, Units::Metric));
        if context.build.prints() == Units::Us { format!("{us} ({metric})") } else { format!("{metric} ({us})") }
    };
    let weighed = weights.total.get().or_else(|| {
        let (front, rear) = (weights.front_axle.get()?, weights.rear_axle.get()?);
        Some(front + rear)
    });
    let own = match (weighed, context.weight.cases.first()) {
        (Some(kg), _) => format!("{} as weighed", both(kg, present)),
        (None, Some(case)) => format!("{} as computed, not weighed yet", both(case.axles.total(), present)),
        (None, None) => return String::new(),
    };
    let most = context.build.vehicle.gross_mass.get();
    most.map_or(own.clone(), |kg| format!("{own}; never more than {} with everything and everyone", both(kg, allowed)))
}

fn height(teller: &Teller<'_>) -> String {
    let context = teller.context();
    let both = |m: crate::units::Metres| {
        let (us, metric) = (signs::us(m), signs::metric(m));
        if context.build.prints() == Units::Us { format!("{us} ({metric})") } else { format!("{metric} ({us})") }
    };
    let card = &context.geometry.card;
    let Some(loaded) = &card.height else { return String::new() };
    let empty = card.height_empty.as_ref().filter(|e| e.value.0 < loaded.value.0);
    let empty = empty.map_or_else(String::new, |e| format!("; {} with the roof carriers empty", both(e.value)));
    format!("{} with everything on the roof{empty}", both(loaded.value))
}
