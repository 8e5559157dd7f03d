//! A switch, relay, panel or busbar rated for a lower DC voltage than its network reaches.

use super::words::rated_part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{System, Volts};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "rating-below-network",
        severity: Severity::Error,
        what: "A switch, relay, panel, shunt or busbar is rated for a lower DC voltage than its network reaches while the bank charges. An error where the spec gives both voltages, a warning where only the usual charging voltage is higher.",
        why: "Contacts that open above their voltage draw an arc that does not go out: they weld or burn.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"51.2 V\"\n\n[component.switch]\nkind = \"battery-disconnect\"\nfed_from = \"main-fuse\"\nrated_voltage = \"32 V\"",
        basis: "The maker's rating, as the spec gives it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some((rated, network)) = rated_part(context, part) else { continue };
        let each = part.switches().into_iter().map(|(id, switch)| (format!("{}.{id}", part.id), &switch.rated_voltage));
        for (name, field) in std::iter::once((part.id.clone(), rated)).chain(each) {
            let Some(volts) = field.get().filter(|v| v.0 < network.highest.0) else { continue };
            let show = |volts: Volts| volts.show(System::Metric);
            let headline =
                format!("{name}: rated for {} DC, its network reaches {}", show(volts), show(network.highest));
            // The usual charging voltage is common practice and may not stop a build.
            let certain = network.told || network.nominal.0 > volts.0;
            let finding = Finding::error_if(certain, CHECK.doc.name, headline);
            sink.push(
                finding
                    .about(&part.id)
                    .at(field.span, format!("for {}", show(volts)))
                    .help(format!("one that is rated for {} DC or more", show(network.highest))),
            );
        }
    }
}
