//! A pane that gets wet behind the cover that keeps the room's heat from it.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Celsius, number};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "pane-below-dew-point",
        severity: Severity::Warning,
        what: "On the coldest usual night a pane behind its cover is colder than the dew point of the air inside.",
        why: "The cover keeps the heat of the room from the pane, not its damp: water or frost stands on the pane in the morning, runs into the frame and feeds mould.",
        example: "[component.cover]\nkind = \"window-cover\"\nwindow = \"window\"\nheat_loss = \"1 W/m2K\"          # and -12 °C outside",
        basis: "T = T_o + U_c (1/U_p − R_si) ΔT with ISO 6946 films, as if damp air got behind the cover; dew point after ASHRAE, hour by hour. How tight a cover shuts is not known.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let (heat, days) = (&context.heat, &context.climate_days);
    let (Some(dew), Some(coldest)) = (days.dew_point, &heat.coldest) else { return };
    let Some(day) = days.days.get(&coldest.climate) else { return };
    let wet = heat.surfaces.iter().filter_map(|s| {
        let hours = day.wet.get(&s.id)?.pane;
        Some((s, s.behind_cover?, hours)).filter(|(_, pane, hours)| *hours > 0.0 && *pane < dew - 1e-9)
    });
    let mut wet: Vec<_> = wet.collect();
    wet.sort_by(|a, b| a.1.total_cmp(&b.1));
    let Some(((surface, pane, hours), others)) = wet.split_first() else { return };
    let show = |t: f64| Celsius(t).show(context.build.prints());
    let headline = format!(
        "behind its cover {} is at {} and wet in {} of the 9 hours of the night",
        surface.id,
        show(*pane),
        number(*hours)
    );
    let mut finding = Finding::warning(CHECK.doc.name, headline).about(&surface.id);
    if let Some(part) = context.part(&surface.id) {
        finding = finding.at(part.span, format!("{} on the pane", show(*pane)));
    }
    for (other, pane, _) in others {
        if let Some(part) = context.part(&other.id) {
            finding = finding.label(part.span, format!("{} on the pane", show(*pane)));
        }
    }
    sink.push(
        finding
            .basis(format!(
                "the air inside is wet below {}; {} outside ({}), covers on from 22:00 to 7:00",
                show(dew),
                show(coldest.celsius),
                coldest.climate
            ))
            .help("a cover that shuts tight all round, or one outside the pane; drier air: vents that stay open and more `air_change` in [use]")
            .help("or tell the owner to wipe the panes and air the van in the morning, and accept it here"),
    );
}
