//! What part a kind plays in the water system.

use serde::{Deserialize, Serialize};

/// Part in the water system. The canonical fields of each are listed in DEVELOPERS.md.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PlumbingRole {
    /// Holds drinking water.
    FreshTank,
    /// Holds waste water.
    GreyTank,
    /// Lifts water from the tank to the outlets.
    Pump,
    /// Makes hot water.
    #[serde(rename = "water-heater")]
    Heater,
    /// Cleans water; costs pressure.
    Filter,
    /// Lets water out: tap, shower.
    #[serde(rename = "water-outlet")]
    Outlet,
    /// Bowl or tray that sends waste on.
    Basin,
    /// Takes water from a campsite hose.
    CityInlet,
    /// Carries water.
    Pipe,
    /// Valve with a motor.
    MotorValve,
    /// Valve moved by hand.
    HandValve,
    /// Empties pipes and tanks before frost.
    DrainValve,
    /// Takes antifreeze in.
    WinterPort,
    /// Heats a pipe.
    Trace,
    /// Heats a tank.
    Pad,
    /// Takes water into a fresh tank from outside.
    FillInlet,
    /// Keeps dirt out of a pump.
    Strainer,
    /// Evens out a pump.
    Accumulator,
    /// Measures the level of a tank.
    Sender,
}

/// The role of a kind in the water system.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Plumbing {
    /// Part it plays.
    pub role: PlumbingRole,
}
