//! A fuse or breaker larger than what the conductor behind it may carry.

use crate::checks::{Check, Context};
use crate::compute::electrical::protection::cfr_largest_rating;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-above-conductor",
        severity: Severity::Error,
        what: "The fuse or breaker of a circuit is rated above the corrected ampacity of its conductor.",
        why: "On an overload the conductor gets hot enough to burn before the fuse opens.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"\nrun = \"4 m\"\nconductor = \"16 AWG\"\nprotection = \"40 A\"",
        basis: "33 CFR 183.425 Table 5 with its notes gives the ampacity. House rule: no fuse above it (33 CFR 183.455(c)(1) would allow 150 % below 50 V).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        let Some(sized) = figures.conductor() else { continue };
        let Some(ampacity) = &sized.ampacity else { continue };
        let Some(rating) = figures.device.rating.filter(|_| figures.device.is_own()) else { continue };
        let cap = ampacity.corrected * context.electrical.profile.fuse_cap.0;
        if rating.0 <= cap.0 * (1.0 + 1e-9) {
            continue;
        }
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let parts = &context.build.parts;
        let mut finding = Finding::error(
            CHECK.doc.name,
            format!("{}: {} protects a conductor that may carry {}", circuit.id, figures.device.show(), show(ampacity.corrected)),
        )
        .about(&circuit.owner)
        .at(circuit.span_of(parts, "protection"), format!("{} fuse or breaker", show(rating)))
        .label(circuit.span_of(parts, "conductor"), format!("{} carries {}", sized.size, show(ampacity.corrected)))
        .basis(format!(
            "33 CFR 183.425 Table 5, {}, {}, ambient factor {}, bundling factor {}",
            ampacity.row,
            ampacity.insulation.limit().show(System::Metric),
            crate::units::number(ampacity.ambient_factor.0),
            crate::units::number(ampacity.bundle_factor.0),
        ));
        if let Some(family) = figures.device.family {
            let legal = cfr_largest_rating(ampacity.corrected, figures.nominal, family);
            finding = finding.basis(format!("33 CFR 183.455(c) would allow up to {}; the house rule is stricter", show(legal)));
        }
        let lower = figures.device.family.and_then(|f| largest_within(f, cap));
        let lower = lower.map_or_else(|| "a smaller fuse".to_owned(), |a| format!("{} or smaller", show(a)));
        sink.push(finding.help(format!("{lower}, or a larger conductor; leave either out and it is sized")));
    }
}

fn largest_within(family: crate::tables::fuse_series::Family, cap: crate::units::Amps) -> Option<crate::units::Amps> {
    let ratings = family.series().ratings.iter().map(|r| r.amps).filter(|a| *a <= cap.0);
    ratings.fold(None, |top: Option<f64>, a| Some(top.map_or(a, |t| t.max(a)))).map(crate::units::Amps)
}
