//! More sun on the ground than above the air.

use crate::checks::{Check, Context};
use crate::compute::solar::extraterrestrial::month_highest;
use crate::compute::solar::geometry::Convention;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "irradiation-above-sky",
        severity: Severity::Error,
        what: "The irradiation of a season is above that on the brightest day of its month above the air.",
        why: "A slip of unit or month; every solar figure of the season is too high.",
        example: "[climate.winter]\nmonth = 1\nlatitude = \"50 °\"\nirradiation = \"5.5 kWh/m2\"",
        basis: "Duffie and Beckman 1.10.3, brightest day of the month, with 5 % and 0.05 kWh/m² for what the declination is off. A clear sky lets 70 % to 80 % through.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, climate) in &context.build.climates {
        let Some(irradiation) = climate.irradiation.get() else { continue };
        let Some(latitude) = climate.latitude.get() else { continue };
        let highest = climate.month.get().and_then(|m| month_highest(latitude.0, m, Convention::Cooper));
        let Some(highest) = highest.map(|mj| mj / 3.6) else { continue };
        if irradiation.0 <= highest * 1.05 + 0.05 {
            continue;
        }
        let show = |kwh: f64| print(Dimension::Irradiation, kwh, context.build.prints());
        let finding = Finding::error(
            CHECK.doc.name,
            format!("{id}: {} a day is more than the sun gives above the air, {}", show(irradiation.0), show(highest)),
        )
        .about(id)
        .at(climate.irradiation.span, "a day on level ground")
        .label(climate.month.span, format!("{} above the air on the brightest day", show(highest)))
        .basis("Duffie and Beckman 1.10.3")
        .help("the mean of a day in kWh/m2 or MJ/m2, for this month and latitude (south is negative)");
        sink.push(finding);
    }
}
