//! The load cases, and what is aboard in each.

use crate::kinds::Content;
use serde::Serialize;

/// A load case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CaseId {
    /// Finished van, tanks empty, nobody aboard.
    AsBuilt,
    /// With fresh water.
    WaterFull,
    /// With fresh water, everyone belted, animals.
    Travelling,
    /// And everything stowed.
    Loaded,
    /// And bikes and boats on the carriers.
    CarriersLoaded,
    /// The way home: waste tanks full, fresh water gone, else as loaded with the carriers.
    WayHome,
}

impl CaseId {
    /// All, in the order of documents.
    pub const ALL: [Self; 6] =
        [Self::AsBuilt, Self::WaterFull, Self::Travelling, Self::Loaded, Self::CarriersLoaded, Self::WayHome];

    /// Id in the ledger.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::AsBuilt => "as-built",
            Self::WaterFull => "water-full",
            Self::Travelling => "travelling",
            Self::Loaded => "fully-loaded",
            Self::CarriersLoaded => "carriers-loaded",
            Self::WayHome => "way-home",
        }
    }

    /// For people.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::AsBuilt => "as built",
            Self::WaterFull => "water full",
            Self::Travelling => "travelling, everyone belted",
            Self::Loaded => "fully loaded",
            Self::CarriersLoaded => "fully loaded, carriers too",
            Self::WayHome => "way home, waste tanks full",
        }
    }

    /// Whether `content` is aboard; `None` is a component itself.
    #[must_use]
    pub const fn has(self, content: Option<Content>) -> bool {
        use Content as C;
        match content {
            None | Some(C::Fixed) => true,
            Some(C::FreshWater) => !matches!(self, Self::AsBuilt | Self::WayHome),
            Some(C::People | C::Animals) => !matches!(self, Self::AsBuilt | Self::WaterFull),
            Some(C::Cargo) => matches!(self, Self::Loaded | Self::CarriersLoaded | Self::WayHome),
            Some(C::Sport) => matches!(self, Self::CarriersLoaded | Self::WayHome),
            Some(C::Waste) => matches!(self, Self::WayHome),
        }
    }
}
