//! Symbols of one-line diagrams: IEC 60617 under EU rules, IEEE 315 under US rules.
//!
//! The shapes are from memory of both standards, not checked against their text; the legend on the first sheet names
//! each one that is drawn. Each is 8 mm wide from terminal to terminal.

mod converters;
mod devices;
mod users;

use super::area::Area;
use super::canvas::{Canvas, Fill, Pen};
use crate::build::Part;
use crate::kinds::{Look, Network, Role};
use crate::tables::fuse_series::Family;

/// Half the width of every symbol with its leads, mm.
pub(super) const HALF: f64 = 4.0;

/// Lines of symbols.
const LINE: Pen = Pen::of(0.3);

/// White ground.
const WHITE: Fill = Fill::Grey(1.0);

/// Black.
const BLACK: Fill = Fill::Grey(0.0);

/// Whose shapes are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standard {
    /// IEC 60617.
    Iec,
    /// IEEE 315 and what is usual with it.
    Ieee,
}

impl Standard {
    /// The one that goes with a rule profile.
    #[must_use]
    pub(super) fn of(profile: &str) -> Self {
        if profile == "us" { Self::Ieee } else { Self::Iec }
    }
}

/// A symbol; [`Symbol::name`] tells what each is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Symbol {
    Battery,
    Fuse,
    Breaker,
    Disconnector,
    Switch,
    Relay,
    Dimmer,
    Shunt,
    Array,
    Generator,
    DcDc,
    Charger,
    Inverter,
    InverterCharger,
    Inlet,
    Transfer,
    Rcd,
    Bus,
    Panel,
    Lamp,
    Motor,
    Heater,
    Socket,
    Meter,
    Load,
    Chassis,
}

