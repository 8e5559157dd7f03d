//! How a part is switched off and on: a fuse is pulled, a breaker and a switch are switched. The same words everywhere.

use super::isolation::{is_switch, listed, names, nearest};
use super::network::{DeviceAt, Electrical};
use crate::build::{Build, Circuit, Part};
use crate::kinds::{Look, Network, Role, System};
use crate::letters::capital;
use crate::tables::fuse_series::Family;

/// What takes a part's supply away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Means {
    /// The fuse of a way: it is pulled.
    Fuse(Way),
    /// The breaker of a way: it is switched.
    Breaker(Way),
    /// The switch of a way of a switch panel, with its word.
    Switch(Way, String),
    /// A switch of its own, by name.
    Part(String),
    /// AC that hangs on no way: the names of what makes it and of where it comes in.
    Sources {
        /// Inverters.
        inverters: String,
        /// Inlets.
        inlets: String,
        /// Generators.
        generators: String,
    },
    /// Nothing that could be named.
    Nothing,
}

/// A way of a panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Way {
    /// Number.
    pub number: String,
    /// Name of the panel.
    pub panel: String,
}

/// How a part is switched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Switching {
    /// What takes its supply away.
    pub means: Means,
    /// Where its own switch is: a control panel, a dimmer; "" where it has none.
    pub switch: String,
}

/// Control panels that hold the switch of a part.
pub(crate) fn boards_of<'b, 'k>(build: &'b Build<'k>, part: &'b Part<'_>) -> impl Iterator<Item = &'b Part<'k>> {
    let has_switch = matches!(part.role(), Some(Role::Load | Role::Inverter | Role::InverterCharger | Role::Charger));
    let panels = build.parts.values().filter(move |p| has_switch && p.kind.system == System::ControlPanel);
    panels.filter(|p| p.roles.holds().names(&part.id))
}

impl Switching {
    /// How `part` is switched.
    #[must_use]
    pub(crate) fn of(build: &Build<'_>, electrical: &Electrical, part: &Part<'_>) -> Self {
        let mut switches: Vec<&str> = boards_of(build, part).map(|p| p.name.as_str()).collect();
        let means = means(build, electrical, part, &mut switches);
        Self { means, switch: listed(&switches) }
    }

    /// "Pull the fuse of way 5 in House panel": takes the supply away for work on the part.
    #[must_use]
    pub(crate) fn off(&self) -> String {
        match &self.means {
            Means::Fuse(w) => format!("Pull the fuse of way {} in {}", w.number, w.panel),
            Means::Breaker(w) => format!("Switch the breaker of way {} in {} off", w.number, w.panel),
            Means::Switch(w, word) => format!("Switch way {}{} in {} off", w.number, quoted(word), w.panel),
            Means::Part(name) => format!("Turn {name} off"),
            Means::Sources { inverters, inlets, generators } => {
                let each = [("switch", inverters, " off"), ("unplug", inlets, ""), ("stop", generators, "")];
                let each = each.iter().filter(|(_, names, _)| !names.is_empty());
                let told: Vec<String> = each.map(|(verb, names, how)| format!("{verb} {names}{how}")).collect();
                capital(&listed(&told))
            }
            Means::Nothing => "Switch its supply off".to_owned(),
        }
    }

    /// How it gets its supply for the first time: a way that was made live with its panel is only looked at, one that `waits`
    /// for the test of what it feeds is closed now.
    #[must_use]
    pub(crate) fn goes_on(&self, waits: bool) -> String {
        match &self.means {
            Means::Fuse(w) if !waits => {
                self.with_its_switch(format!("Look that the fuse of way {} in {} is in", w.number, w.panel))
            }
            Means::Breaker(w) if !waits => {
                self.with_its_switch(format!("Look that the breaker of way {} in {} is on", w.number, w.panel))
            }
            _ => self.on(),
        }
    }

    /// "Fit the fuse of way 5 in House panel", and its own switch: gives it the supply back.
    #[must_use]
    pub(crate) fn on(&self) -> String {
        self.with_its_switch(self.supplied())
    }

    fn supplied(&self) -> String {
        match &self.means {
            Means::Fuse(w) => format!("Fit the fuse of way {} in {}", w.number, w.panel),
            Means::Breaker(w) => format!("Switch the breaker of way {} in {} on", w.number, w.panel),
            Means::Switch(w, word) => format!("Switch way {}{} in {} on", w.number, quoted(word), w.panel),
            Means::Part(name) => format!("Turn {name} on"),
            Means::Sources { inverters, inlets, generators } => {
                match (inverters.as_str(), inlets.as_str(), generators.as_str()) {
                    ("", "", generator) => format!("Start {generator}"),
                    ("", inlet, _) => format!("Plug {inlet} in"),
                    (inverter, ..) => format!("Switch {inverter} on"),
                }
            }
            Means::Nothing => "Switch its supply on".to_owned(),
        }
    }

