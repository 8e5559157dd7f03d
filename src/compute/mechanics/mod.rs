//! Mechanics: what holds heavy things, lashing points, gas struts.

pub mod fasteners;
mod of_build;
pub mod restraint;
pub mod strut;
pub mod substrate;

use crate::units::Kilograms;
use indexmap::IndexMap;
use serde::Serialize;

/// Lighter things are not followed up: 10 kg.
pub const HEAVY: Kilograms = Kilograms(10.0);

/// Largest force in newtons at the edge to close a lid; common practice.
pub const CLOSING_LIMIT: f64 = 100.0;

/// A heavy item and its bolts.
#[derive(Clone, Debug, Serialize)]
pub struct Restraint {
    /// Mass of one with what it holds.
    pub mass: Kilograms,
    /// Whether part of the mass is a usual value.
    pub usual: bool,
    /// Force when braking, newtons.
    pub force: f64,
    /// Order of magnitude in a crash, newtons.
    pub crash: f64,
    /// Bolts of one, where the spec or the kind gives them.
    pub bolts: Option<f64>,
    /// The spec itself gives number and size.
    pub given: bool,
    /// Size of the bolts.
    pub size: Option<String>,
    /// Force that they hold, newtons: with what they go into where that is told, else the bolts alone in shear.
    pub holds: Option<f64>,
    /// What they go into, and how the thing stands on them; `None` where nobody told.
    pub fixing: Option<Fixing>,
    /// M8 bolts of class 8.8 needed when braking and in a crash.
    pub needed: f64,
}

/// What bolts go into, and what gives way first.
#[derive(Clone, Debug, Serialize)]
pub struct Fixing {
    /// What they go into.
    pub ground: substrate::Ground,
    /// How the thing stands on them; `None` where its size is not given.
    pub stance: Option<substrate::Stance>,
    /// What gives way first.
    pub link: substrate::Link,
}

/// Lashing points and what they hold.
#[derive(Clone, Debug, Serialize)]
pub struct TieDown {
    /// Mass held.
    pub mass: Kilograms,
    /// Working load all points must have together, newtons.
    pub required: f64,
    /// What they have, newtons.
    pub rated: f64,
    /// The spec gives the working load.
    pub given: bool,
}

/// Struts of a lid.
#[derive(Clone, Debug, Serialize)]
pub struct Struts {
    /// The lid, its mass with what lies on it.
    pub lid: strut::Lid,
    /// What lies on it when it is opened.
    pub load: Kilograms,
    /// Coldest it must hold at, °C: the unheated cabin in the lowest temperature of the seasons.
    pub cold: Option<f64>,
    /// Hottest in the seasons, °C.
    pub hot: Option<f64>,
    /// Force that just holds it, newtons.
    pub holding: f64,
    /// Force at 20 °C that leaves the reserve at the coldest, newtons: what to order.
    pub sized: f64,
    /// Force the spec gives, newtons.
    pub given: Option<f64>,
    /// Largest force at the edge to close it at 20 °C, newtons.
    pub closing: Option<f64>,
    /// The same at the hottest.
    pub closing_hot: Option<f64>,
}

impl Struts {
    /// Force of one strut at the coldest, of `force` newtons at 20 °C.
    #[must_use]
    pub fn in_the_cold(&self, force: f64) -> f64 {
        force * strut::share_at(self.cold.unwrap_or(strut::STATED_AT))
    }
}

/// The mechanics of a build.
#[derive(Clone, Debug, Default, Serialize)]
pub struct MechanicsFigures {
    /// Heavy items by component.
    pub restraints: IndexMap<String, Restraint>,
    /// Lashing points by component.
    pub tie_downs: IndexMap<String, TieDown>,
    /// Struts by component.
    pub struts: IndexMap<String, Struts>,
    /// Struts that no force can be given for, and why.
    pub no_force: IndexMap<String, strut::NoForce>,
}
