//! Which published tables say what a conductor may carry.

use super::citation::Citation;
use super::insulation::Insulation;
use super::sources;
use crate::units::Celsius;
use serde::{Deserialize, Serialize};

/// A set of ampacity tables with its factors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum AmpacityRule {
    /// 33 CFR 183.425 Table 5 with its notes.
    #[serde(rename = "33-cfr-183-425")]
    Cfr,
    /// IEC 60364-5-52 Tables B.52.2, B.52.3, B.52.14, B.52.17.
    #[serde(rename = "iec-60364-5-52")]
    Iec,
}

impl AmpacityRule {
    /// The class of insulation for `limit` by these tables: the highest not above it. `None` below 60 °C.
    #[must_use]
    pub fn class(self, limit: Celsius) -> Option<Insulation> {
        Insulation::from_limit(
            limit,
            match self {
                Self::Cfr => Insulation::CFR,
                Self::Iec => Insulation::IEC,
            },
        )
    }

    /// What the tables are called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cfr => "33 CFR 183.425 Table 5",
            Self::Iec => "IEC 60364-5-52",
        }
    }

    /// Whether a source stands beside other tables than these: a sheet that tells what its figures rest on leaves it out.
    #[must_use]
    pub fn is_strange_to(self, source: &Citation) -> bool {
        let of_others: &[&Citation] = match self {
            Self::Cfr => &[
                &sources::IEC_B_52_2,
                &sources::IEC_B_52_3,
                &sources::IEC_ANNEX_D,
                &sources::IEC_B_52_14,
                &sources::IEC_B_52_17,
                &sources::ISO_10133_DROP,
                &sources::EN_1648_2,
            ],
            Self::Iec => &[
                &sources::CFR_TABLE_5,
                &sources::CFR_ENGINE_SPACE,
                &sources::CFR_BUNDLING,
                &sources::CFR_OVERCURRENT,
                &sources::ABYC_DROP_LIMITS,
            ],
        };
        of_others.iter().any(|other| other.id == source.id)
    }

    /// The source of the factor for conductors that lie together.
    #[must_use]
    pub const fn bundling(self) -> &'static Citation {
        match self {
            Self::Cfr => &sources::CFR_BUNDLING,
            Self::Iec => &sources::IEC_B_52_17,
        }
    }
}
