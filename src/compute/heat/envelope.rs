//! Surfaces: heat through them, and how cold they are inside.

use serde::Serialize;

/// Outside surface resistance, m²K/W. Source: [`crate::tables::sources::ISO_6946`].
pub const OUTSIDE: f64 = 0.04;

/// Inside surface resistance by the way the heat flows, m²K/W.
///
/// Sources: [`crate::tables::sources::ISO_6946`], [`crate::tables::sources::ISO_6946_VERTICAL`].
#[must_use]
pub fn inside_resistance(faces: Option<&str>) -> f64 {
    match faces {
        Some("up") => 0.10,
        Some("down") => 0.17,
        _ => 0.13,
    }
}

/// U-value in W/(m²K) of layers (thickness in m, conductivity in W/(mK)) between two surface resistances.
/// `None` where a layer has no conductivity.
#[must_use]
pub fn u_value(inside: f64, layers: &[(f64, f64)], outside: f64) -> Option<f64> {
    let mut resistance = inside + outside;
    for &(thickness, conductivity) in layers {
        if !(thickness >= 0.0 && conductivity > 0.0) {
            return None;
        }
        resistance += thickness / conductivity;
    }
    (resistance > 0.0).then(|| 1.0 / resistance)
}

/// U-value of a surface of which a share is framed: two ways side by side.
#[must_use]
pub fn parallel(cavity: f64, framing: f64, share: f64) -> f64 {
    let share = share.clamp(0.0, 1.0);
    (1.0 - share) * cavity + share * framing
}

/// Conductivity of wood, W/(mK). Source: [`crate::tables::sources::WOOD`].
const WOOD: f64 = 0.13;

/// How far a metal rib draws heat from beside it at the least, m. Source: [`crate::tables::sources::RIB_ZONE`].
const REACH: f64 = 0.013;

/// Ribs that bridge insulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ribs {
    /// Share of the area.
    pub share: f64,
    /// Insulation over them, m.
    pub cover: f64,
    /// Width of one, m.
    pub width: f64,
    /// They are metal: as cold as the skin they stand on.
    pub metal: bool,
}

/// Insulation with its films, in m, W/(mK) and m²K/W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insulated {
    /// Thickness.
    pub thickness: f64,
    /// Conductivity.
    pub conductivity: f64,
    /// Inside surface resistance.
    pub inside: f64,
}

/// U-values of insulation that ribs bridge, W/(m²K).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Bridged {
    /// Between the ribs.
    pub clear: f64,
    /// Straight through a rib.
    pub rib: f64,
    /// Share of the area that the heat of the ribs takes.
    pub share: f64,
    /// Of all of it.
    pub whole: f64,
}

impl Ribs {
    /// Share of the area whose heat flows by the ribs: metal ones draw it from as far beside them as they lie below
    /// the face. Source: [`crate::tables::sources::RIB_ZONE`].
    #[must_use]
    pub fn zone(&self) -> f64 {
        if !(self.metal && self.width > 0.0) {
            return self.share.clamp(0.0, 1.0);
        }
        (self.share * (1.0 + 2.0 * self.cover.max(REACH) / self.width)).clamp(0.0, 1.0)
    }

    /// What they do to `insulated`. `None` where it has no conductivity.
    ///
    /// ISO 6946 leaves out metal that bridges insulation: such ribs take the zone method, wood the combined method.
    #[must_use]
    pub fn bridge(&self, insulated: &Insulated) -> Option<Bridged> {
        let Insulated { thickness, conductivity, inside } = *insulated;
        let cover = self.cover.clamp(0.0, thickness.max(0.0));
        let behind = thickness - cover;
        let clear = u_value(inside, &[(thickness, conductivity)], OUTSIDE)?;
        let share = self.zone();
        if self.metal {
            let rib = u_value(inside, &[(cover, conductivity)], OUTSIDE)?;
            return Some(Bridged { clear, rib, share, whole: parallel(clear, rib, share) });
        }
        let rib = u_value(inside, &[(cover, conductivity), (behind, WOOD)], OUTSIDE)?;
        let over = cover / conductivity;
        let whole = combined(inside, &[(over, over), (behind / conductivity, behind / WOOD)], share, OUTSIDE);
        Some(Bridged { clear, rib, share, whole })
    }
}

/// U-value in W/(m²K) by the combined method: the mean of the upper and the lower limit of the resistance. Each layer
/// as its resistance between the ribs and in them, in m²K/W; `share` is that of the ribs.
///
/// Source: [`crate::tables::sources::ISO_6946_COMBINED`].
#[must_use]
pub fn combined(inside: f64, layers: &[(f64, f64)], share: f64, outside: f64) -> f64 {
    let (upper, lower) = limits(inside, layers, share, outside);
    2.0 / (upper + lower)
}

/// Upper and lower limit of the resistance, m²K/W.
fn limits(inside: f64, layers: &[(f64, f64)], share: f64, outside: f64) -> (f64, f64) {
    let through = |of: fn(&(f64, f64)) -> f64| inside + outside + layers.iter().map(of).sum::<f64>();
    let upper = 1.0 / parallel(1.0 / through(|l| l.0), 1.0 / through(|l| l.1), share);
    // A layer that is not there resists nothing.
    let layer = |&(field, rib): &(f64, f64)| {
        if field > 0.0 && rib > 0.0 { 1.0 / parallel(1.0 / field, 1.0 / rib, share) } else { 0.0 }
    };
    (upper, inside + outside + layers.iter().map(layer).sum::<f64>())
}

