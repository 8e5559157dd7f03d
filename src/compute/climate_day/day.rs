//! A day inside a van, hour by hour, from what it is made of and the weather.

use super::Hours;
use super::figures::{Inside, Weather};
use super::mixing::mix;
use super::room::{Hold, Room, Step, Surroundings};
use super::sun::{TO_SKY, sol_air};
use crate::compute::heat::psychrometrics;
use crate::compute::solar::day::Facing;

/// Heat of a person awake and asleep, moisture included, W. Source: [`crate::tables::sources::PEOPLE`].
const PERSON: (f64, f64) = (105.0, 73.0);
/// Moisture of a person awake and asleep, kg/s. Source: [`crate::tables::sources::PEOPLE`].
const MOISTURE: (f64, f64) = (0.050 / 3600.0, 0.040 / 3600.0);
/// Carbon dioxide of a person awake and asleep, m³/s. Source: [`crate::tables::sources::PEOPLE`].
const BREATH: (f64, f64) = (0.0186 / 3600.0, 0.011 / 3600.0);
/// Heat that a kilogram of moisture carries, J/kg. Source: [`crate::tables::sources::ASHRAE_PSYCHROMETRICS`].
const EVAPORATION: f64 = 2.45e6;
/// Carbon dioxide outside, a share of the air. Source: [`crate::tables::sources::CARBON_DIOXIDE`].
pub const OUTSIDE: f64 = 420e-6;
/// Outside this warm, doors and windows stand open while nothing cools, °C. Source: [`crate::tables::sources::AIRED`].
const AIRED_ABOVE: f64 = 20.0;
/// Air changes an hour with them open. Source: [`crate::tables::sources::AIRED`].
const AIRED: f64 = 20.0;
/// Heat capacity of air, J/(kg K).
const OF_AIR: f64 = 1006.0;
/// Days that are run until one is like the one before.
const SETTLE: usize = 6;

/// What a surface does with the light on it.
#[derive(Clone, Copy, Debug)]
pub(super) enum Takes {
    /// Lets this share through.
    Through(f64),
    /// Takes up this share in its skin.
    Skin(f64),
}

/// A surface.
#[derive(Clone, Copy, Debug)]
pub(super) struct Face {
    pub(super) area: f64,
    /// W/(m²K) by day, and at night with covers on.
    pub(super) u_value: (f64, f64),
    /// Level: 1; upright: 0; the underside is in no sun.
    pub(super) up: bool,
    pub(super) down: bool,
    pub(super) takes: Takes,
}

/// A van as a day sees it.
#[derive(Clone, Debug)]
pub(super) struct Van {
    pub(super) faces: Vec<Face>,
    /// Heat that warms it by one kelvin, J/K.
    pub(super) capacity: f64,
    /// Air inside, m³.
    pub(super) volume: f64,
    pub(super) people: f64,
    /// Heat of appliances, W.
    pub(super) appliances: f64,
    /// Air changes an hour.
    pub(super) changes: f64,
    pub(super) heater: Option<Hold>,
    pub(super) cooler: Option<Hold>,
    /// Share of each hour in which the cooler is on.
    pub(super) on: Hours,
}

/// Air outside.
#[derive(Clone, Copy, Debug)]
pub(super) struct Air {
    /// Pressure, Pa.
    pub(super) pressure: f64,
    /// Moisture, kg per kg of dry air.
    pub(super) moisture: f64,
    /// Relative humidity, a share.
    pub(super) humidity: f64,
}

/// What runs on from hour to hour.
#[derive(Clone, Copy)]
struct State {
    celsius: f64,
    moisture: f64,
    carbon_dioxide: f64,
}

pub(super) fn awake(hour: usize) -> bool {
    (7..22).contains(&hour)
}

const fn by_day(of: (f64, f64), day: bool) -> f64 {
    if day { of.0 } else { of.1 }
}

impl Van {
    /// The day that is like the one before it. `None` where no figure is possible.
    pub(super) fn day(&self, weather: &Weather, air: &Air, start: f64) -> Option<Inside> {
        self.run(weather, air, start, 1)
    }

