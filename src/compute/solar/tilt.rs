//! What falls on a tilted plane: isotropic sky and ground (Liu and Jordan 1963; Duffie & Beckman 2.15 and 2.19).

/// Irradiance on a tilted plane, W/m² (or any unit of its inputs; Duffie & Beckman 2.15.1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnPlane {
    /// From the sun itself.
    pub beam: f64,
    /// From the sky.
    pub sky: f64,
    /// Thrown back by the ground.
    pub ground: f64,
}

impl OnPlane {
    /// All three.
    #[must_use]
    pub fn total(self) -> f64 {
        self.beam + self.sky + self.ground
    }
}

/// Irradiance on a plane tilted by `tilt` degrees. `beam` and `diffuse` are those of the level plane, `rb` the ratio
/// of the beam on the tilted plane to it, `albedo` the share that the ground throws back.
#[must_use]
pub fn isotropic(beam: f64, diffuse: f64, rb: f64, tilt: f64, albedo: f64) -> OnPlane {
    let cos = tilt.to_radians().cos();
    OnPlane {
        beam: (beam * rb).max(0.0),
        sky: diffuse * f64::midpoint(1.0, cos),
        ground: (beam + diffuse) * albedo * f64::midpoint(1.0, -cos),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::solar::extraterrestrial;
    use crate::compute::solar::geometry::{Convention, cos_incidence, declination, sunset_angle};
    use crate::compute::solar::split::diffuse_share_of_month;
    use crate::tables::reference::{num, rows};

    /// Monthly mean `R_b` of a plane tilted by `tilt` that faces the equator (Duffie & Beckman 2.19.3). `None` in the
    /// polar night, where there is no beam to compare with.
    fn monthly_rb(latitude: f64, day: f64, tilt: f64) -> Option<f64> {
        let d = declination(day, Convention::Cooper);
        // Seen from the southern hemisphere the same with all signs changed.
        let (l, d) = if latitude < 0.0 { (-latitude, -d) } else { (latitude, d) };
        let level = sunset_angle(l, d).to_radians();
        let sunset = sunset_angle(l, d).min(sunset_angle(l - tilt, d)).to_radians();
        let (leaning, l, d) = ((l - tilt).to_radians(), l.to_radians(), d.to_radians());
        let on_level = l.cos() * d.cos() * level.sin() + level * l.sin() * d.sin();
        let on_plane = leaning.cos() * d.cos() * sunset.sin() + sunset * leaning.sin() * d.sin();
        (on_level > 1e-9).then(|| (on_plane / on_level).max(0.0))
    }

    /// Monthly mean irradiation on a tilted plane that faces the equator (Duffie & Beckman 2.19.1), in the unit of
    /// `irradiation`, which is that of the level plane; `above_air` in the same unit. No sun gives 0.
    fn monthly(latitude: f64, day: f64, irradiation: f64, above_air: f64, tilt: f64, albedo: f64) -> f64 {
        let Some(rb) = monthly_rb(latitude, day, tilt).filter(|_| above_air > 0.0) else { return 0.0 };
        let sunset = sunset_angle(latitude, declination(day, Convention::Cooper));
        let diffuse = irradiation * diffuse_share_of_month(irradiation / above_air, sunset);
        isotropic(irradiation - diffuse, diffuse, rb, tilt, albedo).total()
    }

    /// The end-to-end test: Duffie & Beckman Example 2.19.1 (Madison, 43° N, tilt 60°), all twelve months against the
    /// printed answers.
    #[test]
    fn a_collector_in_madison_month_by_month() {
        let table = rows("duffie-beckman-madison-2-19-1");
        assert_eq!(table.len(), 12);
        for row in table {
            let day = num(&row, "mean_day");
            let above = extraterrestrial::daily(43.0, day, Convention::Cooper);
            assert!((above - num(&row, "H0_published")).abs() < 0.06, "{above}");
            let level = num(&row, "H_published_MJ_m2");
            let rb = monthly_rb(43.0, day, 60.0).expect("sun");
            assert!((rb - num(&row, "Rb")).abs() < 1e-4, "{rb}");
            let share = diffuse_share_of_month(level / above, sunset_angle(43.0, declination(day, Convention::Cooper)));
            assert!((share - num(&row, "Hd_over_H_erbs")).abs() < 1e-4, "{share}");
            let got = monthly(43.0, day, level, above, 60.0, num(&row, "albedo"));
            assert!((got - num(&row, "HT_published_MJ_m2")).abs() < 0.06, "{row:?}: {got}");
            assert!((got - num(&row, "HT_computed")).abs() < 1e-3, "{row:?}: {got}");
        }
    }

    /// pvlib 0.16.1 `get_total_irradiance(model='isotropic')`.
    #[test]
    fn planes_agree_with_pvlib() {
        for row in rows("solar-poa-isotropic") {
            let (zenith, azimuth) = (num(&row, "zenith_deg").to_radians(), num(&row, "solar_azimuth_deg"));
            let (tilt, faces) = (num(&row, "tilt_deg"), num(&row, "surface_azimuth_deg"));
            let t = tilt.to_radians();
            let cos = zenith.cos() * t.cos() + zenith.sin() * t.sin() * (azimuth - faces).to_radians().cos();
            let beam = num(&row, "dni") * zenith.cos();
            let plane = isotropic(beam, num(&row, "dhi"), cos / zenith.cos(), tilt, num(&row, "albedo"));
            // pvlib takes the ground's light from `ghi` as given, here from its two parts.
            let ground = plane.ground * num(&row, "ghi") / (beam + num(&row, "dhi"));
            assert!((plane.beam - num(&row, "poa_direct")).abs() < 2e-4, "{row:?}");
            assert!((plane.sky - num(&row, "poa_sky_diffuse")).abs() < 2e-4);
            assert!((ground - num(&row, "poa_ground_diffuse")).abs() < 2e-4);
        }
    }

    /// Duffie & Beckman Example 1.8.1: `R_b` 1.66 for the geometry of Example 1.6.1.
    #[test]
    fn ratio_of_one_hour_as_published() {
        let d = declination(44.0, Convention::Cooper);
        let rb = cos_incidence(43.0, d, -22.5, 45.0, 15.0) / cos_incidence(43.0, d, -22.5, 0.0, 0.0);
        assert!((rb - 1.66).abs() < 0.005, "{rb}");
    }

    #[test]
    fn level_planes_and_dark_months() {
        assert!((monthly_rb(43.0, 17.0, 0.0).expect("sun") - 1.0).abs() < 1e-12);
        assert_eq!(monthly_rb(75.0, 355.0, 40.0), None);
        assert!(monthly(75.0, 355.0, 0.0, 0.0, 40.0, 0.2).abs() < 1e-12);
        // North and south see the same half a year apart.
        let (north, south) = (monthly_rb(40.0, 172.0, 30.0), monthly_rb(-40.0, 172.0 + 182.5, 30.0));
        assert!((north.expect("sun") - south.expect("sun")).abs() < 1e-6);
    }
}
