//! What a panel van usually measures: what a drawing takes where the spec says nothing. Common practice, no source; said on
//! the sheet where it is used, and nothing is judged by it.

use crate::units::{Metres, Ratio};

/// Measures of a van.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct UsualVan {
    /// Front end before the front axle.
    pub front_overhang: Metres,
    /// Rear end behind the rear axle, as a share of the wheelbase.
    pub rear_overhang: Ratio,
    /// Radius of a tyre.
    pub tyre_radius: Metres,
    /// Width without mirrors.
    pub width: Metres,
    /// Roof above the ground.
    pub height: Metres,
    /// Between the wheels of an axle.
    pub track: Metres,
    /// Load floor above the ground.
    pub floor_height: Metres,
    /// Underside above the ground between the axles.
    pub ground_clearance: Metres,
    /// The same at the front end.
    pub front_clearance: Metres,
    /// The same at the rear end.
    pub rear_clearance: Metres,
}

/// A panel van of the middle class.
pub(crate) const USUAL_VAN: UsualVan = UsualVan {
    front_overhang: Metres(0.95),
    rear_overhang: Ratio(0.3),
    tyre_radius: Metres(0.34),
    width: Metres(1.95),
    height: Metres(2.2),
    track: Metres(1.7),
    floor_height: Metres(0.55),
    ground_clearance: Metres(0.18),
    front_clearance: Metres(0.3),
    rear_clearance: Metres(0.38),
};
