//! Two outlets open at once on one pump: what each still gives.

use super::pump::Pump;

/// An outlet with the pipes that are its own.
pub struct Branch<'a> {
    /// Flow named for the outlet, L/min.
    pub wanted: f64,
    /// Pressure it needs for that, kPa; at other flows it goes with the square.
    pub needed: f64,
    /// Friction and height of its own pipes at a flow, kPa.
    pub cost: &'a dyn Fn(f64) -> f64,
}

impl Branch<'_> {
    /// Flow where `pressure` kPa stand before it, L/min.
    fn flow(&self, pressure: f64) -> f64 {
        let spare = |q: f64| pressure - (self.cost)(q) - self.needed * (q / self.wanted).powi(2);
        // Nothing passes more than the outlet alone would.
        let most = self.wanted * (pressure.max(0.0) / self.needed).sqrt() * 2.0 + 1.0;
        root(0.0, most, spare).unwrap_or(0.0)
    }
}

/// Flows of two outlets that are open together, L/min, behind pipes that carry both. `None` where nothing flows.
///
/// Where the pipes part stands one pressure: the pump's at the sum of both flows, less what the shared pipes cost.
#[must_use]
pub fn both(pump: &Pump, shared: impl Fn(f64) -> f64, one: &Branch<'_>, other: &Branch<'_>) -> Option<(f64, f64)> {
    let parting = |q: f64| Some(pump.pressure(q)? - shared(q));
    let told = [one, other].iter().all(|b| b.wanted > 0.0 && b.needed > 0.0);
    if !told || parting(0.0)? <= 0.0 {
        return None;
    }
    let over = |q: f64| {
        let pressure = parting(q).unwrap_or(0.0);
        one.flow(pressure) + other.flow(pressure) - q
    };
    let all = root(0.0, pump.open_flow, over)?;
    let pressure = parting(all)?;
    Some((one.flow(pressure), other.flow(pressure)))
}

/// Where a falling function is nought between two ends, by false position with the end that stays halved (Illinois).
/// `None` where it is below nought at the lower end already.
fn root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low.is_nan() || at_high.is_nan() || at_low < 0.0 {
        return None;
    }
    if at_high >= 0.0 {
        return Some(high);
    }
    let mut kept = 0_i8;
    for _ in 0..60 {
        let middle = (low * at_high - high * at_low) / (at_high - at_low);
        let here = f(middle);
        if here.abs() < 1e-9 || (high - low) < 1e-12 {
            return Some(middle);
        }
        if here > 0.0 {
            (low, at_low) = (middle, here);
            if kept == 1 {
                at_high /= 2.0;
            }
            kept = 1;
        } else {
            (high, at_high) = (middle, here);
            if kept == -1 {
                at_low /= 2.0;
            }
            kept = -1;
        }
    }
    Some(f64::midpoint(low, high))
}

#[cfg(test)]
mod tests {
    use super::*;

    const PUMP: Pump = Pump { open_flow: 11.0, cut_out: 280.0 };

    /// Two outlets alike without pipes pass the same flow q, and 280 − 280/11 · 2 q = 80/25 q² (a quadratic).
    #[test]
    fn two_alike_solve_a_quadratic() {
        let tap = || Branch { wanted: 5.0, needed: 80.0, cost: &|_| 0.0 };
        let (one, other) = both(&PUMP, |_| 0.0, &tap(), &tap()).expect("flows");
        let (a, b) = (80.0 / 25.0, 2.0 * 280.0 / 11.0);
        let exact = (-b + (b * b + 4.0 * a * 280.0_f64).sqrt()) / (2.0 * a);
        assert!((one - exact).abs() < 1e-6 && (other - exact).abs() < 1e-6, "{one} {other} {exact}");
    }

    /// What one passes alone it does not pass beside another, and a shut one changes nothing.
    #[test]
    fn the_second_takes_from_the_first() {
        let pipe = |q: f64| 0.4 * q * q;
        let tap = Branch { wanted: 5.0, needed: 80.0, cost: &pipe };
        let alone = PUMP.delivers(5.0, 80.0, |q| 0.2 * q * q + pipe(q)).expect("flows");
        let (beside, other) = both(&PUMP, |q| 0.2 * q * q, &tap, &tap).expect("flows");
        assert!(beside < alone && beside > alone / 2.0, "{beside} {alone}");
        assert!((beside - other).abs() < 1e-6);
        // The balance holds at what it found.
        let parting = PUMP.pressure(2.0 * beside).expect("on the curve") - 0.2 * (2.0 * beside).powi(2);
        assert!((parting - pipe(beside) - 80.0 * (beside / 5.0).powi(2)).abs() < 1e-6);
        let high = Branch { wanted: 5.0, needed: 80.0, cost: &|_| 400.0 };
        let (still, none) = both(&PUMP, |q| 0.2 * q * q, &tap, &high).expect("flows");
        assert!((still - alone).abs() < 1e-6 && none == 0.0, "{still} {alone} {none}");
        assert_eq!(both(&PUMP, |_| 300.0, &tap, &tap), None);
    }
}
