//! A component on a DC network of another voltage than it is made for.

use crate::build::{Circuit, DcNetwork, Part};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::{System, Volts};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "load-on-other-voltage",
        severity: Severity::Error,
        what: "A component that uses current hangs on a DC network of another nominal voltage than it is made for.",
        why: "A 12 V part burns out on 24 V; a 24 V part does not start on 12 V and may draw more than its fuse holds.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"25.6 V\"\n\n[component.pump]\nkind = \"water-pump\"       # a 12 V pump\nfed_from = \"house-panel\"  # hangs on that bank",
        basis: "Structure of the spec: the voltage a part is made for, by the spec or its kind, against that of what feeds it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.feeding.draws()) {
        let Some((part, network)) = using(context, circuit) else { continue };
        let [least, most] = made_for(part);
        if (least..=most).contains(&network.nominal) {
            continue;
        }
        let show = |volts: Volts| volts.show(System::Metric);
        let made = if least == most { show(least) } else { format!("{} to {}", show(least), show(most)) };
        let there = show(network.nominal);
        let given = &part.supply.made_for;
        let mut finding = Finding::error(CHECK.doc.name, format!("{}: made for {made}, fed with {there}", part.id))
            .about(&part.id)
            .at(circuit.span, format!("{there} here"));
        if given.given {
            finding = finding.label(given.span, format!("made for {made}"));
        } else {
            finding = finding
                .basis(format!("parts of the kind `{}` are for {made} where the spec says nothing else", part.kind.id));
        }
        sink.push(finding.help(format!(
            "where its plate says {there}, write `made_for = \"{there}\"`; else feed it from a network of {made}, behind a converter"
        )));
    }
}

/// The part at the end of a circuit that uses current from a DC network, and that network.
fn using<'a>(context: &Context<'a>, circuit: &Circuit) -> Option<(&'a Part<'a>, DcNetwork)> {
    let part = context.part(&circuit.to).filter(|p| p.id == circuit.owner)?;
    let uses = |role| {
        matches!(
            role,
            Role::Load
                | Role::Display
                | Role::Inverter
                | Role::InverterCharger
                | Role::Charger
                | Role::Converter
                | Role::Outlet
        )
    };
    part.role().filter(|role| uses(*role))?;
    Some((part, context.build.known_dc_network(circuit)?))
}

/// Lowest and highest nominal voltage a part is made for: what the spec says of it, else its kind.
fn made_for(part: &Part<'_>) -> [Volts; 2] {
    let kind = part.electric().map_or([Volts(12.0); 2], crate::kinds::Electric::made_for);
    let supply = &part.supply;
    match (supply.made_for.get(), supply.made_for_up_to.get()) {
        (None, None) => kind,
        (least, most) => {
            let least = least.unwrap_or(kind[0]);
            [least, most.unwrap_or(least)].map(crate::build::system)
        }
    }
}
