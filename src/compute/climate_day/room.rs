//! A room with a lump of heat and a thermostat: its temperature in closed form, whatever the step.

/// What surrounds a room for a while.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Heat that passes shell and air, W/K; above zero.
    pub conductance: f64,
    /// Temperature that they act as if they had, °C.
    pub around: f64,
    /// Heat given off inside, W.
    pub gains: f64,
}

impl Surroundings {
    /// Heat that comes in at `celsius` inside, W.
    #[must_use]
    pub fn heat_in(&self, celsius: f64) -> f64 {
        self.conductance * (self.around - celsius) + self.gains
    }
}

/// What a thermostat holds, and the most that it has for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Temperature held, °C.
    pub celsius: f64,
    /// Most heat given or taken, W; above zero.
    pub most: f64,
}

/// A room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Heat that warms it by one kelvin, J/K; above zero.
    pub capacity: f64,
    /// Heater, below whose temperature it gives heat.
    pub heater: Option<Hold>,
    /// Cooler, above whose temperature it takes heat.
    pub cooler: Option<Hold>,
}

/// What a while did to a room.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Step {
    /// Temperature at its end, °C.
    pub end: f64,
    /// Mean temperature, °C.
    pub mean: f64,
    /// Heat that came in by shell and air, J; negative where it went out.
    pub through: f64,
    /// Heat of the heater, J.
    pub heated: f64,
    /// Heat that the cooler took, J.
    pub cooled: f64,
}

/// Nearer than this a temperature is held, K.
const AT: f64 = 1e-9;

impl Room {
    /// `seconds` from a temperature of `from` °C. Each stretch in which the thermostat does one thing is solved exactly.
    #[must_use]
    pub fn step(&self, from: f64, around: &Surroundings, seconds: f64) -> Step {
        let mut step = Step { end: from, ..Step::default() };
        let (mut left, mut area) = (seconds, 0.0);
        // Warm up, hold, float, hold: a few stretches at most.
        for _ in 0..8 {
            if left <= 0.0 {
                break;
            }
            let (power, until) = self.does(step.end, around);
            let settled = around.around + (around.gains + power) / around.conductance;
            let per_second = around.conductance / self.capacity;
            let reach = until.and_then(|until| {
                let ratio = (step.end - settled) / (until - settled);
                (ratio > 1.0).then(|| ratio.ln() / per_second)
            });
            let lasts = reach.map_or(left, |t| t.min(left));
            let gone = -(-per_second * lasts).exp_m1();
            let mean = settled + (step.end - settled) * gone / (per_second * lasts).max(f64::MIN_POSITIVE);
            let end = step.end + (settled - step.end) * gone;
            step.end = match until {
                Some(until) if reach.is_some_and(|t| t <= left) => until,
                _ => end,
            };
            area += mean * lasts;
            step.through += around.conductance * (around.around - mean) * lasts;
            step.heated += power.max(0.0) * lasts;
            step.cooled += (-power).max(0.0) * lasts;
            left -= lasts;
        }
        step.mean = if seconds > 0.0 { area / seconds } else { from };
        step
    }

    /// What the thermostat gives (negative: takes) at `now`, W, and the temperature at which it does something else.
    fn does(&self, now: f64, around: &Surroundings) -> (f64, Option<f64>) {
        let comes = around.heat_in(now);
        if let Some(cooler) = self.cooler {
            if now > cooler.celsius + AT {
                return (-cooler.most, Some(cooler.celsius));
            }
            if now >= cooler.celsius - AT && comes > 0.0 {
                return (-comes.min(cooler.most), None);
            }
        }
        if let Some(heater) = self.heater {
            if now < heater.celsius - AT {
                return (heater.most, Some(heater.celsius));
            }
            if now <= heater.celsius + AT && comes < 0.0 {
                return ((-comes).min(heater.most), None);
            }
        }
        let next = if comes > 0.0 { self.cooler } else { self.heater };
        (0.0, next.map(|hold| hold.celsius))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BARE: Room = Room { capacity: 500_000.0, heater: None, cooler: None };
    const COLD: Surroundings = Surroundings { conductance: 50.0, around: -10.0, gains: 200.0 };

    /// Closed form of a lump of heat: `T = T_∞ + (T_0 − T_∞) e^(−K t / C)`; a time constant here is 10,000 s.
    #[test]
    fn a_step_goes_as_the_closed_form_has_it() {
        let step = BARE.step(20.0, &COLD, 10_000.0);
        assert!((step.end - (-6.0 + 26.0 * (-1.0_f64).exp())).abs() < 1e-12);
        assert!((BARE.step(20.0, &COLD, 1e7).end - -6.0).abs() < 1e-9);
        let stored = BARE.capacity * (step.end - 20.0);
        assert!((stored - (step.through + 200.0 * 10_000.0)).abs() < 1e-6);
    }

    #[test]
    fn heat_that_is_held_is_the_loss_and_a_weak_heater_settles_below() {
        let room = Room { heater: Some(Hold { celsius: 20.0, most: 2000.0 }), ..BARE };
        let held = room.step(20.0, &COLD, 3600.0);
        assert!((held.heated / 3600.0 - (50.0 * 30.0 - 200.0)).abs() < 1e-9 && held.end == 20.0);
        let weak = Room { heater: Some(Hold { celsius: 20.0, most: 500.0 }), ..BARE };
        assert!((weak.step(20.0, &COLD, 1e7).end - (-10.0 + 700.0 / 50.0)).abs() < 1e-9);
        let warmed = room.step(5.0, &COLD, 36_000.0);
        assert!((warmed.end - 20.0).abs() < 1e-12 && warmed.heated > held.heated * 10.0);
    }

    /// From too hot down to the thermostat, held there, and back to floating: whatever the step, the same.
    #[test]
    fn halves_make_a_whole_and_no_heat_is_lost() {
        let cooler = Some(Hold { celsius: 26.0, most: 1800.0 });
        for (from, around, gains, most) in [
            (38.0, 40.0, 500.0, 1800.0),
            (27.0, 20.0, 100.0, 1800.0),
            (30.0, 45.0, 900.0, 400.0),
            (24.0, 41.0, 10.0, 9e3),
        ] {
            let room = Room { cooler: cooler.map(|c| Hold { most, ..c }), ..BARE };
            let around = Surroundings { conductance: 55.0, around, gains };
            let whole = room.step(from, &around, 3600.0);
            let mut parts = Step { end: from, ..Step::default() };
            for _ in 0..8 {
                let part = room.step(parts.end, &around, 450.0);
                parts.end = part.end;
                parts.cooled += part.cooled;
                parts.through += part.through;
            }
            assert!((whole.end - parts.end).abs() < 1e-8, "{whole:?} {parts:?}");
            assert!((whole.cooled - parts.cooled).abs() < 1e-2, "{whole:?} {parts:?}");
            let stored = room.capacity * (whole.end - from);
            let came = whole.through + gains * 3600.0 - whole.cooled;
            assert!((stored - came).abs() < 1e-9 * came.abs().max(1e6), "{stored} {came}");
        }
    }
}
