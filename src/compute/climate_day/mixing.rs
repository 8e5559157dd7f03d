//! What is given off into air that is replaced: moisture, carbon dioxide.

/// What an air change does in a while.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixed {
    /// Content at its end.
    pub end: f64,
    /// Mean content.
    pub mean: f64,
}

/// Air with `content`, of which the share `rate` is replaced each second by air with `outside`, and to which `source`
/// is added each second, after `seconds`. Exact: `c = c_∞ + (c_0 − c_∞) e^(−r t)`.
#[must_use]
pub fn mix(content: f64, outside: f64, rate: f64, source: f64, seconds: f64) -> Mixed {
    let turns = rate * seconds;
    if turns < 1e-9 {
        return Mixed { end: content + source * seconds, mean: content + source * seconds / 2.0 };
    }
    let settled = outside + source / rate;
    let gone = -(-turns).exp_m1();
    Mixed { end: content + (settled - content) * gone, mean: settled + (content - settled) * gone / turns }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Closed form: after one time constant 63.2 % of the way; in the end the source over the flow (mass balance).
    #[test]
    fn a_step_goes_as_the_closed_form_has_it() {
        let (rate, source) = (1.0 / 3600.0, 2e-6);
        let one = mix(0.002, 0.001, rate, source, 3600.0);
        let settled: f64 = 0.001 + source / rate;
        assert!((one.end - (settled + (0.002 - settled) * (-1.0_f64).exp())).abs() < 1e-15);
        assert!((mix(0.002, 0.001, rate, source, 1e7).end - settled).abs() < 1e-12);
        // What came in less what went out is what stays.
        let kept = source * 3600.0 - rate * 3600.0 * (one.mean - 0.001);
        assert!((one.end - 0.002 - kept).abs() < 1e-15);
    }

    #[test]
    fn halves_make_a_whole_and_shut_air_only_gains() {
        let whole = mix(0.002, 0.001, 3e-4, 1e-6, 3600.0);
        let half = mix(0.002, 0.001, 3e-4, 1e-6, 1800.0);
        let second = mix(half.end, 0.001, 3e-4, 1e-6, 1800.0);
        assert!((second.end - whole.end).abs() < 1e-15);
        assert!((f64::midpoint(half.mean, second.mean) - whole.mean).abs() < 1e-15);
        assert!((mix(0.002, 0.001, 0.0, 1e-6, 100.0).end - 0.0021).abs() < 1e-12);
    }
}
