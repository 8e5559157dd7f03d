//! Which conductors a circuit has, and their colours.

use super::{CircuitFigures, DeviceAt};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::kinds::{Network, Role};
use crate::tables::profile::Colours;
use serde::Serialize;

/// What a piece of cable is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Core {
    /// DC positive.
    Positive,
    /// DC negative.
    Negative,
    /// AC line.
    Line,
    /// AC neutral.
    Neutral,
    /// AC protective earth.
    Earth,
    /// One sheath with this many conductors.
    Sheathed(u8),
}

impl Core {
    /// As documents print it.
    #[must_use]
    pub fn show(self) -> String {
        match self {
            Self::Positive => "positive".to_owned(),
            Self::Negative => "negative".to_owned(),
            Self::Line => "line".to_owned(),
            Self::Neutral => "neutral".to_owned(),
            Self::Earth => "earth".to_owned(),
            Self::Sheathed(n) => format!("{n} conductors in one sheath"),
        }
    }

    /// Its polarity, as a label and a meter's leads name it.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Positive => "+",
            Self::Negative => "−",
            Self::Line => "L",
            Self::Neutral => "N",
            Self::Earth => "PE",
            Self::Sheathed(_) => "",
        }
    }

    /// Its colour under `colours`; none for a sheathed cable.
    #[must_use]
    pub fn colour(self, colours: &Colours) -> String {
        let first = |list: &[String]| list.first().cloned().unwrap_or_default();
        match self {
            Self::Positive => first(&colours.positive),
            Self::Negative => first(&colours.negative),
            Self::Line => colours.ac_line.clone(),
            Self::Neutral => colours.ac_neutral.clone(),
            Self::Earth => colours.ac_earth.clone(),
            Self::Sheathed(_) => String::new(),
        }
    }
}

/// Conductors of a circuit. In the main path to a fuse, switch or busbar that is the positive alone, and to a shunt
/// the negative alone; elsewhere both conductors, and three for AC.
#[must_use]
pub fn conductors(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> &'static [Core] {
    let to = build.parts.get(&circuit.to).and_then(Part::role);
    let in_main_path = matches!(to, Some(Role::Protection | Role::Disconnect | Role::Bus))
        && circuit.feeding == Feeding::Supply
        && matches!(circuit.network, Network::Dc | Network::Start);
    match (circuit.network, &figures.device.at) {
        (Network::Ac, _) => &[Core::Line, Core::Neutral, Core::Earth],
        (_, DeviceAt::Return) => &[Core::Negative],
        _ if in_main_path => &[Core::Positive],
        _ => &[Core::Positive, Core::Negative],
    }
}

/// Colours of a circuit's conductors: "red, black".
#[must_use]
pub fn colours(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures, colours: &Colours) -> String {
    conductors(build, circuit, figures).iter().map(|c| c.colour(colours)).collect::<Vec<_>>().join(", ")
}