    /// The same, each hour in so many steps.
    fn run(&self, weather: &Weather, air: &Air, start: f64, steps: u8) -> Option<Inside> {
        let level = weather.sun.on_plane(0.0, Facing::Any, weather.albedo.0);
        let upright = weather.sun.on_plane(90.0, Facing::Any, weather.albedo.0);
        let mut state = State { celsius: start, moisture: air.moisture, carbon_dioxide: OUTSIDE };
        let mut inside = Inside::default();
        for _ in 0..SETTLE {
            inside = Inside { on: self.on, ..Inside::default() };
            let before = state;
            for hour in 0..24 {
                let on = self.on[hour].clamp(0.0, 1.0);
                for (cools, share) in [(true, on), (false, 1.0 - on)] {
                    let share = share / f64::from(steps);
                    for _ in (0..steps).filter(|_| share > 0.0) {
                        let light = (level[hour], upright[hour]);
                        self.part(hour, cools, share, light, weather, air, &mut state, &mut inside)?;
                    }
                }
                (inside.moisture[hour], inside.carbon_dioxide[hour]) = (state.moisture, state.carbon_dioxide);
                let humidity = psychrometrics::relative(inside.celsius[hour], state.moisture, air.pressure);
                inside.humidity[hour] = humidity?;
            }
            inside.heat[2] = self.capacity * (state.celsius - before.celsius);
            inside.water[3] = self.dry_air(air)? * (state.moisture - before.moisture);
        }
        Some(inside)
    }

    /// Dry air inside, kg; that of 20 °C.
    fn dry_air(&self, air: &Air) -> Option<f64> {
        Some(self.volume * psychrometrics::density(20.0, 0.0, air.pressure)?)
    }

