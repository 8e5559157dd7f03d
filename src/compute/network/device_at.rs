//! A protective device, and where it sits.

use crate::compute::electrical::interrupting::Known;
use crate::tables::breaker_curve::Curve;
use crate::tables::fuse_series::{Breaks, Family};
use crate::units::Amps;
use serde::Serialize;

/// Where a device sits.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DeviceAt {
    /// In the way of a panel.
    Way,
    /// In-line at the source end, or at the busbar end of a charger's output.
    InLine,
    /// A component of its own at the end of this circuit; the circuit is the unprotected tail to it.
    Component(String),
    /// Further up: the id of the circuit or component whose device also protects this one.
    Upstream(String),
    /// None needed: the source cannot give more than the conductor carries.
    Source,
    /// The return conductor: protected by the device in the positive.
    Return,
    /// Part of the vehicle as built.
    Vehicle,
    /// None at all.
    Nothing,
}

/// A protective device.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Device {
    /// Where it sits.
    pub at: DeviceAt,
    /// Family of fuse or breaker.
    #[serde(skip)]
    pub family: Option<Family>,
    /// Rating.
    pub rating: Option<Amps>,
    /// The spec gave the rating.
    pub given: bool,
    /// Tripping curve, of a breaker that has one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub curve: Option<Curve>,
    /// Poles that it breaks, of a breaker for AC.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub poles: Option<u32>,
    /// What is known of the fault current it can break.
    pub breaks: Known,
}

impl Device {
    pub(super) const fn at(at: DeviceAt) -> Self {
        Self { at, family: None, rating: None, given: false, curve: None, poles: None, breaks: Known::NONE }
    }

    /// A device of this circuit's own (not further up, not none).
    #[must_use]
    pub const fn is_own(&self) -> bool {
        matches!(self.at, DeviceAt::Way | DeviceAt::InLine | DeviceAt::Component(_))
    }

    /// What its family breaks at its place by a published rule; `None` where none was read.
    #[must_use]
    pub fn family_breaks(&self) -> Option<Breaks> {
        self.family?.series().breaks.filter(|_| self.breaks.family.is_some())
    }

    /// As documents print it: "15 A blade fuse", "16 A 2-pole B breaker".
    #[must_use]
    pub fn show(&self) -> String {
        let (Some(rating), Some(family)) = (self.rating, self.family) else { return String::new() };
        let rating = rating.show(crate::units::System::Metric);
        format!("{rating} {}{}", self.marks(), family_name(family))
    }

    /// The same without the word for its family: "16 A 2-pole B".
    #[must_use]
    pub fn rated(&self) -> String {
        let Some(rating) = self.rating else { return String::new() };
        format!("{} {}", rating.show(crate::units::System::Metric), self.marks()).trim_end().to_owned()
    }

    /// What a breaker is called beyond its rating: "2-pole B ", with a space behind; "" where nothing is told.
    fn marks(&self) -> String {
        let poles = self.poles.filter(|poles| *poles > 1).map(|poles| format!("{poles}-pole "));
        let curve = self.curve.map(|curve| format!("{curve} "));
        [poles, curve].into_iter().flatten().collect()
    }

    /// The device without poles and curve, as records from before these were told know it.
    #[must_use]
    pub fn unmarked(&self) -> Self {
        Self { curve: None, poles: None, ..self.clone() }
    }
}

/// What technicians call a device of `family`.
#[must_use]
pub const fn family_name(family: Family) -> &'static str {
    match family {
        Family::Blade => "blade fuse",
        Family::MiniBlade => "mini blade fuse",
        Family::MaxiBlade => "large blade fuse",
        Family::SmallBoltDown => "small bolt-down fuse",
        Family::LargeBoltDown => "large bolt-down fuse",
        Family::TerminalCube => "terminal fuse",
        Family::ClassT => "class T fuse",
        Family::DcBreaker | Family::AcBreakerUs | Family::AcBreakerEu => "breaker",
    }
}
