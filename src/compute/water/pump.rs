//! A pump between its two named points, and what it delivers against a line.

/// A diaphragm pump. Source of the straight line: [`crate::tables::sources::PUMP_CURVE`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pump {
    /// Flow at no pressure, L/min.
    pub open_flow: f64,
    /// Pressure at which it stops, kPa.
    pub cut_out: f64,
}

impl Pump {
    /// Pressure in kPa at a flow in L/min; below zero beyond the open flow.
    #[must_use]
    pub fn pressure(&self, litres_per_minute: f64) -> Option<f64> {
        if !(self.open_flow > 0.0 && self.cut_out > 0.0 && litres_per_minute >= 0.0) {
            return None;
        }
        Some(self.cut_out * (1.0 - litres_per_minute / self.open_flow))
    }

    /// Flow in L/min where the pump meets an outlet that passes `wanted` L/min at `needed` kPa (and less by the square
    /// root), behind a line that costs `line(flow)` kPa. `None` where nothing flows.
    #[must_use]
    pub fn delivers(&self, wanted: f64, needed: f64, line: impl Fn(f64) -> f64) -> Option<f64> {
        if !(wanted > 0.0 && needed > 0.0) {
            return None;
        }
        let spare = |q: f64| Some(self.pressure(q)? - line(q) - needed * (q / wanted).powi(2));
        let (mut low, mut high) = (1e-6, self.open_flow);
        if spare(low)? <= 0.0 {
            return None;
        }
        for _ in 0..80 {
            let middle = f64::midpoint(low, high);
            if spare(middle)? > 0.0 { low = middle } else { high = middle }
        }
        Some(low)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_runs_through_both_points() {
        let pump = Pump { open_flow: 11.0, cut_out: 280.0 };
        assert_eq!(pump.pressure(0.0), Some(280.0));
        assert_eq!(pump.pressure(11.0), Some(0.0));
        assert_eq!(Pump { open_flow: 0.0, cut_out: 280.0 }.pressure(1.0), None);
    }

    /// Without a line the balance is a quadratic: 280 − 280/11 q = 80/25 q².
    #[test]
    fn the_flow_solves_the_balance() {
        let pump = Pump { open_flow: 11.0, cut_out: 280.0 };
        let q = pump.delivers(5.0, 80.0, |_| 0.0).expect("flows");
        let (a, b) = (80.0 / 25.0, 280.0 / 11.0);
        let exact = (-b + (b * b + 4.0 * a * 280.0_f64).sqrt()) / (2.0 * a);
        assert!((q - exact).abs() < 1e-9, "{q} {exact}");
        assert_eq!(pump.delivers(5.0, 80.0, |_| 500.0), None);
    }
}
