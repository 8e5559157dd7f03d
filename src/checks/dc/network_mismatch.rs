//! A component fed from the wrong network.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "network-mismatch",
        severity: Severity::Error,
        what: "A component of one network (12 V, AC, solar, starter side) is fed from a component of another.",
        why: "The wrong voltage destroys it, or the wrong return path heats.",
        example: "[component.microwave]\nkind = \"microwave\"\nfed_from = \"house-panel\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.feeding.draws()) {
        let Some(from) = context.part(&circuit.from) else { continue };
        let Some(gives) = gives(from, circuit.network) else { continue };
        if gives == circuit.network {
            continue;
        }
        let headline = format!("{}: needs {}, {} gives {}", circuit.owner, word(circuit.network), from.id, word(gives));
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span, format!("{} here", word(gives)))
                .label(from.span, format!("{} is in the {} network", from.id, word(gives)))
                .help(format!("feed it from a component of the {} network", word(circuit.network))),
        );
    }
}

/// Network a part feeds; `None` where it feeds nothing.
fn gives(part: &Part<'_>, wanted: Network) -> Option<Network> {
    let electric = part.electric()?;
    match electric.role {
        Role::Inverter | Role::Generator => Some(Network::Ac),
        Role::InverterCharger => Some(if wanted == Network::Dc { Network::Dc } else { Network::Ac }),
        Role::Charger | Role::Converter => Some(Network::Dc),
        Role::Alternator => Some(electric.network),
        Role::StartBattery => Some(Network::Start),
        Role::Array => Some(Network::Pv),
        role if role.passes_through() || role.is_source() => Some(electric.network),
        _ => None,
    }
}

const fn word(network: Network) -> &'static str {
    match network {
        Network::Dc => "house DC",
        Network::Ac => "AC",
        Network::Pv => "solar",
        Network::Start => "starter-battery DC",
    }
}