/// Temperature in °C of the inner face.
#[must_use]
pub fn inner_face(u_value: f64, inside_resistance: f64, inside: f64, outside: f64) -> f64 {
    inside - u_value * inside_resistance * (inside - outside)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    fn layers(text: &str) -> Vec<(f64, f64)> {
        let layer = |l: &str| {
            let (_, rest) = l.split_once(':')?;
            let (thickness, rest) = rest.split_once("m@")?;
            Some((thickness.parse().ok()?, rest.split('=').next()?.parse().ok()?))
        };
        text.split(';').filter_map(|l| layer(l.trim())).collect()
    }

    #[test]
    fn the_reference_van_loses_what_it_must() {
        let mut total = 0.0;
        for row in rows("envelope-ua") {
            if row["surface"] == "TOTAL" {
                assert!((total / num(&row, "UA_W_K") - 1.0).abs() < 1e-4, "{total}");
                continue;
            }
            let (inside, outside) = (num(&row, "Rsi_m2K_W"), num(&row, "Rse_m2K_W"));
            let framing = layers(&row["framing_layers"]);
            let cavity = u_value(inside, &layers(&row["layers_name:thickness@k=R"]), outside).expect("layers");
            let share = num(&row, "framing_fraction");
            let u = if framing.is_empty() {
                cavity
            } else {
                parallel(cavity, u_value(inside, &framing, outside).expect("layers"), share)
            };
            assert!((u / num(&row, "U_W_m2K") - 1.0).abs() < 1e-4, "{}: {u}", row["surface"]);
            total += u * num(&row, "area_m2");
        }
    }

    /// Wall of a public course text: R 22.92 in US units with its films, U 0.044.
    #[test]
    fn a_worked_wall() {
        let si = |r: f64| r / 5.678_263;
        let wall = [si(0.80), si(1.01), si(0.81), si(19.0), si(0.45)].map(|r| (r, 1.0));
        let u = u_value(si(0.68), &wall, si(0.17)).expect("layers") / 5.678_263;
        assert!((u - 0.0436).abs() < 5e-5, "{u}");
    }

    #[test]
    fn the_inner_face_lies_between_inside_and_outside() {
        assert!((inner_face(2.8, 0.13, 20.0, -14.0) - 7.624).abs() < 1e-9);
        assert_eq!(inner_face(0.0, 0.13, 20.0, -14.0), 20.0);
        assert_eq!(u_value(0.13, &[(0.03, 0.0)], 0.04), None);
        assert_eq!(inside_resistance(Some("up")), 0.10);
    }

    /// The published worked example of the combined method: 3.435, 3.304 and 0.297.
    #[test]
    fn wood_in_wool_as_published() {
        let brick = 0.102 / 0.77;
        let (sheathing, board) = (0.009 / 0.13, 0.0125 / 0.21);
        let studs = (0.14 / 0.04, 0.14 / 0.12);
        let layers = [(brick, brick), (0.18, 0.18), (sheathing, sheathing), studs, (board, board)];
        for row in rows("iso6946-combined-examples") {
            let (upper, lower) = limits(0.13, &layers, 0.15, 0.04);
            assert!((upper - num(&row, "R_upper_published")).abs() < 5e-4, "{upper}");
            assert!((lower - num(&row, "R_lower_published")).abs() < 5e-4, "{lower}");
            let u = combined(0.13, &layers, 0.15, 0.04);
            assert!((u - num(&row, "U_published")).abs() < 5e-4, "{u}");
        }
    }

    /// Steel studs by AISI S250: with its zones the U-value within 0.1 %, and the zone of a 41 mm flange behind a
    /// board of 13 mm within 8 %.
    #[test]
    fn steel_in_insulation_as_the_standard_has_it() {
        for row in rows("aisi-s250-vectors") {
            let zone = num(&row, "OTZ_in") / num(&row, "spacing_in");
            let (clear, rib) = (1.0 / (2.05 + num(&row, "Rcav")), 1.0 / (2.05 + num(&row, "R_steel_zone")));
            let u = parallel(clear, rib, zone);
            assert!((u / num(&row, "U_ip") - 1.0).abs() < 1e-3, "{row:?}: {u}");
            let share = 1.625 / num(&row, "spacing_in");
            let ribs = Ribs { share, cover: 0.0127, width: 0.041_275, metal: true };
            assert!((ribs.zone() / zone - 1.0).abs() < 0.08, "{row:?}: {}", ribs.zone());
        }
    }

    #[test]
    fn ribs_let_through_more_and_none_let_through_nothing_more() {
        let wall = Insulated { thickness: 0.045, conductivity: 0.036, inside: 0.13 };
        let ribs = Ribs { share: 0.1, cover: 0.005, width: 0.06, metal: true };
        let steel = ribs.bridge(&wall).expect("layers");
        let wood = Ribs { metal: false, ..ribs }.bridge(&wall).expect("layers");
        assert!(steel.whole > wood.whole && wood.whole > wood.clear, "{steel:?} {wood:?}");
        let none = Ribs { share: 0.0, ..ribs }.bridge(&wall).expect("layers");
        assert!((none.whole - none.clear).abs() < 1e-12);
        // Covered as thick as the field, a steel rib is no bridge.
        let deep = Ribs { cover: 0.2, ..ribs }.bridge(&wall).expect("layers");
        assert!((deep.whole - deep.clear).abs() < 1e-12);
        assert_eq!(ribs.bridge(&Insulated { conductivity: 0.0, ..wall }), None);
    }
}
