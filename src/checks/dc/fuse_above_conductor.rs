//! A fuse or breaker larger than what the conductor behind it may carry.

use super::place::{Of, device_span};
use super::words::ampacity_basis;
use crate::checks::{Check, Context};
use crate::compute::electrical::protection::cfr_largest_rating;
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::ampacity_rule::AmpacityRule;
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-above-conductor",
        severity: Severity::Error,
        what: "The fuse or breaker of a circuit, its own or the next one up, is rated above the corrected ampacity of its conductor.",
        why: "On an overload the conductor gets hot enough to burn before the fuse opens.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"\nrun = \"4 m\"\nconductor = \"16 AWG\"\nprotection = \"40 A\"",
        basis: "The ampacity is that of 33 CFR 183.425 Table 5 or of IEC 60364-5-52, by the rules in force. House rule: no fuse above it (33 CFR 183.455(c)(1) would allow 150 % below 50 V).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        let Some(sized) = figures.conductor() else { continue };
        let Some(ampacity) = &sized.ampacity else { continue };
        let Some(rating) = figures.device.rating else { continue };
        let cap = ampacity.corrected * context.electrical.profile.fuse_cap.0;
        // A device that is sized to a load which the conductor cannot carry either: that is `conductor-below-load`.
        let follows =
            !figures.device.given && figures.device.is_own() && ampacity.corrected.0 < figures.design.0 * (1.0 - 1e-9);
        if rating.0 <= cap.0 * (1.0 + 1e-9) || follows {
            continue;
        }
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let parts = &context.build.parts;
        let device = match &figures.device.at {
            DeviceAt::Upstream(id) => format!("the {} of {id}", figures.device.show()),
            DeviceAt::Source => format!("the {} breaker before {}", show(rating), circuit.from),
            _ => format!("a {}", figures.device.show()),
        };
        let mut finding = Finding::error(
            CHECK.doc.name,
            format!("{}: {device} protects {} that may carry {}", circuit.id, sized.show(), show(ampacity.corrected)),
        )
        .about(&circuit.owner)
        .at(device_span(context, circuit, figures, Of::Rating), format!("{} fuse or breaker", show(rating)))
        .label(circuit.span_of(parts, "conductor"), format!("{} carries {}", sized.show(), show(ampacity.corrected)))
        .basis(ampacity_basis(ampacity));
        if let Some(family) = figures.device.family.filter(|_| ampacity.rule == AmpacityRule::Cfr) {
            let legal = cfr_largest_rating(ampacity.corrected, figures.nominal, family);
            finding = finding
                .basis(format!("33 CFR 183.455(c) would allow up to {}; the house rule is stricter", show(legal)));
        }
        let lower = figures.device.family.and_then(|f| f.largest_within(cap));
        let lower = lower.map_or_else(|| "a smaller fuse".to_owned(), |a| format!("{} or smaller", show(a)));
        sink.push(finding.help(match figures.device.at {
            DeviceAt::Source => "a larger conductor; left out, it is sized".to_owned(),
            DeviceAt::Upstream(_) => {
                format!("a larger conductor, left out it is sized; or a fuse of its own at its beginning (`protection`), {lower}")
            }
            _ => format!("{lower}, or a larger conductor; leave either out and it is sized"),
        }));
    }
}
