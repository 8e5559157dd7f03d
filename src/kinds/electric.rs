//! What part a kind plays in an electrical network.

use crate::units::Volts;
use serde::{Deserialize, Serialize};

/// Part in a network. The canonical fields of each are listed in DEVELOPERS.md.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// Energy store of the house network.
    Bank,
    /// In-line fuse or breaker.
    Protection,
    /// In-line switch that isolates.
    Disconnect,
    /// In-line measuring shunt.
    Shunt,
    /// In-line switch, dimmer or relay.
    Control,
    /// Busbar.
    Bus,
    /// Fuse panel with numbered ways.
    Panel,
    /// Switch panel with numbered ways and a master.
    SwitchPanel,
    /// Puts energy into the house network.
    Charger,
    /// DC to DC of another voltage.
    Converter,
    /// Solar array.
    Array,
    /// Vehicle alternator.
    Alternator,
    /// Vehicle starter battery.
    StartBattery,
    /// DC to AC.
    Inverter,
    /// DC to AC and back.
    InverterCharger,
    /// AC by an engine of its own.
    Generator,
    /// Shore inlet.
    Inlet,
    /// Chooses between AC sources.
    Transfer,
    /// Consumer unit with numbered ways.
    AcPanel,
    /// Residual-current device.
    Rcd,
    /// AC outlet.
    Outlet,
    /// Uses energy.
    Load,
    /// Shows something and uses little.
    Display,
}

impl Role {
    /// Has numbered ways with a protective device in each.
    #[must_use]
    pub const fn has_ways(self) -> bool {
        matches!(self, Self::Panel | Self::SwitchPanel | Self::AcPanel)
    }

    /// Current flows through it to what it feeds.
    #[must_use]
    pub const fn passes_through(self) -> bool {
        matches!(
            self,
            Self::Protection | Self::Disconnect | Self::Shunt | Self::Control | Self::Bus | Self::Transfer | Self::Rcd
        ) || self.has_ways()
    }

    /// A place where current comes from.
    #[must_use]
    pub const fn is_source(self) -> bool {
        matches!(self, Self::Bank | Self::Array | Self::Alternator | Self::StartBattery | Self::Generator | Self::Inlet)
    }

    /// AC comes from it: it is not fed with AC from another, or makes AC of its own.
    #[must_use]
    pub const fn gives_ac(self) -> bool {
        matches!(self, Self::Inlet | Self::Generator | Self::Inverter | Self::InverterCharger)
    }

    /// Has an output of its own (`feeds`).
    #[must_use]
    pub const fn has_output(self) -> bool {
        matches!(self, Self::Charger | Self::Inverter | Self::InverterCharger | Self::Alternator | Self::Generator)
    }
}

/// Electrical network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Network {
    /// House DC.
    Dc,
    /// AC.
    Ac,
    /// Solar strings.
    Pv,
    /// Starter battery side.
    Start,
}

/// The electrical role of a kind, with its settings.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Electric {
    /// Part it plays.
    pub role: Role,
    /// Network it is fed from.
    pub network: Network,
    /// Network of a second supply, where it has one: the second of `fed_from`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second: Option<Network>,
    /// Runs three hours or more at a stretch.
    #[serde(default)]
    pub continuous: bool,
    /// Held to the tighter voltage-drop limit.
    #[serde(default)]
    pub critical: bool,
    /// Its `start_current` lasts a minute or more (a glow pin, snow melting): fuse and cable are laid out for it.
    #[serde(default)]
    pub long_start: bool,
    /// A negative can end on it, or not, where its role does not tell.
    #[serde(default, skip_serializing)]
    pub negative: Option<bool>,
    /// Lowest and highest nominal voltage of the DC networks its parts are made for, in V; left out, 12 V alone.
    #[serde(default, skip_serializing)]
    pub made_for: Option<[f64; 2]>,
    /// Drawn as this in a one-line diagram, where its role alone does not tell.
    #[serde(default, skip_serializing)]
    pub symbol: Option<Look>,
}

impl Electric {
    /// Lowest and highest nominal voltage of the DC networks its parts are made for.
    #[must_use]
    pub fn made_for(self) -> [Volts; 2] {
        self.made_for.unwrap_or([12.0, 12.0]).map(Volts)
    }

    /// Whether it has a terminal for a negative: what is only in the way of the positive has none.
    #[must_use]
    pub fn has_negative(self) -> bool {
        use Role::{Bus, Control, Disconnect, Protection};
        self.negative.unwrap_or(!matches!(self.role, Protection | Disconnect | Control | Bus))
    }
}

/// What a part looks like in a one-line diagram.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Look {
    /// Gives light.
    Lamp,
    /// Turns or pumps.
    Motor,
    /// Warms by resistance.
    Heater,
    /// Something is plugged in.
    Socket,
    /// Makes less of it: a dimmer.
    Dimmer,
    /// Opens and closes by a coil or by itself.
    Relay,
}