    /// A share of an hour in which the cooler is on or not.
    #[expect(clippy::too_many_arguments, reason = "an hour, what shines on it, and what runs on")]
    fn part(
        &self,
        hour: usize,
        cools: bool,
        share: f64,
        (level, upright): (f64, f64),
        weather: &Weather,
        air: &Air,
        state: &mut State,
        inside: &mut Inside,
    ) -> Option<()> {
        let (day, outside, seconds) = (awake(hour), weather.air[hour], 3600.0 * share);
        let aired = !cools && outside > AIRED_ABOVE;
        let changes = if aired { self.changes.max(AIRED) } else { self.changes };
        let dry = self.dry_air(air)?;
        let flow = dry * changes / 3600.0;
        // Heat goes by the air outside, as the loss of the coldest night does.
        let drawn_in = psychrometrics::density(outside, air.humidity, air.pressure)? * self.volume * changes / 3600.0;
        let (mut conductance, mut pulls, mut glass) = (drawn_in * OF_AIR, drawn_in * OF_AIR * outside, 0.0);
        for face in &self.faces {
            let light = if face.down {
                0.0
            } else if face.up {
                level
            } else {
                upright
            };
            let per_kelvin = face.area * by_day(face.u_value, day);
            let (around, through) = match face.takes {
                Takes::Through(share) => (outside, face.area * share * light),
                Takes::Skin(share) => (sol_air(outside, light, share, if face.up { TO_SKY } else { 0.0 }), 0.0),
            };
            conductance += per_kelvin;
            pulls += per_kelvin * around;
            glass += through;
        }
        let moisture = self.people * by_day(MOISTURE, day);
        // What evaporates from people is heat again where a cold coil takes it out of the air.
        let dry_heat = self.people * by_day(PERSON, day) - moisture * EVAPORATION;
        let wet_heat = if cools { moisture * EVAPORATION } else { 0.0 };
        let gains = glass + self.appliances + dry_heat + wet_heat;
        let around = Surroundings { conductance, around: pulls / conductance, gains };
        let room = Room { capacity: self.capacity, heater: self.heater, cooler: self.cooler.filter(|_| cools) };
        let Step { end, mean, through, heated, cooled } = room.step(state.celsius, &around, seconds);
        state.celsius = end;
        inside.celsius[hour] += mean * share;
        inside.heated[hour] += heated / 3600.0;
        inside.cooled[hour] += cooled / 3600.0;
        if let Some(cooler) = room.cooler {
            inside.to_take[hour] = around.heat_in(cooler.celsius);
            inside.by_shell[hour] = inside.to_take[hour] - gains;
            inside.by_glass[hour] = glass;
        }
        inside.heat[0] += through + heated - cooled;
        inside.heat[1] += gains * seconds;
        let given = if cools { 0.0 } else { moisture };
        let outdoors = air.moisture.min(psychrometrics::humidity_ratio(outside, 1.0, air.pressure)?);
        let mixed = mix(state.moisture, outdoors, changes / 3600.0, given / dry, seconds);
        let most = psychrometrics::humidity_ratio(mean, 1.0, air.pressure)?;
        let condensed = (mixed.end - most).max(0.0);
        inside.water[0] += given * seconds;
        inside.water[1] += flow * (mixed.mean - outdoors) * seconds;
        inside.water[2] += condensed * dry;
        state.moisture = mixed.end - condensed;
        let breath = self.people * by_day(BREATH, day) / self.volume;
        state.carbon_dioxide = mix(state.carbon_dioxide, OUTSIDE, changes / 3600.0, breath, seconds).end.min(1.0);
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::climate_day::air;
    use crate::compute::solar::day::SunDay;
    use crate::units::{Celsius, Ratio};

    fn weather(latitude: f64, month: i64, irradiation: f64, low: f64, high: f64) -> Weather {
        Weather {
            sun: SunDay::of(latitude, month, irradiation).expect("month"),
            air: air::temperatures(Celsius(low), Celsius(high)),
            low: Celsius(low),
            high: Celsius(high),
            albedo: Ratio(0.25),
        }
    }

    fn van() -> Van {
        let face = |area, up, down, takes| Face { area, u_value: (1.0, 0.8), up, down, takes };
        Van {
            faces: vec![
                face(7.0, true, false, Takes::Skin(0.6)),
                face(16.0, false, false, Takes::Skin(0.6)),
                face(7.0, false, true, Takes::Skin(0.6)),
                face(1.5, false, false, Takes::Through(0.7)),
            ],
            capacity: 560_000.0,
            volume: 12.0,
            people: 3.0,
            appliances: 60.0,
            changes: 1.0,
            heater: Some(Hold { celsius: 20.0, most: 4000.0 }),
            cooler: Some(Hold { celsius: 26.0, most: 2000.0 }),
            on: std::array::from_fn(|h| {
                if (11..17).contains(&h) {
                    1.0
                } else if h == 17 {
                    0.5
                } else {
                    0.0
                }
            }),
        }
    }

    /// Heat and water that come in less what goes out are what stays, to a billionth of what passes in a day; at
    /// −40 °C, in the polar night, at 45 °C and 90 % and on a mountain.
    #[test]
    fn no_heat_and_no_water_is_lost() {
        for (latitude, month, sun, low, high, humidity, altitude) in [
            (44.0, 1, 1.6, -14.0, -3.0, 0.75, 1650.0),
            (44.0, 7, 7.0, 12.0, 32.0, 0.3, 900.0),
            (75.0, 12, 0.0, -40.0, -32.0, 0.8, 0.0),
            (10.0, 5, 6.0, 30.0, 45.0, 0.9, 4500.0),
        ] {
            let pressure = psychrometrics::pressure(altitude).expect("air");
            let moisture = psychrometrics::humidity_ratio(f64::midpoint(low, high), humidity, pressure).expect("air");
            let day = van().day(&weather(latitude, month, sun, low, high), &Air { pressure, moisture, humidity }, 20.0);
            let inside = day.expect("a day");
            let [through, gains, stays] = inside.heat;
            assert!((through + gains - stays).abs() < 1e-9 * gains.abs().max(through.abs()), "{:?}", inside.heat);
            let [given, out, condensed, stays] = inside.water;
            assert!((given - out - condensed - stays).abs() < 1e-9 * given, "{:?}", inside.water);
            assert!(inside.celsius.iter().chain(&inside.moisture).chain(&inside.cooled).all(|v| v.is_finite()));
        }
    }

    /// Nobody aboard, no sun, a heater: what it gives is the loss of the steady state, to the digit.
    #[test]
    fn a_still_winter_night_is_the_steady_loss() {
        let mut van = Van { people: 0.0, appliances: 0.0, cooler: None, on: [0.0; 24], ..van() };
        van.faces.iter_mut().for_each(|f| (f.up, f.u_value) = (false, (1.0, 1.0)));
        let air = Air { pressure: 101_325.0, moisture: 0.000_63, humidity: 1.0 };
        let inside = van.day(&weather(75.0, 12, 0.0, -20.0, -20.0), &air, 20.0).expect("a day");
        let dry = 12.0 * psychrometrics::density(-20.0, 1.0, 101_325.0).expect("air");
        let loss = (31.5 + dry * 1006.0 / 3600.0) * 40.0;
        assert!(inside.heated.iter().all(|w| (w - loss).abs() < 1e-6), "{loss} {:?}", inside.heated);
        assert!(inside.moisture.iter().all(|w| (w - 0.000_63).abs() < 2e-5), "{:?}", inside.moisture);
    }

    /// The reference van of `envelope-ua.csv` with the air of each row of `infiltration.csv`: what the heater gives is the
    /// loss of the one and of the other, as computed outside.
    #[test]
    fn a_steady_day_as_computed_outside() {
        use crate::tables::reference::{num, rows};
        let (mut faces, mut shell, mut worst) = (Vec::new(), 0.0, 0.0_f64);
        for row in rows("envelope-ua") {
            if row["surface"] == "TOTAL" {
                shell = num(&row, "UA_W_K");
                continue;
            }
            let u = num(&row, "U_W_m2K");
            let takes = Takes::Skin(0.0);
            faces.push(Face { area: num(&row, "area_m2"), u_value: (u, u), up: false, down: false, takes });
        }
        let cases = rows("infiltration");
        for row in &cases {
            let (low, inside) = (num(row, "T_out_C"), num(row, "T_in_C"));
            let van = Van {
                faces: faces.clone(),
                volume: num(row, "volume_m3"),
                changes: num(row, "air_changes_per_h"),
                heater: Some(Hold { celsius: inside, most: 1e5 }),
                people: 0.0,
                appliances: 0.0,
                cooler: None,
                on: [0.0; 24],
                ..van()
            };
            let pressure = psychrometrics::pressure(num(row, "altitude_m")).expect("air");
            let humidity = num(row, "RH_out");
            let moisture = psychrometrics::humidity_ratio(low, humidity, pressure).expect("air");
            let air = Air { pressure, moisture, humidity };
            let day = van.day(&weather(75.0, 12, 0.0, low, low), &air, inside).expect("a day");
            let expected = shell * (inside - low) + num(row, "Q_infiltration_W");
            let given = day.heated.iter().sum::<f64>() / 24.0;
            worst = worst.max((given / expected - 1.0).abs());
        }
        assert!(cases.len() >= 4 && worst < 1e-5, "worst {worst}");
    }

    /// A day in hours and the same day in quarters of an hour: no figure that is printed differs, of heat by 1e-6, of air
    /// by a thousandth (what condenses is cut off at the end of each step).
    #[test]
    fn smaller_steps_change_no_figure() {
        for (month, sun, low, high) in [(1, 1.6, -14.0, -3.0), (7, 7.0, 22.0, 38.0), (4, 4.0, 2.0, 16.0)] {
            let pressure = psychrometrics::pressure(900.0).expect("air");
            let moisture = psychrometrics::humidity_ratio(f64::midpoint(low, high), 0.5, pressure).expect("air");
            let (weather, air) = (weather(44.0, month, sun, low, high), Air { pressure, moisture, humidity: 0.5 });
            let [whole, quarters] = [1, 4].map(|steps| van().run(&weather, &air, 20.0, steps).expect("a day"));
            let near = |a: &Hours, b: &Hours, within: f64| {
                a.iter().zip(b).all(|(a, b)| (a - b).abs() <= within * a.abs().max(b.abs()).max(1e-9))
            };
            assert!(near(&whole.celsius, &quarters.celsius, 1e-6), "{:?} {:?}", whole.celsius, quarters.celsius);
            assert!(near(&whole.heated, &quarters.heated, 1e-6) && near(&whole.cooled, &quarters.cooled, 1e-6));
            assert!(near(&whole.moisture, &quarters.moisture, 1e-3));
            assert!(near(&whole.carbon_dioxide, &quarters.carbon_dioxide, 1e-9));
        }
    }

    /// Mass balance by hand: three asleep give 33 L of carbon dioxide an hour into 12 m³ of fresh air: 2,750 ppm above
    /// the air outside in the long run, and 93 % of the way in the morning from the 4,650 of the evening.
    #[test]
    fn carbon_dioxide_of_a_night() {
        let air = Air { pressure: 101_325.0, moisture: 0.001, humidity: 0.5 };
        let inside = van().day(&weather(44.0, 1, 1.6, -14.0, -3.0), &air, 20.0).expect("a day");
        let (evening, morning) = (inside.carbon_dioxide[21], inside.carbon_dioxide[6]);
        assert!((evening - (420e-6 + 0.0558 / 12.0)).abs() < 2e-6, "{evening}");
        let settled = 420e-6 + 0.033 / 12.0;
        assert!((morning - (settled + (evening - settled) * (-9.0_f64).exp())).abs() < 1e-9, "{morning}");
    }
}
