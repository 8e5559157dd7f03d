//! A surface that gets wet inside.

use crate::checks::{Check, Context};
use crate::compute::heat::Surface;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Celsius, Ratio};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "surface-below-dew-point",
        severity: Severity::Warning,
        what: "On the coldest usual night the inner face of a surface or window, or a rib in it, is colder than the dew point of the air inside.",
        why: "Water runs down it, soaks the insulation, feeds mould and rust.",
        example: "[shell.cab]\narea = \"3 m2\"\nu_value = \"5.7 W/m2K\"              # bare glass at -12 °C",
        basis: "T = T_i − U R_si ΔT with ISO 6946 films; dew point after ASHRAE. Humidity from what people give off and the air change, unless [use] tells it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let heat = &context.heat;
    let (Some(dew), Some(coldest)) = (context.climate_days.dew_point, &heat.coldest) else { return };
    let humidity = context.climate_days.humidity.unwrap_or_default();
    let coldest_face = |s: &Surface| [s.inner, s.inner_at_rib].into_iter().flatten().reduce(f64::min);
    let wet = heat.surfaces.iter().filter_map(|s| Some((s, coldest_face(s)?)));
    let mut wet: Vec<_> = wet.filter(|(_, inner)| *inner < dew - 1e-9).collect();
    wet.sort_by(|a, b| a.1.total_cmp(&b.1));
    let Some(((surface, inner), others)) = wet.split_first() else { return };
    let show = |t: f64| Celsius(t).show(context.build.prints());
    let span = |id: &str| match id.strip_prefix("shell.") {
        Some(shell) => context.build.shell.get(shell).map(|r| r.span),
        None => context.part(id).map(|p| p.span),
    };
    let at_rib = if surface.inner_at_rib == Some(*inner) { " at its ribs" } else { "" };
    let headline =
        format!("{}{at_rib} is at {} inside, the air there is wet below {}", surface.id, show(*inner), show(dew));
    let subject = surface.id.trim_start_matches("shell.").to_owned();
    let mut finding = Finding::warning(CHECK.doc.name, headline).about(subject);
    if let Some(span) = span(&surface.id) {
        finding = finding.at(span, format!("{} W/m²K", crate::units::significant(surface.u_value, 3)));
    }
    for (other, inner) in others {
        if let Some(span) = span(&other.id) {
            finding = finding.label(span, format!("{} inside", show(*inner)));
        }
    }
    let day = context.climate_days.days.get(&coldest.climate);
    let hours = day.map_or(0.0, |d| d.wet.get(&surface.id).map_or(0.0, |w| w.face));
    if hours > 0.0 {
        finding = finding.basis(format!("wet in {} of the 24 hours of that day", crate::units::number(hours)));
    }
    sink.push(
        finding
            .basis(format!(
                "{} and {} inside, {} outside ({})",
                show(heat.inside),
                Ratio((humidity * 100.0).round() / 100.0).show(context.build.prints()),
                show(coldest.celsius),
                coldest.climate
            ))
            .help("more insulation, over the ribs too (`rib_thickness`), or a cover outside the pane; drier air: a fan or vents that stay open and more `air_change` in [use]"),
    );
}