    fn with_its_switch(&self, supply: String) -> String {
        let the_same = self.means == Means::Part(self.switch.clone());
        if self.switch.is_empty() || the_same {
            supply
        } else {
            format!("{supply} and switch it on at {}", self.switch)
        }
    }

    /// As whoever uses the van does it: at its own switch where it has one.
    #[must_use]
    pub(crate) fn used(&self, on: bool) -> String {
        match (self.switch.as_str(), on) {
            ("", true) => self.on(),
            ("", false) => self.off(),
            (switch, true) => format!("Switch it on at {switch}"),
            (switch, false) => format!("Switch it off at {switch}"),
        }
    }

    /// The same for parts on several ways: "way N in its panel".
    #[must_use]
    pub(crate) fn by_number(&self) -> Self {
        let any = Way { number: "N".to_owned(), panel: "its panel".to_owned() };
        let means = match &self.means {
            Means::Fuse(_) => Means::Fuse(any),
            Means::Breaker(_) => Means::Breaker(any),
            Means::Switch(..) => Means::Switch(any, String::new()),
            other => other.clone(),
        };
        Self { means, switch: self.switch.clone() }
    }
}

fn quoted(word: &str) -> String {
    if word.is_empty() { String::new() } else { format!(" ({word})") }
}

/// Walks up from a part over its dimmers and switches to its way; else to the nearest switch or source.
fn means<'a>(build: &'a Build<'_>, electrical: &Electrical, part: &Part<'_>, switches: &mut Vec<&'a str>) -> Means {
    let Some(own) = build.circuits.get(&part.id) else { return Means::Nothing };
    for at in build.upstream(&part.id).along(|c| c.id == c.to) {
        let Some(from) = build.parts.get(&at.from) else { break };
        if let Some(means) = at.way.and_then(|_| of_way(electrical, at, from)) {
            return means;
        }
        if from.role() != Some(Role::Control) {
            break;
        }
        // A relay is nobody's switch: it works by itself, or its coil is worked at a panel.
        let name = match from.electric().and_then(|e| e.symbol) {
            Some(Look::Relay) => worked_at(build, from),
            _ => Some(from.name.as_str()),
        };
        switches.extend(name.filter(|name| !switches.contains(name)));
    }
    if let Some(own) = switches.last().filter(|name| build.named(name).is_some_and(|p| p.role() == Some(Role::Control)))
    {
        return Means::Part((*own).to_owned());
    }
    if own.network == Network::Ac {
        let inverter = |p: &Part<'_>| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger));
        let of_role = |role: Role| names(&nearest(build, &part.id, |p| p.role() == Some(role)));
        let (inlets, generators) = (of_role(Role::Inlet), of_role(Role::Generator));
        let inverters = names(&nearest(build, &part.id, inverter));
        if inverters.is_empty() && inlets.is_empty() && generators.is_empty() {
            return Means::Nothing;
        }
        return Means::Sources { inverters, inlets, generators };
    }
    match nearest(build, &part.id, is_switch).as_slice() {
        [] => Means::Nothing,
        found => Means::Part(names(found)),
    }
}

/// Name of the panel whose switch works the coil of a relay.
fn worked_at<'a>(build: &'a Build<'_>, relay: &'a Part<'_>) -> Option<&'a str> {
    let (panel, _) = relay.roles.coil.as_ref()?.worked_at.text()?.split_once('.')?;
    build.parts.get(panel).map(|p| p.name.as_str())
}

/// By the device in the way; `None` where the way holds none.
fn of_way(electrical: &Electrical, circuit: &Circuit, panel: &Part<'_>) -> Option<Means> {
    let way = Way { number: circuit.way?.to_string(), panel: panel.name.clone() };
    if panel.role() == Some(Role::SwitchPanel) {
        return Some(Means::Switch(way, word_of_way(panel, circuit.way?).unwrap_or_default().to_owned()));
    }
    let device = &electrical.circuits.get(&circuit.id)?.device;
    if device.at != DeviceAt::Way {
        return None;
    }
    let breaker = |f: Family| matches!(f, Family::DcBreaker | Family::AcBreakerUs | Family::AcBreakerEu);
    Some(if device.family.is_some_and(breaker) { Means::Breaker(way) } else { Means::Fuse(way) })
}

/// The word on the switch of a way.
#[must_use]
pub(crate) fn word_of_way<'a>(panel: &'a Part<'_>, way: u32) -> Option<&'a str> {
    let at = usize::try_from(way.checked_sub(1)?).ok()?;
    panel.roles.way_names().all().get(at).map(|w| w.value.as_str())
}
