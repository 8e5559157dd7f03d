//! The bank as a store of energy, hour by hour: what goes in, what comes out, what is lost, and nothing else.

use crate::units::{Ratio, WattHours, Watts};
use serde::Serialize;

/// A bank, or all banks of a build together.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Store {
    /// Energy when full.
    pub full: WattHours,
    /// Energy below which it is not planned to go.
    pub reserve: WattHours,
    /// Most it takes at its terminals; `None` without a limit.
    pub most_in: Option<Watts>,
    /// Most it gives at its terminals; `None` without a limit.
    pub most_out: Option<Watts>,
    /// Share of what is put in that is stored.
    pub efficiency: Ratio,
}

/// One hour at the busbar. All in watt-hours, so that each is also a mean power in watts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Hour {
    /// Wanted by the loads, inverter losses included.
    pub need: f64,
    /// Offered by all sources.
    pub offered: f64,
    /// Offered but not taken: bank full, its limit reached or charging blocked.
    pub surplus: f64,
    /// Surplus of an hour in which the bank may not be charged for cold.
    pub blocked: f64,
    /// Wanted but not given.
    pub unserved: f64,
    /// Put into the bank at its terminals.
    pub put_in: f64,
    /// Lost in charging.
    pub lost: f64,
    /// Taken out of the bank.
    pub taken: f64,
    /// In the bank at the end of the hour.
    pub state: f64,
}

impl Hour {
    /// Offered less surplus, less what loads got, less losses, less what the store gained: zero in a true account.
    #[must_use]
    pub fn imbalance(&self, before: f64) -> f64 {
        (self.offered - self.surplus) - (self.need - self.unserved) - self.lost - (self.state - before)
    }
}

impl Store {
    /// One hour from a `state` in watt-hours. `cold`: the bank may not be charged. What is missing or not a number
    /// counts as zero.
    #[must_use]
    pub fn hour(&self, state: f64, need: f64, offered: f64, cold: bool) -> Hour {
        let sane = |v: f64| if v.is_finite() { v.max(0.0) } else { 0.0 };
        let (state, need, offered) = (sane(state), sane(need), sane(offered));
        let limit = |l: Option<Watts>| l.map_or(f64::INFINITY, |w| sane(w.0));
        if offered >= need {
            let over = offered - need;
            let efficiency = self.efficiency.0.clamp(0.01, 1.0);
            let room = sane(self.full.0 - state) / efficiency;
            let put_in = if cold { 0.0 } else { over.min(limit(self.most_in)).min(room) };
            let surplus = over - put_in;
            let stored = put_in * efficiency;
            let blocked = if cold { over.min(room) } else { 0.0 };
            let lost = put_in - stored;
            return Hour { need, offered, surplus, blocked, put_in, lost, state: state + stored, ..Hour::default() };
        }
        let short = need - offered;
        let taken = short.min(limit(self.most_out)).min(state);
        Hour { need, offered, taken, unserved: short - taken, state: state - taken, ..Hour::default() }
    }

    /// `count` hours from `state`, by a typical day that begins with its hour `first`.
    #[must_use]
    pub fn run(
        &self,
        state: f64,
        need: &super::Hours,
        offered: &super::Hours,
        cold: bool,
        first: usize,
        count: usize,
    ) -> Vec<Hour> {
        let mut state = state;
        let one = |i: usize| {
            let clock = (first + i) % 24;
            let hour = self.hour(state, need[clock], offered[clock], cold);
            state = hour.state;
            hour
        };
        (0..count).map(one).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BANK: Store = Store {
        full: WattHours(1280.0),
        reserve: WattHours(256.0),
        most_in: Some(Watts(640.0)),
        most_out: Some(Watts(1280.0)),
        efficiency: Ratio(0.95),
    };

    #[test]
    fn takes_gives_and_refuses() {
        let charge = BANK.hour(640.0, 100.0, 400.0, false);
        assert!((charge.state - (640.0 + 300.0 * 0.95)).abs() < 1e-9 && charge.surplus.abs() < 1e-9);
        let limited = BANK.hour(0.0, 0.0, 1000.0, false);
        assert!((limited.put_in - 640.0).abs() < 1e-9 && (limited.surplus - 360.0).abs() < 1e-9);
        let full = BANK.hour(1280.0, 50.0, 400.0, false);
        assert!((full.surplus - 350.0).abs() < 1e-9 && (full.state - 1280.0).abs() < 1e-9);
        let cold = BANK.hour(640.0, 50.0, 400.0, true);
        assert!((cold.state - 640.0).abs() < 1e-9 && (cold.blocked - 350.0).abs() < 1e-9);
        let empty = BANK.hour(30.0, 100.0, 0.0, false);
        assert!((empty.unserved - 70.0).abs() < 1e-9 && empty.state.abs() < 1e-9);
        let weak = BANK.hour(1280.0, 2000.0, 0.0, false);
        assert!((weak.unserved - 720.0).abs() < 1e-9);
    }

    /// Ten thousand hours of any kind: no energy comes or goes.
    #[test]
    fn energy_is_kept_to_a_billionth() {
        let mut seed = 20_270_514_u64;
        let mut draw = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            f64::from(u32::try_from(seed >> 33).unwrap_or(0)) / f64::from(u32::MAX >> 1)
        };
        for _ in 0..100 {
            let full = 100.0 + 20_000.0 * draw();
            let store = Store {
                full: WattHours(full),
                reserve: WattHours(full * draw()),
                most_in: (draw() > 0.3).then_some(Watts(3000.0 * draw())),
                most_out: (draw() > 0.3).then_some(Watts(3000.0 * draw())),
                efficiency: Ratio(0.5 + 0.5 * draw()),
            };
            let mut state = full * draw();
            for _ in 0..100 {
                let (need, offered, cold) = (2000.0 * draw(), 2000.0 * draw() * draw(), draw() > 0.9);
                let hour = store.hour(state, need, offered, cold);
                assert!(hour.imbalance(state).abs() < 1e-9, "{hour:?}");
                assert!(hour.state >= 0.0 && hour.state <= full + 1e-9);
                state = hour.state;
            }
        }
    }

    #[test]
    fn odd_input_is_no_panic() {
        let none = Store {
            full: WattHours(0.0),
            reserve: WattHours(0.0),
            most_in: None,
            most_out: None,
            efficiency: Ratio(0.0),
        };
        let hour = none.hour(f64::NAN, f64::INFINITY, -4.0, false);
        assert_eq!(hour, Hour::default());
        assert!((none.hour(0.0, 10.0, 4.0, false).unserved - 6.0).abs() < 1e-12);
    }
}