impl Symbol {
    /// What the legend calls it.
    #[must_use]
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Battery => "battery, bank",
            Self::Fuse => "fuse",
            Self::Breaker => "circuit breaker",
            Self::Disconnector => "disconnect",
            Self::Switch => "switch",
            Self::Relay => "relay, cut-out",
            Self::Dimmer => "dimmer",
            Self::Shunt => "shunt",
            Self::Array => "solar array",
            Self::Generator => "generator",
            Self::DcDc => "DC to DC",
            Self::Charger => "AC charger",
            Self::Inverter => "inverter",
            Self::InverterCharger => "inv.-charger",
            Self::Inlet => "shore inlet",
            Self::Transfer => "transfer",
            Self::Rcd => "RCD, GFCI",
            Self::Bus => "busbar",
            Self::Panel => "panel",
            Self::Lamp => "lamp",
            Self::Motor => "motor",
            Self::Heater => "heater",
            Self::Socket => "outlet, socket",
            Self::Meter => "display, meter",
            Self::Load => "load",
            Self::Chassis => "chassis",
        }
    }

    /// The symbol of a part: by its role, and for users and switches by what its kind says.
    #[must_use]
    pub(super) fn of(part: &Part<'_>) -> Self {
        let Some(electric) = part.electric() else { return Self::Load };
        let look = electric.symbol.map(|look| match look {
            Look::Lamp => Self::Lamp,
            Look::Motor => Self::Motor,
            Look::Heater => Self::Heater,
            Look::Socket => Self::Socket,
            Look::Dimmer => Self::Dimmer,
            Look::Relay => Self::Relay,
        });
        match electric.role {
            Role::Bank | Role::StartBattery => Self::Battery,
            Role::Protection => match part.roles.family().text().and_then(Family::parse) {
                Some(family) => Self::of_family(family),
                None => Self::Fuse,
            },
            Role::Disconnect => Self::Disconnector,
            Role::Shunt => Self::Shunt,
            Role::Control => look.unwrap_or(Self::Switch),
            Role::Bus => Self::Bus,
            Role::Panel | Role::SwitchPanel | Role::AcPanel => Self::Panel,
            Role::Charger if electric.network == Network::Ac => Self::Charger,
            Role::Charger | Role::Converter => Self::DcDc,
            Role::Array => Self::Array,
            Role::Alternator | Role::Generator => Self::Generator,
            Role::Inverter => Self::Inverter,
            Role::InverterCharger => Self::InverterCharger,
            Role::Inlet => Self::Inlet,
            Role::Transfer => Self::Transfer,
            Role::Rcd => Self::Rcd,
            Role::Outlet => Self::Socket,
            Role::Display => Self::Meter,
            Role::Load => look.unwrap_or(Self::Load),
        }
    }

    /// The symbol of a protective device.
    #[must_use]
    pub(super) const fn of_family(family: Family) -> Self {
        match family {
            Family::DcBreaker | Family::AcBreakerUs | Family::AcBreakerEu => Self::Breaker,
            _ => Self::Fuse,
        }
    }

    /// Draws it around `at`; `leads` tells on which sides (left, right) a line comes.
    pub(super) fn draw(self, canvas: &mut Canvas, standard: Standard, at: (f64, f64), leads: (bool, bool)) {
        let body = match self {
            Self::Battery => devices::battery(canvas, at, false),
            Self::Fuse => devices::fuse(canvas, standard, at),
            Self::Breaker => devices::breaker(canvas, standard, at),
            Self::Disconnector => devices::switch(canvas, standard, at, true),
            Self::Switch => devices::switch(canvas, standard, at, false),
            Self::Relay => devices::relay(canvas, standard, at),
            Self::Dimmer => devices::dimmer(canvas, at),
            Self::Shunt => devices::shunt(canvas, standard, at),
            Self::Transfer => devices::transfer(canvas, standard, at),
            Self::Rcd => devices::residual(canvas, standard, at),
            Self::Bus => devices::bus(canvas, at),
            Self::Panel => devices::panel(canvas, at),
            Self::Array => converters::array(canvas, at),
            Self::Generator => users::lettered(canvas, at, "G"),
            Self::DcDc => converters::converter(canvas, at, converters::Current::Dc, converters::Current::Dc),
            Self::Charger => converters::converter(canvas, at, converters::Current::Ac, converters::Current::Dc),
            Self::Inverter => converters::converter(canvas, at, converters::Current::Dc, converters::Current::Ac),
            Self::InverterCharger => converters::both_ways(canvas, at),
            Self::Inlet => users::inlet(canvas, standard, at),
            Self::Lamp => users::lamp(canvas, standard, at),
            Self::Motor => users::lettered(canvas, at, "M"),
            Self::Heater => users::heater(canvas, standard, at),
            Self::Socket => users::socket(canvas, standard, at),
            Self::Meter => users::meter(canvas, at),
            Self::Load => users::load(canvas, at),
            Self::Chassis => return users::chassis(canvas, at),
        };
        if leads.0 {
            canvas.line((at.0 - HALF, at.1), (at.0 + body.0, at.1), LINE);
        }
        if leads.1 {
            canvas.line((at.0 + body.1, at.1), (at.0 + HALF, at.1), LINE);
        }
    }
}

/// A battery whose negative post is at the right, with its lead there.
pub(super) fn battery_turned(canvas: &mut Canvas, at: (f64, f64)) {
    let body = devices::battery(canvas, at, true);
    canvas.line((at.0 + body.1, at.1), (at.0 + HALF, at.1), LINE);
}

/// Where the body of a symbol begins and ends on the line through it, from its middle, mm.
type Body = (f64, f64);

/// One wave along the line, `half` to each side, its crests about half of `crest` high.
fn wave(canvas: &mut Canvas, (x, y): (f64, f64), half: f64, crest: f64, pen: Pen) {
    let path = format!(
        "M{:.2} {y:.2}C{:.2} {t:.2} {:.2} {t:.2} {x:.2} {y:.2}S{:.2} {b:.2} {:.2} {y:.2}",
        x - half,
        x - 0.75 * half,
        x - 0.25 * half,
        x + 0.75 * half,
        x + half,
        t = y - crest,
        b = y + crest
    );
    canvas.path(&path, pen, Fill::None);
    canvas.mark(Area::at(x - half, y - crest, 2.0 * half, 2.0 * crest));
}
