//! Faces of the van against the air inside, hour by hour: where water condenses, and for how long.

use super::figures::{Day, Inside, Wet};
use super::{Hours, day};
use crate::compute::heat::{Heat, Surface, envelope, psychrometrics};

/// Share of the way from outside to inside that is left behind the faces of a surface.
struct Faces {
    /// Its inner face, at a rib where it has some: with covers off, and on.
    face: (f64, f64),
    /// The pane behind the cover, while that is on.
    pane: Option<f64>,
}

impl Faces {
    fn of(surface: &Surface) -> Self {
        let inside = envelope::inside_resistance(surface.faces.as_deref());
        let left = |u_value: f64| 1.0 - u_value * inside;
        let ribs = surface.ribs.map(|r| left(r.rib.max(r.clear)));
        let covered = surface.is_covered();
        Self {
            face: (ribs.unwrap_or(left(surface.by_day)), ribs.unwrap_or(left(surface.u_value))),
            pane: covered.then(|| surface.u_value * (1.0 / surface.by_day - inside)),
        }
    }
}

/// Dew point of the air inside by hour, °C. `None` where it is dry or beyond what is known of air.
fn dew_points(inside: &Inside, told: Option<f64>) -> Option<Hours> {
    let mut dew = [0.0; 24];
    for (hour, dew) in dew.iter_mut().enumerate() {
        *dew = psychrometrics::dew_point(inside.celsius[hour], told.unwrap_or(inside.humidity[hour]))?;
    }
    Some(dew)
}

/// What a day does to the faces: the coldest pane by hour, and how long each surface is wet. `told` is the humidity of
/// the spec, which goes before that of the day.
pub(super) fn look(day: &mut Day, heat: &Heat, told: Option<f64>) {
    let Some(inside) = &day.inside else { return };
    let outside = &day.weather.air;
    let at = |left: f64, hour: usize| outside[hour] + left * (inside.celsius[hour] - outside[hour]);
    let dew = dew_points(inside, told);
    let mut coldest: Option<Hours> = None;
    for surface in &heat.surfaces {
        let faces = Faces::of(surface);
        let mut wet = Wet::default();
        let mut panes = [0.0; 24];
        for hour in 0..24 {
            let covers = !day::awake(hour);
            let face = at(if covers { faces.face.1 } else { faces.face.0 }, hour);
            let pane = faces.pane.filter(|_| covers).map(|left| at(left, hour));
            panes[hour] = pane.unwrap_or(face);
            if let Some(dew) = &dew {
                wet.face += if face < dew[hour] - 1e-9 { 1.0 } else { 0.0 };
                wet.pane += if pane.is_some_and(|pane| pane < dew[hour] - 1e-9) { 1.0 } else { 0.0 };
            }
        }
        if surface.is_window() {
            let colder = |all: Hours| std::array::from_fn(|h| panes[h].min(all[h]));
            coldest = Some(coldest.map_or(panes, colder));
        }
        day.wet.insert(surface.id.clone(), wet);
    }
    day.pane = coldest;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::climate_day::{Weather, air};
    use crate::compute::solar::day::SunDay;
    use crate::units::{Celsius, Ratio};

    fn surface(u_value: f64, by_day: f64) -> Surface {
        Surface {
            id: "window".to_owned(),
            area: 0.5,
            u_value,
            by_day,
            cover_outside: false,
            faces: None,
            inner: None,
            ribs: None,
            inner_at_rib: None,
            behind_cover: None,
            solar_gain: Some(0.7),
        }
    }

    /// By hand, ISO 6946 films: a pane of 2.8 W/(m²K) under a cover that makes 1.0 of it. At 20 °C inside and −10 °C
    /// outside its own face is at 20 − 2.8 · 0.13 · 30 = 9.1 °C by day; behind the cover it is at
    /// −10 + 1.0 (1/2.8 − 0.13) 30 = −3.2 °C at night, and the cover at 16.1 °C. Air of 50 % is wet below 9.3 °C
    /// (ASHRAE): the pane is wet all day, behind the cover all night, and the cover dry.
    #[test]
    fn a_pane_is_wet_by_day_and_behind_its_cover_at_night() {
        let weather = Weather {
            sun: SunDay::of(44.0, 1, 1.0).expect("sun"),
            air: air::temperatures(Celsius(-10.0), Celsius(-10.0)),
            low: Celsius(-10.0),
            high: Celsius(-10.0),
            albedo: Ratio(0.2),
        };
        let inside = Inside { celsius: [20.0; 24], humidity: [0.5; 24], ..Inside::default() };
        let mut day = Day::of(weather, Some(inside));
        let heat = Heat { surfaces: vec![surface(1.0, 2.8)], ..Heat::default() };
        look(&mut day, &heat, None);
        let pane = day.pane.expect("a window");
        assert!((pane[12] - 9.08).abs() < 1e-9 && (pane[2] - (-10.0 + 30.0 * (1.0 / 2.8 - 0.13))).abs() < 1e-9);
        let wet = day.wet["window"];
        assert!((wet.face - 15.0).abs() < 1e-12 && (wet.pane - 9.0).abs() < 1e-12, "{wet:?}");
        // Dry air wets nothing, nor does a pane that nobody covers at night behind a cover.
        look(&mut day, &heat, Some(0.2));
        assert!(day.wet["window"].face == 0.0 && day.wet["window"].pane == 0.0);
    }
}
