//! Voltage-drop limits of ABYC E-11. Source: [`super::sources::ABYC_DROP_LIMITS`].

use crate::units::Ratio;

/// Panel feeders, electronics, and all that must run.
pub const CRITICAL: Ratio = Ratio(0.03);

/// Lighting and circuits that are not critical.
pub const OTHER: Ratio = Ratio(0.10);
