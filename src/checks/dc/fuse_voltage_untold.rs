//! A fuse or breaker of which nobody knows the voltage it breaks, above 12 V.

use super::place::{Of, device_span};
use crate::checks::{Check, Context};
use crate::compute::network::{DeviceAt, Rated, rated};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::fuse_series::Family;
use crate::tables::sources;
use crate::units::{System, Volts};
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-voltage-untold",
        severity: Severity::Warning,
        what: "A class T fuse or a breaker in a DC network of 24 V or 48 V, and the spec does not tell the DC voltage marked on it.",
        why: "Such a device is made for whatever DC voltage its maker tested it at. One without a DC rating may not put out the arc.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"51.2 V\"\n\n[component.main-fuse]\nkind = \"main-fuse\"\nfed_from = \"house-bank\"",
        basis: "UL 248 leaves the DC rating of a class T fuse to its marking; no standard of DC panel breakers was read.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut panels = BTreeSet::new();
    for (circuit, figures) in context.circuits() {
        let device = &figures.device;
        let network = context.build.dc_network(circuit);
        let untold = rated(context.build, circuit, device) == Some(Rated::Untold);
        // What a data sheet says of the current it breaks, it says at the voltage of the network.
        if !untold || network.nominal.0 <= 12.0 || device.breaks.sourced && device.breaks.given.is_some() {
            continue;
        }
        let way = context.part(&circuit.from).filter(|_| device.at == DeviceAt::Way);
        if way.is_some() && !panels.insert(&circuit.from) {
            continue;
        }
        let (about, what, field) = match (way, &device.at) {
            (Some(panel), _) => (panel.id.as_str(), "the breakers of its ways", "way_voltage"),
            (None, DeviceAt::Component(_)) => (circuit.owner.as_str(), "it", "rated_voltage"),
            _ if circuit.end.is_output() => (circuit.owner.as_str(), "its fuse", "output_protection_voltage"),
            _ => (circuit.owner.as_str(), "its fuse", "protection_voltage"),
        };
        let show = |volts: Volts| volts.show(System::Metric);
        let headline =
            format!("{about}: on {}, and nothing says which DC voltage {what} may break", show(network.nominal));
        let rests = if device.family == Some(Family::ClassT) {
            sources::UL_248_DC.text
        } else {
            "no standard of DC breakers was read"
        };
        let span = way.map_or_else(|| device_span(context, circuit, figures, Of::Family), |p| p.roles.family().span);
        sink.push(
            Finding::warning(CHECK.doc.name, headline).about(about).at(span, "no DC voltage told").basis(rests).help(
                format!("read the DC voltage on it, {} or more, and write it in `{field}`", show(network.highest)),
            ),
        );
    }
}
