//! Surfaces: heat through them, and how cold they are inside.

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
}
