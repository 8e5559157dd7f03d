//! Whether a device can break the fault current at its place.

use crate::units::Amps;
use serde::Serialize;

/// The device nearest upstream of the one that is judged.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Upstream {
    /// Whether it limits the peak of the current (class T).
    pub current_limiting: bool,
    /// Its interrupting capacity at the circuit's voltage.
    pub interrupting: Amps,
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Interrupting {
    /// The device breaks the fault by itself.
    Enough,
    /// It does not, but a current-limiting fuse upstream does: only a combination that its makers have tested counts.
    OnlyBehindCurrentLimiting,
    /// Nothing breaks it.
    NotEnough,
}

/// Judges a device of interrupting capacity `own` against the `fault` current at its place.
/// Numbers that are none count against the device. Source: [`crate::tables::sources::ABYC_LARGE_BANK`].
#[must_use]
pub fn judge(fault: Amps, own: Amps, upstream: Option<Upstream>) -> Interrupting {
    if own >= fault {
        return Interrupting::Enough;
    }
    match upstream {
        Some(up) if up.current_limiting && up.interrupting >= fault => Interrupting::OnlyBehindCurrentLimiting,
        _ => Interrupting::NotEnough,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::fuse_series::Family;
    use crate::units::Volts;

    #[test]
    fn a_bolt_down_fuse_on_a_lithium_bank_is_not_enough() {
        let capacity = |family: Family| family.series().interrupting_at(Volts(12.8)).expect("12 V");
        let fault = Amps(12_800.0);
        assert_eq!(judge(fault, capacity(Family::ClassT), None), Interrupting::Enough);
        assert_eq!(judge(fault, capacity(Family::LargeBoltDown), None), Interrupting::NotEnough);
        let class_t = Upstream { current_limiting: true, interrupting: capacity(Family::ClassT) };
        let behind = judge(fault, capacity(Family::LargeBoltDown), Some(class_t));
        assert_eq!(behind, Interrupting::OnlyBehindCurrentLimiting);
        let cube = Upstream { current_limiting: false, interrupting: Amps(20_000.0) };
        assert_eq!(judge(fault, capacity(Family::Blade), Some(cube)), Interrupting::NotEnough);
        assert_eq!(judge(Amps(25_000.0), capacity(Family::Blade), Some(class_t)), Interrupting::NotEnough);
        assert_eq!(judge(Amps(f64::NAN), Amps(20_000.0), None), Interrupting::NotEnough);
        assert_eq!(judge(Amps(1000.0), Amps(1000.0), None), Interrupting::Enough);
    }
}
