//! The surfaces of a build: the shell with the ribs that bridge its insulation, and the windows.

use super::envelope::{self, Bridged, Insulated, Ribs};
use super::figures::{Heat, Surface, of_role};
use crate::build::{Build, Part};
use crate::kinds::ThermalRole;

pub(super) fn surfaces(heat: &mut Heat, build: &Build<'_>) {
    for (id, record) in &build.shell {
        let faces = record.faces.text().map(str::to_owned);
        let ribs = bridged(build, record, faces.as_deref());
        let u_value = record.u_value.get().map(|u| u.0).or_else(|| ribs.map(|r| r.whole));
        match record.area.get().map(|a| a.0).zip(u_value) {
            Some((area, u_value)) => {
                let solar_gain = record.solar_gain.get().map(|r| r.0);
                // A U-value as given has in it what it has in it.
                let ribs = ribs.filter(|r| record.u_value.get().is_none() && r.share > 0.0);
                let id = format!("shell.{id}");
                heat.surfaces.push(Surface {
                    id,
                    area,
                    u_value,
                    by_day: u_value,
                    cover_outside: false,
                    faces,
                    ribs,
                    inner: None,
                    inner_at_rib: None,
                    behind_cover: None,
                    solar_gain,
                });
            }
            None => heat.unknown.push(id.clone()),
        }
    }
    heat.surfaces.extend(of_role(build, ThermalRole::Window).filter_map(|w| window(build, w)));
    let Some(coldest) = &heat.coldest else { return };
    for surface in &mut heat.surfaces {
        let resistance = envelope::inside_resistance(surface.faces.as_deref());
        let face = |u_value| envelope::inner_face(u_value, resistance, heat.inside, coldest.celsius);
        // Between the ribs it is as warm as there are none.
        surface.inner = Some(face(surface.ribs.map_or(surface.u_value, |r| r.clear)));
        surface.inner_at_rib = surface.ribs.map(|r| face(r.rib));
        // What is left of the way to the outside behind the face of the bare pane.
        let pane = surface.is_covered().then(|| surface.u_value * (1.0 / surface.by_day - resistance));
        surface.behind_cover = pane.map(|left| coldest.celsius + left * (heat.inside - coldest.celsius));
    }
}

/// A surface by its insulation and the ribs in it. `None` where its insulation is not told.
fn bridged(build: &Build<'_>, record: &crate::spec::Surface, faces: Option<&str>) -> Option<Bridged> {
    let insulated = Insulated {
        thickness: record.thickness.get()?.0,
        conductivity: record.conductivity.get()?.0,
        inside: envelope::inside_resistance(faces),
    };
    let none = Ribs { share: 0.0, cover: 0.0, width: 0.0, metal: true };
    ribs(build, faces).unwrap_or(none).bridge(&insulated)
}

/// Ribs of the insulation against heat that covers the surface which faces so.
fn ribs(build: &Build<'_>, faces: Option<&str>) -> Option<Ribs> {
    let covers: &[&str] = match faces {
        Some("up") => &["roof"],
        Some("down") => &["floor"],
        Some("front") => &["cab", "bulkhead"],
        Some("rear") => &["doors", "walls"],
        _ => &["walls"],
    };
    let against_heat = || {
        let all = of_role(build, ThermalRole::Insulation).filter_map(|p| p.roles.insulation.as_ref());
        all.filter(|i| i.purpose.text() != Some("sound"))
    };
    let of = |word: &&str| against_heat().find(|i| i.surface.text() == Some(*word));
    let insulation = covers.iter().find_map(of)?;
    Some(Ribs {
        share: insulation.rib_share.get()?.0,
        cover: insulation.rib_thickness.get()?.0,
        width: insulation.rib_width.get()?.0,
        metal: insulation.rib_material.text() != Some("wood"),
    })
}

/// A window with what covers it at night.
fn window(build: &Build<'_>, part: &Part<'_>) -> Option<Surface> {
    let area = part.roles.glazed_area().get().map(|q| q.0)? * part.times();
    let bare = part.roles.heat_loss().get()?.0;
    let (mut u_value, mut cover_outside) = (bare, false);
    if area > 0.0 {
        for cover in of_role(build, ThermalRole::Cover) {
            let covered = cover.roles.window().all();
            if !covered.iter().any(|w| w.value == part.id) {
                continue;
            }
            let (Some(whole), Some(u)) = (cover.roles.area().get().map(|q| q.0), cover.roles.heat_loss().get()) else {
                continue;
            };
            let panes: f64 = covered
                .iter()
                .filter_map(|w| build.parts.get(&w.value))
                .filter_map(|w| Some(w.roles.glazed_area().get().map(|q| q.0)? * w.times()))
                .sum();
            let share = (whole * cover.times() / panes.max(1e-9)).min(1.0);
            let covered = envelope::parallel(bare, u.0, share);
            if covered < u_value {
                u_value = covered;
                cover_outside = cover.roles.cover.as_ref().is_some_and(|c| c.outside.is_set());
            }
        }
    }
    let faces = part.roles.side().text().map(|s| match s {
        "roof" => "up".to_owned(),
        "cab" => "front".to_owned(),
        other => other.to_owned(),
    });
    let solar_gain = part.roles.solar_gain().get().map(|r| r.0);
    Some(Surface {
        id: part.id.clone(),
        area,
        u_value,
        by_day: bare,
        cover_outside,
        behind_cover: None,
        faces,
        ribs: None,
        inner: None,
        inner_at_rib: None,
        solar_gain,
    })
}
