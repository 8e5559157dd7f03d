//! Words that kinds choose from, and the safety message.

use serde::{Deserialize, Serialize};

macro_rules! worded {
    ($(#[$doc:meta])* $name:ident { $($variant:ident $word:literal $title:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
        pub enum $name { $(#[doc = $title] #[serde(rename = $word)] $variant,)* }
        impl $name {
            /// All, in the order of documents.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];
            /// Id in files.
            #[must_use]
            pub const fn id(self) -> &'static str { match self { $(Self::$variant => $word,)* } }
            /// Title in documents.
            #[must_use]
            pub const fn title(self) -> &'static str { match self { $(Self::$variant => $title,)* } }
            /// The one with this id.
            #[must_use]
            pub fn from_id(id: &str) -> Option<Self> { Self::ALL.iter().copied().find(|s| s.id() == id) }
        }
    };
}

worded! {
    /// Stages of a build, in order.
    Stage {
        Intake "intake" "Intake",
        Openings "openings" "Openings and metalwork",
        Insulation "insulation" "Sound and thermal insulation",
        ElectricalRoughIn "electrical-rough-in" "Electrical rough-in",
        PlumbingRoughIn "plumbing-rough-in" "Plumbing, gas and duct rough-in",
        FloorWallsCeiling "floor-walls-ceiling" "Floor, walls, ceiling",
        Furniture "furniture" "Cabinetry and furniture",
        ElectricalFitOff "electrical-fit-off" "Electrical fit-off",
        PlumbingFitOff "plumbing-fit-off" "Plumbing and appliance fit-off",
        Exterior "exterior" "Exterior fit",
        Commissioning "commissioning" "Commissioning",
        Handover "handover" "Handover",
    }
}

worded! {
    /// Systems of a van, in the order of documents.
    System {
        EnergyStorage "energy-storage" "Energy storage",
        Charging "charging" "Charging",
        Ac "ac" "AC power",
        DcDistribution "dc-distribution" "DC distribution",
        Lighting "lighting" "Lighting",
        ExteriorLighting "exterior-lighting" "Exterior lighting",
        Outlets "outlets" "Outlets",
        ControlPanel "control-panel" "Control panel",
        Water "water" "Water",
        FreezeProtection "freeze-protection" "Freeze protection",
        Climate "climate" "Heating, cooling and air",
        Galley "galley" "Galley and appliances",
        Lpg "lpg" "LPG",
        Body "body" "Body and exterior",
        Furniture "furniture" "Furniture",
        Storage "storage" "Storage",
        People "people" "People and animals",
        Connectivity "connectivity" "Connectivity",
        Safety "safety" "Safety gear",
    }
}

worded! {
    /// Signal words (ANSI Z535.6 grammar).
    Signal {
        Danger "danger" "DANGER",
        Warning "warning" "WARNING",
        Caution "caution" "CAUTION",
        Notice "notice" "NOTICE",
    }
}

worded! {
    /// What a thing is looked for in an emergency: its sign on the emergency map.
    EmergencyMark {
        PowerOff "power-off" "Power off",
        GasOff "gas-off" "Gas off",
        WaterOff "water-off" "Water off",
        FuelOff "fuel-off" "Fuel off",
        Extinguisher "extinguisher" "Fire extinguisher",
        FireBlanket "fire-blanket" "Fire blanket",
        FirstAid "first-aid" "First aid",
        Exit "exit" "Way out",
        Alarm "alarm" "Alarm",
    }
}

worded! {
    /// Who may sign the hold point of a task, with the words that follow "signed by".
    Signer {
        Technician "technician" "the technician",
        SecondPerson "second-person" "a second person",
        Designer "designer" "the designer",
        LicensedElectrician "licensed-electrician" "a person licensed for mains work",
        LicensedGas "licensed-gas" "a person licensed for LPG work",
    }
}

worded! {
    /// What a finished van must have recorded, the smaller set first.
    HandoverSet {
        Essential "essential" "what safety, law and warranty ask for",
        Full "full" "all of it",
    }
}

/// A safety message; stands before the step.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Signal word.
    pub signal: Signal,
    /// What the hazard is.
    pub hazard: String,
    /// What can happen.
    pub consequence: String,
    /// How to avoid it.
    pub avoid: String,
}
